"""The figures of a plan, each with every sum that leads to it.

Takes  a `Plan` and a `Writer`.
Gives  `figures_section`.
Knows  no arithmetic: it repeats what the reckoning wrote down, line by line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.card_limits import unbroken
from generator.compose.layer_cut import layer_number
from generator.compose.not_stocked import CODE as NOT_STOCKED
from generator.compose.workings_parts import Cell, Row, Section, Table, cell, said, short_place
from generator.compose.writer import Writer
from generator.reckon.plan import Figure, LayerPlan, Plan

_HOW = (
    "Exact numbers go from line to line and are rounded last. “=” is exact; “≈” is shown to four decimals, so that by hand a last decimal may differ. 2π is "
    "6.2832. Of two widths equally near the wider is taken. On the papers: need up, spare down, rolls up; else to the nearest tenth, pressure to the nearest mmHg.",
)
_COLUMNS, _WIDTHS = ("Figure", "Working; from where, on whose word"), "1.2 6.8"
_NAMES = {
    "distal_girth": "girth at the toes",
    "proximal_girth": "girth at the top",
    "covered_length": "covered length",
    "finished distal_girth": "finished girth, toes",
    "finished proximal_girth": "finished girth, top",
    "pressure distal": "pressure, toes",
    "pressure proximal": "pressure, top",
}
# Between short lines that stand side by side, and how many letters a line of the paper holds.
_BETWEEN, _ROOM = " · ", 106
_ESTIMATE = "an estimate"
_NO_PRESSURE = {
    "no-limb": "Pressure not estimated: the formula does not fit this shape.",
    "limb-estimated": "Pressure not estimated: nobody measured the limb.",
}


def figures_section(plan: Plan, writer: Writer) -> Section:
    """Limb, layers skin outwards, the whole: every figure with its working, where it comes from and how far to trust it."""
    layers = (row for layer in plan.layers for row in _layer(layer, plan, writer))
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
    if not figures:
        return
    yield _heading(Markup("<strong>The limb</strong>, snug over the coat"))
    measures = Markup(_BETWEEN).join(_named(figure, writer, "") for figure in figures)
    row = _row(figures, writer)
    yield Row((cell("measures"), cell(measures, *row.cells[1])))


def _layer(layer: LayerPlan, plan: Plan, writer: Writer) -> Iterator[Row]:
    key, material = layer.layer.layer, layer.layer.material
    name = said(material, writer, layer.layer.spans.get("material")) if material else escape("as the clinician orders")
    yield _heading(
        Markup('<strong class="leaf">{}</strong> <strong>{}:</strong> {}').format(layer_number(key), key, name)
    )
    yield from (_row([figure], writer) for figure in (layer.width, layer.strip) if figure is not None)
    yield from _not_stocked(key, plan, writer)
    unit = layer.unit
    taken = (layer.need, layer.rolls, layer.left_over)
    yield _row([figure for figure in taken if figure is not None], writer, unit)
    if layer.pressure is not None:
        yield _row(layer.pressure, writer)
    other = layer.alternate
    if other is not None and other.working:
        width = writer.number(f"{key}.other-width", other.width, hand.measure(other.width, "cm"))
        shown = f"{other.rolls}{hand.NO_BREAK}roll{'s' if other.rolls != 1 else ''}"
        rolls = writer.number(f"{key}.other-rolls", other.rolls, shown)
        first = Markup("or <strong>{}</strong> of {}").format(rolls, width)
        yield Row((cell(first), _lines(other.working, "other", ["the next best width in stock"], writer)))


def _not_stocked(key: str, plan: Plan, writer: Writer) -> Iterator[Row]:
    """Of a width that is not in stock: what the nearest one changes."""
    for note in plan.notes:
        values = dict(note.values)
        if note.code != NOT_STOCKED or values["layer"] != key:
            continue
        found = (values[name] for name in ("turns_wanted", "turns_taken", "pressure_factor"))
        figures = [figure for figure in found if figure is not None]
        asked = Markup("{} asked for, not in stock").format(hand.figure(writer, values["wanted"]))
        told = dict.fromkeys(words for figure in figures if (words := _from(figure)))
        lines = "\n".join(figure.working for figure in figures)
        yield Row((cell(asked), _lines(lines, "not-stocked", list(told), writer)))


def _whole(plan: Plan, writer: Writer) -> Iterator[Row]:
    rows = [_row(pair, writer) for pair in (plan.finished_girth, plan.pressure) if pair is not None]
    if plan.cost is not None:
        amount, currency = plan.cost
        shown = writer.number("cost", str(amount), f"{amount}{hand.NO_BREAK}{currency}")
        first = Markup("cost <strong>{}</strong>").format(shown)
        rows.append(Row((cell(first), _lines(plan.cost_working, "cost", ["stock.yaml"], writer))))
    if rows:
        yield _heading(Markup("<strong>The whole bandage</strong>"))
        yield from rows


def _row(figures: Sequence[Figure], writer: Writer, unit: str = "") -> Row:
    """Figures that belong together: what they come to, every line that leads to them, whose word they are."""
    names = cell(*(_named(figure, writer, unit) for figure in figures))
    # What two ends of one layer share is said once; so is whose word both are.
    lines = dict.fromkeys(line for figure in figures for line in figure.working.splitlines())
    told = dict.fromkeys(words for figure in figures if (words := _from(figure)))
    if len(told) > 1:
        told.pop(_ESTIMATE, None)
    working = _lines("\n".join(lines), figures[0].name, list(told), writer)
    return Row((names, working))


def _named(figure: Figure, writer: Writer, unit: str) -> Markup:
    places, way = _rounding(figure)
    if figure.name == "rolls" and unit:
        shown = f"{hand.number(figure.number)}{hand.NO_BREAK}{unit}{'s' if figure.number != 1 else ''}"
        return Markup("<strong>{}</strong>").format(writer.figure(figure, shown))
    shown = hand.measure(figure.number, figure.unit, places, way)
    return Markup("{} <strong>{}</strong>").format(_NAMES.get(figure.name, figure.name), writer.figure(figure, shown))


def _rounding(figure: Figure) -> tuple[int, hand.Round]:
    if figure.name == "need":
        return 0, "up"
    if figure.name == "left over":
        return 0, "down"
    return (0, "half") if figure.unit == "mm[Hg]" else (1, "half")


def _lines(working: str, name: str, told: Sequence[str], writer: Writer) -> Cell:
    """Each line as one figure: its sums shown, its result kept bare; then where it comes from. Short ones stand side by side."""
    pieces: list[tuple[str, Markup]] = []
    for line in working.splitlines():
        result = next((word for word in reversed(line.split()) if word[0].isdigit()), "")
        pieces.append((line, writer.number(f"{name}.working", result, unbroken(line))))
    pieces += [(words, Markup('<span class="quiet">{}</span>').format(said(words, writer))) for words in told]
    packed: list[Markup] = []
    room = 0
    for words, made in pieces:
        if packed and len(words) + len(_BETWEEN) <= room:
            packed[-1] += escape(_BETWEEN) + made
            room -= len(words) + len(_BETWEEN)
        else:
            packed.append(made)
            room = _ROOM - len(words)
    return tuple(packed)


def _from(figure: Figure) -> str:
    """Where it is written, or on whose word it is reckoned; and whether it is an estimate."""
    told = [] if figure.origin.startswith("formula: ") else [short_place(figure.origin)]
    told += [figure.standing] if figure.standing not in ("", "stock.yaml") else []
    told += [_ESTIMATE] if figure.trust == "estimated" else []
    return "; ".join(told)


def _withheld(plan: Plan, writer: Writer) -> Iterator[Markup]:
    """Why there is no pressure for the whole, where there is none."""
    is_given = plan.pressure is not None or any(layer.pressure is not None for layer in plan.layers)
    if is_given and any(layer.layer.layer == "splint" for layer in plan.layers):
        yield escape("The formula knows nothing of a splint: no pressure here is valid under it.")
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
