"""Add up what several plans take from the shelf.

Takes  what each plan needs: rolls and pieces by layer, material, width and size, with prices where they are known.
Gives  `order_list`: one line a kind of roll or piece, in the trade's order of layers, and what all of it costs.
Knows  that rolls stay whole for each animal (an opened roll is not shared between animals: common practice); money is Decimal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from generator.protocol.kinds import LAYERS

Unit = Literal["roll", "piece"]
Money = tuple[Decimal, str]


@dataclass(frozen=True, slots=True)
class Need:
    """What one layer of one plan takes: `number` rolls or pieces; `each` is the price of one, None where none is known.

    width: cm, of a roll. is_estimated: the number rests on a limb that nobody measured. stocked_widths, stocked_sizes: all that
    the shelf has of the material.
    """

    layer: str
    material: str | None
    width: Fraction | None
    size: str | None
    unit: Unit
    number: int
    each: Money | None
    is_estimated: bool
    stocked_widths: tuple[Fraction, ...] = ()
    stocked_sizes: tuple[str, ...] = ()

    @property
    def kind(self) -> tuple[str, str | None, Fraction | None, str | None, Unit]:
        """What can be put into one line of an order."""
        return self.layer, self.material, self.width, self.size, self.unit


@dataclass(frozen=True, slots=True)
class PlanNeeds:
    """One plan: which it is, what it takes, and how many changes it plans. `is_open_ended`: no end is set for its bandaging."""

    file: str
    sheet: str
    patient: str
    species: str
    site: str
    protocols: tuple[str, ...]
    applied: datetime
    changes: int
    is_open_ended: bool
    needs: tuple[Need, ...]

    def number(self, unit: Unit) -> int:
        """Its rolls, or its pieces, for the bandage that it plans."""
        return sum(need.number for need in self.needs if need.unit == unit)


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One kind of roll or piece: how many `now`, how many `for_changes`; who needs it; and for whom that is an estimate.

    each: None where it is not known or differs from plan to plan. cost: None unless every one is priced, in one currency.
    is_priced: whether every one is; currencies: of those that are.
    """

    layer: str
    material: str | None
    width: Fraction | None
    size: str | None
    unit: Unit
    now: int
    for_changes: int
    each: Money | None
    cost: Money | None
    is_priced: bool
    currencies: frozenset[str]
    plans: tuple[PlanNeeds, ...]
    estimated_for: tuple[PlanNeeds, ...]
    stocked_widths: tuple[Fraction, ...]
    stocked_sizes: tuple[str, ...]

    @property
    def number(self) -> int:
        return self.now + self.for_changes


@dataclass(frozen=True, slots=True)
class OrderList:
    """All lines, and the plans they were added up from."""

    lines: tuple[OrderLine, ...]
    plans: tuple[PlanNeeds, ...]
    with_changes: bool

    def number(self, unit: Unit) -> int:
        """All rolls, or all pieces."""
        return sum(line.number for line in self.lines if line.unit == unit)

    @property
    def cost(self) -> Money | None:
        """What all of it costs; None unless every line is priced, in one currency."""
        return _sum([line.cost for line in self.lines])

    @property
    def not_priced(self) -> tuple[OrderLine, ...]:
        """The lines that lack a price."""
        return tuple(line for line in self.lines if not line.is_priced)

    @property
    def currencies(self) -> tuple[str, ...]:
        """Those that prices are in, by name."""
        return tuple(sorted({currency for line in self.lines for currency in line.currencies}))


def bandages(plan: PlanNeeds, with_changes: bool) -> int:
    """How many bandages of its kind a plan stands for: this one, and one at each change it plans if those are counted."""
    return 1 + plan.changes if with_changes else 1


def cost_of_plan(plan: PlanNeeds, with_changes: bool) -> Money | None:
    """What one plan costs; None unless all of it is priced, in one currency."""
    return _sum([_times(need, bandages(plan, with_changes)) for need in plan.needs])


def order_list(plans: Sequence[PlanNeeds], with_changes: bool = False) -> OrderList:
    """Add up the plans.

    Args:
        with_changes: count each planned change as one more bandage of the same kind. An estimate: each change gets a plan
            of its own, and what an opened roll of the same animal has left is not counted against it.
    """
    found: dict[object, list[tuple[PlanNeeds, Need]]] = {}
    for plan in plans:
        for need in plan.needs:
            found.setdefault(need.kind, []).append((plan, need))
    lines = [_line(pairs, with_changes) for pairs in found.values()]
    return OrderList(tuple(sorted(lines, key=_place)), tuple(plans), with_changes)


def _line(pairs: Sequence[tuple[PlanNeeds, Need]], with_changes: bool) -> OrderLine:
    first = pairs[0][1]
    prices = {need.each for _, need in pairs}
    return OrderLine(
        *first.kind,
        now=sum(need.number for _, need in pairs),
        for_changes=sum(need.number * (bandages(plan, with_changes) - 1) for plan, need in pairs),
        each=first.each if len(prices) == 1 else None,
        cost=_sum([_times(need, bandages(plan, with_changes)) for plan, need in pairs]),
        is_priced=None not in prices,
        currencies=frozenset(price[1] for price in prices if price is not None),
        plans=tuple(dict.fromkeys(plan for plan, _ in pairs)),
        estimated_for=tuple(dict.fromkeys(plan for plan, need in pairs if need.is_estimated)),
        stocked_widths=tuple(sorted({width for _, need in pairs for width in need.stocked_widths})),
        stocked_sizes=tuple(dict.fromkeys(size for _, need in pairs for size in need.stocked_sizes)),
    )


def _place(line: OrderLine) -> tuple[int, str, Fraction, str, str]:
    """Where a line stands: the trade's order of layers, then material, then width."""
    return LAYERS.index(line.layer), line.material or "", line.width or Fraction(0), line.size or "", line.unit


def _times(need: Need, times: int) -> Money | None:
    return None if need.each is None else (need.each[0] * need.number * times, need.each[1])


def _sum(amounts: Sequence[Money | None]) -> Money | None:
    known = [amount for amount in amounts if amount is not None]
    currencies = {currency for _, currency in known}
    if len(known) != len(amounts) or len(currencies) != 1:
        return None
    return sum((amount for amount, _ in known), Decimal(0)), currencies.pop()
