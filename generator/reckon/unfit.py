"""What a protocol itself forbids for this animal, where the patient's own words tell it.

Takes  the protocols, the patient, the day.
Gives  problems: an age it is not for, a wound where none may be or none is, a stage that the wound contradicts.
Knows  nothing of modifiers (those are the clinic's own); each refusal names what to use or whom to ask instead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction

from generator.protocol.model import AgeClause, Book, Patient, Protocol
from generator.reckon.modify import is_young
from generator.source.problem import Problem
from generator.source.span import Span

# Growing: under six months (quadriceps contracture, published 66; the line from memory), large breeds under twelve.
_GROWING = (AgeClause(6, "month", None), AgeClause(12, "month", Fraction(25)))
_OTHER = "choose another protocol; the attending veterinarian decides"
# Signs that belong to an earlier stage than the one named (WSAVA 2018 p. 572; Campbell 2015: granulation has no dead tissue
# left, new skin no open bed under it).
_CONTRADICTS = {
    "proliferative": ("dry dead tissue",),
    "maturation": ("dry dead tissue", "bare bone or tendon", "infected", "dead space"),
}


def unfit(parts: Sequence[Protocol], patient: Patient, on: date, book: Book) -> Iterator[Problem]:
    """Everything that speaks against these protocols for this animal and this wound."""
    for part in parts:
        yield from _age(part, patient, on, book)
        yield from _stage(part, patient)
        yield from _no_wound(part, patient)
        yield from _wound_shut_in(part, patient)
    yield from _cast_over_wound(parts, patient)


def _age(part: Protocol, patient: Patient, on: date, book: Book) -> Iterator[Problem]:
    # An unknown birth date is read as growing: the stricter, and so too young for what is for grown animals only.
    age = "growing" if any(is_young(clause, patient, on) for clause in _GROWING) else "grown"
    if part.only_for is None or part.only_for == age or (patient.born is None and part.only_for == "growing"):
        return
    what = f"this one is {age}" if patient.born is not None else "nobody knows whether this one still grows"
    why = (
        "the limb outgrows a bandage that stays on as long as a grown animal's"
        if age == "growing"
        else "its bone needs longer than this bandage may stay"
    )
    other = next((p.name for p in book.protocols.values() if p.kind == part.kind and p.only_for == age), None)
    yield _problem(
        "not-growing" if age == "grown" else "not-grown",
        patient,
        "patient.born",
        f"`{part.name}` is for a {part.only_for} animal; {what}",
        why,
        part,
        "only_for",
        f"use `{other}`, or another protocol; the attending veterinarian decides" if other else _OTHER,
    )


def _stage(part: Protocol, patient: Patient) -> Iterator[Problem]:
    wound = patient.wound
    if wound is None or part.stage is None:
        return
    against = [feature for feature in _CONTRADICTS.get(part.stage, ()) if feature in wound.features]
    if part.stage == "maturation" and wound.exudate == "high":
        against.append("much fluid")
    if not against:
        return
    yield Problem(
        "stage-contradicted",
        wound.spans["features"] if "features" in wound.spans and against != ["much fluid"] else wound.spans["exudate"],
        f"{' and '.join(against)} does not belong to the {part.stage} stage",
        "a dressing of a later stage shuts in what must come out",
        "have the clinician read the wound again, and name the stage that it shows",
        also=((part.span("stages"), "the stages of the protocol"),),
    )


def _no_wound(part: Protocol, patient: Patient) -> Iterator[Problem]:
    if patient.skin == "intact" and (part.stage is not None or part.kind == "wound.tieover"):
        yield _problem(
            "no-wound",
            patient,
            "skin",
            f"`{part.name}` is for an open wound, and the skin is intact",
            "a dressing made for a wound softens whole skin",
            part,
            "kind",
        )


def _wound_shut_in(part: Protocol, patient: Patient) -> Iterator[Problem]:
    if part.purpose == "sling" and patient.skin == "wound" and part.limits.change_every is None:
        yield _problem(
            "wound-shut-in", patient, "skin", f"`{part.name}` is not opened before it comes off, and there is a wound", "a wound that nobody sees goes bad under the sling", part, "limits:",
            "choose a sling that is opened for the wound, or another way of holding the limb: the clinician decides",
        )  # fmt: skip


def _cast_over_wound(parts: Sequence[Protocol], patient: Patient) -> Iterator[Problem]:
    casts = [part for part in parts if part.kind == "support.cast"]
    if casts and patient.skin == "wound":
        yield _problem(
            "cast-over-wound", patient, "skin", f"`{casts[0].name}` goes over an open wound", "a cast hides it, and holds in what it gives off", casts[0], "kind",
            "cover the wound; a splint that is opened for it, or surgery, is for the clinician to decide",
        )  # fmt: skip


def _problem(
    name: str, patient: Patient, key: str, what: str, why: str, part: Protocol, at: str, fix: str = _OTHER
) -> Problem:
    span: Span = patient.spans.get(key) or patient.spans[""]
    return Problem(name, span, what, why, fix, also=((part.span(at), "the protocol says so here"),))
