"""The figures of a plan, each with every sum that leads to it.

Takes  a `Plan` and a `Writer`.
Gives  `figures_section`.
Knows  no arithmetic: it repeats what the reckoning wrote down, line by line.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.card_limits import unbroken
from generator.compose.card_parts import layer_number
from generator.compose.workings_parts import Cell, Row, Section, Table, cell, place, said
from generator.compose.writer import Writer
from generator.reckon.plan import Figure, LayerPlan, Plan

_HOW = (
    "Reckoned with exact numbers, line after line; nothing is rounded before the last one. Where “=” stands the number is whole or ends within four "
    "decimals; where “≈” stands it is shown to four, so that a last decimal may differ when it is done again from the numbers shown. 2π is 6.2832.",
    "Printed on the papers: what is needed up to the whole cm, what is left down, rolls up to whole ones, all else to the nearest tenth, a pressure to the nearest mmHg.",
)
_COLUMNS, _WIDTHS = ("Figure", "Working", "From"), "1.35 4.6 1.95"
_NAMES = {
    "distal_girth": "girth at the toes",
    "proximal_girth": "girth at the top",
    "covered_length": "covered length",
    "finished distal_girth": "finished girth, toes",
    "finished proximal_girth": "finished girth, top",
    "pressure distal": "pressure, toes",
    "pressure proximal": "pressure, top",
}
_TRUST = {"measured": "rests on measures", "set": "", "estimated": "an estimate"}
_NO_PRESSURE = {
    "no-limb": "Pressure not estimated: the formula does not fit this shape.",
    "limb-estimated": "Pressure not estimated: nobody measured the limb.",
}


def figures_section(plan: Plan, writer: Writer) -> Section:
    """Limb, layers skin outwards, the whole: every figure with its working, where it comes from and how far to trust it."""
    layers = (row for layer in plan.layers for row in _layer(layer, writer))
    rows = (*_limb(plan, writer), *layers, *_whole(plan, writer))
    return Section(
        "Figures",
        before=tuple(said(words, writer) for words in _HOW),
        tables=(Table(_COLUMNS, _WIDTHS, rows),),
        after=tuple(_withheld(plan, writer)),
    )


def _heading(words: Markup) -> Row:
    return Row((cell(words),), is_heading=True)


def _limb(plan: Plan, writer: Writer) -> Iterator[Row]:
    limb = plan.limb
    figures = [f for f in (limb.distal_girth, limb.proximal_girth, limb.covered_length) if f is not None]
    if figures:
        yield _heading(Markup("<strong>The limb</strong>, snug over the coat"))
        yield from (_row(figure, writer) for figure in figures)


def _layer(layer: LayerPlan, writer: Writer) -> Iterator[Row]:
    key, material = layer.layer.layer, layer.layer.material
    name = said(material, writer, layer.layer.spans.get("material")) if material else escape("as the clinician orders")
    figures = (layer.width, layer.strip, layer.need, layer.rolls, layer.left_over, *(layer.pressure or ()))
    yield _heading(
        Markup('<strong class="leaf">{}</strong> <strong>{}:</strong> {}').format(layer_number(key), key, name)
    )
    yield from (_row(figure, writer, layer) for figure in figures if figure is not None)
    other = layer.alternate
    if other is not None and other.working:
        width = writer.number(f"{key}.other-width", other.width, hand.measure(other.width, "cm"))
        rolls = writer.number(f"{key}.other-rolls", other.rolls, str(other.rolls))
        first = Markup("or <strong>{}{}roll{}</strong> of {}").format(
            rolls, hand.NO_BREAK, "s" if other.rolls != 1 else "", width
        )
        yield Row((cell(first), _lines(other.working, "other", writer), cell("the next best width stocked")))


def _whole(plan: Plan, writer: Writer) -> Iterator[Row]:
    rows = [_row(figure, writer) for figure in (*(plan.finished_girth or ()), *(plan.pressure or ()))]
    if plan.cost is not None:
        amount, currency = plan.cost
        shown = writer.number("cost", str(amount), f"{amount}{hand.NO_BREAK}{currency}")
        rows.append(
            Row(
                (
                    cell(Markup("cost <strong>{}</strong>").format(shown)),
                    _lines(plan.cost_working, "cost", writer),
                    cell("stock.yaml"),
                )
            )
        )
    if rows:
        yield _heading(Markup("<strong>The whole bandage</strong>"))
        yield from rows


def _row(figure: Figure, writer: Writer, layer: LayerPlan | None = None) -> Row:
    places, way = _rounding(figure)
    unit = ""
    if layer is not None and figure is layer.rolls:
        unit = "piece" if layer.pieces or layer.width is None else "roll"
        unit = f"{hand.NO_BREAK}{unit}{'s' if figure.number != 1 else ''}"
    shown = writer.figure(figure, f"{hand.measure(figure.number, figure.unit, places, way)}{unit}")  # type: ignore[arg-type]
    name = _NAMES.get(figure.name, figure.name)
    if unit:
        first = Markup("<strong>{}</strong>").format(shown)
    else:
        first = Markup("{} <strong>{}</strong>").format(name, shown)
    working = _lines(figure.working, figure.name, writer) if figure.working else cell("as written in the file")
    return Row((cell(first), working, _from(figure, writer)))


def _rounding(figure: Figure) -> tuple[int, str]:
    if figure.name == "need":
        return 0, "up"
    if figure.name == "left over":
        return 0, "down"
    return (0, "half") if figure.unit == "mm[Hg]" else (1, "half")


def _lines(working: str, name: str, writer: Writer) -> Cell:
    """Each line as one figure: its sums shown, its result kept bare."""
    made = []
    for line in working.splitlines():
        result = next((word for word in reversed(line.split()) if word[0].isdigit()), "")
        made.append(writer.number(f"{name}.working", result, unbroken(line)))
    return tuple(made)


def _from(figure: Figure, writer: Writer) -> Cell:
    """Where it comes from, on whose word, and how far to trust it."""
    is_formula = figure.origin.startswith("formula: ")
    origin = said(figure.origin, writer) if is_formula else place(figure.origin, writer)
    is_measure = figure.standing == "measured on the patient"
    words = [figure.standing, "" if is_measure else _TRUST[figure.trust]]
    words = [word for word in words if word not in ("", "stock.yaml")]
    return cell(Markup("{}; {}").format(origin, said("; ".join(words), writer)) if words else origin)


def _withheld(plan: Plan, writer: Writer) -> Iterator[Markup]:
    """Why there is no pressure for the whole, where there is none."""
    if plan.pressure is not None:
        yield escape("Every pressure is an estimate at application, not measured, and compared with nothing.")
        return
    code, _, rest = (plan.pressure_because or "").partition(":")
    if any(layer.pressure is not None for layer in plan.layers):
        yield Markup(
            "A pressure of one layer is an estimate at application, not measured. No sum over all layers: nobody measured the pull of {} at this width."
        ).format(said(rest.strip(), writer))
    elif code == "tension-unknown":
        yield Markup("Pressure not estimated: nobody measured the pull of {} at this width.").format(
            said(rest.strip(), writer)
        )
    else:
        yield escape(_NO_PRESSURE.get(code, "Pressure not estimated: no layer presses."))
