"""The geometry of a strip wound round a limb.

Takes  girths, lengths, widths, thicknesses in cm; overlap as a share of 1; all exact.
Gives  length of strip by area, anchor turns, growth of girth, rolls.
Knows  the wall's volume: passes × width × thickness of the strip equals it, and a test holds that.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

PI = Fraction(math.pi)


class TooWide(ValueError):
    """The strip advances more per turn than the limb is round: it cannot be wound."""


@dataclass(frozen=True, slots=True)
class Cone:
    """A stretch of limb: girth at its lower and upper end, length along it."""

    distal: Fraction
    proximal: Fraction
    length: Fraction

    @property
    def mean(self) -> Fraction:
        return (self.distal + self.proximal) / 2

    def shortened(self, inset: Fraction) -> Cone:
        """The stretch left when both ends stay bare for `inset`; the girths there follow the slope."""
        if inset == 0:
            return self
        slope = (self.proximal - self.distal) / self.length
        return Cone(self.distal + slope * inset, self.proximal - slope * inset, self.length - 2 * inset)


def net_width(width: Fraction, overlap: Fraction) -> Fraction:
    """New ground covered by each turn, measured across the strip: a = W(1 − o)."""
    if width <= 0 or not 0 <= overlap < 1:
        raise ValueError("a strip has a width above 0 and an overlap from 0 to below 1")
    return width * (1 - overlap)


def growth(thickness: Fraction) -> Fraction:
    """How much the girth grows when the radius grows by `thickness`: 2πt."""
    return 2 * PI * thickness


def pass_thickness(thickness: Fraction, overlap: Fraction) -> Fraction:
    """What one pass adds to the radius: t / (1 − o), for it lays 1 / (1 − o) thicknesses."""
    return thickness / (1 - overlap)


def pass_length(cone: Cone, width: Fraction, overlap: Fraction, thickness: Fraction, under: Fraction) -> Fraction:
    """Strip laid by one pass, by area, at the girth half-way through the pass.

    L = S·C̄/a with C̄ = mean bare girth + 2π(u + t/(2(1 − o))). Net area laid equals area covered, so it is exact for a
    cylinder; on a cone it is exact by area, and a real strip creases. At mid-pass girth the strip's volume is the wall's.

    Args:
        under: thickness already on the limb, cm.
    Raises:
        TooWide: the net width is not below the girth.
    """
    net = net_width(width, overlap)
    girth = cone.mean + growth(under + pass_thickness(thickness, overlap) / 2)
    if net >= girth:
        raise TooWide(f"a strip that advances {float(net):g} cm a turn on a girth of {float(girth):g} cm")
    return cone.length * girth / net


def anchor_length(cone: Cone, under: Fraction) -> Fraction:
    """One turn at each end, at the girth the layer starts on: one pair a layer, outside the wall's volume."""
    return cone.distal + cone.proximal + 2 * growth(under)


def layer_length(
    cone: Cone, width: Fraction, overlap: Fraction, thickness: Fraction, passes: int, under: Fraction
) -> Fraction:
    """Strip laid by all passes of a layer, anchors not counted."""
    step = pass_thickness(thickness, overlap)
    return sum((pass_length(cone, width, overlap, thickness, under + step * n) for n in range(passes)), Fraction(0))


def relaxed_need(laid: Fraction, extension: Fraction, waste: Fraction) -> Fraction:
    """Relaxed length to take from the shelf: laid / (1 + e) × (1 + waste)."""
    return laid / (1 + extension) * (1 + waste)


def rolls_needed(need: Fraction, roll: Fraction) -> int:
    """Whole rolls, rounded up exactly: 100 cm and 10 % on a 110 cm roll is one."""
    return max(1, math.ceil(need / roll))


def turns_a_pass(cone: Cone, net: Fraction) -> Fraction:
    """Turns of one pass, counted along the limb, where each climbs the net width: S / a.

    That is how turns are counted by hand. Measured across the strip instead, as lengths are here, a turn climbs
    a·√(1 + tan²α) and there are some 1 to 3 % fewer.
    """
    return cone.length / net


def turns_along(cone: Cone, net: Fraction) -> float:
    """Strip length by the other convention, in which each turn climbs `net` along the limb: ∫√(C² + a²) ds / a.

    Used to bound the first convention in tests: it exceeds it by √(1 + (a/C)²) − 1, some 1 to 3 %.
    """
    a, c0, c1, s = float(net), float(cone.distal), float(cone.proximal), float(cone.length)
    if c0 == c1:
        return s / a * math.hypot(c0, a)

    def antiderivative(x: float) -> float:
        return 0.5 * (x * math.hypot(x, a) + a * a * math.asinh(x / a))

    return s / a * (antiderivative(c1) - antiderivative(c0)) / (c1 - c0)
