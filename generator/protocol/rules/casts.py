"""R57: a cast says for whom it is, ends short of its padding, and is no thicker than it must be.

What it looks for: `only_for` of a cast; `inset` and `passes` of cast tape.
Why it matters: a growing limb outgrows what a grown one bears; a hard edge on skin cuts in within hours.
Stops: a cast without `only_for`; cast tape that reaches to the end of the padding; a shell of eight passes.
Write instead: `only_for: grown` or `growing`; `inset: 1 cm`; one to three passes.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem

# A splint ends 1 to 2 cm short of the padding (common practice); half a centimetre is what can still be seen (house rule).
LEAST_INSET = Fraction(1, 2)
# More than six thicknesses is weight that the limb carries (house rule).
MOST_PASSES = 3


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind == "support.cast" and protocol.only_for is None:
        yield Problem(
            "cast-for-whom",
            protocol.span("kind"),
            "the cast does not say whether it is for growing or for grown animals",
            "a growing limb outgrows in days what a grown one bears for a week",
            "add a line `only_for: grown`, or `only_for: growing`",
            severity="warning",
        )
    shell = protocol.layer("splint")
    if shell is None or shell.passes is None or shell.overlap is None:
        return
    if shell.inset < LEAST_INSET:
        yield Problem(
            "shell-to-the-edge",
            shell.spans.get("inset") or shell.spans["layer"],
            "the cast tape reaches as far as the padding under it",
            "a hard edge on skin cuts in within hours",
            "add `inset: 1 cm` to the splint layer",
        )
    if shell.passes > MOST_PASSES:
        yield Problem(
            "shell-too-thick",
            shell.spans["passes"],
            f"the cast tape is laid in {shell.passes} passes",
            "weight tires the limb and pulls the cast down",
            f"write {MOST_PASSES} passes at most",
            severity="warning",
        )


RULE = Rule(
    id="R57",
    name="shell-to-the-edge",
    looks_for="A cast says whether it is for growing or for grown animals; cast tape ends short of its padding and is laid in three passes at most.",
    why="A growing limb outgrows a cast, and a hard edge on skin cuts in within hours.",
    source="common practice; half a centimetre and three passes house rule",
    broken="kind: support.cast\n"
    "layers:\n"
    "  - {layer: splint, material: cast tape, passes: 2, overlap: 50 %, firmness: laid on}\n"
    "  - ...\n",
    mended="kind: support.cast\n"
    "layers:\n"
    "  - {layer: splint, material: cast tape, passes: 2, overlap: 50 %, inset: 1 cm, firmness: laid on}\n"
    "  - ...\n",
    check=check,
    also=("cast-for-whom", "shell-too-thick"),
)
