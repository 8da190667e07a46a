"""Estimate the mean pressure a wrap puts on the limb under it.

Takes  tension, girth, width and the number of thicknesses, from stated measurements only.
Gives  mmHg at one end of one layer, always an estimate at application.
Knows  the law of Laplace for a cylinder; nothing of what pressure would be safe: nobody knows that.
"""

from __future__ import annotations

from fractions import Fraction

from generator.reckon.wrap import growth

# mmHg × cm² / kgf. Thomas S. "The use of the Laplace equation in the calculation of sub-bandage pressure." World Wide Wounds
# 2003; EWMA J 2003;3(1):21-23. The definitions of the units give 4621.654; the source rounds.
LAPLACE = 4620


def ring_pressure(tension: Fraction, girth: Fraction, width: Fraction) -> Fraction:
    """Mean pressure under one thickness: 4620·T / (C·W), in mmHg.

    Args:
        tension: kgf over the strip's whole width, 0 or more. girth: cm, above 0. width: cm, above 0.
    Raises:
        ValueError: a girth or width that is not above 0, or a tension below it.
    Source:
        Thomas 2003 (published). Holds for a cylinder: over a bony point the pressure is higher, and no figure is given there.
    """
    if girth <= 0 or width <= 0 or tension < 0:
        raise ValueError("girth and width must be above 0, tension not below it")
    return LAPLACE * tension / (girth * width)


def layer_pressure(
    tension: Fraction, bare: Fraction, width: Fraction, thicknesses: Fraction, under: Fraction, thickness: Fraction
) -> Fraction:
    """Sum over the single thicknesses of a layer, each on the girth it meets.

    Args:
        bare: girth of the limb at this end, cm. thicknesses: passes / (1 − overlap); a last part counts by its share.
        under: thickness already on, cm. thickness: of one strip as laid, cm.
    """
    total, left, on = Fraction(0), Fraction(thicknesses), under
    while left > 0:
        share = min(left, Fraction(1))
        total += share * ring_pressure(tension, bare + growth(on), width)
        left -= share
        on += thickness
    return total
