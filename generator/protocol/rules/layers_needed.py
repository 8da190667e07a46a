"""R22: every layer that the kind of bandage needs is there, and none that harms.

What it looks for: the table of layers by kind (`protocol/kinds.py`).
Why it matters: layers missing are a recognised cause of harm.
Stops: a required layer left out; a forbidden layer put in.
Write instead: the layer, in its place, or another kind of bandage.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import KINDS, LAYERS
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import one
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    kind = KINDS.get(protocol.kind)
    if kind is None:
        return
    there = {layer.layer: layer for layer in protocol.layers}
    for layer, need in kind.layers.items():
        if need == "required" and layer not in there:
            yield Problem(
                "layer-missing",
                protocol.span("layers:"),
                f"{one(kind.words)} has no {layer} layer here",
                "a missing layer is a recognised cause of harm under a bandage",
                f"add a line `- {{layer: {layer}, {_usual(protocol, layer)}}}` in its place, with a material from stock.yaml; the order is {', '.join(LAYERS)}",
            )
        # A wound over a joint that moves may be splinted (K9 guideline 14): the protocol then says which joints it holds.
        excused = layer == "splint" and protocol.purpose == "wound" and protocol.covers and protocol.covers.joints
        if need == "forbidden" and layer in there and not excused:
            yield Problem(
                "layer-forbidden",
                there[layer].spans["layer"],
                f"{one(kind.words)} must have no {layer} layer",
                "this layer harms, or delays, in a bandage of this kind",
                f"delete the {layer} layer, or choose another `kind`"
                + (
                    "; where the wound crosses a joint, name it under `joints` in `covers`"
                    if layer == "splint" and protocol.purpose == "wound"
                    else ""
                ),
            )


def _usual(protocol: Protocol, layer: str) -> str:
    """What such a layer usually says, in the form that the protocol's other layers have."""
    wrap = (
        "rolls: {2 kg to 10 kg: 1, 10 kg and over: 2}"
        if any(other.rolls is not None for other in protocol.layers)
        else "passes: 1, overlap: 50 %"
    )
    return {
        "stirrups": "material: porous tape, count: 2, on_skin_at_most: 7 d",
        "contact": "material: low-adherent pad, count: 1",
        "padding": f"material: cast padding, {wrap}, firmness: even",
        "conforming": f"material: conforming gauze, {wrap}, firmness: snug",
        "splint": "material: gutter splint, count: 1",
        "outer": f"material: cohesive wrap, {wrap}, firmness: light",
    }[layer]


RULE = Rule(
    id="R22",
    name="layer-missing",
    looks_for="Every layer that the kind of bandage needs is there, and none that is forbidden in it.",
    why="Layers missing or out of place are a recognised cause of harm.",
    source="Gleason 2023; Côté; Campbell 2015; Winkler 2023; common practice",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "  - {layer: contact, material: low-adherent pad, count: 1, needed_if: incision or wound}\n"
    "  - {layer: conforming, material: conforming gauze, passes: 2, overlap: 50 %, inset: 2 cm, firmness: snug}\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "  - {layer: contact, material: low-adherent pad, count: 1, needed_if: incision or wound}\n"
    "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - {layer: conforming, material: conforming gauze, passes: 2, overlap: 50 %, inset: 2 cm, firmness: snug}\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n",
    check=check,
    also=("layer-forbidden",),
)
