"""Write a sum so that anyone can do it again with pencil and a pocket calculator.

Takes  exact numbers and the sum as text.
Gives  lines of one form, `what it is: sum = result unit`; several sums of one line are parted by semicolons.
Knows  that a number which four decimals cannot hold is shown with `≈`, and that every other one is exact. No line hides a term.
"""

from __future__ import annotations

import math
from fractions import Fraction

from generator.protocol.quantity import Band

PLACES = 4
_MOST_PLACES = 12


def shown(value: Fraction | int, places: int = PLACES) -> str:
    """A number with up to so many decimals, rounded half up, without trailing zeros."""
    # In whole numbers: a plan writes hundreds of these, and a Fraction looks for common factors at every step.
    over, under = value.numerator, value.denominator
    scaled = (abs(over) * 10**places * 2 + under) // (under * 2)
    text = f"{scaled // 10**places}.{scaled % 10**places:0{places}d}".rstrip("0").rstrip(".")
    return f"−{text}" if over < 0 and scaled else text


def is_exact(value: Fraction | int, places: int = PLACES) -> bool:
    """Whether so many decimals hold the number."""
    scale: int = 10**places
    return value.numerator * scale % value.denominator == 0


def equals(value: Fraction | int, unit: str = "") -> str:
    """`= 3.75 cm`, or `≈ 19.2566 cm`."""
    return f"{'=' if is_exact(value) else '≈'} {shown(value)}{f' {unit}' if unit else ''}"


def line(what: str, *sums: str) -> str:
    """One line: what is reckoned, and its sums."""
    return f"{what}: {'; '.join(sums)}"


def whole(ratio: Fraction) -> tuple[str, int]:
    """A ratio shown with as many decimals as tell on which side of a whole number it lies, and that whole number, rounded up."""
    up = max(1, math.ceil(ratio))
    places = next(
        (
            p
            for p in range(PLACES, _MOST_PLACES)
            if math.ceil(Fraction(round(ratio * 10**p), 10**p)) == math.ceil(ratio)
        ),
        _MOST_PLACES,
    )
    return f"{'=' if is_exact(ratio, places) else '≈'} {shown(ratio, places)}", up


def product(factor: Fraction | int, *, less: Fraction | int) -> str:
    """`7.5 × (1 − 0.5)`."""
    return f"{shown(factor)} × (1 − {shown(less)})"


def band_words(band: Band) -> str:
    """`25 kg to under 40 kg`."""
    unit = "kg" if band.dimension == "mass" else "cm"
    if band.upper is None:
        return f"{shown(band.lower)} {unit} and over"
    return f"{shown(band.lower)} {unit} to under {shown(band.upper)} {unit}"
