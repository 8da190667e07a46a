"""Divide a laid-out document into pages, then paint them with their furniture.

Takes  `Laid`: scopes of measured blocks.
Gives  `Pages`: what stands where, with every page number known before anything is painted; then the canvas painted. For a
       document that is never whole: `place_scope` and `Painter`.
Knows  papers, margins and furniture. One walk to place and one to paint, however many pages there are.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass, field

from generator.page.tokens import BAR_AWAY, MARGINS, PAPERS, SPACE, Margins
from generator.press.block import PAGE_COUNT, Block, Pen, Stack, fill
from generator.press.canvas import TagCanvas
from generator.press.look import Look
from generator.press.scopes import Laid, Scope
from generator.press.structure import Artifact
from generator.press.tabs import edge_of

_HEADER = Artifact("Pagination", "Header")
_FOOTER = Artifact("Pagination", "Footer")
_TAB = Artifact("Pagination")  # ISO 32000-1, table 330, names no part of a page at its side


class Unbreakable(ValueError):
    """A block higher than a whole page that cannot be divided."""

    def __init__(self, block: Block, height: float, room: float) -> None:
        self.block = block
        super().__init__(f"a block {height:.0f} pt high cannot be divided, and a page has {room:.0f} pt")


@dataclass(slots=True)
class Page:
    """One page: blocks with their distance from the top of the live area; none on a blank page."""

    scope: Scope
    blocks: list[tuple[Block, float]]
    number: int
    chapter_page: int
    chapter_pages: int = 0


@dataclass(slots=True)
class Pages:
    """A document placed on pages."""

    laid: Laid
    paper: str
    pages: list[Page] = field(default_factory=list)
    page_of: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Area:
    """The live area of a page, and where the furniture starts."""

    left: float
    width: float
    top: float
    bottom: float
    header_top: float
    band_top: float
    footer_top: float
    band_gap: float


def place(laid: Laid, paper: str) -> Pages:
    """Put every block on a page.

    Raises:
        Unbreakable: a block higher than a page.
        ValueError: a link into furniture or into what is not printed.
    """
    out = Pages(laid, paper)
    for scope in laid.scopes:
        out.pages += place_scope(scope, laid.look, paper, len(out.pages), out.page_of)
    lost = laid.targets - out.page_of.keys()
    if lost:
        raise Lost(lost)
    return out


class Lost(ValueError):
    """A link goes into furniture or into what is not printed."""

    def __init__(self, names: Iterable[str]) -> None:
        super().__init__(f"a link goes where nothing is printed: {', '.join(sorted(names))}")


def place_scope(scope: Scope, look: Look, paper: str, before: int, page_of: dict[str, int]) -> list[Page]:
    """The pages of a scope, a blank one first where it starts on the right; page_of learns where its ids stand.

    Args:
        before: number of pages before it.
    Raises:
        Unbreakable: a block higher than a page.
    """
    blank = [Page(scope, [], before + 1, 0, 0)] if scope.right_hand and before % 2 == 1 else []
    first, rest, pages = before + len(blank), list(scope.blocks), list[Page]()
    while rest:
        area = _area(scope, look, paper, first + len(pages) + 1)
        done = fill(rest, area.width, area.top - area.bottom, whole_page=True)
        if not done.taken:
            raise Unbreakable(rest[0], rest[0].height(area.width), area.top - area.bottom)
        pages.append(Page(scope, done.taken, first + len(pages) + 1, len(pages) + 1))
        rest = done.rest
    for page in pages:
        page.chapter_pages = len(pages)
        for block, _ in page.blocks:
            for inner in block.walk():
                for name in inner.ids:
                    page_of.setdefault(name, page.number)
    return blank + pages


def _area(scope: Scope, look: Look, paper: str, number: int) -> _Area:
    width, height = PAPERS[paper]
    margins: Margins = MARGINS[look.kind]
    # The binding edge is left on odd pages; a mirrored page has it right.
    turned = margins.mirrored and number % 2 == 0
    left = margins.outer if turned else margins.binding
    live = width - margins.binding - margins.outer
    gap = SPACE["block"] * look.base
    top = height - margins.top
    band_top = top
    for band in scope.bands:
        top -= band.height(live) + 0.6 * gap
    header_top = top
    if scope.header.blocks:
        top -= scope.header.height(live) + gap
    footer = scope.footer.height(live)
    bottom = margins.bottom + (footer + gap if scope.footer.blocks else 0.0)
    return _Area(left, live, top, bottom, header_top, band_top, margins.bottom + footer, 0.6 * gap)


def paint(pages: Pages, canvas: TagCanvas) -> None:
    """Paint every page, once: what has been painted is let go, so that a long document makes room for its own file."""
    painter = Painter(canvas, pages.laid.look, pages.paper, pages.laid.targets, pages.page_of)
    painter.count = len(pages.pages)
    for scope in pages.laid.scopes:
        scope.blocks.clear()  # the pages have them
    for page in pages.pages:
        painter.paint(page)


class Painter:
    """Paints placed pages. page_of: pages of ids, which may still grow; count: of all pages, None while nobody knows."""

    def __init__(
        self, canvas: TagCanvas, look: Look, paper: str, targets: Container[str], page_of: dict[str, int]
    ) -> None:
        self.page_of = page_of
        self.count: int | None = None
        self._canvas = canvas
        self._look = look
        self._paper = paper
        self._targets = targets

    def paint(self, page: Page) -> None:
        """Paint one page and let its blocks go.

        While `count` is not known, what is repeated waits for it on the canvas; nothing else of the page may ask for it.
        """
        canvas, scope, margins = self._canvas, page.scope, MARGINS[self._look.kind]
        area = _area(scope, self._look, self._paper, page.number)
        turned = margins.mirrored and page.number % 2 == 0
        pen = Pen(
            canvas,
            self._counters(page),
            self.page_of,
            self._targets,
            outer=area.left - BAR_AWAY if turned else area.left + area.width + BAR_AWAY,
        )
        if page.blocks:
            self._furniture(pen, page, area)
            if scope.tab is not None:
                with canvas.repeated(_TAB):
                    scope.tab.show(pen, edge_of(PAPERS[self._paper], margins, turned=turned))
        for block, offset in page.blocks:
            block.show(pen, area.left, area.top - offset, area.width, block.height(area.width))
        if page.blocks and scope.footer.blocks:
            _repeat(pen, scope.footer, area.left, area.footer_top, area.width, _FOOTER)
        canvas.end_page(page.number)
        page.blocks.clear()

    def _counters(self, page: Page) -> dict[str, int]:
        known = {
            "page-number": page.number,
            "chapter-page": page.chapter_page,
            "chapter-pages": page.chapter_pages,
        }
        return known if self.count is None else {**known, PAGE_COUNT: self.count}

    def _furniture(self, pen: Pen, page: Page, area: _Area) -> None:
        scope, top = page.scope, area.band_top
        for band in scope.bands:
            height = band.height(area.width)
            if page.chapter_page == 1 and band in scope.unsaid:
                band.show(pen, area.left, top, area.width, height)
            else:
                _repeat(pen, band, area.left, top, area.width, _HEADER)
            top -= height + area.band_gap
        if scope.header.blocks:
            _repeat(pen, scope.header, area.left, area.header_top, area.width, _HEADER)


def _repeat(pen: Pen, stack: Stack, left: float, top: float, width: float, artifact: Artifact) -> None:
    with pen.canvas.repeated(artifact):
        stack.show(pen, left, top, width, stack.height(width))
