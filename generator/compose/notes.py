"""Say in words what a plan wants its staff to know.

Takes  a `Plan` with its notes as codes and values, and a `Writer`.
Gives  `notes_of`: one sentence a note, in the order they were found, its figures traceable.
Knows  English, the language of the staff documents.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.not_stocked import CODE as NOT_STOCKED
from generator.compose.not_stocked import is_said_already, not_stocked_sentence
from generator.compose.writer import Writer, filled
from generator.reckon.plan import Figure, Note, Plan

# By code; fields are the note's own values. A code that is not here is printed as it stands: better odd than silent.
_WORDS: Mapping[str, str] = {
    "no-opening": "No opening for the {kind} before {due}. Admit the patient, or apply the bandage at another time.",
    "booked-outside-hours": "The {kind} is booked for {at}, outside opening hours.",
    "limb-estimated": "Nobody measured the limb. Girths, lengths and rolls are estimates. Measure and print again.",
    "narrow-elastic": "The {layer} is {width} wide, which is narrow for a girth of {girth}: an elastic strip presses harder the narrower it is.",
    "clock-change": "The clocks change; all times allow for it.",
    "deadline-passed": "The deadline, {due}, has passed. Open the bandage now.",
    "planned": "Planned for {at}. If it goes on earlier or later, print again.",
    "born-unknown": "Birth date unknown: treated as growing, which is the stricter.",
    "incision-without-contact": "There is an incision, and no contact layer.",
    "contact-not-needed": "Skin intact: no contact layer.",
    "review-overdue": "The protocol {protocol} was due for review on {date}.",
    "not-yet-in-force": "The protocol {protocol} is in force from {date}.",
    "earlier-too-long": "The earlier {protocol} ({on} to {off}) stayed on beyond its limit: look for harm to the skin.",
    "course-ends": "Last bandage of the course: off by {due}; the attending veterinarian decides what comes then.",
    "pad-beneath": "Leave the {material} and the clot, do not rinse: only the clinician lifts it and decides whether it stays under the {contact} (common practice).",
    "pad-alone": "Leave the {material} and the clot: only the clinician lifts it and decides whether it stays on (common practice); this bandage has no contact layer.",
    "bone-under-splint": "Bare bone or tendon under a splint: over a broken bone that is not fixed, it is opened every day.",
    "wide-strip": "The {layer} is {width} wide, wider than the limb is round ({girth} on average): it lies in folds. Take a narrower one.",
    "open-wound-elsewhere": "Open wound: no part of this bandage is for one. If it is not closed, add its protocol.",
    "doubt": "Doubtful: {what}. Before it goes on: {fix}.",
    "rolls-by-weight": "Rolls by weight ({standing}), not reckoned on this shape.",
    "dead-space": "Dead space under the wound: the clinician says how it is filled or drained.",
    "contact-wetted": "Wet the {material} with sterile saline first: this wound gives too little to keep it moist.",
    "contact-care": "{material}: {care}",
    "contact-doubtful": "{material}, which the protocol names, may not suit this wound: {why}. Ask the clinician.",
    "contact-objection": "{material}: {objection}",
    "modifier-warns": "{warns}",
    "cost-unknown": "No price for: {missing}.",
    "cost-in-currencies": "Prices are in {currencies}.",
}
# Values that somebody wrote in a file; all others are figures or words of this program.
_AUTHORED = frozenset(
    {
        "warns",
        "protocol",
        "missing",
        "modifier",
        "material",
        "contact",
        "because",
        "why",
        "care",
        "objection",
        "what",
        "fix",
        "standing",
    }
)


def notes_of(plan: Plan, writer: Writer, without: frozenset[str] = frozenset()) -> list[Markup]:
    """Sentences for staff, none twice."""
    made: dict[tuple[object, ...], Markup] = {}
    for note in plan.notes:
        key = (note.code, *map(str, note.values))
        if note.code not in without and key not in made and not is_said_already(note, plan.notes):
            made[key] = _sentence(note, writer)
    return list(made.values())


def _sentence(note: Note, writer: Writer) -> Markup:
    if note.code == NOT_STOCKED:
        return not_stocked_sentence(note, writer)
    pattern = _WORDS.get(note.code)
    values = {name: _value(name, value, note, writer) for name, value in note.values}
    if pattern is None:
        return (
            Markup(" ").join([escape(note.code.replace("-", " ") + ":"), *values.values()])
            if values
            else escape(note.code.replace("-", " ") + ".")
        )
    return filled(pattern, values)


def _value(name: str, value: Any, note: Note, writer: Writer) -> Markup:
    if name in _AUTHORED:
        return writer.authored(str(value), note.span, f"note.{note.code}")
    if isinstance(value, Figure):
        return hand.figure(writer, value)
    if isinstance(value, datetime):
        return writer.moment(value, hand.moment(value), f"note.{note.code}")
    if isinstance(value, date):
        return writer.day(value, hand.day(value), f"note.{note.code}")
    if isinstance(value, int | Fraction | Decimal):
        number = Fraction(value)
        return writer.number(f"note.{name}", number, hand.measure(number, "cm"))
    return escape(str(value))
