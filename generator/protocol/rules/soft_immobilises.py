"""R04: a soft padded bandage is not said to immobilise.

What it looks for: `immobilises: yes` in a `support.soft` or `support.heavy`, which have no splint.
Why it matters: somebody would rely on it for a fracture.
Stops: `immobilises: yes` without a splint layer.
Write instead: `immobilises: no`, or a protocol of kind `support.splint`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import one
from generator.source.problem import Problem

PADDED = ("support.soft", "support.heavy")


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind in PADDED and protocol.immobilises and protocol.layer("splint") is None:
        yield Problem(
            "soft-bandage-immobilises",
            protocol.span("immobilises"),
            f"{one(KINDS[protocol.kind].words)} without a splint is said to immobilise",
            "it limits movement but does not make the limb rigid, and cotton relaxes; a fracture under it would move",
            "write `immobilises: no`, or choose `kind: support.splint` and add a splint layer",
        )


RULE = Rule(
    id="R04",
    name="soft-bandage-immobilises",
    looks_for="A soft or heavy padded bandage without a splint is not said to immobilise.",
    why="It does not make the limb rigid, and somebody would rely on it.",
    source="published 3, 9, 11",
    broken="kind: support.soft\nimmobilises: yes\n",
    mended="kind: support.soft\nimmobilises: no\n",
    check=check,
)
