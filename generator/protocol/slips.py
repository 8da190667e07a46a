"""What can be wrong with a file before any rule of the trade judges it, a small example each.

Takes  nothing: this is a table.
Gives  `SLIPS` by the name of the problem.
Knows  which slip brings which problem, and the same lines made right; what is said of it, the reader says itself.
"""

from __future__ import annotations

from dataclasses import dataclass

# Where a problem comes from.
TEXT = "the reading of the file's text, before any key is understood"
VALUE = "the reading of a key's value"
KEYS = "the reading of the keys that stand in one group"
PATIENT = "the reading of a patient file"
BOOK = "the look at the book as a whole"
FOLDER = "the look at the book's folder"
RECORD = "the look at the record of approvals"
PRINT = "the proof that what the book holds can be printed and read (`gauzeleaf check`)"


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip, named as the problem it brings.

    comes_from: which part of the work finds it. looks_for: what the file must be, a whole sentence. broken, mended: lines of
    `file`, laid over the sound one where that can be; empty where no few lines could show it, and then `why` and `fix` are
    given here, since no example brings them to light.
    """

    name: str
    comes_from: str
    looks_for: str
    broken: str = ""
    mended: str = ""
    file: str = "padded-limb-support.yaml"
    why: str = ""
    fix: str = ""


_CLINIC, _STOCK, _PATIENT = "clinic.yaml", "stock.yaml", "patients/maple.yaml"
_PLACE = "emergency_place: {name: Millrace Night Hospital, address: [200 Dam Road], phone: +1 802-555-0178, does_bandage_checks: yes, "
_TAPE = "materials:\n  wide tape: {layer: outer, widths: [5 cm], extension: 25 %, thickness: 1 mm, "

_TABLE = (
    # ---- the text of a file
    Slip("tab", TEXT, "Lines are indented with spaces, never with tabs.", "species:\n\t- dog\n", "species:\n  - dog\n"),
    Slip("no-break-space", TEXT, "A plain space follows a colon or a dash.", "title:\N{NO-BREAK SPACE}Padded limb bandage\n", "title: Padded limb bandage\n"),
    Slip("hidden-character", TEXT, "No character is there that cannot be seen.", "title: Padded\N{ZERO WIDTH SPACE} limb bandage\n", "title: Padded limb bandage\n"),
    Slip("hash-cuts-text", TEXT, "A space and # within a text stand in quotes.", "use_when:\n  - a wound of toe #3\n", 'use_when:\n  - "a wound of toe #3"\n'),
    Slip("comma-in-braces", TEXT, "A text with a comma inside { } stands in quotes.", "steps:\n  - {do: Dry the limb fully, also between the toes.}\n  - ...\n",
         'steps:\n  - {do: "Dry the limb fully, also between the toes."}\n  - ...\n'),
    Slip("colon-in-text", TEXT, "A text with a colon and a space in it stands in quotes.", "function: It does two things: cover and hold.\n", 'function: "It does two things: cover and hold."\n'),
    Slip("colon-missing", TEXT, "A key is followed by a colon.", "title: Padded limb bandage\nrevision\nspecies: [dog]\n", "title: Padded limb bandage\nrevision: 4\nspecies: [dog]\n"),
    Slip("line-runs-on", TEXT, "Each key starts a line of its own, as far to the right as its neighbours.", "covers\n  from: toes\n  to: below the elbow\n", "covers:\n  from: toes\n  to: below the elbow\n  leave_showing: tips of the two middle toes\n"),
    Slip("indent", TEXT, "Lines that belong together have as many spaces at the front.", "covers:\n  from: toes\n to: below the elbow\n", "covers:\n  from: toes\n  to: below the elbow\n  leave_showing: tips of the two middle toes\n"),
    Slip("bracket-open", TEXT, "Each bracket that is opened is closed.", "species: [dog, cat\ntitle: Padded limb bandage\n", "species: [dog, cat]\ntitle: Padded limb bandage\n"),
    Slip("quote-open", TEXT, "Each quote that is opened is closed.", 'title: "Padded limb bandage\n', 'title: "Padded limb bandage"\n'),
    Slip("text-after-quote", TEXT, "Nothing stands behind a closing quote.", 'title: "Padded" limb bandage\n', 'title: "Padded limb bandage"\n'),
    Slip("letter-first", TEXT, "A text that starts with a sign of its own meaning stands in quotes.", "title: @home bandage\n", 'title: "@home bandage"\n'),
    Slip("escape", TEXT, "A backslash inside double quotes is doubled.", 'title: "Padded \\limb bandage"\n', "title: 'Padded \\limb bandage'\n"),
    Slip("block-text", TEXT, "A text of several lines stands below its key, nothing behind the sign.", "function: | text\n  It limits swelling.\n", "function: |\n  It limits swelling.\n"),
    Slip("duplicate-key", TEXT, "Each key stands once.", "title: Padded limb bandage\ntitle: Soft bandage\n", "title: Padded limb bandage\n"),
    Slip("key-is-no-word", TEXT, "A key is a word or a phrase.", "? [dog, cat]\n: species\n", "species: [dog, cat]\n"),
    Slip("merge-key", TEXT, "Values stand where they count, never copied by `<<`.", "limits:\n  <<: the usual ones\n", "limits:\n  change_every: 3 d to 7 d\n"),
    Slip("anchor", TEXT, "Values stand where they count, without a mark for repetition.", "limits:\n  change_every: &week 3 d to 7 d\n", "limits:\n  change_every: 3 d to 7 d\n"),
    Slip("alias", TEXT, "Values stand where they count, never repeated by `*`.", "title: &name Padded limb bandage\nfunction: *name\n", "title: Padded limb bandage\nfunction: Limits swelling for some days.\n"),
    Slip("tag", TEXT, "No value starts with a word like `!str`.", "title: !!str Padded limb bandage\n", "title: Padded limb bandage\n"),
    Slip("two-documents", TEXT, "A file holds one document, without a line `---` in it.", "title: Padded limb bandage\n---\nrevision: 4\n", "title: Padded limb bandage\nrevision: 4\n"),
    Slip("empty-file", TEXT, "A file holds something.", "# nothing but this\n", "title: Padded limb bandage\n"),
    Slip("nested-too-deep", TEXT, "Groups do not stand inside groups more than 20 deep.", "title: " + "[" * 24 + "deep" + "]" * 24 + "\n", "title: Padded limb bandage\n"),
    Slip("too-many-values", TEXT, "A file holds no more than 10,000 values.", why="no protocol needs that: a bracket or an indent has gone wrong", fix="look at the brackets and indents above the line that is named, or split the file"),
    Slip("file-too-large", TEXT, "A file holds no more than a million bytes.", why="no protocol is that long: this is another kind of file, or a broken one", fix="name a protocol, or split the file in two"),
    Slip("not-utf-8", TEXT, "A file is saved as UTF-8.", why="letters such as é or ñ would print wrong in an owner's name", fix="in the editor choose “Save with encoding: UTF-8”"),
    Slip("unreadable", TEXT, "A file is written in the form of YAML.", why="the rest of the file cannot be read until this is mended", fix="compare the line with its neighbours: indents, colons, quotes, brackets"),
    # ---- keys
    Slip("unknown-key", KEYS, "Every key is one that the tool reads.", "titel: Padded limb bandage\n", "title: Padded limb bandage\n"),
    Slip("key-missing", KEYS, "Every key that a group needs is there.", "covers: {from: toes}\n", "covers: {from: toes, to: below the elbow or the stifle, leave_showing: tips of the two middle toes}\n"),
    Slip("value-missing", KEYS, "A value stands behind every key.", "title:\n", "title: Padded limb bandage\n"),
    Slip("wrong-form", KEYS, "Where a text belongs stands a text, where a list belongs a list.", "use_when: swelling after surgery\n", "use_when:\n  - swelling after surgery\n"),
    Slip("listed-twice", KEYS, "An entry of a list stands in it once.", "species: [dog, cat, dog]\n", "species: [dog, cat]\n"),
    Slip("not-decided", KEYS, "Nothing is left `to decide`.", "limits:\n  change_every: to decide\n", "limits:\n  change_every: 3 d to 7 d\n"),
    # ---- values
    Slip("text-too-long", VALUE, "A text has at most 400 letters.", "title: " + "Padded limb bandage for swelling after surgery " * 9 + "\n", "title: Padded limb bandage\n"),
    Slip("unknown-field", VALUE, "Braces in an owner's line hold `{pet}` and nothing else.", "owner:\n  what_it_does: It gives {animal} support.\n", "owner:\n  what_it_does: It gives {pet} support.\n"),
    Slip("digits-in-owner-text", VALUE, "An owner's line holds no figures.", "owner:\n  what_it_does: It stays on for 3 days.\n", "owner:\n  what_it_does: It limits swelling and gives support.\n"),
    Slip("unknown-word", VALUE, "A word of a closed list is written as the list has it.", "species: [dog, kat]\n", "species: [dog, cat]\n"),
    Slip("not-yes-or-no", VALUE, "What is asked with yes or no is answered with `yes` or `no`.", "immobilises: false\n", "immobilises: no\n"),
    Slip("not-a-whole-number", VALUE, "What is counted is counted in digits.", "revision: 4.5\n", "revision: 4\n"),
    Slip("leading-zero", VALUE, "A number does not start with a zero.", "revision: 04\n", "revision: 4\n"),
    Slip("number-out-of-range", VALUE, "A number is one that can be.", "limits:\n  change_every: 9999999 d\n", "limits:\n  change_every: 3 d to 7 d\n"),
    Slip("number-without-unit", VALUE, "Every number has its unit.", "limits:\n  change_every: 7\n", "limits:\n  change_every: 7 d\n"),
    Slip("unknown-unit", VALUE, "A unit is one that the key is measured in.", "limits:\n  change_every: 7 days\n", "limits:\n  change_every: 7 d\n"),
    Slip("not-an-amount", VALUE, "An amount is a number, a space and a unit.", "limits:\n  change_every: weekly\n", "limits:\n  change_every: 7 d\n"),
    Slip("not-a-number", VALUE, "A number is written in digits, with a point.", "limits:\n  change_every: 1.2.3 d\n", "limits:\n  change_every: 3 d\n"),
    Slip("decimal-comma", VALUE, "The decimal sign is a point.", "layers:\n  - {layer: stirrups, material: porous tape, width: \"2,5 cm\", count: 2, on_skin_at_most: 7 d}\n  - ...\n",
         "layers:\n  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n  - ...\n"),
    Slip("foreign-digits", VALUE, "Figures are 0 to 9.", "limits:\n  change_every: ٧ d\n", "limits:\n  change_every: 7 d\n"),
    Slip("part-of-a-day", VALUE, "Days and weeks are counted whole.", "limits:\n  change_every: 1.5 d\n", "limits:\n  change_every: 36 h\n"),
    Slip("not-a-window", VALUE, "A window is two times joined by `to`.", "limits:\n  change_every: 3 d to 5 d to 7 d\n", "limits:\n  change_every: 3 d to 7 d\n"),
    Slip("window-reversed", VALUE, "A window starts with its shorter time.", "limits:\n  change_every: 7 d to 3 d\n", "limits:\n  change_every: 3 d to 7 d\n"),
    Slip("not-a-band", VALUE, "A range is two amounts joined by `to`, or one with `and over` or `under`.", "layers:\n  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light, width: {small: 5 cm, 10 kg and over: 7.5 cm}}\n  - ...\n",
         "layers:\n  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light, width: {2 kg to 10 kg: 5 cm, 10 kg and over: 7.5 cm}}\n  - ...\n"),
    Slip("band-reversed", VALUE, "A range starts with its smaller amount.", "layers:\n  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light, width: {10 kg to 2 kg: 5 cm, 10 kg and over: 7.5 cm}}\n  - ...\n",
         "layers:\n  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light, width: {2 kg to 10 kg: 5 cm, 10 kg and over: 7.5 cm}}\n  - ...\n"),
    Slip("bands-overlap", VALUE, "Ranges follow one another without overlap.", "layers:\n  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light, width: {2 kg to 12 kg: 5 cm, 10 kg and over: 7.5 cm}}\n  - ...\n",
         "layers:\n  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light, width: {2 kg to 10 kg: 5 cm, 10 kg and over: 7.5 cm}}\n  - ...\n"),
    Slip("not-a-date", VALUE, "A date is written year-month-day.", "effective: 2 November 2026\n", "effective: 2026-11-02\n"),
    Slip("no-such-date", VALUE, "A date is in the calendar.", "effective: 2026-11-31\n", "effective: 2026-11-30\n"),
    Slip("not-a-day-count", VALUE, "Walks are counted by the day.", "owner:\n  exercise: {walks: often, minutes_each: 5 min, lead: 2 m}\n", "owner:\n  exercise: {walks: 4 a day, minutes_each: 5 min, lead: 2 m}\n"),
    Slip("not-a-slug", VALUE, "A protocol's name is in small letters, figures and hyphens.", "protocol: Padded Limb\n", "protocol: padded-limb-support\n"),
    Slip("not-an-id", VALUE, "A document number is in letters, figures and . _ / -.", "id: No. 2 (new)\n", "id: LB-SUP-002\n"),
    Slip("unknown-source", VALUE, "A source says whose word it is.", "sources:\n  first_check: everybody knows\n  check_every: {published: [40]}\n  change_every: {published: [3]}\n  remove_by: common practice\n",
         "sources:\n  first_check: common practice\n  check_every: {published: [40]}\n  change_every: {published: [3]}\n  remove_by: common practice\n"),
    # ---- values of the settings
    Slip("not-a-phone", VALUE, "A telephone number starts with + and the country's code.", _PLACE.replace("+1 802-555-0178", "802-555-0178") + "answers: always}\n", _PLACE + "answers: always}\n", _CLINIC),
    Slip("competence-half-written", KEYS, "Competence is written with its day and with whoever saw it.", "training:\n  - {name: J. Adeyemi, protocol: LB-SUP-002, revision: 4, read: 2026-11-03, competent: 2026-11-10}\n", "training:\n  - {name: J. Adeyemi, protocol: LB-SUP-002, revision: 4, read: 2026-11-03, competent: 2026-11-10, by: Dr M. Tamsin}\n", "training.yaml"),
    Slip("training-of-unknown-document", FOLDER, "Training is recorded for documents that the book has or had.", why="the training would count for nothing, and nobody would be asked again", fix="write the number as it stands on the page they read"),
    Slip("training-of-unknown-revision", FOLDER, "Training is recorded for revisions that are there or were approved.", why="training counts for one revision only, and nobody can read one that never was", fix="write the revision that stood on the page they read"),
    Slip("trained-before-approval", FOLDER, "A revision is read once it has been approved.", why="what they read was a draft, and may have said something else", fix="write the day on which they read the approved page"),
    Slip("not-an-id-form", VALUE, "The form of a document number has ? for a letter and # for a figure.", "id_form: LB-SUP-002\n", "id_form: LB-???-###\n", _CLINIC),
    Slip("not-hours", VALUE, "Hours are written from clock time to clock time.", "hours: {mon to fri: all day, sat: 08:30 to 13:00}\n", "hours: {mon to fri: 08:00 to 18:30, sat: 08:30 to 13:00}\n", _CLINIC),
    Slip("not-a-clock-time", VALUE, "A clock time is hours:minutes, 00:00 to 24:00.", "hours: {mon to fri: 08:00 to 6:30, sat: 08:30 to 13:00}\n", "hours: {mon to fri: 08:00 to 18:30, sat: 08:30 to 13:00}\n", _CLINIC),
    Slip("hours-reversed", VALUE, "A clinic closes after it opens.", "hours: {mon to fri: 18:30 to 08:00, sat: 08:30 to 13:00}\n", "hours: {mon to fri: 08:00 to 18:30, sat: 08:30 to 13:00}\n", _CLINIC),
    Slip("hours-overlap", VALUE, "Each day has its hours once.", "hours: {mon to fri: 08:00 to 18:30, fri to sat: 08:30 to 13:00}\n", "hours: {mon to fri: 08:00 to 18:30, sat: 08:30 to 13:00}\n", _CLINIC),
    Slip("unknown-day", VALUE, "Days are mon, tue, wed, thu, fri, sat, sun.", "hours: {weekdays: 08:00 to 18:30, sat: 08:30 to 13:00}\n", "hours: {mon to fri: 08:00 to 18:30, sat: 08:30 to 13:00}\n", _CLINIC),
    Slip("not-a-language", VALUE, "A language is a tag such as `en` or `pt-BR`.", "clinic: {name: Larkspur Bridge Animal Clinic, address: [14 Weir Street], phone: +1 802-555-0142, time_zone: America/New_York, languages: [English], paper: letter, units: metric}\n",
         "clinic: {name: Larkspur Bridge Animal Clinic, address: [14 Weir Street], phone: +1 802-555-0142, time_zone: America/New_York, languages: [en], paper: letter, units: metric}\n", _CLINIC),
    Slip("not-a-time-zone", VALUE, "A time zone is region/city as in the IANA list.", "clinic: {name: Larkspur Bridge Animal Clinic, address: [14 Weir Street], phone: +1 802-555-0142, time_zone: UTC-5 (winter), languages: [en], paper: letter, units: metric}\n",
         "clinic: {name: Larkspur Bridge Animal Clinic, address: [14 Weir Street], phone: +1 802-555-0142, time_zone: America/New_York, languages: [en], paper: letter, units: metric}\n", _CLINIC),
    Slip("unknown-time-zone", BOOK, "The time zone is one of the IANA list.", why="every deadline is printed in this zone", fix="write region/city as in the IANA list, such as `America/New_York`"),
    Slip("hours-without-answer", BOOK, "At every hour of the week the clinic or its emergency place answers.", why="an owner whose animal's toes turn cold would ring a telephone that nobody picks up", fix="name an emergency place that answers whenever the clinic does not, or write `answers: always`"),
    Slip("roll-state-missing", VALUE, "A roll's length says whether it was measured relaxed or stretched.", _TAPE + "roll: 4 m, full_stretch: 80 %}\n", _TAPE + "roll: 4 m stretched, full_stretch: 80 %}\n", _STOCK),
    Slip("full-stretch-missing", KEYS, "A roll that is measured stretched has its full stretch.", _TAPE + "roll: 4 m stretched}\n", _TAPE + "roll: 4 m stretched, full_stretch: 80 %}\n", _STOCK),
    Slip("full-stretch-unused", KEYS, "Only a roll that is measured stretched has a full stretch.", _TAPE + "roll: 4 m relaxed, full_stretch: 80 %}\n", _TAPE + "roll: 4 m relaxed}\n", _STOCK),
    Slip("roll-or-sizes", KEYS, "A material comes on a roll or in pieces.", "materials:\n  wide pad: {layer: contact, family: hydrogel}\n", "materials:\n  wide pad: {layer: contact, family: hydrogel, sizes: [10 cm by 10 cm]}\n", _STOCK),
    Slip("not-a-price", VALUE, "A price has its currency.", "materials:\n  wide pad: {layer: contact, family: hydrogel, sizes: [10 cm by 10 cm], price: $4}\n", "materials:\n  wide pad: {layer: contact, family: hydrogel, sizes: [10 cm by 10 cm], price: 4.00 USD}\n", _STOCK),
    Slip("unknown-condition", VALUE, "A condition is derived from age, weight, species or wound.", "shy:\n  derived: mood bad\n  warns: Hides.\n  because: it hides\n  source: house rule\n", "tiny:\n  derived: age under 6 months\n  warns: Small.\n  because: it grows\n  source: house rule\n", "modifiers.yaml"),
    Slip("unknown-picture", VALUE, "A picture is one that can be drawn.", "cones: Keep the cone on, also at night.\n", "cone: Keep the cone on, also at night.\n", "pictures.yaml"),
    Slip("two-pictures", KEYS, "The same words have one picture.", "medicine: Keep the cone on, also at night.\n", "medicine: Give only the medicine we gave you.\n", "pictures.yaml"),
    # ---- the book
    Slip("name-differs-from-file", BOOK, "A protocol calls itself as its file is called.", "protocol: padded-limb\n", "protocol: padded-limb-support\n"),
    Slip("id-twice", BOOK, "Each document number is given once.", "id: LB-SUP-005\n", "id: LB-SUP-002\n"),
    Slip("file-missing", FOLDER, "A book has clinic.yaml, stock.yaml and signs.yaml.", why="hours, telephone numbers, paper, rolls and warning signs come from them", fix="copy the file from a new book (`gauzeleaf new FOLDER`) and fill it in"),
    Slip("file-unreadable", FOLDER, "Each file of the book can be read.", why="nothing can be reckoned without it", fix="look at the name and at the file's permissions"),
    Slip("folder-missing", FOLDER, "The book's folder is there.", why="a book is a folder of YAML files", fix="name the folder of a book, or start one with `gauzeleaf new FOLDER`"),
    Slip("book-empty", FOLDER, "A book has a protocol.", why="there is nothing to print", fix="start a book with `gauzeleaf new FOLDER`, or take protocols over with `gauzeleaf adopt`"),
    Slip("record-unsound", RECORD, "The record of approvals is as it was written.", why="what a clinician approved could no longer be told from what nobody did", fix="bring back the last good copy of `approved/record.json`; it is never edited by hand"),
    Slip("nothing-approved", RECORD, "Something of a book is approved before it is used.", why="an animal or an owner would get what no clinician has answered for", fix="have a clinician read each protocol, then run `gauzeleaf approve ID --by NAME`"),
    Slip("not-approved", RECORD, "A revision is approved before it is used.", why="an animal or an owner would get what no clinician has answered for", fix="have a clinician read it, then run `gauzeleaf approve ID --by NAME`"),
    Slip("changed-under-revision", RECORD, "A protocol says, word for word, what was approved under its revision.", why="whoever learned the approved words does not know the others, and nobody has answered for them", fix="raise the revision with `gauzeleaf revise ID --why REASON` and have it approved, or put the approved words back"),
    Slip("number-withdrawn", RECORD, "A document number that was withdrawn is never used again.", why="copies that were called in under this number would seem to count again", fix="take the file out of the book, or give the protocol a number that was never used"),
    Slip("number-of-another", RECORD, "A document number stays with its protocol for good.", why="an inspector must find one document under one number, for good", fix="give this protocol a number that was never used"),
    Slip("kept-revision-differs", RECORD, "What is kept of an approved revision is what was approved.", why="changes would be told from words that nobody approved", fix="bring back the copy of the file from the day of approval; these files are never edited"),
    # ---- patients
    Slip("not-a-moment", PATIENT, "A moment is a date with a clock time.", "applied: this morning\n", "applied: 2027-03-13T10:30\n", _PATIENT),
    Slip("applied-and-planned", PATIENT, "A bandage is on, or will be.", "applied: 2027-03-13T10:30\nplanned: 2027-03-14T10:30\n", "applied: 2027-03-13T10:30\n", _PATIENT),
    Slip("first-and-began", PATIENT, "The first bandage began with itself.", "first: yes\nbegan: 2027-03-06T09:00\n", "first: yes\n", _PATIENT),
    Slip("first-or-began", PATIENT, "The file says when bandaging began.", "first: no\n", "first: yes\n", _PATIENT),
    Slip("course-told-twice", PATIENT, "When bandaging began is told once.", "first: yes\nearlier: [{protocol: padded-limb-support, on: 2027-03-06T09:00, off: 2027-03-13T09:00}]\n", "first: yes\n", _PATIENT),
    Slip("began-after-applied", PATIENT, "Bandaging began before this bandage or with it.", "applied: 2027-03-13T10:30\nfirst: no\nbegan: 2027-03-20T09:00\n", "applied: 2027-03-13T10:30\nfirst: no\nbegan: 2027-03-06T09:00\n", _PATIENT),
    Slip("applied-before-birth", PATIENT, "A bandage goes on an animal that is born.", "patient: {name: Maple, species: dog, weight: 18.4 kg, born: 2028-05-01}\napplied: 2027-03-13T10:30\n", "patient: {name: Maple, species: dog, weight: 18.4 kg, born: 2022-05-01}\napplied: 2027-03-13T10:30\n", _PATIENT),
    Slip("half-measured", PATIENT, "A limb is measured in three places, or in none.", "limb: {site: left hind, distal_girth: 14 cm}\n", "limb: {site: left hind, distal_girth: 14 cm, proximal_girth: 22 cm, covered_length: 26 cm}\n", _PATIENT),
    Slip("weight-out-of-range", PATIENT, "A weight is one that a dog or cat has.", "patient: {name: Maple, species: dog, weight: 1840 kg, born: 2022-05-01}\n", "patient: {name: Maple, species: dog, weight: 18.4 kg, born: 2022-05-01}\n", _PATIENT),
    Slip("girth-out-of-range", PATIENT, "Girths are those of a leg.", "limb: {site: left hind, distal_girth: 14 cm, proximal_girth: 90 cm, covered_length: 26 cm}\n", "limb: {site: left hind, distal_girth: 14 cm, proximal_girth: 22 cm, covered_length: 26 cm}\n", _PATIENT),
    Slip("girths-exchanged", PATIENT, "A limb is thicker towards the body.", "limb: {site: left hind, distal_girth: 22 cm, proximal_girth: 14 cm, covered_length: 26 cm}\n", "limb: {site: left hind, distal_girth: 14 cm, proximal_girth: 22 cm, covered_length: 26 cm}\n", _PATIENT),
    Slip("limb-outweighs-animal", PATIENT, "The part under a bandage weighs less than the animal.", "patient: {name: Maple, species: dog, weight: 1.84 kg, born: 2022-05-01}\nlimb: {site: left hind, distal_girth: 24 cm, proximal_girth: 32 cm, covered_length: 46 cm}\n",
         "patient: {name: Maple, species: dog, weight: 18.4 kg, born: 2022-05-01}\nlimb: {site: left hind, distal_girth: 14 cm, proximal_girth: 22 cm, covered_length: 26 cm}\n", _PATIENT),
    # ---- what is printed
    Slip("sheet-too-long", PRINT, "An owner's sheet fits its two sides with the longest content.", why="type below 12 pt is not read at arm's length, and nothing may be cut off", fix="say it in fewer words, or in fewer lines, under `owner` or in signs.yaml"),
    Slip("letter-without-glyph", PRINT, "Every letter has a shape in the fonts that are there.", why="a box or a gap on paper in the place of a letter could be read as anything", fix="write the word in other letters, or add the fonts that the message names"),
    Slip("owner-text-hard-to-read", PRINT, "What an owner reads is at US grade 6 or below.", why="a worried owner, perhaps with little English, can only do what reads easily; AMA and NIH advise grade 6 or below", fix="start with the hardest lines, which the message names: everyday words, one act a line, ten words at most"),
    Slip("owner-line-hard-to-read", PRINT, "No single owner's line is above US grade 8.", why="the one hard line may be the one that matters at night", fix="say it in shorter words, or in two lines; what has a hard name is named by what an owner sees"),
)  # fmt: skip

SLIPS = {slip.name: slip for slip in _TABLE}
