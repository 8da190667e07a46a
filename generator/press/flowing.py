"""Print a document of one size part by part: each chapter is read, laid out, placed, painted and let go.

Takes  a `Document` that no number of pages is asked of, and what makes a canvas.
Gives  `flow_through`: its canvas painted, its pages counted.
Knows  which chapters must wait: those that print the page of something later (a list of contents). They are kept, with their
       page numbers, and painted when all is placed; what only repeats (binder page x of y) waits on the canvas.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.page.document import Document
from generator.page.xhtml import read_parts
from generator.press.block import PAGE_COUNT, Block
from generator.press.canvas import TagCanvas
from generator.press.figures import Made
from generator.press.fit import agree, fitted, own_size
from generator.press.lay import Layer
from generator.press.look import Look
from generator.press.pages import Lost, Page, Painter, Unbreakable, place_scope
from generator.press.scopes import Division, Scope, look_of_body
from generator.press.structure import Elem

# Whatever may be the target of a link; what only looks like one in a text names no place.
_TARGET = re.compile(r"""href\s*=\s*["']#([^"'<]+)["']""")


@dataclass(frozen=True, slots=True)
class Flowed:
    """A painted document. size: of the body text, points. page_of: number of the page, from 1, of each id."""

    canvas: TagCanvas
    pages: int
    size: float
    page_of: dict[str, int]


def flow_through(document: Document, canvas_of: Callable[[Elem, Look], TagCanvas]) -> Flowed:
    """Print a document whose pages nobody limits.

    Raises:
        OutsideVocabulary: the markup uses what no document may use.
        TooLong: a block is higher than a page.
        ValueError: as `agree` does; nothing to print; a link into what is not printed.
    """
    try:
        return _Flow(document, canvas_of).run()
    except Unbreakable:
        fitted(document)  # which finds it too, and says which lines of which file are too long
        raise


class _Flow:
    def __init__(self, document: Document, canvas_of: Callable[[Elem, Look], TagCanvas]) -> None:
        self._document = document
        self._canvas_of = canvas_of
        self._made: Made = {}
        self._count = 0
        self._asked: set[str] = set()
        self._kept: list[tuple[list[Page], Scope]] = []

    def run(self) -> Flowed:
        document = self._document
        division: Division | None = None
        for html, part in read_parts(document.xhtml):
            if division is None:
                agree(document, html)
                size = own_size(html)
                look, root = look_of_body(html, size), Elem("Document", language=html.get("lang"))
                canvas = self._canvas_of(root, look)
                painter = Painter(canvas, look, document.paper, frozenset(_TARGET.findall(document.xhtml)), {})
                division = Division(Layer(document.drawings, self._made), look, root)
            for scope in division.add(part):
                self._take(scope, look, painter, canvas)
        for scope in division.close() if division is not None else ():
            self._take(scope, look, painter, canvas)
        if not self._count:
            raise ValueError("the document has nothing to print")
        self._end(painter, canvas)
        return Flowed(canvas, self._count, size, painter.page_of)

    def _take(self, scope: Scope, look: Look, painter: Painter, canvas: TagCanvas) -> None:
        """Place a scope; paint it if it can be."""
        pages = place_scope(scope, look, self._document.paper, self._count, painter.page_of)
        self._count += len(pages)
        asked = {name for block in (*scope.blocks, *scope.bands) for name in _asks(block)}
        scope.blocks.clear()  # the pages have them
        repeated = {name for stack in (scope.header, scope.footer) for name in _asks(stack)}
        self._asked |= asked | repeated
        if asked <= painter.page_of.keys():
            _paint(pages, scope, painter, canvas)
        else:
            self._kept.append((pages, scope))
        self._made.clear()

    def _end(self, painter: Painter, canvas: TagCanvas) -> None:
        """Paint all that waited: every page has its number now."""
        painter.count = self._count
        lost = (self._asked | canvas.targets()) - painter.page_of.keys() - {PAGE_COUNT}
        if lost:
            raise Lost(lost)
        for pages, scope in self._kept:
            _paint(pages, scope, painter, canvas)
        canvas.fill(self._count)


def _paint(pages: list[Page], scope: Scope, painter: Painter, canvas: TagCanvas) -> None:
    """Paint a scope and write its part of the tree."""
    for page in pages:
        painter.paint(page)
    if scope.part is not None:
        canvas.let_go(*scope.part)


def _asks(block: Block) -> Iterator[str]:
    for inner in block.walk():
        yield from inner.asks()
