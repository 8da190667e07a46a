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
    followed = [_followed(one, book, problems) for one in patient.earlier]
    moments = [(located(one.on, zone), located(one.off, zone)) for one in patient.earlier]
    problems += _out_of_order(patient, moments, applied)
    if problems:
        raise Refusal(problems)
    groups = [group for group in _TOGETHER if any(part.purpose in group for part in parts)]
    earlier: list[Earlier] = []
    notes: list[Note] = []
    for one, protocols, (on, off) in zip(patient.earlier, followed, moments, strict=True):
        counts = any(purpose_of(protocol.kind) in group for group in groups for protocol in protocols)
        earlier.append(Earlier(one.protocol, " + ".join(protocol.title for protocol in protocols), on, off, counts))
        ends = [
            protocol.limits.change_every.upper for protocol in protocols if protocol.limits.change_every is not None
        ]
        if any(off > end_of(on, end, zone) for end in ends):
            notes.append(
                Note("earlier-too-long", (("protocol", one.protocol), ("on", on), ("off", off)), one.spans["off"])
            )
    began = min((one.on for one in earlier if one.counts), default=applied, key=lambda moment: moment.astimezone(UTC))
    return Story(began, tuple(earlier), tuple(notes))


def _followed(one: Application, book: Book, problems: list[Problem]) -> tuple[Protocol, ...]:
    """The protocols an earlier bandage followed: one, or the parts of a stored blend."""
    try:
        slug, _, stage = one.protocol.partition("@")
        whole = book.protocols.get(slug)
        names = whole.blend if whole is not None and whole.blend and not stage else (one.protocol,)
        found = tuple(protocol for name in names if (protocol := _at_stage(name, book)) is not None)
        if len(found) == len(names):
            return found
        known = [name for key, other in book.protocols.items() for name in _names(key, other)]
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
    return ()


def _at_stage(name: str, book: Book) -> Protocol | None:
    slug, _, stage = name.partition("@")
    protocol = book.protocols.get(slug)
    if protocol is None or bool(stage) != bool(protocol.stages):
        return None
    return protocol.stages.get(stage) if stage else protocol


def _names(slug: str, protocol: Protocol) -> list[str]:
    return [f"{slug}@{stage}" for stage in protocol.stages] if protocol.stages else [slug]


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
