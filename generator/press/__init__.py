"""Print a document: from closed XHTML to an accessible PDF, the same bytes every time.

Takes  a `Document`.
Gives  `press`, and `Pdf`: the file's bytes, its pages, the type size used and the page of every id.
Knows  the order of the steps: read, lay out and fit, paint, write; part by part where no number of pages is asked for. Heavy libraries load on the first call.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from generator.page.document import Document

if TYPE_CHECKING:
    from generator.press.canvas import TagCanvas
    from generator.press.fit import TooLong
    from generator.press.look import Look
    from generator.press.structure import Elem, UntaggedContent

__all__ = ["Pdf", "TooLong", "UntaggedContent", "press"]


@dataclass(frozen=True, slots=True)
class Pdf:
    """A printed document. size: of the body text, points. page_of: number of the page, from 1, of each id."""

    data: bytes
    pages: int
    size: float
    page_of: Mapping[str, int]


def press(document: Document) -> Pdf:
    """Print one document.

    Raises:
        OutsideVocabulary: the XHTML uses what no document may use; every fault with its line.
        TooLong: it does not keep to its pages even at its smallest size; names the longest block and its source.
        MissingGlyph: no font at hand has a character of the text.
        ValueError: no title, another language in the markup, nothing to print, a tab that says more than its place holds.
        UntaggedContent: a fault of the press itself, never of the document.
    """
    with _collector_at_rest():
        return _printed(document)


def _printed(document: Document) -> Pdf:
    """All that is made on the way goes when this returns, before the collector looks for it."""
    from generator.page.tokens import PAPERS
    from generator.press.canvas import TagCanvas

    def canvas_of(root: Elem, look: Look) -> TagCanvas:
        canvas = TagCanvas(
            root, PAPERS[document.paper], title=document.title, author=document.author, issued=document.issued
        )
        if look.kind == "binder":
            canvas.showOutline()
        return canvas

    if not (document.fit or document.max_pages or document.first_page):
        from generator.press.flowing import flow_through

        flowed = flow_through(document, canvas_of)
        return Pdf(flowed.canvas.finish(), flowed.pages, flowed.size, flowed.page_of)
    from generator.press.fit import fitted
    from generator.press.pages import paint

    pages, size = fitted(document)
    canvas = canvas_of(pages.laid.root, pages.laid.look)
    paint(pages, canvas)
    return Pdf(canvas.finish(), len(pages.pages), size, pages.page_of)


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """A binder's tree is all alive until the end: searching it for rubbish took a quarter of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def __getattr__(name: str) -> Any:
    if name == "TooLong":
        from generator.press.fit import TooLong

        return TooLong
    if name == "UntaggedContent":
        from generator.press.structure import UntaggedContent

        return UntaggedContent
    raise AttributeError(name)
