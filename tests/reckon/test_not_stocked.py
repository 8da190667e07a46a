"""A width that the shelf has not: what the nearest one changes.

Turns are counted along the limb, S / a with a = w(1 − o) (plane geometry). Pressure goes as 1/width at the same pull: Thomas S, "The
use of the Laplace equation in the calculation of sub-bandage pressure", World Wide Wounds 2003 (published), P = 4620·T·n/(C·W).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.model import Book, Patient
from generator.reckon import reckon
from generator.reckon.not_stocked import is_same, nearest_first, pressure_factor
from generator.reckon.plan import LayerPlan, Plan
from generator.reckon.pressure import layer_pressure, ring_pressure
from generator.reckon.wrap import Cone, net_width, turns_a_pass
from tests.compose.plans import ZONE, at, book, patient

F = Fraction


def shelf(**widths: Sequence[str]) -> Book:
    """The demo book with other widths on the shelf."""
    stock = dict(book().stock)
    for name, stocked in widths.items():
        key = name.replace("_", " ")
        stock[key] = replace(stock[key], widths=tuple(map(F, stocked)))
    return replace(book(), stock=stock)


def planned(of: Book, who: str = "maple", slug: str = "padded-limb-support", **girths: str) -> Plan:
    animal: Patient = patient(who)
    if girths:
        animal = replace(animal, limb=replace(animal.limb, **{key: F(value) for key, value in girths.items()}))  # type: ignore[arg-type]
    return reckon([of.protocols[slug]], animal, of, at("2027-04-13T10:40"), ZONE)


def noted(plan: Plan) -> dict[str, dict[str, Any]]:
    """The values of each `not-stocked` note, by layer."""
    return {
        values["layer"]: values for values in (dict(note.values) for note in plan.notes if note.code == "not-stocked")
    }


def layer(plan: Plan, name: str) -> LayerPlan:
    return next(one for one in plan.layers if one.layer.layer == name)


@pytest.mark.parametrize(
    ("girths", "length", "width", "turns"),
    [
        # S / (W · ½), by hand: 20/2.5, 25/3.75, 30/5, 20/2.5, 25/3.75, 15/2.5, 10/1.25; the girths do not matter
        ((12, 12), 20, "5", F(8)),
        ((15, 15), 25, "7.5", F(20, 3)),
        ((20, 20), 30, "10", F(6)),
        ((10, 20), 20, "5", F(8)),
        ((12, 24), 25, "7.5", F(20, 3)),
        ((8, 12), 15, "5", F(6)),
        ((6, 9), 10, "2.5", F(8)),
    ],
)
def test_turns_are_counted_along_the_limb(girths: tuple[int, int], length: int, width: str, turns: Fraction) -> None:
    cone = Cone(F(girths[0]), F(girths[1]), F(length))
    assert turns_a_pass(cone, net_width(F(width), F(1, 2))) == turns


def test_measured_across_the_strip_there_are_a_few_turns_less() -> None:
    # Girth 12, S 20, a 2.5: sin α = 2.5/12, α = 12.0247°; pitch 12·tan α = 2.5561; 20/2.5561 = 7.8245 against 8.
    assert float(turns_a_pass(Cone(F(12), F(12), F(20)), F("2.5"))) / 7.8245 == pytest.approx(1.0224, abs=1e-4)


def test_half_the_width_is_twice_the_pressure() -> None:
    assert pressure_factor(F(10), F(5)) == 2
    # 4620 · 0.2 · 2 ÷ (10 · 7.5) = 24.64, and at 5 cm 36.96: one and a half times.
    assert float(2 * ring_pressure(F("0.2"), F(10), F("7.5"))) == pytest.approx(24.64)
    assert float(2 * ring_pressure(F("0.2"), F(10), F(5))) == pytest.approx(36.96)
    assert pressure_factor(F("7.5"), F(5)) == F(3, 2)


@given(
    wanted=st.fractions(min_value=1, max_value=20, max_denominator=10),
    taken=st.fractions(min_value=1, max_value=20, max_denominator=10),
    girth=st.integers(min_value=5, max_value=40),
    passes=st.integers(min_value=1, max_value=4),
)
def test_the_factor_holds_for_a_whole_layer_on_its_growing_girth(
    wanted: Fraction, taken: Fraction, girth: int, passes: int
) -> None:
    there, here = (layer_pressure(F("0.12"), F(girth), w, F(2 * passes), F("0.4"), F("0.06")) for w in (wanted, taken))
    assert here == there * pressure_factor(wanted, taken)


def test_of_two_as_near_the_wider_is_taken() -> None:
    assert nearest_first([F(5), F(10), F(15)], [F("7.5")]) == (10, 5, 15)


def test_an_inch_roll_has_the_name_of_its_metric_one() -> None:
    # 2, 3, 4 and 6 in are 5.08, 7.62, 10.16 and 15.24 cm: 1.6 % more than the trade calls them.
    for called, stocked in (("5", "5.08"), ("7.5", "7.62"), ("10", "10.16"), ("15", "15.24")):
        assert is_same(F(called), F(stocked))
    assert not is_same(F("7.5"), F(5))
    assert noted(planned(shelf(conforming_gauze=["5.08", "7.62"]))) == {}


def test_a_width_of_the_girth_rule_that_is_not_there_is_said() -> None:
    """Maple: mean girth (14 + 22)/2 = 18 asks for 7.5 cm; the gauze covers 26 − 2·2 = 22 cm."""
    plan = planned(shelf(conforming_gauze=["5", "15"]))
    note = noted(plan)["conforming"]
    assert (note["asked_by"], note["girth"].number) == ("girth rule", 18)
    assert (note["wanted"].number, note["taken"].number) == (F("7.5"), 5)
    # 22 ÷ 3.75 = 5.867 and 22 ÷ 2.5 = 8.8; 7.5 ÷ 5 = 1.5
    assert float(note["turns_wanted"].number) == pytest.approx(5.867, abs=0.001)
    assert note["turns_taken"].number == F("8.8")
    assert note["pressure_factor"].number == F(3, 2)
    assert note["pressure_taken"] is None, "no tension is stated for the gauze at 7.5 cm"
    assert set(noted(plan)) == {"conforming"}


def test_where_two_widths_serve_either_is_good() -> None:
    # Mean girth (6 + 9)/2 = 7.5 is below 8: both 2.5 and 5 cm serve (house rule).
    small = {"distal_girth": "6", "proximal_girth": "9", "covered_length": "15"}
    for width in ("2.5", "5"):
        assert noted(planned(shelf(cohesive_wrap=[width]), **small)) == {}
    note = noted(planned(shelf(cohesive_wrap=["7.5"]), **small))["outer"]
    assert (note["wanted"].number, note["taken"].number) == (5, F("7.5"))
    # 5 ÷ 7.5: a wider strip presses less at the same pull
    assert note["pressure_factor"].number == F(2, 3)


def test_both_pressures_where_both_pulls_are_stated() -> None:
    """The wrap's pull is stated at 7.5 cm (0.18 kgf) and, here, at 5 cm as the same 0.18."""
    of = shelf(cohesive_wrap=["5"])
    wrap = of.stock["cohesive wrap"]
    assert wrap.tension is not None
    pulls = replace(wrap.tension, by_width={F(5): F("0.18"), F("7.5"): F("0.18")})
    of = replace(of, stock={**of.stock, "cohesive wrap": replace(wrap, tension=pulls)})
    plan = planned(of)
    note = noted(plan)["outer"]
    # As in tests/expected (01 maple): 110.88/22.5451 + 110.88/22.9221 = 9.76; proximal 7.22. At 5 cm K = 0.18·4620/5 = 166.32:
    # 166.32 · (1/22.5451 + 1/22.9221) = 14.63; 166.32 · (1/30.5451 + 1/30.9221) = 10.82.
    assert [float(end.number) for end in note["pressure_wanted"]] == pytest.approx([9.76, 7.22], abs=0.01)
    assert [float(end.number) for end in note["pressure_taken"]] == pytest.approx([14.63, 10.82], abs=0.01)
    assert {end.trust for end in (*note["pressure_wanted"], *note["pressure_taken"])} == {"estimated"}
    assert note["pressure_taken"] == layer(plan, "outer").pressure


def test_no_pressure_from_a_limb_that_nobody_measured() -> None:
    note = noted(planned(shelf(cohesive_wrap=["5"]), "sorrel"))["outer"]
    assert note["pressure_taken"] is None
    assert note["pressure_factor"].number == F(3, 2)
    assert {note[key].trust for key in ("girth", "turns_wanted", "turns_taken")} == {"estimated"}


def test_padding_changes_its_turns_only() -> None:
    # Laid without a pull (extension 0 in stock.yaml): 26 ÷ 3.75 = 6.93, 26 ÷ 5 = 5.2.
    note = noted(planned(shelf(cast_padding=["10"])))["padding"]
    assert note["turns_taken"].number == F("5.2")
    assert note["pressure_factor"] is None


def test_the_protocols_own_width() -> None:
    # heavy-padded-limb asks for 10 cm gauze at 18.4 kg: 22 cm at a = 5 and a = 3.75.
    note = noted(planned(shelf(conforming_gauze=["7.5"]), slug="heavy-padded-limb"))["conforming"]
    assert (note["asked_by"], note["girth"]) == ("protocol", None)
    assert (note["turns_wanted"].number, note["turns_taken"].number) == (F(22, 5), F(22) / F("3.75"))
    assert note["wanted"].origin.startswith("protocols/heavy-padded-limb.yaml:")


def test_a_shape_that_is_no_limb_takes_what_is_on_the_shelf() -> None:
    """Rowan, 31 kg: the sling asks for 10 cm wrap and states its rolls; nobody can reckon turns on a chest."""
    plan = planned(shelf(cohesive_wrap=["5"]), "rowan", "velpeau-sling")
    outer, note = layer(plan, "outer"), noted(plan)["outer"]
    assert outer.width is not None
    assert (outer.width.number, outer.rolls.number) == (5, 3)
    assert note["rolls_meant_for_wanted"] is True
    assert note["turns_taken"] is None
    assert note["pressure_factor"].number == 2


def test_stirrups_take_what_is_on_the_shelf() -> None:
    plan = planned(shelf(porous_tape=["5"]))
    assert layer(plan, "stirrups").width is not None
    assert noted(plan)["stirrups"]["taken"].number == 5
    assert noted(plan)["stirrups"]["pressure_factor"] is None, "a strip along the limb rings nothing"


def test_the_shipped_shelf_lacks_nothing_that_the_demo_asks_for() -> None:
    for who, slug in (("maple", "padded-limb-support"), ("pollen", "splinted-limb"), ("rowan", "velpeau-sling")):
        assert noted(planned(book(), who, slug)) == {}
