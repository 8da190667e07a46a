"""Every fixed sentence an owner's sheet may carry, in English, once.

Takes  nothing: these are plain values.
Gives  `PHRASES`: English source by id, figures and names as {fields}, never a digit.
Knows  what the sheet says to an owner; translations live in the catalogues, staff words in the templates.

Each phrase is one line with one act. Whole phrases, not parts: a translator never has to join two halves.
`{pet}` is a name of any gender; moments, dates, times, lengths and counts arrive already written for the reader.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

PHRASES: Mapping[str, str] = MappingProxyType({
    # top of the sheet: whose bandage, and where it is
    "going-home": "Going home {date}",
    "species-dog": "Dog",
    "species-cat": "Cat",
    "owner": "Owner: {owner}",
    "file": "File: {file}",
    "bandage-left-fore": "Bandage on the left front leg",
    "bandage-right-fore": "Bandage on the right front leg",
    "bandage-left-hind": "Bandage on the left back leg",
    "bandage-right-hind": "Bandage on the right back leg",
    "bandage-head": "Bandage on the head",
    "bandage-chest": "Bandage on the chest",
    "bandage-abdomen": "Bandage on the belly",
    "bandage-tail": "Bandage on the tail",
    "sling-left-fore": "Sling on the left front leg",
    "sling-right-fore": "Sling on the right front leg",
    "sling-left-hind": "Sling on the left back leg",
    "sling-right-hind": "Sling on the right back leg",
    "site-left-fore": "Left front leg",
    "site-right-fore": "Right front leg",
    "site-left-hind": "Left back leg",
    "site-right-hind": "Right back leg",
    "site-head": "Head",
    "site-chest": "Chest",
    "site-abdomen": "Belly",
    "site-tail": "Tail",
    # the deadline: by when the bandage must be changed or come off
    "must-change": "We must change this bandage by",
    "must-come-off": "This bandage comes off by",
    "come-at": "Come at {time}.",
    "never-later-time": "Never later than {time}.",
    "never-later": "Never later than {moment}.",
    "visit-elsewhere": "We are closed then. Go to {place}, {address}.",
    "visit-no-opening": "We have no opening in time. Ask us before you go home.",
    "last-bandage": "The last bandage comes off by {date}.",
    "last-bandage-open": "We will tell you the last day.",
    # beside the deadline: for an owner who cannot come
    "cannot-come": "Cannot come?",
    "cannot-come-change": "Ring us. It cannot wait.",
    "cannot-come-off": "Ring us. It cannot wait.",
    # the alarm box: headings of the warning signs; who answers the telephone when
    "go-now": "Go now, day or night",
    "ring-now": "Ring now, day or night",
    "tell-us": "Tell us at the next visit",
    "hours-days": "{first} to {last}",
    "hours-span": "{opens} to {closes}",
    "hours-always": "Day and night",
    "hours-we": "Us:",
    "hours-other": "All other hours",
    "hours-closed": "Closed {dates}",
    # day by day: what is due on each day until the next visit
    "days": "Day by day",
    "tick-toe-check": "Tick each toe check",
    "tick-look": "Tick each look at the bandage",
    "visit-first-check": "First check",
    "visit-recheck": "Check",
    "visit-change": "New bandage",
    "visit-removal": "Bandage off",
    "at-moment": "{moment}",
    "by-moment": "by {moment}",
    "look-at": "Times to look: {times}.",
    "check-before-home": "{pet} stays here until the first check at {time}.",
    "check-here": "First check: come to us {moment}.",
    "check-by": "First check: by {moment}, at {place}.",
    "check-no-opening": "First check: by {moment}. We have no opening. Ask us before you go home.",
    "clocks-forward": "Clocks go forward",
    "clocks-back": "Clocks go back",
    # what to do at home: headings, and the lines on rest
    "every-day": "Every day",
    "keep-dry": "Keep it dry",
    "rest": "Rest",
    "walks": "Walk on a lead only: {walks} a day.",
    "walk-minutes": "Each walk: {minutes} at most.",
    "walk-lead": "Keep the lead short: {length} at most.",
    "cat-indoors": "Keep {pet} indoors.",
    "never": "Take care",
    # picture of toes: words below it
    "toes-right": "Good: nails together",
    "toes-wrong": "Ring now: nails apart",
    # pictures in words: for an owner who has the sheet read aloud by a phone
    "picture-animal": "Picture: where the bandage is. {site}.",
    "picture-days": "Each day until the bandage is opened",
    "picture-toes": "Picture: good, the two middle nails close together. Ring now, the nails apart.",
    "picture-code": "Code for a phone's camera. {does}",
    # square code: beside a code that a phone's camera reads
    "code-ring": "Scan to ring us in open hours.",
    # foot of the sheet: small print
    "turn-over": "Turn over",
    "explained-by": "Explained by {name}",
    "vet-decides": "Your vet decides. Local law applies.",
    "sheet": "sheet {sheet}",
    "revision": "{id} revision {revision}",
    "issued": "issued {moment}",
    "pages": "page {page} of {pages}",
    "replaces": "This sheet replaces the earlier one.",
    # draft: on a sheet whose translation nobody has signed off
    "draft-band": "Draft, not checked by a qualified person. The {language} text counts.",
    "draft-mark": "Not yet checked.",
    "lines-missing": "Some lines are still in {language}. Ask us what they say.",
    # facing side: the same sheet in the clinic's language, for pointing at a line
    "same-lines": "The same lines in {language}, with the same numbers",
    "point": "Point at a number to show which line you mean.",
    # the clinic's copy: questions that staff read aloud, and labels for signing
    "clinic-copy": "Clinic's copy",
    "own-words": "Ask, and let the owner answer in own words",
    "ask-where": "Show me where you will look.",
    "ask-when": "When do you bring {pet} back?",
    "ask-ring": "What would make you ring at night?",
    "ask-rest": "How will you keep {pet} quiet?",
    "answer-at": "Answer: {numbers}",
    "owner-explained": "The owner explained it in own words.",
    "sign-owner": "Owner",
    "sign-interpreter": "Interpreter",
    "sign-staff": "Who explained it",
    "sign-when": "Date and time",
    "plan-warned": "What the plan warned",
    "nothing-warned": "Nothing.",
})  # fmt: skip
