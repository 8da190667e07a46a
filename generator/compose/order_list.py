"""Write an order list for the screen, for a spreadsheet, and as plain data.

Takes  an `OrderList`.
Gives  `order_text`, `order_csv` as UTF-8 bytes, `order_data` ready for JSON.
Knows  English and column widths; that a spreadsheet takes a cell that begins like a formula for one.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import Any

from generator.compose import hand
from generator.compose.plan_file import printable
from generator.reckon.order_list import Money, OrderLine, OrderList, PlanNeeds, cost_of_plan

VERSION = 1
COLUMNS = ("layer", "material", "width_cm", "size", "unit", "now", "for_changes", "number", "price_each", "cost", "currency", "in_stock_as",
           "estimated_for", "plans")  # fmt: skip
_NO_MATERIAL = "as the clinician orders"
# A cell that begins with one of these is run as a formula by common spreadsheets, the wide forms included (common practice).
_FORMULA = frozenset("=+-@\uff1d\uff0b\uff0d\uff20")


def order_text(order: OrderList) -> str:
    """What to order, plan by plan what for, and what the numbers mean; lines end without spaces."""
    count = len(order.plans)
    lines = [
        f"Supplies for {count} plan{'s' if count != 1 else ''}: {_rolls_and_pieces(order.number('roll'), order.number('piece'))}"
    ]
    for layer in dict.fromkeys(line.layer for line in order.lines):
        lines += ["", layer]
        lines += _table([_row(line, order) for line in order.lines if line.layer == layer], _widths(order))
    lines += ["", *_cost(order), "", "plans"]
    lines += _table([_plan_row(plan, order) for plan in order.plans])
    lines += ["", *_remarks(order)]
    return "\n".join(line.rstrip() for line in lines)


def _rolls_and_pieces(rolls: int, pieces: int) -> str:
    parts = [_counted(number, unit) for number, unit in ((rolls, "roll"), (pieces, "piece")) if number]
    return " and ".join(parts) or "nothing to fetch"


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'s' if number != 1 else ''}"


def _row(line: OrderLine, order: OrderList) -> tuple[str, ...]:
    number = _counted(line.number, line.unit)
    if order.with_changes and line.for_changes:
        number += f" ({line.now} now, {line.for_changes} for changes)"
    notes = [_counted(len(line.plans), "plan")]
    if line.estimated_for:
        notes.append("estimated for " + ", ".join(printable(plan.patient) for plan in line.estimated_for))
    # Whoever orders must choose, where neither protocol nor shelf leaves one size.
    name = _name(line) + (", no size stated" if line.size is None and len(line.stocked_sizes) > 1 else "")
    return (
        number,
        name,
        f"in stock as {_stocked(line)}" if _stocked(line) else "",
        _money(line.cost, line.is_priced),
        "; ".join(notes),
    )


def _widths(order: OrderList) -> list[int]:
    """One width a column for all layers, so that the eye runs down the page."""
    rows = [_row(line, order) for line in order.lines]
    return [max(len(row[i]) for row in rows) for i in range(len(rows[0]))] if rows else []


def _table(rows: Sequence[tuple[str, ...]], widths: Sequence[int] = ()) -> list[str]:
    if not rows:
        return []
    widths = widths or [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    # A column that is empty in every row takes no room.
    return [
        "  " + "   ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True) if width) for row in rows
    ]


def _name(line: OrderLine) -> str:
    return ", ".join(part for part in (printable(line.material or _NO_MATERIAL), _size(line)) if part)


def _size(line: OrderLine) -> str:
    return _cm(line.width) if line.width is not None else printable(line.size or "")


def _cm(width: Any) -> str:
    return hand.measure(width, "cm", 2).replace(hand.NO_BREAK, " ")


def _stocked(line: OrderLine) -> str:
    """The shelf's own widths, the unit once; or its sizes."""
    if line.stocked_widths:
        return ", ".join([*(hand.number(width, 2) for width in line.stocked_widths[:-1]), _cm(line.stocked_widths[-1])])
    return printable(", ".join(line.stocked_sizes))


def _money(cost: Money | None, is_priced: bool = True) -> str:
    if cost is not None:
        return f"{cost[0]:.2f} {cost[1]}"
    return "in two currencies" if is_priced else "no price"


def _cost(order: OrderList) -> list[str]:
    if not order.lines:
        return []
    if order.cost is not None:
        return [f"cost {_money(order.cost)}{', changes estimated' if order.with_changes else ''}"]
    why = []
    if order.not_priced:
        why.append("No price for: " + "; ".join(_name(line) for line in order.not_priced) + ".")
    if len(order.currencies) > 1:
        why.append(f"Prices are in {', '.join(order.currencies)}.")
    return [" ".join(["cost: no sum.", *why])]


def _plan_row(plan: PlanNeeds, order: OrderList) -> tuple[str, ...]:
    is_priced = all(need.each is not None for need in plan.needs)
    return (
        printable(plan.sheet), printable(f"{plan.patient}, {plan.site}"), printable(", ".join(plan.protocols)), f"{plan.applied:%Y-%m-%d %H:%M}",
        _rolls_and_pieces(plan.number("roll"), plan.number("piece")), _money(cost_of_plan(plan, order.with_changes), is_priced),
        _counted(plan.changes, "change") if order.with_changes else "", printable(plan.file),
    )  # fmt: skip


def _remarks(order: OrderList) -> list[str]:
    lines = ["Rolls are whole for each animal: an opened roll is not shared between animals (common practice)."]
    if any(line.estimated_for for line in order.lines):
        lines.append("Estimated: nobody measured the limb. Measure, plan again, and add up again.")
    if order.with_changes:
        lines.append(
            "Changes are an estimate: each planned change up to the end is counted as one more bandage of the same kind. "
            "Each change gets a plan of its own, and what the animal's own rolls have left is not counted."
        )
        open_ended = [plan for plan in order.plans if plan.is_open_ended and plan.changes]
        if open_ended:
            names = ", ".join(printable(plan.patient) for plan in open_ended)
            lines.append(f"No end is set for {names}: only the next change is planned, more will follow.")
    else:
        lines.append("Changes are not counted: each gets a plan of its own (--changes estimates them).")
    return lines


# ---- for a spreadsheet ---------------------------------------------------------------------------------------------


def order_csv(order: OrderList) -> bytes:
    """A header row and a row a line (RFC 4180), UTF-8, the same columns whatever was asked for."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for line in order.lines:
        each = line.each
        currency = line.cost[1] if line.cost is not None else each[1] if each is not None else ""
        writer.writerow([
            line.layer, _cell(line.material or _NO_MATERIAL), hand.number(line.width, 2) if line.width is not None else "", _cell(line.size or ""),
            line.unit, line.now, line.for_changes, line.number, each[0] if each is not None else "", line.cost[0] if line.cost is not None else "",
            currency, _cell(_stocked(line)), _cell(", ".join(printable(plan.patient) for plan in line.estimated_for)),
            _cell(", ".join(f"{printable(plan.patient)} {printable(plan.sheet)}" for plan in line.plans)),
        ])  # fmt: skip
    return out.getvalue().encode("utf-8")


def _cell(text: str) -> str:
    """Text that begins like a formula gets an apostrophe, which a spreadsheet takes as the sign of text."""
    return f"'{text}" if text.lstrip()[:1] in _FORMULA and text.strip() else text


# ---- as data -------------------------------------------------------------------------------------------------------


def order_data(order: OrderList) -> dict[str, Any]:
    """Dicts, lists, texts, numbers and None; widths in cm, money as text."""
    return {
        "supplies": VERSION,
        "changes_counted": order.with_changes,
        "rolls": order.number("roll"),
        "pieces": order.number("piece"),
        "cost": _priced(order.cost),
        "not_priced": [_name(line) for line in order.not_priced],
        "lines": [
            {
                "layer": line.layer, "material": line.material, "width_cm": float(line.width) if line.width is not None else None, "size": line.size,
                "unit": line.unit, "now": line.now, "for_changes": line.for_changes, "number": line.number, "price_each": _priced(line.each),
                "cost": _priced(line.cost), "stocked_widths_cm": [float(width) for width in line.stocked_widths], "stocked_sizes": list(line.stocked_sizes),
                "plans": [plan.sheet for plan in line.plans], "estimated_for": [plan.sheet for plan in line.estimated_for],
            }
            for line in order.lines
        ],
        "plans": [
            {
                "sheet": plan.sheet, "file": plan.file, "patient": plan.patient, "species": plan.species, "site": plan.site,
                "protocols": list(plan.protocols), "applied": plan.applied.isoformat(timespec="minutes"), "rolls": plan.number("roll"),
                "pieces": plan.number("piece"), "changes": plan.changes, "cost": _priced(cost_of_plan(plan, order.with_changes)),
            }
            for plan in order.plans
        ],
    }  # fmt: skip


def _priced(cost: Money | None) -> dict[str, str] | None:
    return None if cost is None else {"amount": str(cost[0]), "currency": cost[1]}
