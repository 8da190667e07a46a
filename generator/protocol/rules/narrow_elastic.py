"""R20: elastic is not narrow on a wide limb.

What it looks for: a width that the protocol itself gives to a range of girths, under a quarter of even the smallest of them.
Why it matters: pressure rises as the strip gets narrower, and a narrow strip rings the limb.
Stops: `width: {20 cm and over: 2.5 cm}` on an elastic material.
Write instead: a width of a quarter of the girth or more. The girth of the animal itself is judged when it is reckoned.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

# House rule: the direction is printed (pressure is inverse to width, Thomas 2003), the quarter is ours.
LEAST_SHARE = 4


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    def judge(layer: Layer) -> Iterator[Problem]:
        material = book.stock.get(layer.material) if layer.material is not None else None
        if material is None or is_unsound(material) or not material.extension or not isinstance(layer.width, tuple):
            return
        for band, width in layer.width:
            if band.dimension == "length" and width * LEAST_SHARE < band.lower:
                yield Problem(
                    "elastic-too-narrow",
                    layer.spans["width"],
                    f"a strip of {float(width):g} cm is given to limbs of {float(band.lower):g} cm and more",
                    "the narrower an elastic strip, the higher its pressure; under a quarter of the girth it rings the limb",
                    f"write at least {float(band.lower / LEAST_SHARE):g} cm for this range",
                    severity="warning",
                )

    yield from each(protocol.layers, judge)


RULE = Rule(
    id="R20",
    name="elastic-too-narrow",
    looks_for="An elastic strip is at least a quarter as wide as the limb is round.",
    why="Pressure rises as the strip gets narrower, and a narrow strip rings the limb.",
    source="published 1, 83; the quarter is a house rule",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, width: {under 14 cm: 5 cm, 14 cm and over: 2.5 cm}, firmness: light}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, width: {under 14 cm: 5 cm, 14 cm and over: 7.5 cm}, firmness: light}\n"
    "  - ...\n",
    check=check,
)
