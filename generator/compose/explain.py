"""Show how every figure of a plan came about.

Takes  a `Plan`.
Gives  `explain`: a row for each figure and each visit, inputs before results.
Knows  no arithmetic: it repeats what the reckoning wrote down.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from generator.compose import hand
from generator.compose.calendar_file import VISITS
from generator.compose.writer import plain
from generator.reckon.plan import Event, Figure, Plan
from generator.reckon.prices import price_of


def explain(plan: Plan) -> list[dict[str, str]]:
    """Rows of `figure`, `value`, `working`, `origin`, `standing`, `trust`; a figure that several others rest on stands once."""
    rows: dict[tuple[str, ...], dict[str, str]] = {}
    for of, figure in _figures(plan):
        for one in _inputs_first(figure):
            # Measures of the limb stand once; what belongs to a layer is said to be its own.
            row = _row(one, of if one.working or one is figure else "")
            rows.setdefault((row["figure"], row["value"], row["working"]), row)
    found = [
        *rows.values(),
        *_prices(plan),
        *(_visit(event) for event in plan.events if event.kind in VISITS or event.kind == "release"),
    ]
    if plan.then is not None:
        found += [{**row, "figure": f"then {row['figure']}"} for row in explain(plan.then)]
    return found


def _prices(plan: Plan) -> Iterator[dict[str, str]]:
    for layer in plan.layers:
        price = price_of(layer)
        if price is not None:
            yield {"figure": f"{layer.layer.layer} price", "value": f"{price.amount} {price.currency}", "working": price.working,
                   "origin": price.origin, "standing": "stock.yaml", "trust": layer.rolls.trust}  # fmt: skip


def _figures(plan: Plan) -> Iterator[tuple[str, Figure]]:
    """Each figure with the layer it belongs to, or nothing."""
    limb = plan.limb
    yield from (("", f) for f in (limb.distal_girth, limb.proximal_girth, limb.covered_length) if f is not None)
    for layer in plan.layers:
        for figure in (layer.width, layer.strip, layer.need, layer.rolls, layer.left_over, *(layer.pressure or ())):
            if figure is not None:
                yield layer.layer.layer, figure
    yield from (("", f) for f in (*(plan.finished_girth or ()), *(plan.pressure or ())))
    for note in plan.notes:
        values = dict(note.values)
        for value in values.values():
            for figure in value if isinstance(value, tuple) else (value,):
                if isinstance(figure, Figure):
                    yield str(values.get("layer", "")), figure


def _inputs_first(figure: Figure) -> Iterator[Figure]:
    for one in figure.inputs:
        yield from _inputs_first(one)
    yield figure


def _row(figure: Figure, of: str) -> dict[str, str]:
    value = (
        hand.moment(figure.value)
        if isinstance(figure.value, datetime)
        else f"{plain(figure.number)} {'' if figure.unit == '1' else figure.unit}".strip()
    )
    return {
        "figure": f"{of} {figure.name}".strip(),
        "value": value,
        "working": figure.working,
        "origin": figure.origin,
        "standing": figure.standing,
        "trust": figure.trust,
    }


def _visit(event: Event) -> dict[str, str]:
    return {"figure": f"{event.kind} due", "value": hand.moment(event.due).replace(hand.NO_BREAK, " "), "working": event.working, "origin": event.origin,
            "standing": event.standing, "trust": "set"}  # fmt: skip
