"""R23: layers stand in the trade's order, skin outwards, each once.

What it looks for: stirrups, contact, padding, conforming, splint, outer; in that order.
Why it matters: a layer laid out of order works against the ones around it.
Stops: a layer before one that belongs under it; a layer given twice.
Write instead: the same lines in the right order.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import LAYERS
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    for before, after in zip(protocol.layers, protocol.layers[1:], strict=False):
        first, second = LAYERS.index(before.layer), LAYERS.index(after.layer)
        if first > second:
            yield Problem(
                "layer-out-of-order",
                after.spans["layer"],
                f"the {after.layer} layer stands after the {before.layer} layer",
                "layers are laid skin outwards in one fixed order; out of order they harm",
                "order the lines: " + ", ".join(LAYERS),
                also=((before.spans["layer"], f"the {before.layer} layer belongs further out"),),
            )
        elif first == second:
            yield Problem(
                "layer-twice",
                after.spans["layer"],
                f"the {after.layer} layer is given twice",
                "the card would list the layer twice, and it would be laid twice",
                "write one line for the layer, with `passes` for how often it is laid",
                also=((before.spans["layer"], "it is given here first"),),
            )


RULE = Rule(
    id="R23",
    name="layer-out-of-order",
    looks_for="Layers stand in the trade's order, skin outwards, and each stands once.",
    why="Layers missing or out of order are a recognised cause of harm.",
    source="common practice",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "  - {layer: contact, material: low-adherent pad, count: 1, needed_if: incision or wound}\n"
    "  - {layer: conforming, material: conforming gauze, passes: 2, overlap: 50 %, inset: 2 cm, firmness: snug}\n"
    "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "  - {layer: contact, material: low-adherent pad, count: 1, needed_if: incision or wound}\n"
    "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - {layer: conforming, material: conforming gauze, passes: 2, overlap: 50 %, inset: 2 cm, firmness: snug}\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n",
    check=check,
    also=("layer-twice",),
)
