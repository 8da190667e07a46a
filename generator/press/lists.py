"""Lists and the list of contents: items with their marks, entries with their page numbers.

Takes  ul, ol and nav.contents nodes, with the walk that lays out what is inside.
Gives  one block an item, in order, all with the same indent.
Knows  marks and numbering; how a list is told in the structure tree.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from generator.page.tokens import PICTOGRAM_EMS
from generator.page.xhtml import Node
from generator.press.blank import Entry
from generator.press.block import Block
from generator.press.inline import pieces
from generator.press.items import Item, Mark, Ticked
from generator.press.look import Look, look_of
from generator.press.marks import WARNING_MARKS
from generator.press.prose import Prose
from generator.press.structure import LAYOUT, Elem

if TYPE_CHECKING:
    from generator.press.lay import Layer

_NUMBERED = ("disc", "decimal")


def list_blocks(layer: Layer, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
    """A list's items."""
    own = _shape(node) or ("decimal" if node.tag == "ol" else "bullet")
    items = node.elements("li")
    shapes = [_shape(item) or own for item in items]
    numbering = "/Decimal" if any(s in _NUMBERED for s in shapes) else "/None"
    if any(s == "drawing" and i.get("data-alt").strip() for s, i in zip(shapes, items, strict=True)):
        numbering = "/Disc"  # a picture that speaks is a label, and labels want a numbering
    language = node.get("lang") if node.get("lang") != outer.language else None
    elem = Elem("L", parent, language=language or None, attributes={"List": {"ListNumbering": numbering}})
    made: list[tuple[Mark | None, list[Block], Look]] = []
    number = int(node.get("start", "1"))
    for item, shape in zip(items, shapes, strict=True):
        inner = look_of(item, look)
        number = int(item.get("value", str(number)))
        entry = Elem("LI", elem, language=_differs(item, look))
        mark = _mark(layer, item, shape, number, inner, entry)
        blocks = _content(layer, item, inner, Elem("LBody", entry))
        made.append((mark, blocks, inner))
        number += 1
    indent = max((mark.width(inner) for mark, _, inner in made if mark is not None), default=0.0)
    gutter = max((mark.drawing.least for mark, _, _ in made if mark is not None and mark.drawing), default=0.0)
    out: list[Block] = []
    for item, (mark, blocks, inner) in zip(items, made, strict=True):
        out.append(_finished(item, Item(mark, blocks, inner, indent, gutter), inner, look, "tight" in node.classes))
    if out:
        out[-1].after = look.em("paragraph")
    if len(out) > 2:
        out[0].with_next = out[-2].with_next = True  # never one item alone at the foot or head of a page
    return out


def _differs(item: Node, look: Look) -> str | None:
    return item.get("lang") if item.get("lang") not in ("", look.language) else None


def _shape(node: Node) -> str:
    return next((name[5:] for name in sorted(node.classes) if name.startswith("mark-")), "")


def _content(layer: Layer, item: Node, look: Look, body: Elem) -> list[Block]:
    blocks = layer.cell(item, look, body)
    if "data-ticks" in item.attributes:
        opening = blocks[0] if blocks and isinstance(blocks[0], Prose) else None
        blocks = [Ticked(opening, int(item.get("data-ticks")), look), *blocks[1 if opening else 0 :]]
    if len(blocks) > 1:
        blocks[-1].after = 0.0
    if look.kind == "sheet":
        for block in blocks:
            for inner in block.walk():
                if isinstance(inner, Prose):
                    inner.balanced = True  # no word alone on a line: an owner reads it as another line
    return blocks


def _finished(node: Node, item: Item, inner: Look, look: Look, tight: bool) -> Item:
    item.ids = (node.id,) if node.id is not None else ()
    item.after = look.em("tight" if tight or "tight" in node.classes else "item")
    if "airy" in node.classes:
        item.after = look.em("block")
    if "flush" in node.classes:
        item.after = 0.0
    # A step is read in one go: it is not divided, with its caution least of all, unless it is longer than a page.
    item.keep = True
    item.with_next = "with-next" in node.classes
    item.draft = "draft" in node.classes
    item.changed = "changed" in node.classes
    return item


def _mark(layer: Layer, item: Node, shape: str, number: int, look: Look, entry: Elem) -> Mark | None:
    if shape == "none":
        return None
    accent = look.accent
    if look.accent == "leaf" and shape in WARNING_MARKS:
        accent = "alarm"
    if shape == "drawing":
        if "data-drawing" not in item.attributes:
            return None
        alternative = " ".join(item.get("data-alt").split())
        figure = Elem("Figure", Elem("Lbl", entry), alternative=alternative) if alternative else None
        drawing = layer.drawing(item, figure or LAYOUT, look)
        drawing.least = max(drawing.least, PICTOGRAM_EMS * look.base)
        return Mark("", accent, drawing=drawing)
    if shape in _NUMBERED:
        label = Elem("Lbl", entry)
        return Mark("disc" if shape == "disc" else "", accent, str(number), label)
    return Mark(shape, accent)


def contents_blocks(layer: Layer, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
    """A list of contents; what else stands in the nav (its heading) is laid out as usual."""
    sect = Elem("Sect", parent, language=_differs(node, outer))
    out: list[Block] = []
    for child in node.elements():
        if child.tag in ("ol", "ul"):
            out += _entries(child, look_of(child, look), Elem("TOC", sect), 0)
        else:
            out += layer.node(child, look, sect)
    return out


def _entries(node: Node, look: Look, toc: Elem, depth: int) -> list[Block]:
    out: list[Block] = []
    for item in node.elements("li"):
        entry = Elem("TOCI", toc)
        inner = look_of(item, look)
        if depth == 0 and any(n.tag in ("ol", "ul") for n in item.elements()):
            inner = inner._replace(bold=True)
        for anchor in (n for n in item.elements("a") if n.get("href").startswith("#")):
            out.append(_entry(anchor, inner, entry, depth))
            out[-1].ids = (item.id,) if item.id is not None else ()
        for nested in item.elements("ol", "ul"):
            lines = _entries(nested, look._replace(bold=False), Elem("TOC", entry), depth + 1)
            if lines and out:
                out[-1].with_next = True
                out[-1].after = look.em("tight")
                lines[-1].after = look.em("block")
            out += lines
    return out


def _entry(anchor: Node, look: Look, entry: Elem, depth: int) -> Entry:
    reference = Elem("Reference", entry)
    target = anchor.get("href")[1:]
    link = Elem("Link", reference, contents=anchor.get("title") or anchor.plain())
    words = pieces(anchor.children, look, link)
    words = [p._replace(run=p.run._replace(mark=p.run.mark or link, link=f"#{target}")) for p in words]
    block = Entry(Prose(words, look, link), target, link, look, depth * 1.6 * look.base)
    block.after = look.em("item") if depth == 0 else look.em("tight")
    return block
