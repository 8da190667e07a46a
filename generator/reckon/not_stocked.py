"""What the width that was asked for would have given, where the shelf has another.

Takes  the width asked for, the widths on the shelf, the stretch of limb, the pressures reckoned at both.
Gives  `nearest_first`, `is_same`, and the `not-stocked` note with its turns and its change of pressure as figures.
Knows  how turns and pressure go with the width; nothing of which layer needs what.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from generator.protocol.kinds import SAME_WIDTH
from generator.protocol.model import Layer, Material
from generator.reckon import working as say
from generator.reckon.plan import Figure, Note, Trust
from generator.reckon.wrap import Cone, net_width, turns_a_pass
from generator.source.span import Span

Pair = tuple[Figure, Figure]


def is_same(one: Fraction, stocked: Fraction) -> bool:
    """Whether the trade calls both by one name: a 2 in roll (5.08 cm) is a 5 cm roll."""
    return abs(one - stocked) <= SAME_WIDTH * stocked


def nearest_first(widths: Sequence[Fraction], asked: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """The stocked widths, the nearest to any of those asked for first; of two as near the wider, which presses less."""
    return tuple(sorted(widths, key=lambda width: (min(abs(width - one) for one in asked), -width)))


def pressure_factor(wanted: Fraction, taken: Fraction) -> Fraction:
    """How many times the pressure, with the same pull along the whole strip: wanted / taken.

    Pressure of one thickness goes as 1/width (Thomas 2003, published); passes and overlap being the same, so are the
    thicknesses and the girths they meet. With the same extension instead of the same pull it would not change at all.
    """
    return wanted / taken


def not_stocked(
    layer: Layer,
    material: Material,
    wanted: Figure,
    taken: Figure,
    span: Span,
    *,
    girth: Figure | None = None,
    wound: tuple[Cone, Fraction] | None = None,
    trust: Trust = "set",
    pressures: tuple[Pair | None, Pair | None] = (None, None),
) -> Note:
    """The note that another width is taken than was asked for.

    Args:
        girth: the mean girth by whose rule the width was asked for; None: the protocol asked.
        wound: the stretch of limb and the overlap, where strips are wound along it; None: turns cannot be reckoned.
        trust: of the limb's measures.
        pressures: of this layer alone at the wanted and at the taken width, given only where both can be.
    """
    turns: list[Figure | None] = [None, None]
    if wound is not None:
        cone, overlap = wound
        turns = [_turns(cone, width, overlap, trust) for width in (wanted, taken)]
    factor = None
    # A stirrup lies along the limb and rings nothing; padding that is laid without a pull tears under one.
    if layer.layer != "stirrups" and (layer.layer != "padding" or material.extension > 0):
        factor = Figure(
            "pressure factor",
            pressure_factor(wanted.number, taken.number),
            "1",
            "formula: pressure goes as 1/width at the same pull",
            "estimated",
            "Thomas 2003",
            say.line(
                "times the pressure, width asked for ÷ width taken",
                f"{say.shown(wanted.number)} ÷ {say.shown(taken.number)} {say.equals(wanted.number / taken.number)}",
            ),
            (wanted, taken),
        )
    both = pressures if all(pressures) else (None, None)
    values: tuple[tuple[str, Any], ...] = (
        ("layer", layer.layer), ("material", material.name), ("wanted", wanted), ("taken", taken),
        ("asked_by", "protocol" if girth is None else "girth rule"), ("girth", girth),
        # Of a shape that is no limb the protocol states the rolls, and it meant those of the width it asks for.
        ("rolls_meant_for_wanted", layer.rolls is not None),
        ("turns_wanted", turns[0]), ("turns_taken", turns[1]), ("pressure_factor", factor),
        ("pressure_wanted", both[0]), ("pressure_taken", both[1]),
    )  # fmt: skip
    return Note("not-stocked", values, span)


def _turns(cone: Cone, width: Figure, overlap: Fraction, trust: Trust) -> Figure:
    net = net_width(width.number, overlap)
    turns = turns_a_pass(cone, net)
    return Figure(
        f"turns a pass at {float(width.number):g} cm",
        turns,
        "1",
        "formula: turns = S/a, a = w(1 − o)",
        trust,
        "computed; counted along the limb",
        say.line(
            f"turns a pass at {say.shown(width.number)} cm",
            f"{say.shown(cone.length)} ÷ ({say.product(width.number, less=overlap)}) {say.equals(turns)}",
        ),
        (width,),
    )
