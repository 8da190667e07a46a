"""R03: a heavy padded bandage is for the limb at or below elbow and stifle.

What it looks for: the `sites` of a `support.heavy`. That it ends is asked for by `removal_needed`.
Why it matters: higher up it slides off the cone of the limb and hangs on it as a weight.
Stops: `sites: [hip]`, `sites: [forelimb]`.
Write instead: `sites: [distal forelimb, distal hindlimb]`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem

DISTAL = ("distal forelimb", "distal hindlimb", "fore foot", "hind foot")


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "support.heavy":
        return
    high = [site for site in protocol.sites if site not in DISTAL]
    if high:
        yield Problem(
            "heavy-bandage-too-high",
            protocol.span("sites"),
            f"a heavy padded bandage is planned for: {', '.join(high)}",
            "it serves only at or below elbow and stifle; higher up it slides down and hangs on the limb as a weight",
            "write `sites: [distal forelimb, distal hindlimb]`, or choose another `kind`",
        )


RULE = Rule(
    id="R03",
    name="heavy-bandage-too-high",
    looks_for="A heavy padded bandage is used only at or below elbow and stifle, and for a time.",
    why="Higher up it slides down; with time the cotton relaxes and its hold is lost.",
    source="published 9, 11",
    broken="kind: support.heavy\nsites: [hindlimb, hip]\n",
    mended="kind: support.heavy\nsites: [distal forelimb, distal hindlimb]\n",
    check=check,
)
