"""A pressure bandage, and the bandage that goes on once the bleeding has stopped: two plans, two clocks.

Takes  what `reckon` takes, and the protocols of the bandage that follows.
Gives  the `Plan` of the pressure bandage with the other's plan as its `then`.
Knows  that nobody knows yet when the next bandage goes on: it is reckoned from the release, the earliest moment at which it
       can, so that no deadline comes later than it may.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, tzinfo

from generator.protocol.model import Application, Book, Patient, Protocol
from generator.reckon.clock import located
from generator.reckon.plan import Note, Plan
from generator.reckon.reckoner import reckon
from generator.source.problem import Problem, Refusal
from generator.source.span import Span

# Of what can be wrong with the next bandage: what only its own times can tell, which nobody has where the first is refused.
_OF_ITS_TIMES = frozenset({"booked-outside-window", "booked-not-planned", "course-over"})


def reckon_sequence(
    parts: Sequence[Protocol],
    then: Sequence[Protocol],
    patient: Patient,
    book: Book,
    now: datetime,
    zone: tzinfo,
    *,
    stored: Protocol | None = None,
    then_stored: Protocol | None = None,
    zone_release: str = "",
) -> Plan:
    """Reckon a pressure bandage and the bandage that follows it.

    Args:
        then: the protocols of the bandage that follows, each at its stage. then_stored: the stored blend that named them.
        The others are those of `reckon`. Booked visits are the next bandage's: the first has none.
    Raises:
        Refusal: the first is no pressure bandage, or the next one is; else with every problem of both, none twice.
    """
    problems = _out_of_place(parts, then, stored, then_stored)
    if problems:
        raise Refusal(problems)
    first = after = None
    try:
        first = reckon(parts, patient, book, now, zone, stored=stored, zone_release=zone_release)
    except Refusal as refusal:
        problems += refusal.problems
    animal = _afterwards(patient, first, zone)
    try:
        after = reckon(then, animal, book, now, zone, stored=then_stored, zone_release=zone_release)
    except Refusal as refusal:
        problems += [_reworded(p) for p in refusal.problems if first is not None or p.name not in _OF_ITS_TIMES]
    if first is None or after is None:
        raise Refusal(dict.fromkeys(problems))
    return replace(first, then=replace(after, notes=(*after.notes, *_pad_notes(first, after))))


def _afterwards(patient: Patient, first: Plan | None, zone: tzinfo) -> Patient:
    """The patient as the next bandage finds it: planned for the release, with the pressure bandage behind it.

    Where the first bandage is refused only what is wrong with the next one is looked for, at the moment of application.
    """
    if first is None:
        return replace(patient, applied=located(patient.applied, zone), is_planned=True, began=None)
    release = first.first("release")
    assert release is not None, "a pressure bandage without a release is refused"
    # Wrapped again, it is one bandage from the first turn on, unless the file tells of each.
    on = first.applied if patient.earlier else first.began
    at = patient.spans.get("applied") or patient.spans.get("planned") or patient.spans[""]
    gone = Application(first.bandage.parts[0].name, on, release.due, dict.fromkeys(("protocol", "on", "off"), at))
    return replace(patient, applied=release.due, is_planned=True, began=None, earlier=(*patient.earlier, gone))


def _out_of_place(
    parts: Sequence[Protocol], then: Sequence[Protocol], stored: Protocol | None, then_stored: Protocol | None
) -> list[Problem]:
    """Two bandages that do not follow each other on one card."""
    firsts, nexts = _names(parts, stored), _names(then, then_stored)
    follows = " ".join(f"--then {name}" for name in nexts)
    problems = [
        Problem(
            "pressure-bandage-again",
            Span(f"--then {part.name}"),
            f"`{part.name}` is a pressure bandage, and none may follow the first bandage",
            "wrapping again restarts nothing: the blood supply has been cut off since the first turn, and the minutes count from it",
            "name the bandage that goes on once the bleeding has stopped; if it still bleeds at the release: press by hand and call the clinician",
        )
        for part in then
        if part.purpose == "haemorrhage"
    ]
    if not problems and not any(part.purpose == "haemorrhage" for part in parts):
        shown = ", ".join(f"`{name}`" for name in firsts)
        joined = " ".join(f"--protocol {name}" for name in (*firsts, *nexts))
        problems.append(
            Problem(
                "followed-without-bleeding",
                Span(follows),
                f"only a pressure bandage is followed by another one on its card, and {shown} is none",
                "it is over in minutes, and what comes next is then wanted at once; any other bandage is opened days later, by what is found then",
                f"for both in one bandage write `{joined}`; if bleeding comes first, `--protocol pressure-bandage {follows}`; else leave `--then` out",
            )
        )
    return problems


def _names(parts: Sequence[Protocol], stored: Protocol | None) -> list[str]:
    return [stored.protocol] if stored is not None else [part.name for part in parts]


def _reworded(problem: Problem) -> Problem:
    """What to write, where the bandage at fault was named by `--then`."""
    return replace(problem, fix=problem.fix.replace("`--protocol`", "`--then`"))


def _pad_notes(first: Plan, after: Plan) -> list[Note]:
    """The pad that only the clinician lifts, and the contact layer of the next bandage: nothing says which of them stays."""

    def contact(plan: Plan) -> str | None:
        return next((p.layer.material or "pad" for p in plan.layers if p.layer.layer == "contact"), None)

    pad, own = contact(first), contact(after)
    if pad is None:
        return []
    if own is None:
        return [Note("pad-alone", (("material", pad),))]
    return [Note("pad-beneath", (("material", pad), ("contact", own)))]
