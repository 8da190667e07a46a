"""What a bandage takes, size band by size band, as a table of a chapter.

Takes  the rows of `reckon.by_band`, the book, a `Writer`.
Gives  `materials_of`: columns, rows and the lines above and under them; `alike`: what two stages must share to share a table.
Knows  how a cell is written and whose figure it is; the reckoning was done elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.layer_cut import layer_number
from generator.compose.not_stocked import CODE as NOT_STOCKED
from generator.compose.not_stocked import is_said_already, not_stocked_sentence
from generator.compose.writer import Writer
from generator.protocol.model import Book
from generator.protocol.quantity import Band
from generator.reckon.by_band import BandPlan
from generator.reckon.plan import LayerPlan, Note

_WHERE = {("fore",): "fore", ("hind",): "hind", ("fore", "hind"): "both"}
# A word in the cell for what the card says in a sentence, and that sentence once, above the table.
_DOUBTS = {
    "narrow-elastic": ("narrow", "for this girth: an elastic strip presses harder the narrower it is"),
    "wide-strip": ("wide", "wider than the limb is round, so it lies in folds: take a narrower one"),
}
_NO_BAND = "Not reckoned: the clinic has no size band for this site. Measure, and print a card."


def materials_of(rows: Sequence[BandPlan], book: Book, w: Writer) -> dict[str, Any]:
    """The table; without rows, or where no row could be reckoned, `why` there is none."""
    reckoned = [row for row in rows if row.layers]
    if not reckoned:
        problem = next((one for row in rows for one in row.problems), None)
        why = Markup("Not reckoned: {}.").format(w.authored(problem.what, problem.span, "not-reckoned")) if problem else escape(_NO_BAND)  # fmt: skip
        return {"columns": [], "rows": [], "above": [], "under": [], "why": why}
    on_limb = reckoned[0].group is not None
    merged = _merged(rows)
    order = list(dict.fromkeys(one.layer.layer for row in reckoned for one in row.layers))
    return {
        "columns": [Markup('<strong class="leaf">{}</strong> {}').format(layer_number(layer), layer) for layer in order],
        "where": on_limb,
        "rows": [_row(groups, row, order, w) for groups, row in merged],
        "above": [*_above(reckoned, on_limb, book, w), *_doubts(reckoned)],
        "under": _not_stocked(merged, w),
        "why": None,
    }  # fmt: skip


def alike(rows: Sequence[BandPlan]) -> object:
    """What a table says, without where it was written."""
    return tuple((row.weight, row.group, _cells(row), tuple(one.what for one in row.problems)) for row in rows)


def _cells(row: BandPlan) -> tuple[object, ...]:
    return (
        tuple(
            (one.layer.layer, one.rolls.value, one.unit, one.width.value if one.width else None) for one in row.layers
        ),
        tuple((note.code, dict(note.values).get("layer")) for note in row.notes),
    )


def _merged(rows: Sequence[BandPlan]) -> list[tuple[tuple[str, ...], BandPlan]]:
    """Sites that take the same at the same weight stand in one row, unless a sentence under the table is about one of them."""
    found: list[tuple[tuple[str, ...], BandPlan]] = []
    for row in rows:
        groups = (row.group,) if row.group else ()
        same = found and found[-1][1].weight == row.weight and _cells(found[-1][1]) == _cells(row)
        if same and row.layers and not any(note.code == NOT_STOCKED for note in row.notes):
            found[-1] = (found[-1][0] + groups, found[-1][1])
        else:
            found.append((groups, row))
    return found


def _row(groups: tuple[str, ...], row: BandPlan, order: Sequence[str], w: Writer) -> dict[str, Any]:
    by_layer = {one.layer.layer: one for one in row.layers}
    return {
        "weight": _band(row.weight, w),
        "where": _WHERE.get(groups, ""),
        "cells": [_cell(by_layer.get(layer), row.notes, w) for layer in order],
        "why": Markup("; ").join(w.authored(one.what, one.span, "not-reckoned") for one in row.problems),
    }


def _band(band: Band, w: Writer) -> Markup:
    """`2 to 5 kg`: the upper end is not included, which the line above the table says."""
    if band.upper is None and band.lower == 0:
        return escape("any weight")
    low = w.number("band", band.lower, hand.number(band.lower))
    if band.upper is None:
        return Markup("{} kg and over").format(low)
    return Markup("{} to {}").format(low, w.number("band", band.upper, hand.measure(band.upper, "kg")))


def _cell(plan: LayerPlan | None, notes: Sequence[Note], w: Writer) -> Markup:
    """`2 of 7.5 cm`, `1 piece`; what is doubtful about the width in one word."""
    if plan is None:
        return escape("none")
    number = int(plan.rolls.number)
    key = plan.layer.layer
    if plan.width is not None and not plan.pieces:
        cell = Markup("{} of {}").format(w.figure(plan.rolls, str(number)), hand.figure(w, plan.width))
    else:
        cell = w.figure(plan.rolls, f"{number}{hand.NO_BREAK}{plan.unit}{'s' if number != 1 else ''}")
    words = [
        word for code, (word, _) in _DOUBTS.items()
        if any(note.code == code and dict(note.values)["layer"] == key and not is_said_already(note, notes) for note in notes)
    ]  # fmt: skip
    return cell + "".join(f", {word}" for word in words)


def _above(rows: Sequence[BandPlan], on_limb: bool, book: Book, w: Writer) -> list[Markup]:
    lines = []
    if on_limb:
        waste = w.number("waste", book.clinic.waste, hand.measure(book.clinic.waste * 100, "%"))
        lines.append(
            Markup("<strong>Estimate: measure and print a card.</strong> Rolls and their width, or pieces, by the clinic's size bands; a weight at the upper end belongs to the next row. A turn at each end and {} are in.").format(waste)
        )  # fmt: skip
    standing = dict.fromkeys(
        (one.layer.layer, one.rolls.standing.partition("; ")[2])
        for row in rows
        for one in row.layers
        if one.layer.rolls is not None
    )
    if standing:
        whose = Markup("; ").join(
            w.authored(words, None, "standing") for words in dict.fromkeys(by for _, by in standing)
        )
        layers = ", ".join(layer for layer, _ in standing)
        lines.append(
            Markup("Rolls and pieces of {} by weight ({}), not reckoned on this shape; a weight at the upper end belongs to the next row.").format(layers, whose)
        )  # fmt: skip
    if not lines:
        lines.append(escape("Pieces as the protocol counts them; nothing is reckoned on a limb."))
    return lines


def _doubts(rows: Sequence[BandPlan]) -> list[Markup]:
    codes = {note.code for row in rows for note in row.notes if not is_said_already(note, row.notes)}
    found = [Markup("<strong>{}</strong>: {}").format(*words) for code, words in _DOUBTS.items() if code in codes]
    return [Markup("; ").join(found) + "."] if found else []


def _not_stocked(merged: Sequence[tuple[tuple[str, ...], BandPlan]], w: Writer) -> list[Markup]:
    """The card's own sentence, with the row that it is about."""
    return [
        Markup("{}{}: {}").format(_band(row.weight, w), f", {_WHERE[groups]}" if groups else "", not_stocked_sentence(note, w))
        for groups, row in merged
        for note in row.notes
        if note.code == NOT_STOCKED
    ]  # fmt: skip
