"""The drawing of a chapter's layers, with the limb that it is drawn for.

Takes  the rows of `reckon.by_band`, a `Writer`.
Gives  `drawing_of`: a cut to scale and its caption, or the reason why there is none.
Knows  that a drawing for one size is an estimate, and which layers have no thickness to draw.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.layer_cut import cut_through, laid, layer_number
from generator.compose.writer import Writer
from generator.reckon.by_band import BandPlan

# Points of radius: two of three stages with their tables share a page.
_TALLEST = 76.0
_WHERE = {"fore": "forelimb", "hind": "hindlimb"}
_NO_SHAPE = "No drawing: nothing is reckoned on this shape, so no thickness is known. The table is in the order of laying, skin first."
_NO_BAND = "No drawing: the clinic has no size band for this site."
_NO_THICKNESS = "No drawing: no thickness is stated for these layers."


def drawing_of(rows: Sequence[BandPlan], w: Writer) -> dict[str, Any]:
    """`drawing` and `alt` for the middle one of the clinic's bands at the first site, and `caption`; else `why` there is none."""
    if not rows:
        return {"drawing": None, "why": _NO_BAND}
    first = [row for row in rows if row.group == rows[0].group and row.layers]
    if rows[0].group is None or not first:
        return {"drawing": None, "why": _NO_SHAPE if rows[0].group is None else _NO_THICKNESS}
    row = first[len(first) // 2]
    girth = row.limb.distal_girth
    cut = cut_through(row.layers, girth, w, "cut", _TALLEST)
    if cut is None or girth is None:
        return {"drawing": None, "why": _NO_THICKNESS}
    drawn = laid(row.layers)
    flat = [layer_number(one.layer.layer) for one in row.layers if one not in drawn]
    low, high = row.weight.lower, row.weight.upper
    weight = w.number("band", low, hand.measure(low, "kg")) + (
        Markup(" and over") if high is None else Markup(" to under {}").format(w.number("band", high, hand.measure(high, "kg")))
    )  # fmt: skip
    caption = Markup("Cut to scale: the {} of an animal of {}, {} round at the toes; an estimate by size band.").format(
        _WHERE[row.group or ""], weight, hand.figure(w, girth)
    )
    return cut | {
        "caption": caption + (escape(f" Not drawn: {', '.join(flat)}.") if flat else Markup()),
        "why": None,
    }
