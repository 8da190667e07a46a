"""Divide a laid-out document into pages, then paint them with their furniture.

Takes  `Laid`: scopes of measured blocks.
Gives  `Pages`: what stands where, with every page number known before anything is painted; then the canvas painted.
Knows  papers, margins and furniture. One walk to place and one to paint, however many pages there are.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from generator.page.tokens import BAR_AWAY, MARGINS, PAPERS, SPACE, Margins
from generator.press.block import Block, Pen, Stack, fill
from generator.press.canvas import TagCanvas
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
        if scope.right_hand and len(out.pages) % 2 == 1:
            out.pages.append(Page(scope, [], len(out.pages) + 1, 0, 0))
        _place_scope(out, scope)
    for page in out.pages:
        for block, _ in page.blocks:
            for inner in block.walk():
                for name in inner.ids:
                    out.page_of.setdefault(name, page.number)
    lost = laid.targets - out.page_of.keys()
    if lost:
        raise ValueError(f"a link goes where nothing is printed: {', '.join(sorted(lost))}")
    return out


def _place_scope(out: Pages, scope: Scope) -> None:
    first, rest = len(out.pages), list(scope.blocks)
    while rest:
        area = _area(out, scope, len(out.pages) + 1)
        done = fill(rest, area.width, area.top - area.bottom, whole_page=True)
        if not done.taken:
            raise Unbreakable(rest[0], rest[0].height(area.width), area.top - area.bottom)
        out.pages.append(Page(scope, done.taken, len(out.pages) + 1, len(out.pages) + 1 - first))
        rest = done.rest
    for page in out.pages[first:]:
        if page.chapter_page:
            page.chapter_pages = len(out.pages) - first


def _area(out: Pages, scope: Scope, number: int) -> _Area:
    width, height = PAPERS[out.paper]
    look = out.laid.look
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
    seen: set[int] = set()
    margins = MARGINS[pages.laid.look.kind]
    for scope in pages.laid.scopes:
        scope.blocks.clear()  # the pages have them
    for page in pages.pages:
        area = _area(pages, page.scope, page.number)
        right = area.left + area.width
        turned = margins.mirrored and page.number % 2 == 0
        pen = Pen(
            canvas,
            _counters(page, len(pages.pages)),
            pages.page_of,
            pages.laid.targets,
            outer=area.left - BAR_AWAY if turned else right + BAR_AWAY,
        )
        if page.blocks:
            _paint_furniture(pen, page.scope, area, seen)
            if page.scope.tab is not None:
                with canvas.repeated(_TAB):
                    page.scope.tab.show(pen, edge_of(PAPERS[pages.paper], margins, turned=turned))
        for block, offset in page.blocks:
            block.show(pen, area.left, area.top - offset, area.width, block.height(area.width))
        if page.blocks and page.scope.footer.blocks:
            _repeat(pen, page.scope.footer, area.left, area.footer_top, area.width, _FOOTER)
        canvas.showPage()
        page.blocks.clear()


def _counters(page: Page, count: int) -> dict[str, int]:
    return {
        "page-number": page.number,
        "page-count": count,
        "chapter-page": page.chapter_page,
        "chapter-pages": page.chapter_pages,
    }


def _paint_furniture(pen: Pen, scope: Scope, area: _Area, seen: set[int]) -> None:
    top = area.band_top
    for band in scope.bands:
        height = band.height(area.width)
        if id(band) in seen:
            _repeat(pen, band, area.left, top, area.width, _HEADER)
        else:
            seen.add(id(band))
            band.show(pen, area.left, top, area.width, height)
        top -= height + area.band_gap
    if scope.header.blocks:
        _repeat(pen, scope.header, area.left, area.header_top, area.width, _HEADER)


def _repeat(pen: Pen, stack: Stack, left: float, top: float, width: float, artifact: Artifact) -> None:
    with pen.canvas.repeated(artifact):
        stack.show(pen, left, top, width, stack.height(width))
