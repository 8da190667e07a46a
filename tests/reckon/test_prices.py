"""What each layer costs, and when there is a sum. Prices are the invented ones of the demo book; the sums are worked beside them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from generator.compose import plan_data, plan_text
from generator.compose.explain import explain
from generator.protocol.model import Book, Material, Money
from generator.reckon import reckon
from generator.reckon.plan import Plan
from generator.reckon.prices import price_of
from tests.compose.plans import ZONE, at, book, patient


def maple(shelf: Book) -> Plan:
    """The worked example: 1 roll of tape, 1 pad, 2 rolls of padding, 2 of gauze, 1 of wrap, all rolls but the tape 7.5 cm wide."""
    return reckon([shelf.protocols["padded-limb-support"]], patient("maple"), shelf, at("2027-03-13T10:40"), ZONE)


def stocked(**prices: Material) -> Book:
    return replace(book(), stock={**book().stock, **{name.replace("_", " "): m for name, m in prices.items()}})


def priced(material: str, price: object) -> Material:
    return replace(book().stock[material], price=price)  # type: ignore[arg-type]


def test_each_layer_and_the_sum() -> None:
    plan = maple(book())
    # 1 × 1.90, 1 × 0.50, 2 × 1.45 = 2.90, 2 × 0.70 = 1.40, 1 × 2.40; 1.90 + 0.50 + 2.90 + 1.40 + 2.40 = 9.10
    assert [price.amount for price in map(price_of, plan.layers) if price is not None] == [
        Decimal(text) for text in ("1.90", "0.50", "2.90", "1.40", "2.40")
    ]
    assert plan.cost == (Decimal("9.10"), "USD")
    assert plan_data(plan)["layers"][2]["price"] == {"each": "1.45", "amount": "2.90", "currency": "USD"}
    text = plan_text(plan)
    assert "left over 194.3 cm   2.90 USD\n" in text
    assert "\ncost 9.10 USD\n" in text


def test_amounts_are_decimal_to_the_last_cent() -> None:
    # Three rolls at 0.10 are 0.30; in binary fractions 0.1 + 0.1 + 0.1 is 0.30000000000000004.
    shelf = stocked(cast_padding=priced("cast padding", Money(Decimal("0.10"), "USD")))
    # 26 cm at twice the girths: mid-pass girths 37.2566 + 39.7699 + 42.2832 = 119.3097 × 26/5 (10 cm wide) = 620.41, anchors 72,
    # × 1.1 = 761.7 of 366 cm: three rolls.
    limb = replace(patient("maple").limb, distal_girth=Fraction(28), proximal_girth=Fraction(44))
    plan = reckon(
        [shelf.protocols["padded-limb-support"]],
        replace(patient("maple"), limb=limb),
        shelf,
        at("2027-03-13T10:40"),
        ZONE,
    )
    padding = next(one for one in plan.layers if one.layer.layer == "padding")
    price = price_of(padding)
    assert price is not None
    assert (price.count, str(price.amount)) == (3, "0.30")


def test_one_price_missing_leaves_no_sum_and_says_which() -> None:
    # A table of prices that lacks the width taken is no price, and neither is no table.
    shelf = stocked(
        cast_padding=priced("cast padding", {Fraction(5): Money(Decimal("1.10"), "USD")}),
        cohesive_wrap=priced("cohesive wrap", None),
    )
    plan = maple(shelf)
    data = plan_data(plan)
    assert plan.cost is None
    assert data["cost"] is None
    assert [layer["price"] is None for layer in data["layers"]] == [False, False, True, False, True]
    assert {"code": "cost-unknown", "missing": "cast padding, cohesive wrap"} in data["notes"]
    text = plan_text(plan)
    assert "\ncost: no sum. No price for: cast padding, cohesive wrap.\n" in text
    assert text.count("no price") == 2
    assert "note: No price" not in text


def test_two_currencies_are_never_added() -> None:
    plan = maple(stocked(cohesive_wrap=priced("cohesive wrap", Money(Decimal("2.00"), "EUR"))))
    assert plan.cost is None
    assert "cost: no sum. Prices are in EUR, USD." in plan_text(plan)


def test_the_explanation_names_the_line_of_each_price() -> None:
    row = next(row for row in explain(maple(book())) if row["figure"] == "padding price")
    assert (row["value"], row["working"]) == ("2.90 USD", "number × price: 2 × 1.45 = 2.90 USD")
    assert row["origin"].startswith("protocols/stock.yaml:")
