"""Find the type size at which a document keeps to its pages.

Takes  a document's tree and the sizes it may be set in, largest first.
Gives  the fewest pages that any size can do with, at the first size that does.
Knows  full layouts only: heights are never guessed. Below the last size nothing is set; then it is `TooLong`.
"""

from __future__ import annotations

import sys
from bisect import bisect_left
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, partial
from itertools import pairwise
from math import inf

from generator.page.document import Document
from generator.page.tokens import BODY_SIZE
from generator.page.xhtml import Node, read
from generator.press.block import Block
from generator.press.figures import Made
from generator.press.pages import Pages, Unbreakable, place
from generator.press.prose import Prose
from generator.press.scopes import Laid, blocks_of, lay
from generator.source.span import Span

_ANY_NUMBER = sys.maxsize


class TooLong(ValueError):
    """A document needs more pages than it may have, even at its smallest size.

    size: points. needed: pages, None when one block is higher than a page. allowed: pages. block: id of the longest
    block that has a source, span: the line it came from; both None if no block of the document has one. words: how
    that block begins.
    """

    def __init__(
        self, size: float, needed: int | None, allowed: int, block: str | None, span: Span | None, words: str
    ) -> None:
        self.size = size
        self.needed = needed
        self.allowed = allowed
        self.block = block
        self.span = span
        self.words = words
        need = f"{needed} pages" if needed is not None else "more than a page for one block"
        where = f" ({span})" if span is not None else ""
        super().__init__(
            f"{need} at {size:g} pt where {allowed} may be; longest is {block or 'a block'}{where}: {words!r}"
        )


def fitted(document: Document) -> tuple[Pages, float]:
    """The pages of a document and the body size in points.

    A smaller size never needs more pages, so most sizes need no layout of their own: what the smallest cannot do, no
    other can, and between one that will do and one that will not the range is halved.

    Raises:
        OutsideVocabulary: the markup uses what no document may use.
        TooLong: no size will do.
        ValueError: no title, another language in the markup, sizes that do not step down.
    """
    tries = _tries(document)
    # A chapter starts a page: no size makes fewer pages than there are chapters.
    least, most = len(tries[0].laid.scopes), document.max_pages or _ANY_NUMBER
    for allowed in (least, most) if most == _ANY_NUMBER else range(min(least, most), most + 1):
        if tries[0].needed <= allowed or tries[-1].needed <= allowed:
            able = tries[_first(tries, partial(_Try.keeps_to, allowed=allowed)) :]
            best = _opening(able, document.first_page)
            return best.pages, best.size
    raise _too_long(tries[-1], document)


def _opening(able: Sequence[_Try], names: tuple[str, ...]) -> _Try:
    """The largest that has as many of the names on its first page as the smallest has, in their order."""
    if not names or able[0].opens_with(names):
        return able[0]
    while names and not able[-1].opens_with(names):
        names = names[:-1]
    return able[_first(able, partial(_Try.opens_with, names=names))]


def agree(document: Document, html: Node) -> None:
    """See that a document and its markup are of one mind.

    Raises:
        ValueError: no title, another language in the markup.
    """
    if html.get("lang") != document.language:
        raise ValueError(f"the document is in {document.language!r}, its markup says {html.get('lang')!r}")
    if not document.title.strip():
        raise ValueError("a document has a title: readers show it, and programs that read aloud say it first")


def _tries(document: Document) -> list[_Try]:
    html = read(document.xhtml)
    agree(document, html)
    sizes = document.fit or (own_size(html),)
    if any(b >= a for a, b in pairwise(sizes)):
        raise ValueError(f"sizes to try step down: {sizes}")
    made: Made = {}
    return [_Try(html, document, size, made) for size in sizes]


def _first(tries: Sequence[_Try], will_do: Callable[[_Try], bool]) -> int:
    """Of the largest that will do, if the last one does; the largest of all is laid out already and often will."""
    return 0 if will_do(tries[0]) else bisect_left(tries, True, lo=1, key=will_do)


class _Try:
    """A document at one size, laid out when first asked for."""

    def __init__(self, html: Node, document: Document, size: float, made: Made) -> None:
        self.size = size
        self._made = made
        self._html: Node | None = html
        self._document = document

    @cached_property
    def laid(self) -> Laid:
        # The markup is let go with the last size that is laid out: a long document has one size, and needs the room.
        html, self._html = self._html, None
        assert html is not None
        return lay(html, self._document.drawings, self.size, self._made)

    @cached_property
    def _placed(self) -> Pages | Unbreakable:
        try:
            pages = place(self.laid, self._document.paper)
        except Unbreakable as found:
            return found
        if not pages.pages:
            raise ValueError("the document has nothing to print")
        return pages

    @property
    def pages(self) -> Pages:
        assert isinstance(self._placed, Pages)
        return self._placed

    @property
    def stuck(self) -> Unbreakable | None:
        return self._placed if isinstance(self._placed, Unbreakable) else None

    def opens_with(self, names: tuple[str, ...]) -> bool:
        """Whether these stand on the first page; what is not printed at all stands nowhere else."""
        return all(self.pages.page_of.get(name, 1) == 1 for name in names)

    def keeps_to(self, allowed: float) -> bool:
        """Whether so many pages will do."""
        return self.needed <= allowed

    @property
    def needed(self) -> float:
        """How many pages; without end where one block is higher than a page."""
        return inf if self.stuck is not None else len(self.pages.pages)


def own_size(html: Node) -> float:
    """The body size in points that the markup asks for, else that of its kind of page."""
    body = html.elements("body")[0]
    kind = next(k for k in BODY_SIZE if k in body.classes)
    return float(body.get("data-size") or BODY_SIZE[kind])


def _too_long(smallest: _Try, document: Document) -> TooLong:
    laid, stuck, size = smallest.laid, smallest.stuck, smallest.size
    within = tuple(stuck.block.walk()) if stuck is not None else blocks_of(laid)
    found = _longest(within, document.sources) or _longest(blocks_of(laid), document.sources)
    needed = None if stuck is not None else len(smallest.pages.pages)
    allowed = document.max_pages or 1
    if found is None:
        return TooLong(size, needed, allowed, None, None, _words(within))
    block, name = found
    return TooLong(size, needed, allowed, name, document.sources[name], _words(tuple(block.walk())))


def _longest(blocks: Sequence[Block], sources: Mapping[str, Span]) -> tuple[Block, str] | None:
    """The block with a source that says most; the innermost where one holds another of the same length."""
    best: tuple[int, Block, str] | None = None
    for block in blocks:
        for name in block.ids:
            if name in sources:
                said = sum(len(inner.plain) for inner in block.walk() if isinstance(inner, Prose))
                if best is None or said >= best[0]:
                    best = said, block, name
    return None if best is None else (best[1], best[2])


def _words(blocks: Sequence[Block]) -> str:
    said = " ".join(block.plain for block in blocks if isinstance(block, Prose))
    return said if len(said) <= 60 else said[:57] + "..."
