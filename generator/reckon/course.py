"""The bandages of the course that have come off, and when the end began to count.

Takes  the protocols planned, the patient's earlier bandages, the book, the clinic's zone.
Gives  `Story`: each earlier bandage as moments, whether it counts towards this one's end, how long it stayed beyond its limit.
Knows  that wrapping again restarts nothing: a limb held still by a splint and then by a sling is held still all the while.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, tzinfo

from generator.protocol.kinds import purpose_of
from generator.protocol.model import Application, Book, Patient, Protocol
from generator.protocol.shapes import UnsoundValue, nearest
from generator.reckon.clock import end_of, located
from generator.reckon.plan import Earlier, Note
from generator.source.problem import Problem, Refusal

# What counts together towards one end (house rule): bandages that hold a limb still, and those that cover.
_TOGETHER = (frozenset({"support", "sling"}), frozenset({"wound", "cover"}), frozenset({"haemorrhage"}))


@dataclass(frozen=True, slots=True)
class Story:
    """What went before. began: when the end of bandaging starts to count, in the clinic's zone."""

    began: datetime
    earlier: tuple[Earlier, ...]
    notes: tuple[Note, ...]


def story_of(parts: Sequence[Protocol], patient: Patient, book: Book, applied: datetime, zone: tzinfo) -> Story:
    """Read what went before.

    Raises:
        Refusal: an earlier bandage that the book does not know, that ends before it starts, or out of order.
    """
    if not patient.earlier:
        return Story(located(patient.began, zone) if patient.began is not None else applied, (), ())
    problems: list[Problem] = []
    kinds = [_kind_of(one, book, problems) for one in patient.earlier]
    moments = [(located(one.on, zone), located(one.off, zone)) for one in patient.earlier]
    problems += _out_of_order(patient, moments, applied)
    if problems:
        raise Refusal(problems)
    groups = [group for group in _TOGETHER if any(part.purpose in group for part in parts)]
    earlier: list[Earlier] = []
    notes: list[Note] = []
    for one, protocol, (on, off) in zip(patient.earlier, kinds, moments, strict=True):
        assert protocol is not None
        counts = any(purpose_of(protocol.kind) in group for group in groups)
        earlier.append(Earlier(one.protocol, protocol.title, on, off, counts))
        most = protocol.limits.change_every
        if most is not None and off > end_of(on, most.upper, zone):
            notes.append(
                Note("earlier-too-long", (("protocol", one.protocol), ("on", on), ("off", off)), one.spans["off"])
            )
    began = min((one.on for one in earlier if one.counts), default=applied, key=lambda moment: moment.astimezone(UTC))
    return Story(began, tuple(earlier), tuple(notes))


def _kind_of(one: Application, book: Book, problems: list[Problem]) -> Protocol | None:
    """The protocol an earlier bandage followed; a stored blend counts as its first part."""
    slug, _, stage = one.protocol.partition("@")
    protocol = book.protocols.get(slug)
    try:
        if protocol is not None and protocol.blend:
            slug, _, stage = protocol.blend[0].partition("@")
            protocol = book.protocols.get(slug)
        if protocol is not None and protocol.stages:
            if stage in protocol.stages:
                return protocol.stages[stage]
        elif protocol is not None and not stage:
            return protocol
        known = [
            name
            for key, other in book.protocols.items()
            for name in ([f"{key}@{s}" for s in other.stages] if other.stages else [key])
        ]
    except UnsoundValue:
        known = []
    close = nearest(one.protocol, known)
    problems.append(
        Problem(
            "earlier-unknown",
            one.spans["protocol"],
            f"the book has no protocol `{one.protocol}`",
            "what kind of bandage it was decides whether it counts towards the end of this one",
            (f"the nearest is `{close}`; " if close else "")
            + "write its name as in the book, with `@stage` where it has stages",
        )
    )
    return None


def _out_of_order(
    patient: Patient, moments: Sequence[tuple[datetime, datetime]], applied: datetime
) -> Iterator[Problem]:
    before: datetime | None = None
    for one, (on, off) in zip(patient.earlier, moments, strict=True):
        if off <= on:
            yield _disorder(one, "off", "it came off before it was on")
        elif before is not None and on < before:
            yield _disorder(one, "on", "it went on before the one before it was off")
        before = off
    if before is not None and before > applied and moments[-1][1] > moments[-1][0]:
        yield _disorder(patient.earlier[-1], "off", "it came off after this bandage went on")


def _disorder(one: Application, key: str, what: str) -> Problem:
    return Problem(
        "earlier-out-of-order",
        one.spans[key],
        f"the times of the earlier `{one.protocol}` cannot be right: {what}",
        "the end of bandaging counts from the first bandage, and a slip here would move it",
        "write the bandages oldest first, each with the moments it went on and came off",
    )
