"""Sums over plans: what all take is what each takes, to the roll and to the cent."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.kinds import LAYERS
from generator.reckon.order_list import Need, PlanNeeds, cost_of_plan, order_list

ON = datetime(2027, 3, 13, 10, 30, tzinfo=UTC)


def need(
    material: str, number: int, each: str | None, layer: str = "outer", width: str | None = "7.5", currency: str = "USD"
) -> Need:
    unit = "roll" if width is not None else "piece"
    price = None if each is None else (Decimal(each), currency)
    return Need(layer, material, None if width is None else Fraction(width), None, unit, number, price, False)  # type: ignore[arg-type]


def plan(sheet: str, *needs: Need, changes: int = 0) -> PlanNeeds:
    return PlanNeeds(
        f"{sheet}.json", sheet, sheet, "dog", "left hind", ("padded-limb-support",), ON, changes, False, needs
    )


def test_three_rolls_at_ten_cents_are_thirty() -> None:
    # In binary fractions 0.1 + 0.1 + 0.1 is 0.30000000000000004.
    order = order_list([plan(sheet, need("wrap", 1, "0.10")) for sheet in ("A", "B", "C")])
    assert [(line.number, str(line.cost[0])) for line in order.lines if line.cost] == [(3, "0.30")]


def test_changes_are_one_more_bandage_each() -> None:
    a, b = plan("A", need("wrap", 2, "1.20"), changes=2), plan("B", need("wrap", 1, "1.20"))
    (line,) = order_list([a, b], with_changes=True).lines
    # now 2 + 1; for changes 2 · 2 + 0; 7 · 1.20 = 8.40
    assert (line.now, line.for_changes, line.number) == (3, 4, 7)
    assert line.cost == (Decimal("8.40"), "USD")
    assert cost_of_plan(a, with_changes=True) == (Decimal("7.20"), "USD")
    (without,) = order_list([a, b]).lines
    assert (without.now, without.for_changes) == (3, 0)


def test_the_order_of_layers_then_material_then_width() -> None:
    order = order_list([
        plan("A", need("wrap", 1, "1", width="10"), need("tape", 1, "1"), need("wrap", 1, "1", width="7.5"), need("wool", 1, "1", "padding")),
    ])  # fmt: skip
    assert [(line.layer, line.material, line.width) for line in order.lines] == [
        ("padding", "wool", Fraction("7.5")), ("outer", "tape", Fraction("7.5")), ("outer", "wrap", Fraction("7.5")), ("outer", "wrap", 10),
    ]  # fmt: skip


def test_a_missing_price_and_a_second_currency_leave_no_sum() -> None:
    missing = order_list([plan("A", need("wrap", 1, "1.20"), need("tape", 1, None))])
    assert missing.cost is None
    assert [line.material for line in missing.not_priced] == ["tape"]
    mixed = order_list([plan("A", need("wrap", 1, "1.20")), plan("B", need("wrap", 1, "1.10", currency="EUR"))])
    (line,) = mixed.lines
    assert (mixed.cost, line.cost, line.each, mixed.not_priced) == (None, None, None, ())
    assert mixed.currencies == ("EUR", "USD")


def test_a_price_that_changed_between_two_plans_is_added_as_each_was() -> None:
    (line,) = order_list([plan("A", need("wrap", 2, "1.20")), plan("B", need("wrap", 1, "1.50"))]).lines
    # 2 · 1.20 + 1.50 = 3.90, and no one price for a roll
    assert (line.cost, line.each) == ((Decimal("3.90"), "USD"), None)


_NEEDS = st.builds(
    need, st.sampled_from(["wrap", "tape", "gauze"]), st.integers(0, 9), st.sampled_from(["0.10", "1.45", "12.99"]), st.sampled_from(LAYERS),
    st.sampled_from(["5", "7.5", None]),
)  # fmt: skip
_PLANS = st.lists(st.tuples(st.lists(_NEEDS, max_size=6), st.integers(0, 4)), max_size=5).map(
    lambda made: [plan(str(i), *needs, changes=changes) for i, (needs, changes) in enumerate(made)]
)


@given(plans=_PLANS, with_changes=st.booleans())
def test_the_sum_of_plans_is_the_sum_of_each(plans: list[PlanNeeds], with_changes: bool) -> None:
    whole = order_list(plans, with_changes)
    each: Counter[object] = Counter()
    cost = Decimal(0)
    for one in plans:
        alone = order_list([one], with_changes)
        for line in alone.lines:
            each[line.layer, line.material, line.width, line.unit] += line.number
        cost += alone.cost[0] if alone.cost else 0
    assert {(line.layer, line.material, line.width, line.unit): line.number for line in whole.lines} == dict(each)
    assert (whole.cost[0] if whole.cost else Decimal(0)) == cost
    assert whole.number("roll") + whole.number("piece") == sum(each.values())
    # Worked from the plans themselves, without a line between.
    assert sum(each.values()) == sum(n.number * (1 + one.changes * with_changes) for one in plans for n in one.needs)


@given(plans=_PLANS)
def test_the_order_of_the_files_changes_no_number(plans: list[PlanNeeds]) -> None:
    def numbers(of: list[PlanNeeds]) -> list[tuple[object, ...]]:
        return [(line.layer, line.material, line.width, line.now, line.cost) for line in order_list(of).lines]

    assert numbers(plans) == numbers(plans[::-1])
