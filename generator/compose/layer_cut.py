"""The cut through limb and layers, for card and binder alike.

Takes  the layers as reckoned, the girth they lie on, a `Writer`.
Gives  `cut_through`: the drawing's id and what it says in words.
Knows  which layers have a thickness; how a ring is drawn: `page/layer_section.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from math import pi

from generator.compose import hand
from generator.compose.writer import Writer
from generator.page.layer_section import LayerSection, Ring, draw_layer_section
from generator.protocol.kinds import LAYERS
from generator.reckon.plan import Figure, LayerPlan

# Points: a drawing does not shrink with the type, and its words are never under nine.
_LETTERING = 9.5
_FILLS = {"padding": "cream", "conforming": "leaf-soft", "outer": "leaf"}


def layer_number(layer: str) -> str:
    """A layer's letter: its place in the trade's order, the same on every card; a letter, since it is no figure."""
    return "ABCDEF"[LAYERS.index(layer)]


def laid(layers: Sequence[LayerPlan]) -> list[LayerPlan]:
    """The layers that add to the girth, innermost first."""
    return [layer for layer in layers if layer.thickness > 0 and layer.passes]


def cut_through(
    layers: Sequence[LayerPlan], girth: Figure | None, writer: Writer, name: str = "layers", tallest: float = 96.0
) -> dict[str, str] | None:
    """A cut through limb and layers, to scale; None where no thickness was reckoned on a limb.

    Args:
        tallest: most radius of the drawing, in points.
    """
    found = laid(layers)
    if girth is None or not found:
        return None
    rings = tuple(
        Ring(number=layer_number(p.layer.layer), words=p.layer.layer, thickness_cm=float(p.thickness), passes=p.passes or 1,
             detail=f"{p.passes} pass{'es' if (p.passes or 1) > 1 else ''}", fill=_FILLS.get(p.layer.layer, ""))
        for p in found
    )  # fmt: skip
    spec = LayerSection(
        limb_radius_cm=float(girth.number) / (2 * pi), rings=rings, limb_words="limb", thin_words="drawn thicker", bar_words=hand.measure(Fraction(1), "cm"),
        alternative="Cut through the limb near the toes. From inside: " + ", ".join(f"{r.words}, {r.detail}" for r in rings), size=_LETTERING, tallest=tallest,
        language="en",
    )  # fmt: skip
    return {
        "drawing": writer.drawing(name, partial(draw_layer_section, spec)),
        "alt": spec.alternative,
    }
