"""Published and hand-worked check values of the pressure estimate.

Thomas S. "The use of the Laplace equation in the calculation of sub-bandage pressure." World Wide Wounds 2003; EWMA J
2003;3(1):21-23: P = 4620·T·n / (C·W). Expected values worked with a pocket calculator from that formula, to 0.01 mmHg.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.quantity import amount
from generator.reckon.pressure import LAPLACE, layer_pressure, ring_pressure
from generator.reckon.wrap import growth

F = Fraction
# 1 mmHg = 133.322 387 415 Pa (conventional: 1 mm of mercury at 13 595.1 kg/m³); kgf = 9.806 65 N (3rd CGPM 1901, exact).
MMHG, KGF = 133.322387415, 9.80665


def flat(tension: str, count: int, girth: str, width: str) -> float:
    """Layers without thickness, all on one girth: the formula as it is printed."""
    return float(layer_pressure(F(tension), F(girth), F(width), F(count), F(0), F(0)))


def test_the_constant_follows_from_the_definitions_of_its_units() -> None:
    # A cylinder of girth C: P = (T·g/W)/r, r = C/2π; cm² to m² is the factor 10⁴.
    derived = 2 * math.pi * KGF * 1e4 / MMHG
    assert derived == pytest.approx(4621.654, abs=0.001)
    # The published constant is rounded: 0.036 % apart.
    assert derived / LAPLACE == pytest.approx(1.000358, abs=1e-6)


def test_the_conventional_millimetre_of_mercury_is_the_weight_of_its_column() -> None:
    assert 13595.1 * KGF / 1000 == pytest.approx(MMHG, abs=1e-6)


@pytest.mark.parametrize(
    ("tension", "count", "girth", "width", "published", "exact"),
    [
        pytest.param("0.5", 2, "25", "10", 18.48, 18.49, id="P1"),
        pytest.param("0.3", 2, "12", "7.5", 30.80, 30.81, id="P2"),
        pytest.param("0.2", 2, "10", "5", 36.96, 36.97, id="P3"),
        pytest.param("1", 1, "23", "10", 20.09, 20.09, id="P4"),
    ],
)
def test_pressure_of_worked_cases(
    tension: str, count: int, girth: str, width: str, published: float, exact: float
) -> None:
    got = flat(tension, count, girth, width)
    assert got == pytest.approx(published, abs=0.01)
    assert got * 4621.654 / 4620 == pytest.approx(exact, abs=0.01)


def test_newtons_give_the_same_pressure_as_the_kilograms_force_they_are_p5() -> None:
    # 471.2776 × 3.0 × 2 / (12 × 7.5) = 31.42 with the exact constant; the published one is 0.036 % below.
    got = float(layer_pressure(amount("3.0 N", "tension"), F(12), F("7.5"), F(2), F(0), F(0)))
    assert got * 4621.654 / 4620 == pytest.approx(31.42, abs=0.01)


def test_tension_for_each_cm_of_width_p6() -> None:
    # 3 N/cm (Textile Research J 2019, 10.1177/0040517519833969) on 23 cm: 471.2776 × 3 / 23 = 61.47, whatever the width.
    for width in (5, 10):
        got = float(ring_pressure(amount(f"{3 * width} N", "tension"), F(23), F(width)))
        assert got * 4621.654 / 4620 == pytest.approx(61.47, abs=0.01)


@pytest.mark.parametrize(
    ("target", "tension"), [(40, "0.9957"), (20, "0.4978"), (30, "0.7468")], ids=["P7", "P8 light", "P8 moderate"]
)
def test_the_tension_worked_backwards_gives_the_target_again(target: int, tension: str) -> None:
    # Targets of BS 7505 as described by the Surgical Materials Testing Laboratory; T is rounded to 0.0001 kgf.
    assert flat(tension, 2, "23", "10") == pytest.approx(target, abs=0.01)


@pytest.mark.parametrize(
    ("girth", "pressure"),
    [("6", 41.07), ("8", 30.80), ("10", 24.64), ("12", 20.53), ("15", 16.43), ("20", 12.32), ("25", 9.86)],
)
def test_the_same_hands_press_harder_on_a_thinner_limb_p9(girth: str, pressure: float) -> None:
    assert flat("0.2", 2, girth, "7.5") == pytest.approx(pressure, abs=0.01)


@pytest.mark.parametrize(
    ("padding", "girth", "pressure"),
    [("0", 12, 30.80), ("0.5", 15.142, 24.41), ("1", 18.283, 20.215), ("2", 24.566, 15.045), ("3", 30.850, 11.98)],
)
def test_firm_padding_lowers_the_pressure_p10(padding: str, girth: float, pressure: float) -> None:
    assert 12 + float(growth(F(padding))) == pytest.approx(girth, abs=0.001)
    assert float(layer_pressure(F("0.3"), F(12), F("7.5"), F(2), F(padding), F(0))) == pytest.approx(pressure, abs=0.01)


@pytest.mark.parametrize(
    ("bare", "width", "tension", "thickness", "count", "flat_sum", "growing", "too_high"),
    [
        ("25", "10", "0.25", "0.2", 8, 36.96, 31.74, 16.5),
        ("12", "7.5", "0.20", "0.1", 4, 41.07, 38.19, 7.5),
        ("8", "5", "0.10", "0.1", 4, 46.20, 41.59, 11.1),
    ],
)
def test_each_thickness_counts_on_the_girth_it_meets(
    bare: str, width: str, tension: str, thickness: str, count: int, flat_sum: float, growing: float, too_high: float
) -> None:
    # Ignoring thickness errs by 19.2 % or more for four components on 25 cm: Al Khaburi J et al., multilayered compression model.
    got = float(layer_pressure(F(tension), F(bare), F(width), F(count), F(0), F(thickness)))
    assert flat(tension, count, bare, width) == pytest.approx(flat_sum, abs=0.01)
    assert got == pytest.approx(growing, abs=0.01)
    assert (flat_sum / got - 1) * 100 == pytest.approx(too_high, abs=0.06)


POSITIVE = st.fractions(min_value=F(1, 10), max_value=60, max_denominator=100)


@given(POSITIVE, POSITIVE, POSITIVE)
def test_pressure_doubles_with_half_the_girth_half_the_width_or_twice_the_tension_p11(
    tension: F, girth: F, width: F
) -> None:
    one = ring_pressure(tension, girth, width)
    assert ring_pressure(tension, girth / 2, width) == 2 * one
    assert ring_pressure(tension, girth, width / 2) == 2 * one
    assert ring_pressure(2 * tension, girth, width) == 2 * one
    assert layer_pressure(tension, girth, width, F(2), F(0), F(0)) == 2 * one


def test_an_overlap_of_two_thirds_presses_half_as_hard_again_as_one_half_p11() -> None:
    one_half, two_thirds = 1 / (1 - F(1, 2)), 1 / (1 - F(2, 3))
    assert (one_half, two_thirds) == (2, 3)
    args = (F("0.2"), F(12), F("7.5"))
    assert layer_pressure(*args, two_thirds, F(0), F(0)) == F(3, 2) * layer_pressure(*args, one_half, F(0), F(0))


@given(POSITIVE, POSITIVE)
def test_no_tension_or_no_layer_presses_nothing_p12(girth: F, width: F) -> None:
    assert ring_pressure(F(0), girth, width) == 0
    assert layer_pressure(F(1), girth, width, F(0), F(0), F(1, 10)) == 0


@pytest.mark.parametrize(("tension", "girth", "width"), [(1, 0, 5), (1, -3, 5), (1, 12, 0), (1, 12, -5), (-1, 12, 5)])
def test_no_figure_is_given_for_a_limb_or_strip_that_cannot_be_p12(tension: int, girth: int, width: int) -> None:
    with pytest.raises(ValueError, match="above 0"):
        ring_pressure(F(tension), F(girth), F(width))


def test_inches_are_not_taken_for_centimetres() -> None:
    assert ring_pressure(F(1), amount("10 in", "length"), F(5)) * F("2.54") == ring_pressure(F(1), F(10), F(5))


@given(
    POSITIVE,
    st.fractions(min_value=4, max_value=40, max_denominator=10),
    st.integers(1, 6),
    st.fractions(min_value=0, max_value=1, max_denominator=50),
)
def test_a_part_of_a_thickness_counts_by_its_part(tension: F, girth: F, count: int, part: F) -> None:
    below, above = (layer_pressure(tension, girth, F(5), F(n), F(0), F(1, 10)) for n in (count, count + 1))
    got = layer_pressure(tension, girth, F(5), count + part, F(0), F(1, 10))
    assert got == below + part * (above - below)
