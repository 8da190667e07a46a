"""Divide a document into runs of pages with the same furniture: chapters, and what stands between them.

Takes  a document's tree, its drawings by id, and a body size in points.
Gives  `Laid`: the scopes, each with its blocks and furniture, and the root of the structure tree; `Division`: the same scopes
       one by one, of a document that is never whole.
Knows  bodies, chapters, running heads and feet, bands, tabs; the blocks inside are laid by `lay.Layer`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from generator.page.document import Draw
from generator.page.xhtml import Node, Text
from generator.press.block import Block, Stack
from generator.press.box import Box, Frame
from generator.press.figures import Made
from generator.press.lay import Layer, own_language
from generator.press.look import Look, first_look, look_of
from generator.press.structure import ROLES, Elem
from generator.press.tabs import Tab, tab_of


@dataclass(slots=True)
class Scope:
    """A run of pages with the same furniture: a chapter, or what stands between chapters.

    unsaid: those of its bands that no page before it has. part: its element of the tree and the one that is in, of a chapter.
    """

    blocks: list[Block]
    header: Stack
    footer: Stack
    bands: tuple[Stack, ...]
    unsaid: tuple[Stack, ...] = ()
    right_hand: bool = False
    tab: Tab | None = None
    part: tuple[Elem, Elem] | None = None


@dataclass(slots=True)
class Laid:
    """A whole document, measured but not placed."""

    scopes: list[Scope]
    root: Elem
    look: Look
    targets: frozenset[str]


def lay(html: Node, drawings: Mapping[str, Draw], size: float, made: Made | None = None) -> Laid:
    """Lay out one document at a body size.

    Args:
        made: pictures made already, and room for more.
    Raises:
        KeyError: a figure names a drawing that the document does not carry.
        MissingGlyph: no font at hand has a character of the text.
    """
    body = html.elements("body")[0]
    look = look_of_body(html, size)
    targets = frozenset(n.get("href")[1:] for n in html.walk() if n.get("href").startswith("#"))
    root = Elem("Document", language=html.get("lang"))
    division = Division(Layer(drawings, made), look, root)
    scopes = [scope for child in body.elements() for scope in division.add(child)]
    return Laid([*scopes, *division.close()], root, look, targets)


def look_of_body(html: Node, size: float) -> Look:
    """What everything in the body inherits."""
    body = html.elements("body")[0]
    kind = next(k for k in ("sheet", "card", "binder") if k in body.classes)
    return look_of(body, look_of(html, first_look(kind, size, html.get("lang"))))


@dataclass(slots=True)
class _Furniture:
    header: Stack
    footer: Stack
    bands: tuple[Stack, ...] = ()
    tab: Tab | None = None


class Division:
    """The walk from what stands straight in the body to its chapters: the body's own pages and each chapter's, in order.

    look, root: of the body.
    """

    def __init__(self, layer: Layer, look: Look, root: Elem) -> None:
        self._layer = layer
        self._look = look
        self._root = root
        self._default = _Furniture(Stack([]), Stack([]))
        self._said: list[Stack] = []  # bands of the whole document that a page has
        self._loose: list[Block] = []
        self._pending: list[str] = []  # ids of the groups just entered

    def add(self, child: Node) -> list[Scope]:
        """The scopes that are complete with this child of the body."""
        if _is_furniture(child):
            self._default = _furniture(self._layer, (child,), self._look, self._root, self._default)
            return []
        found: list[Scope] = []
        self._visit(child, self._look, self._root, found)
        return found

    def close(self) -> list[Scope]:
        """What stands before a chapter, or after the last, has pages of its own."""
        loose, self._loose, default = self._loose, [], self._default
        if not loose:
            return []
        return [Scope(loose, default.header, default.footer, default.bands, self._unsaid(default), tab=default.tab)]

    def _unsaid(self, own: _Furniture) -> tuple[Stack, ...]:
        """Bands of a scope, when it comes, that none before it had."""
        found = tuple(band for band in own.bands if band not in self._said)
        self._said = list(self._default.bands)
        return found

    def _visit(self, child: Node, outer: Look, elem: Elem, found: list[Scope]) -> None:
        inner = look_of(child, outer)
        if "chapter" in child.classes:
            found += self.close()
            found.append(self._chapter(child, inner, elem))
            _at_start(found[-1].blocks, self._pending)
        elif any("chapter" in n.classes for n in child.walk()):
            self._pending.extend([child.id] if child.id is not None else [])
            group = Elem(ROLES[child.tag], elem, language=own_language(child, outer))
            for below in child.elements():
                self._visit(below, inner, group, found)
        else:
            blocks = self._layer.node(child, outer, elem)
            _at_start(blocks, self._pending)
            self._loose.extend(blocks)

    def _chapter(self, node: Node, look: Look, elem: Elem) -> Scope:
        inner = Elem(ROLES[node.tag], elem, language=node.attributes.get("lang"))
        own = _furniture(self._layer, node.elements(), look, inner, self._default)
        blocks = self._layer.flow(
            [c for c in node.children if isinstance(c, Text) or not _is_furniture(c)], look, inner
        )
        _at_start(blocks, [node.id] if node.id is not None else [])
        right_hand, unsaid = "right-hand" in node.classes, self._unsaid(own)
        return Scope(blocks, own.header, own.footer, own.bands, unsaid, right_hand, own.tab, (inner, elem))


def _furniture(layer: Layer, children: Sequence[Node], look: Look, elem: Elem, outer: _Furniture) -> _Furniture:
    found = replace(outer)
    for child in children:
        # Furniture stands outside the tree: it is repeated on every page. Only a band is read aloud, once.
        if child.tag == "header" and "running" in child.classes:
            found.header = Stack(layer.group(child, look_of(child, look).step("fine"), look, Elem("Sect")))
        elif child.tag == "footer" and "running" in child.classes:
            found.footer = Stack(layer.group(child, look_of(child, look).step("fine"), look, Elem("Sect")))
        elif "band" in child.classes:
            said = Elem("Sect", elem, language=own_language(child, look))
            found.bands = (*found.bands, Stack([_band(layer, child, look_of(child, look), said)]))
        elif "tab" in child.classes:
            found.tab = tab_of(layer, child, look_of(child, look))
    return found


def _band(layer: Layer, node: Node, look: Look, elem: Elem) -> Block:
    tone = next((t for t in ("alarm", "leaf") if t in node.classes), "ink")
    inner = look.step("small")._replace(colour="white", accent="white", bold=True, align="center", measured=False)
    frame = Frame(tone, None, 0.0, 0.35 * look.base, radius=3.0)
    return Box(Stack(layer.flow(node.children, inner, elem)), frame, look)


def _at_start(blocks: list[Block], ids: list[str]) -> None:
    """Give the first block the ids of what it opens; they are then used up."""
    if blocks and ids:
        blocks[0].ids = (*ids, *blocks[0].ids)
        ids.clear()


def _is_furniture(node: Node) -> bool:
    return bool(node.classes & {"running", "band", "tab"})


def blocks_of(laid: Laid) -> Sequence[Block]:
    """Every block of the document's content, outermost first."""
    return [inner for scope in laid.scopes for block in scope.blocks for inner in block.walk()]
