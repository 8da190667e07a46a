"""Divide a document into runs of pages with the same furniture: chapters, and what stands between them.

Takes  a document's tree, its drawings by id, and a body size in points.
Gives  `Laid`: the scopes, each with its blocks and furniture, and the root of the structure tree.
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
    """A run of pages with the same furniture: a chapter, or what stands between chapters."""

    blocks: list[Block]
    header: Stack
    footer: Stack
    bands: tuple[Stack, ...]
    right_hand: bool = False
    tab: Tab | None = None


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
    kind = next(k for k in ("sheet", "card", "binder") if k in body.classes)
    look = look_of(body, look_of(html, first_look(kind, size, html.get("lang"))))
    targets = frozenset(n.get("href")[1:] for n in html.walk() if n.get("href").startswith("#"))
    root = Elem("Document", language=html.get("lang"))
    return Laid(_scopes(Layer(drawings, made), body, look, root), root, look, targets)


@dataclass(slots=True)
class _Furniture:
    header: Stack
    footer: Stack
    bands: tuple[Stack, ...] = ()
    tab: Tab | None = None


def _scopes(layer: Layer, body: Node, look: Look, root: Elem) -> list[Scope]:
    """The body's own pages and each chapter's, in order."""
    division = _Division(layer, _furniture(layer, body, look, root, _Furniture(Stack([]), Stack([]))))
    division.visit(body, look, root)
    division.close()
    return division.found


class _Division:
    """The walk from the body to its chapters."""

    def __init__(self, layer: Layer, default: _Furniture) -> None:
        self.found: list[Scope] = []
        self._layer = layer
        self._default = default
        self._loose: list[Block] = []
        self._pending: list[str] = []  # ids of the groups just entered

    def close(self) -> None:
        """What stands before a chapter has pages of its own."""
        if self._loose:
            default = self._default
            self.found.append(Scope(self._loose, default.header, default.footer, default.bands, tab=default.tab))
            self._loose = []

    def visit(self, node: Node, outer: Look, elem: Elem) -> None:
        """All inside a node that is no chapter itself."""
        for child in node.elements():
            if _is_furniture(child):
                continue
            inner = look_of(child, outer)
            if "chapter" in child.classes:
                self.close()
                self.found.append(_chapter(self._layer, child, inner, elem, self._default))
                _at_start(self.found[-1].blocks, self._pending)
            elif any("chapter" in n.classes for n in child.walk()):
                self._pending.extend([child.id] if child.id is not None else [])
                self.visit(child, inner, Elem(ROLES[child.tag], elem, language=own_language(child, outer)))
            else:
                blocks = self._layer.node(child, outer, elem)
                _at_start(blocks, self._pending)
                self._loose.extend(blocks)


def _chapter(layer: Layer, node: Node, look: Look, elem: Elem, default: _Furniture) -> Scope:
    inner = Elem(ROLES[node.tag], elem, language=node.attributes.get("lang"))
    own = _furniture(layer, node, look, inner, default)
    blocks = layer.flow([c for c in node.children if isinstance(c, Text) or not _is_furniture(c)], look, inner)
    _at_start(blocks, [node.id] if node.id is not None else [])
    return Scope(blocks, own.header, own.footer, own.bands, "right-hand" in node.classes, own.tab)


def _furniture(layer: Layer, node: Node, look: Look, elem: Elem, outer: _Furniture) -> _Furniture:
    found = replace(outer)
    for child in node.elements():
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
