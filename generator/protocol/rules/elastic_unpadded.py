"""R21: nothing elastic goes on without padding under it.

What it looks for: an outer or conforming layer of a material that is stretched when laid, where padding may be left out and is.
Why it matters: padding is what makes tension survivable.
Stops: a maturing wound under cohesive wrap with no padding layer. Where padding is required, `layers_needed` says so.
Write instead: a padding layer of one pass or two.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    kind = KINDS.get(protocol.kind)
    # A catheter cover is light, over gauze, and opened every day: there the trade leaves the padding to the clinic.
    if (
        kind is None
        or kind.key == "cover.catheter"
        or kind.layers["padding"] != "optional"
        or protocol.layer("padding") is not None
    ):
        return

    def judge(layer: Layer) -> Iterator[Problem]:
        material = book.stock.get(layer.material) if layer.material is not None else None
        if layer.layer != "outer" or material is None or is_unsound(material) or not material.extension:
            return
        yield Problem(
            "elastic-without-padding",
            layer.spans["material"],
            f"`{layer.material}` is elastic, and there is no padding under it",
            "padding is what makes the pull of an elastic wrap survivable",
            "add a line `- {layer: padding, material: cast padding, passes: 1, overlap: 50 %}` before the conforming layer",
        )

    yield from each(protocol.layers, judge)


RULE = Rule(
    id="R21",
    name="elastic-without-padding",
    looks_for="Nothing elastic goes on without padding under it.",
    why="Padding is what makes tension survivable.",
    source="published 12, 13",
    broken="kind: wound.open\n"
    "stages:\n"
    "  maturation:\n"
    "    layers:\n"
    "      - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "      - {layer: contact, material: silicone net, count: 1}\n"
    "      - {layer: conforming, material: conforming gauze, passes: 1, overlap: 50 %, inset: 2 cm, firmness: light}\n"
    "      - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n",
    mended="kind: wound.open\n"
    "stages:\n"
    "  maturation:\n"
    "    layers:\n"
    "      - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "      - {layer: contact, material: silicone net, count: 1}\n"
    "      - {layer: padding, material: cast padding, passes: 2, overlap: 50 %, firmness: even}\n"
    "      - {layer: conforming, material: conforming gauze, passes: 1, overlap: 50 %, inset: 2 cm, firmness: light}\n"
    "      - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n",
    check=check,
)
