"""The course of one animal's bandages as plain text: what was on, what is on, what may still come, and when it ends.

Takes  a `Plan`.
Gives  `course_text`.
Knows  that wrapping again restarts nothing, and that what comes after the end is the attending veterinarian's to decide.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from generator.compose import hand
from generator.reckon.plan import Plan


def course_text(plan: Plan) -> str:
    """Every bandage of the course in order, the changes still to come, the end and what it counts from."""
    patient = plan.patient
    lines = [f"{patient.name}, {patient.species}, {patient.limb.site}", ""]
    rows = list(_rows(plan))
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    lines += [
        "   ".join(cell.ljust(width) for cell, width in zip(row, (*widths, 0), strict=True)).rstrip() for row in rows
    ]
    lines += ["", *_end(plan)]
    return "\n".join(line.replace(hand.NO_BREAK, " ") for line in lines)


def _rows(plan: Plan) -> Iterator[tuple[str, str, str, str]]:
    for number, one in enumerate(plan.earlier, 1):
        counts = "counts towards the end" if one.counts else "another purpose: does not count towards the end"
        yield (
            str(number),
            one.title,
            f"{hand.moment(one.on)} to {hand.moment(one.off)}",
            f"{_length(one.on, one.off)}; {counts}",
        )
    number = len(plan.earlier) + 1
    told = plan.earlier or plan.began == plan.applied
    deadline = plan.deadline
    until = (
        f"to {hand.moment(deadline.due)} at the latest" if deadline is not None else "no deadline: ask the clinician"
    )
    length = _length(plan.applied, deadline.due) if deadline is not None else ""
    yield (
        str(number) if told else "+",
        plan.bandage.title,
        f"{hand.moment(plan.applied)} {until}",
        f"{length}; this bandage",
    )
    changes = [event for event in plan.events if event.kind == "change"]
    for event in changes:
        yield (
            "",
            "change",
            f"by {hand.moment(event.due)}",
            "a new bandage of this kind may go on; its own plan says how long",
        )


def _end(plan: Plan) -> Iterator[str]:
    if plan.remove_by is None:
        yield f"The end counts from {hand.moment(plan.began)} and has no time set."
        for words, _ in plan.bandage.clinical_ends:
            yield f"Bandaging ends when: {words}. The clinician decides at each change."
        return
    end = plan.remove_by.due
    decision = next((one for one in reversed(plan.decisions) if one.key == "remove_by"), None)
    by = f" ({decision.value}, {decision.by})" if decision is not None else ""
    yield f"Bandaging ends by {hand.moment(end)}{by}, counted from {hand.moment(plan.began)}. Wrapping again restarts nothing."
    left = f"{_length(plan.applied, end)} were left when this bandage went on"
    if plan.applied != plan.began:
        left = f"{_length(plan.began, plan.applied)} of {_length(plan.began, end)} were used and {left}"
    yield f"{left[0].upper()}{left[1:]}."
    if plan.deadline is plan.remove_by:
        yield "This is the last bandage of the course. Before it comes off the attending veterinarian decides: leave it off, hold the limb another way, operate or refer."


def _seconds(one: datetime, other: datetime) -> float:
    return (other.astimezone(UTC) - one.astimezone(UTC)).total_seconds()


def _length(one: datetime, other: datetime) -> str:
    """Elapsed time, to the minute: `6 d 23 h`, `18 min`."""
    span = timedelta(seconds=_seconds(one, other))
    hours, minutes = divmod(span.seconds // 60, 60)
    parts = [(span.days, "d"), (hours, "h"), (minutes, "min")]
    return " ".join(f"{number} {unit}" for number, unit in parts if number) or "0 min"
