"""What the rolls and pieces of a plan cost.

Takes  layers as planned, with the prices that stock.yaml gives by material, width or size.
Gives  `price_of` one layer, `cost_of` all of them, `cost_working` the sum, `cost_notes` on why there is no sum.
Knows  that a sum with a price missing is no cost; money is Decimal, never a float.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from generator.protocol.model import Money
from generator.reckon import working as say
from generator.reckon.plan import LayerPlan, Note


@dataclass(frozen=True, slots=True)
class Price:
    """What one roll or piece costs, and all of a layer's; `origin` is `file:line:column` of the price, `count` how many."""

    each: Decimal
    count: int
    currency: str
    origin: str = ""

    @property
    def amount(self) -> Decimal:
        """All of them together."""
        return self.each * self.count

    @property
    def working(self) -> str:
        """`number × price: 2 × 1.45 = 2.90 USD`."""
        return say.line("number × price", f"{self.count} × {self.each} = {self.amount} {self.currency}")


def price_of(plan: LayerPlan) -> Price | None:
    """The price of a layer's rolls or pieces; None where stock.yaml gives none for this width or size."""
    material = plan.material
    if material is None or material.price is None:
        return None
    price = material.price
    if not isinstance(price, Money):
        size = plan.layer.size
        key = plan.width.number if plan.width is not None else size
        found = price.get(key)  # type: ignore[arg-type]
        if found is None:
            return None
        price = found
    origin = str(material.spans.get("price", "stock.yaml"))
    return Price(price.amount, int(plan.rolls.number), price.currency, origin)


def cost_of(layers: Sequence[LayerPlan]) -> tuple[Decimal, str] | None:
    """What all rolls and pieces cost; None unless every one is priced, in one currency."""
    prices = [price_of(plan) for plan in layers]
    priced = [price for price in prices if price is not None]
    currencies = {price.currency for price in priced}
    if len(priced) != len(prices) or len(currencies) != 1:
        return None
    return sum((price.amount for price in priced), Decimal(0)), currencies.pop()


def cost_working(layers: Sequence[LayerPlan]) -> str:
    """What each layer's rolls or pieces cost, and their sum; nothing where there is no sum."""
    cost = cost_of(layers)
    if cost is None:
        return ""
    priced = [(plan.layer.layer, price) for plan in layers if (price := price_of(plan)) is not None]
    names = ", ".join(name for name, _ in priced)
    sums = " + ".join(f"{price.count} × {price.each}" for _, price in priced)
    return say.line(f"number × price ({names})", f"{sums} = {cost[0]} {cost[1]}")


def cost_notes(layers: Sequence[LayerPlan]) -> list[Note]:
    """Why there is no sum: materials without a price, or prices in several currencies."""
    prices = [price_of(plan) for plan in layers]
    missing = dict.fromkeys(
        plan.material.name if plan.material else plan.layer.layer
        for plan, price in zip(layers, prices, strict=True)
        if price is None
    )
    notes = [Note("cost-unknown", (("missing", ", ".join(missing)),))] if missing else []
    currencies = sorted({price.currency for price in prices if price is not None})
    if len(currencies) > 1:
        notes.append(Note("cost-in-currencies", (("currencies", ", ".join(currencies)),)))
    return notes
