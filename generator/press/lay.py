"""Turn the markup of a part of a document into blocks and elements of the structure tree, in one walk.

Takes  nodes of `page/xhtml.py`, the drawings by id, and the look of what is around them.
Gives  `Layer`, whose `flow` and `node` give blocks in reading order; nothing is painted yet.
Knows  what each element and class of the vocabulary becomes; tables and lists are in modules of their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.page.document import Draw
from generator.page.tokens import LINE, SPACE
from generator.page.xhtml import Node, Text, is_blank
from generator.press.blank import Blank
from generator.press.block import Anchor, Block, Bookmark, Stack
from generator.press.box import Box, Columns, Frame, Level, Rule
from generator.press.figures import Drawing, Made
from generator.press.inline import pieces
from generator.press.items import Item, Mark, Ticked
from generator.press.look import Look, look_of
from generator.press.prose import Prose
from generator.press.structure import ROLES, Artifact, Elem

_PHRASES = frozenset({"strong", "em", "a", "time", "data", "span", "br"})
_HEADINGS = ("h1", "h2", "h3", "h4")
_BOOKMARKED = ("h1", "h2", "h3")


class Layer:
    """The walk. One of these a document and size."""

    def __init__(self, drawings: Mapping[str, Draw], made: Made | None = None) -> None:
        self.drawings = drawings
        self._pictures: Made = {} if made is None else made
        self._bookmarks = 0

    # ---- blocks -------------------------------------------------------------------------------------------

    def flow(self, children: Iterable[Node | Text], look: Look, elem: Elem) -> list[Block]:
        """Blocks of mixed content; a stretch of bare text becomes a paragraph of its own."""
        out: list[Block] = []
        loose: list[Node | Text] = []
        for child in children:
            if isinstance(child, Text) or child.tag in _PHRASES:
                loose.append(child)
                continue
            out += self._loose(loose, look, elem)
            loose = []
            out += self.node(child, look, elem)
        return out + self._loose(loose, look, elem)

    def _loose(self, loose: list[Node | Text], look: Look, elem: Elem) -> list[Block]:
        if all(isinstance(c, Text) and is_blank(c.text) for c in loose):
            return []
        prose = self._prose(loose, look, Elem("P", elem))
        if prose is None:
            return []
        prose.after = look.em("tight")
        return [prose]

    def cell(self, node: Node, look: Look, elem: Elem) -> list[Block]:
        """Content of a cell or item: text alone belongs to it directly, without a paragraph between."""
        if all(isinstance(c, Text) or c.tag in _PHRASES for c in node.children):
            prose = self._prose(node.children, look, elem)
            if prose is not None:
                prose.draft = "draft" in node.classes and node.tag != "li"  # an item has its own
            return [prose] if prose is not None else []
        return self.flow(node.children, look, elem)

    def _prose(self, children: Iterable[Node | Text], look: Look, elem: Elem) -> Prose | None:
        children = tuple(children)
        found = pieces(children, look, elem)
        if not found:
            return None
        prose = Prose(found, look, elem)
        inside = [c for c in children if isinstance(c, Node)]
        if inside:
            prose.ids = tuple(n.id for c in inside for n in c.walk() if n.id is not None)
        return prose

    def node(self, node: Node, outer: Look, parent: Elem) -> list[Block]:
        """The blocks of one element, with what its classes ask of spaces and page breaks."""
        look = look_of(node, outer)
        blocks = self._made(node, look, outer, parent)
        if not blocks and node.id is not None:
            blocks = [Anchor()]
        classes = node.classes
        if not blocks or (not classes and node.id is None):
            return blocks
        if "keep" in classes and len(blocks) > 1:
            blocks = [Stack(blocks)]
        first, last = blocks[0], blocks[-1]
        if node.id is not None and node.id not in first.ids:
            first.ids = (node.id, *first.ids)
        first.new_page = first.new_page or "new-page" in classes
        for block in blocks:
            block.keep = block.keep or "keep" in classes
            block.changed = block.changed or "changed" in classes
        last.with_next = last.with_next or "with-next" in classes
        if "tight" in classes and not isinstance(first, Box):
            last.after = min(last.after, look.em("tight"))
        if "airy" in classes:
            last.after = max(last.after, look.em("section"))
        if "flush" in classes:
            last.after = 0.0
        return blocks

    def _made(self, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
        match node.tag:
            case "p" | "h1" | "h2" | "h3" | "h4" | "caption" | "figcaption":
                return self.text(node, look, outer, parent)
            case "ul" | "ol":
                from generator.press.lists import list_blocks

                return list_blocks(self, node, look, outer, parent)
            case "table":
                from generator.press.tabular import table_blocks

                return table_blocks(self, node, look, outer, parent)
            case "dl":
                from generator.press.tabular import definition_blocks

                return definition_blocks(self, node, look, outer, parent)
            case "figure":
                return self._figure(node, look, outer, parent)
            case "hr":
                return [Rule(look.hairline, LINE["rule"], look.em("item"))]
            case "nav" if "contents" in node.classes:
                from generator.press.lists import contents_blocks

                return contents_blocks(self, node, look, outer, parent)
        return self.group(node, look, outer, parent)

    def text(self, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
        """A paragraph, heading, caution, blank to write on, or line with tick boxes."""
        elem = Elem(ROLES[node.tag], parent, language=own_language(node, outer))
        prose = self._prose(node.children, look, elem)
        block: Block
        if "blank" in node.classes:
            if prose is not None and "under" in node.classes:
                prose = self._prose(node.children, look.step("small")._replace(colour=look.quiet), elem)
            block = Blank(prose, look, int(node.get("data-lines", "1")), under="under" in node.classes)
            block.after = look.em("item")
            return [block]
        if prose is None and "data-ticks" not in node.attributes:
            return []
        if prose is not None:
            prose.draft = "draft" in node.classes
            prose.if_more = "if-more" in node.classes
        if "data-ticks" in node.attributes:
            block = Ticked(prose, int(node.get("data-ticks")), look)
        elif "caution" in node.classes and prose is not None:
            mark = Mark("triangle", "alarm")
            block = Item(mark, [prose], look, mark.width(look))
            block.keep = block.with_next = True
        elif prose is not None:
            block = prose
        block.after = _space_after(node, look)
        if node.tag in _HEADINGS or node.tag == "caption":
            block.before = look.em("section") if node.tag in ("h1", "h2") else look.em("block")
            block.with_next = block.keep = True
        if prose is not None:
            is_short = node.tag in _HEADINGS or bool(node.classes & {"caution", "lead", "display"})
            prose.balanced = is_short or look.align == "center"
            prose.shrinks = "display" in node.classes
        if node.tag in _BOOKMARKED and prose is not None:
            self._bookmarks += 1
            name = f"heading {self._bookmarks}"  # no id has a space
            block.bookmark = Bookmark(node.plain(), int(node.tag[1]) - 1, name)
        return [block]

    def _figure(self, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
        elem = Elem("Figure", parent, language=own_language(node, outer), alternative=_one_line(node.get("data-alt")))
        drawing = self.drawing(node, elem, look, float(node.get("data-share", "1")))
        drawing.after = look.em("item")
        out: list[Block] = [drawing]
        for caption in node.elements("figcaption"):
            drawing.with_next = True
            drawing.after = look.em("tight")
            out += self.node(caption, look, parent)
        return out

    def drawing(self, node: Node, mark: Elem | Artifact, look: Look, share: float = 1.0) -> Drawing:
        """The drawing that an element names.

        Raises:
            KeyError: the document carries no such drawing.
        """
        name = node.get("data-drawing")
        if name not in self.drawings:
            raise KeyError(f"line {node.line}: the document carries no drawing {name!r}")
        return Drawing(name, self.drawings[name], mark, look, share, self._pictures)

    def group(self, node: Node, look: Look, outer: Look, parent: Elem) -> list[Block]:
        """A group: a box, columns, or nothing to be seen."""
        elem = Elem(ROLES[node.tag], parent, language=own_language(node, outer))
        if "columns" in node.classes:
            inner: list[Block] = [self._columns(node, look, elem)]
        else:
            inner = self.flow(node.children, look, elem)
        if "box" not in node.classes:
            return inner
        if not inner:
            return []
        inner[0].before = inner[-1].after = 0.0
        # On a box of columns the class speaks of the columns.
        level: Level = "top" if "columns" in node.classes else _level(node)
        box = Box(Stack(inner), _frame(node, look), look, level)
        box.before = box.after = look.em("block")
        return [box]

    def _columns(self, node: Node, look: Look, elem: Elem) -> Block:
        stacks = []
        for child in node.elements():
            blocks = self.node(child, look, elem)
            stacks.append(Stack(blocks))
        shares = [float(v) for v in node.get("data-widths").split()] or [1.0] * len(stacks)
        gap = float(node.get("data-gap", str(SPACE["gutter"]))) * look.base
        return Columns(stacks, shares, gap, look, _level(node))


def _level(node: Node) -> Level:
    return "middle" if "middle" in node.classes else "bottom" if "bottom" in node.classes else "top"


def _frame(node: Node, look: Look) -> Frame:
    classes = node.classes
    pad = look.em("pad-tight" if "tight" in classes else "pad")
    radius = 0.0 if "square" in classes else 8.0
    side = "side-rule" in classes
    if "deadline" in classes:
        return Frame("leaf", None, 0.0, pad, radius, side)
    if "alarm" in classes:
        return Frame("alarm-pale", "alarm", LINE["box"], pad, radius, side)
    if "tint" in classes:
        return Frame("leaf-pale", "leaf" if side else None, 0.0, pad, radius, side)
    if "outline" in classes:
        return Frame(None, "ink", LINE["box"], pad, radius, side)
    return Frame(None, "leaf" if side else "hairline", LINE["rule"], pad, radius, side)


def _space_after(node: Node, look: Look) -> float:
    if node.tag in ("h2", "h3", "h4", "caption") or "display" in node.classes:
        return look.em("tight")
    if node.tag == "h1":
        return look.em("item")
    if "gloss" in node.classes or node.classes & {"lead", "caution"}:
        return look.em("hair")
    return look.em("paragraph")


def own_language(node: Node, outer: Look) -> str | None:
    """The element's language where it differs from what is around it."""
    language = node.get("lang")
    return language if language and language != outer.language else None


def _one_line(text: str) -> str:
    return " ".join(text.split())
