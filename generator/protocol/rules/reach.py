"""What a bandage lies on, and which steps lay it.

Takes  a protocol, or a stored blend with its book.
Gives  `on_limb`, `as_parts` (a stored blend's own steps beside each of its parts), `first_laying`, `last_laying`.
Knows  the sites of a limb; nothing of what any step should say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.protocol.model import Book, Protocol, Step
from generator.protocol.shapes import is_unsound

LIMB_SITES = frozenset({
    "distal forelimb", "distal hindlimb", "forelimb", "hindlimb", "fore foot", "hind foot", "shoulder", "hip",
})  # fmt: skip
# Nothing of these goes round the limb, or they are not laid on one.
_OFF_LIMB = ("wound.tieover", "cover.head", "cover.trunk", "cover.tail", "blend")
WRAPS = ("padding", "conforming", "splint", "outer")


def on_limb(protocol: Protocol) -> bool:
    """Whether it goes round a limb, so that the toes are the window on the blood supply."""
    return protocol.kind not in _OFF_LIMB and any(site in LIMB_SITES for site in protocol.sites)


def as_parts(protocol: Protocol, book: Book) -> Iterator[Protocol]:
    """The protocol itself; of a stored blend each part that could be read, with the blend's own steps in place of its own.

    A stored blend without steps of its own takes those of its parts, which are judged where they stand.
    """
    if protocol.kind != "blend":
        yield protocol
        return
    for part in parts_of(protocol, book) if protocol.steps else ():
        spans = {**part.spans, "steps:": protocol.span("steps:"), "": protocol.spans[""]}
        yield replace(part, steps=protocol.steps, spans=spans)


def parts_of(protocol: Protocol, book: Book) -> tuple[Protocol, ...]:
    """The parts of a stored blend, each at its stage, as far as they are there and could be read."""
    found = []
    for name in protocol.blend:
        slug, _, stage = name.partition("@")
        other = book.protocols.get(slug)
        if other is None or is_unsound(other.kind) or is_unsound(other.stages) or other.kind == "blend":
            continue
        if bool(stage) != bool(other.stages):
            continue  # A stage too few or too many has its own problem.
        part = other.stages.get(stage) if stage else other
        if part is not None and not is_unsound(part):
            found.append(part)
    return tuple(found)


def lays(step: Step, *layers: str) -> bool:
    return step.layer in layers and step.do is not None


def first_laying(steps: tuple[Step, ...], *layers: str) -> int | None:
    """The number, from 0, of the first step that lays one of these layers; None where no step says that it does."""
    return next((number for number, step in enumerate(steps) if lays(step, *layers)), None)


def last_laying(steps: tuple[Step, ...], *layers: str) -> int | None:
    return next((number for number, step in reversed(list(enumerate(steps))) if lays(step, *layers)), None)
