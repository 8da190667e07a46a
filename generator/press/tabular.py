"""Tables and rows of label and value, from their markup.

Takes  table and dl nodes, with the walk that lays out what is inside a cell.
Gives  a Table block, after its caption if it has one.
Knows  scopes of header cells and how a table is told in the structure tree.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from generator.page.tokens import MILLIMETRE, WRITING_ROW
from generator.page.xhtml import Node
from generator.press.block import Block, Stack
from generator.press.items import Ticked
from generator.press.look import Look, look_of
from generator.press.prose import Prose
from generator.press.structure import Elem
from generator.press.table import Cell, Row, Ruling, Table

if TYPE_CHECKING:
    from generator.press.lay import Layer

_SCOPES = {"col": "/Column", "row": "/Row"}


def table_blocks(layer: Layer, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
    """A table and, kept with it, its caption."""
    language = node.get("lang") if node.get("lang") not in ("", outer.language) else None
    elem = Elem("Table", parent, language=language)
    out: list[Block] = []
    for caption in node.elements("caption"):
        out += layer.node(caption, look, elem)
    ruling: Ruling = "grid" if "grid" in node.classes else "unruled" if "unruled" in node.classes else "hairline"
    least = float(node.get("data-rows-mm", "0")) * MILLIMETRE or (WRITING_ROW if ruling == "grid" else 0.0)
    head = [row for part in node.elements("thead") for row in _rows(layer, part, look, elem, 0.0, node)]
    body = [row for part in node.elements("tbody") for row in _rows(layer, part, look, elem, least, node)]
    table = Table(head, body, _shares(node), ruling, look, tight="tight" in node.classes)
    table.after = look.em("block")
    return [*out, table]


def _shares(node: Node) -> list[float] | None:
    return [float(v) for v in node.get("data-widths").split()] or None


def _rows(layer: Layer, part: Node, look: Look, table: Elem, least: float, whole: Node) -> list[Row]:
    group = Elem("THead" if part.tag == "thead" else "TBody", table)
    rows = []
    for node in part.elements("tr"):
        elem = Elem("TR", group)
        total = "total" in node.classes
        inner = look_of(node, look)
        cells = [_cell(layer, cell, inner._replace(bold=inner.bold or total), elem) for cell in node.elements()]
        row = Row(cells, least, total, "shaded" in node.classes, "with-next" in node.classes)
        row.changed = any("changed" in n.classes for n in (node, *node.elements()))
        if "grid" in whole.classes:
            row.level = "middle"
        for level in ("middle", "bottom"):
            if level in node.classes or level in whole.classes:
                row.level = "middle" if level == "middle" else "bottom"
        if part.tag == "thead":
            row.level = "bottom"
        _place(node, cells)
        rows.append(row)
    if rows and part.id is not None:
        rows[0].cells[0].content.ids = (part.id, *rows[0].cells[0].content.ids)
    return rows


def _place(node: Node, cells: list[Cell]) -> None:
    """A row's and its cells' ids stand with the first block found."""
    ids = tuple(n.id for n in (node, *node.elements()) if n.id is not None)
    opening = next((c.content for c in cells), None)
    if opening is not None and ids:
        opening.ids = (*ids, *opening.ids)


def _cell(layer: Layer, node: Node, look: Look, row: Elem) -> Cell:
    attributes: dict[str, Any] = {}
    if node.tag == "th":
        attributes["Scope"] = _SCOPES[node.get("scope")]
    span = int(node.get("colspan", "1"))
    if span > 1:
        attributes["ColSpan"] = span
    language = node.get("lang") if node.get("lang") not in ("", look.language) else None
    elem = Elem(node.tag.upper(), row, language=language, attributes={"Table": attributes} if attributes else None)
    inner = look_of(node, look)
    blocks = layer.cell(node, inner, elem)
    if "data-ticks" in node.attributes:
        opening = blocks[0] if blocks and isinstance(blocks[0], Prose) else None
        blocks = [Ticked(opening, int(node.get("data-ticks")), inner), *blocks[1 if opening else 0 :]]
    return Cell(Stack(blocks), span, "number" in node.classes, "shaded" in node.classes)


def definition_blocks(layer: Layer, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
    """Rows of label and value: told as a table whose first column heads its rows."""
    language = node.get("lang") if node.get("lang") not in ("", outer.language) else None
    group = Elem("TBody", Elem("Table", parent, language=language))
    rows: list[Row] = []
    elem: Elem | None = None
    for child in node.elements():
        inner = look_of(child, look)
        if child.tag == "dt":
            elem = Elem("TR", group)
            label = Elem("TH", elem, attributes={"Table": {"Scope": "/Row"}})
            rows.append(Row([Cell(Stack(layer.cell(child, inner, label)), fixed=True), Cell(Stack([]))]))
        elif rows and elem is not None:
            value = Elem("TD", elem)
            blocks = [*rows[-1].cells[1].content.blocks, *layer.cell(child, inner, value)]
            rows[-1].cells[1] = Cell(Stack(blocks))
        if rows:
            _place_one(child, rows[-1])
            rows[-1].changed = rows[-1].changed or "changed" in child.classes
    ruling: Ruling = "hairline" if "hairline" in node.classes else "unruled"
    table = Table([], rows, _shares(node), ruling, look, tight="tight" in node.classes)
    table.after = look.em("block")
    return [table]


def _place_one(node: Node, row: Row) -> None:
    if node.id is not None:
        content = row.cells[0].content
        content.ids = (*content.ids, node.id)
