"""R19: tape or elastic never closes a ring on skin.

What it looks for: a `do` that lays tape or elastic in a ring or circle.
Why it matters: the ring becomes a tourniquet as the foot swells.
Stops: `do: Close the tape in a ring round the limb.`
Write instead: strips along the limb, one on each side.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol, Step
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import asks_for
from generator.source.problem import Problem

RING = (
    r"\b(tapes?|strips?|stirrups?|elastic)\b[^.;]*\b(in|into|as|of) (a|one)?\s*(closed |full |complete )?(ring|circle)"
    r"|\b(ring|circle)s? of (porous |adhesive |elastic )?(tape|elastic)"
    r"|\b(encircle|ring)\b[^.;]*\bwith\b[^.;]*\b(tape|elastic|strips?|stirrups?)\b"
    r"|\b(tapes?|strips?|stirrups?|elastic)\b[^.;]*\ball the way (a)?round\b"
)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    yield from each(protocol.steps, _judge)


def _judge(step: Step) -> Iterator[Problem]:
    if step.do is not None and asks_for(step.do, RING):
        yield Problem(
            "tape-closes-ring",
            step.spans["do"],
            "the step closes tape or elastic in a ring",
            "on skin it becomes a tourniquet as soon as the foot swells",
            "write `do: Lay one strip on each side of the limb, free ends past the toes.`",
        )


RULE = Rule(
    id="R19",
    name="tape-closes-ring",
    looks_for="Tape or elastic never closes a ring on skin.",
    why="It becomes a tourniquet as the foot swells.",
    source="published 11, 75",
    broken="kind: support.soft\nsteps:\n  - {layer: stirrups, do: Close the tape in a ring round the limb.}\n  - ...\n",
    mended="kind: support.soft\n"
    "steps:\n"
    '  - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side, free ends well past the toes."}\n'
    "  - ...\n",
    check=check,
    blends=True,
)
