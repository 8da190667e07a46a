"""The binder's comparison of bandages: what each lays on in each layer, side by side.

Takes  protocols in the binder's order with their chapters' values, the `Book`, a `Writer`.
Gives  `matrix_tables`: for each tab one table or more, a column for each bandage, the six layers as rows.
Knows  that a staged wound is several bandages and a blend one; every cell comes from the protocols.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from itertools import pairwise
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.finder import Chapter
from generator.compose.layer_cut import layer_number
from generator.compose.tabs import parts_of, tab_of
from generator.compose.writer import Writer
from generator.protocol.joining import blend
from generator.protocol.kinds import LAYERS
from generator.protocol.model import Book, Layer, Protocol
from generator.source.problem import Refusal

# A column narrower than a fifth of the page breaks its words.
MOST_COLUMNS = 5
NONE = "none"

Bandage = tuple[Protocol, dict[str, Any], tuple[Layer, ...]]


def matrix_tables(chapters: Sequence[Chapter], book: Book, w: Writer) -> list[dict[str, Any]]:
    """What the comparison prints.

    Returns:
        For each table its `tab` values and whether it is `first` of its tab, `columns` (title, number, stage or None, the
        chapter's id) and `rows`: the layer's letter and name, then a cell for each column.
    """
    groups: dict[int, list[Bandage]] = {}
    for protocol, sop in chapters:
        groups.setdefault(tab_of(protocol).number, []).extend(
            (one, sop, layers) for one, layers in bandages_of(protocol, book)
        )
    return [
        _table(part, place == 0, w)
        for bandages in groups.values()
        for place, part in enumerate(_even_parts(bandages, MOST_COLUMNS))
    ]


def bandages_of(protocol: Protocol, book: Book) -> list[tuple[Protocol, tuple[Layer, ...]]]:
    """What goes on under a protocol: its stages one by one; a blend as its parts come together; else itself."""
    parts = parts_of(protocol, book)
    if parts:
        with suppress(Refusal):  # parts that cannot be joined: the check has said so
            return [(protocol, blend(parts, protocol).layers)]
    return [(one, one.layers) for one in protocol.stages.values() or (protocol,)]


def _even_parts(bandages: list[Bandage], most: int) -> list[list[Bandage]]:
    """In so few tables as hold them all, the columns shared out evenly."""
    tables = -(-len(bandages) // most)
    ends = [len(bandages) * place // tables for place in range(tables + 1)]
    return [bandages[first:last] for first, last in pairwise(ends)]


def _table(bandages: list[Bandage], is_first: bool, w: Writer) -> dict[str, Any]:
    return {
        "tab": bandages[0][1]["tab"],
        "first": is_first,
        "columns": [
            {
                "title": sop["title"],
                "number": sop["held"],
                "stage": w.authored(one.stage, one.span("stages"), "stage") if one.stage else None,
                "id": sop["id"],
            }
            for one, sop, _ in bandages
        ],
        "rows": [
            {
                "letter": layer_number(key),
                "layer": key,
                "cells": [_cell([layer for layer in layers if layer.layer == key], w) for _, _, layers in bandages],
            }
            for key in LAYERS
        ],
    }


def _cell(layers: list[Layer], w: Writer) -> Markup:
    """Material and how it goes on, in few words; `none` where the bandage does without."""
    return Markup(" + ").join(_layer(layer, w) for layer in layers) if layers else escape(NONE)


def _layer(layer: Layer, w: Writer) -> Markup:
    material = (
        w.authored(layer.material, layer.spans.get("material"), "material")
        if layer.material
        else escape("as the clinician orders")
    )
    how: list[Markup] = []
    if layer.count is not None:
        how.append(
            w.number("count", layer.count, f"{layer.count}{hand.NO_BREAK}piece{'s' if layer.count != 1 else ''}")
        )
    if layer.passes is not None:
        how.append(
            w.number("passes", layer.passes, f"{layer.passes}{hand.NO_BREAK}pass{'es' if layer.passes != 1 else ''}")
        )
    if layer.overlap is not None:
        how.append(w.number("overlap", layer.overlap, hand.measure(layer.overlap * 100, "%")))
    if layer.firmness:
        how.append(w.authored(layer.firmness, layer.spans.get("firmness"), "firmness"))
    if layer.needed_if:
        how.append(Markup("only if {}").format(layer.needed_if))
    return Markup("<strong>{}</strong>{}{}").format(material, ": " if how else "", Markup(", ").join(how))
