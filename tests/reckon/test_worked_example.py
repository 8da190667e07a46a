"""One patient from the girth to the last roll, with every number between; worked on paper in tests/expected/README.md (01 maple).

C 14 to 22 cm, S 26 cm, waste 10 %, width 7.5 cm (mean girth 18), overlap one half: a = 3.75 cm.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from generator.reckon import wrap
from generator.reckon.plan import LayerPlan, Plan
from generator.reckon.wrap import Cone
from tests.reckon.test_expected import ROWS, number, plan_for, text

F = Fraction
LIMB = Cone(F(14), F(22), F(26))


@pytest.fixture(scope="module")
def maple() -> Plan:
    return plan_for(next(row for row in ROWS if row["patient"] == "01-maple"))


def layer(plan: Plan, name: str) -> LayerPlan:
    return next(one for one in plan.layers if one.layer.layer == name)


def to_a_millimetre(value: float | None) -> float:
    """As printed: one decimal, half up."""
    assert value is not None
    return math.floor(value * 10 + 0.5) / 10


@pytest.mark.parametrize(
    ("name", "laid", "need", "roll", "rolls"),
    [
        # 4 yd would be 365.76; the shelf's padding is 3.66 m. Gauze 4 m at 80 %: 400/1.8. Outer 4.5 m at 100 %: 450/2.
        ("padding", 488.8, 537.7, 366.0, 2),
        # 305.565 + 51.080 = 356.645; × 0.88 = 313.848: rounded once, from the exact value, that is 313.8.
        ("conforming", 356.6, 313.8, 222.2, 2),
        ("outer", 239.8, 211.0, 225.0, 1),
    ],
)
def test_strip_need_and_rolls(maple: Plan, name: str, laid: float, need: float, roll: float, rolls: int) -> None:
    got = layer(maple, name)
    assert got.material is not None
    assert number(got.width) == 7.5
    assert to_a_millimetre(number(got.strip)) == laid
    assert to_a_millimetre(number(got.need)) == need
    assert to_a_millimetre(float(got.material.roll_relaxed or 0)) == roll
    assert got.rolls.number == rolls == math.ceil(need / roll)


def test_the_padding_pass_by_pass() -> None:
    # mid-pass girths 18 + 2π·0.2, 18 + 2π·0.6, 18 + 2π·1.0
    passes = [float(wrap.pass_length(LIMB, F("7.5"), F(1, 2), F("0.2"), F("0.4") * n)) for n in range(3)]
    assert passes == pytest.approx([19.2566 * 26 / 3.75, 21.7699 * 26 / 3.75, 24.2832 * 26 / 3.75], abs=0.001)
    assert sum(passes) + 36 == pytest.approx(488.81, abs=0.01)


def test_without_its_inset_the_gauze_would_be_longer() -> None:
    # mid 25.7911 and 26.2938 × 26/3.75, anchors 36 + 4π·1.2 = 51.080: 412.2 laid; ÷ 1.25 × 1.1 = 362.7
    whole = wrap.layer_length(LIMB, F("7.5"), F(1, 2), F("0.04"), 2, F("1.2")) + wrap.anchor_length(LIMB, F("1.2"))
    assert to_a_millimetre(float(whole)) == 412.2
    assert to_a_millimetre(float(wrap.relaxed_need(whole, F("0.25"), F("0.1")))) == 362.7
    cut = LIMB.shortened(F(2))
    assert (float(cut.distal), float(cut.proximal), cut.length) == (
        pytest.approx(14.6154, abs=1e-4),
        pytest.approx(21.3846, abs=1e-4),
        22,
    )


def test_the_finished_girth_is_23_and_31_cm(maple: Plan) -> None:
    # 14 + 2π·1.48 and 22 + 2π·1.48; 1.48 = 3·0.2/0.5 + 2·0.04/0.5 + 0.06/0.5
    assert maple.finished_girth is not None
    assert [to_a_millimetre(number(end)) for end in maple.finished_girth] == [23.3, 31.3]


def test_the_wrap_has_an_estimate_and_the_bandage_none_without_the_gauzes_tension(maple: Plan) -> None:
    # K = 0.18·4620/7.5 = 110.88; 110.88/22.5451 + 110.88/22.9221 = 9.76; proximal 110.88/30.5451 + 110.88/30.9221 = 7.22
    pair = layer(maple, "outer").pressure
    assert pair is not None
    assert [number(end) for end in pair] == pytest.approx([9.76, 7.22], abs=0.01)
    assert {end.trust for end in pair} == {"estimated"}
    assert maple.pressure is None
    assert maple.pressure_because == "tension-unknown:conforming gauze"


def test_the_visits_across_the_clock_change(maple: Plan) -> None:
    check, change, removal = maple.first("check"), maple.first("change"), maple.first("removal")
    assert check is not None
    assert change is not None
    assert removal is not None
    # 13 Mar 10:30 EST = 15:30Z; 24 h elapsed is 11:30 EDT on Sunday, closed: the emergency place.
    assert (text(check.opens), text(check.due), check.slot, check.where) == (
        "2027-03-13T22:30-05:00",
        "2027-03-14T11:30-04:00",
        None,
        "emergency place",
    )
    assert (text(change.due), text(change.slot)) == ("2027-03-20T10:30-04:00", "2027-03-20T10:00-04:00")
    assert (text(removal.due), text(removal.slot)) == ("2027-03-27T10:30-04:00", "2027-03-27T10:00-04:00")
    assert maple.deadline == change, "this application is opened before bandaging ends"
    assert maple.remove_by == removal
    assert "clock-change" in {note.code for note in maple.notes}


def test_every_printed_figure_says_where_it_comes_from(maple: Plan) -> None:
    for one in maple.layers:
        for figure in (one.width, one.strip, one.need, one.rolls, one.left_over, *(one.pressure or ())):
            if figure is not None:
                assert figure.origin, (one.layer.layer, figure.name)
                assert figure.unit in {"cm", "1", "mm[Hg]"}
