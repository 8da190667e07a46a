"""What a translator is told of a sentence: where on the sheet it stands, and what its fields hold.

Takes  nothing: these are tables.
Gives  the part of the sheet of each key of a book, an example of each field, a word on phrases that could be misread.
Knows  English for translators; nothing of any one sentence of a book.

The parts that fixed phrases belong to are the comments over them in `compose/phrases.py`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

# Keys of `owner` whose values are sentences; `exercise` holds figures and is said by fixed phrases.
LINES: Mapping[str, str] = MappingProxyType({
    "what_it_does": "what the bandage does, in one line",
    "every_day": "every day: what the owner does at home",
    "keep_dry": "keep it dry: what the owner does so that the bandage stays dry",
    "never": "take care: what the owner must never do",
})  # fmt: skip

# By urgency of a warning sign. Same day is printed with urgent: for an owner both mean the telephone.
GO, RING, TELL = (f"warning sign, under “{heading}”" for heading in ("Go now", "Ring now", "Tell us at the next visit"))
SIGNS: Mapping[str, str] = MappingProxyType({"emergency": GO, "urgent": RING, "same day": RING, "next visit": TELL})
SIGN = "warning sign"
TEMPLATE = "printed by a template"

# Every example as the program writes it in American English.
FIELDS: Mapping[str, str] = MappingProxyType({
    "address": "an address, e.g. 9 Kiln Road, Harrow Vale",
    "closes": "closing time, e.g. 6:00 PM",
    "date": "weekday and date, e.g. Saturday, March 20, 2027; sometimes without the year",
    "dates": "weekday and date without the year, e.g. Saturday, March 20",
    "does": "a whole sentence of this list: what the code does",
    "file": "the animal's number at the clinic, e.g. 2027-000142",
    "first": "a weekday, cut short, e.g. Mon",
    "id": "number of a document, e.g. LB-PAD-001",
    "language": "name of a language, e.g. English",
    "last": "a weekday, cut short, e.g. Fri",
    "length": "a length with its unit, e.g. 2 m",
    "minutes": "a length of time with its unit, e.g. 5 minutes",
    "moment": "weekday, date and clock time, e.g. Saturday, March 20, 2027, 10:00 AM; sometimes without the year",
    "name": "a person's name as the clinic writes it",
    "numbers": "numbers of lines of this sheet, e.g. 3, 4",
    "opens": "opening time, e.g. 8:00 AM",
    "owner": "the owner's name as the clinic writes it",
    "page": "a page number, e.g. 1",
    "pages": "how many pages there are, e.g. 2",
    "pet": "the animal's name: any name, any sex, never inflected",
    "place": "name of the place that is open in an emergency",
    "revision": "a number, e.g. 3",
    "sheet": "number of this sheet, letters and figures",
    "site": "a phrase of this list: the part of the body",
    "time": "clock time, e.g. 10:00 AM",
    "times": "clock times in a row, e.g. 10:00 AM, 6:00 PM",
    "walks": "a count, e.g. 4",
})  # fmt: skip

# Of fixed phrases by id: only where the English alone could be taken for something else.
HINTS: Mapping[str, str] = MappingProxyType({
    "going-home": "The day on which this sheet is handed over.",
    "file": "“File” is the clinic's record of the animal.",
    "must-change": "A date follows on a line of its own.",
    "must-come-off": "A date follows on a line of its own.",
    "last-bandage": "After this day no bandage is put on any more.",
    "last-bandage-open": "The last day with a bandage; nobody knows it yet.",
    "ring-now": "“Ring” is: telephone us.",
    "hours-days": "A run of weekdays, from the first to the last of them.",
    "hours-span": "Opening hours of one day.",
    "hours-we": "Stands before the clinic's own hours and telephone: “We answer:”.",
    "hours-other": "Stands before the telephone for the time when the clinic is closed.",
    "tick-toe-check": "Over empty boxes: the owner makes a mark in one each time the toes have been looked at.",
    "tick-look": "Over empty boxes: the owner makes a mark in one each time the bandage has been looked at.",
    "visit-first-check": "A visit to the clinic, in a narrow column: staff look at the bandage for the first time.",
    "visit-recheck": "A visit to the clinic, in a narrow column: staff look at the bandage.",
    "visit-change": "A visit to the clinic, in a narrow column: a new bandage is put on.",
    "visit-removal": "A visit to the clinic, in a narrow column: the bandage is taken off.",
    "by-moment": "“By” is: no later than.",
    "rest": "A heading: the animal must keep quiet. Not “what is left”.",
    "walk-lead": "“Lead” is the strap that the animal is walked on.",
    "never": "A heading over what the owner must never do. A warning, not a farewell.",
    "toes-right": "Under a picture of two nails that lie together: all is well.",
    "toes-wrong": "Under a picture of two nails that stand apart: telephone us now.",
    "turn-over": "Turn the sheet over: there is more on its other side.",
    "revision": "Which edition of which document of the clinic the sheet follows.",
    "pages": "Page number, and of how many.",
    "draft-mark": "Says what the mark in the margin means: this line is a translation that nobody qualified has read.",
    "own-words": "For staff: let the owner say it back, so that it can be heard whether it was understood.",
    "answer-at": "For staff: the lines of the sheet that hold the answer.",
    "sign-owner": "A label beside room for a signature.",
    "sign-interpreter": "A label beside room for a signature.",
    "sign-staff": "A label beside room for a signature.",
    "sign-when": "A label beside room for a date and a time.",
})  # fmt: skip
