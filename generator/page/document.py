"""A document ready for the press or the browser.

Takes  nothing: it is a plain value, made by `compose` and read by `press`.
Gives  `Document`: closed XHTML, its drawings by id, and the way back to figures and YAML lines.
Knows  nothing of fonts, pages or how a figure was reckoned.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from generator.page.paths import Measure, Picture
from generator.source.span import Span

# A drawing is made at press time, for the width it is given (points) and with the press's own measure.
Draw = Callable[[float, Measure], Picture]


@dataclass(frozen=True, slots=True)
class Document:
    """One document, complete.

    xhtml: the closed subset of `page/xhtml.py`, UTF-8 text with one root `html` element.
    language: BCP 47 tag of the main text. title: shown by readers, also the PDF's title.
    issued: aware; the only moment that reaches the file's metadata.
    paper: "a4" or "letter". fit: sizes in points to try, largest first; empty means one fixed size, flowing pages.
    max_pages: most pages a fitted document may take. first_page: ids of what should stand on the first page, what
    matters most first: all is set smaller to stand there, if one of the sizes can do it; else as much as can.
    drawings: by the id that `<figure data-drawing="id">` names.
    sources: by the id of a block, the YAML line it came from, for "too long" messages.
    beside: a second language that it speaks, or "". is_draft: some of its words await a qualified person's signature.
    """

    xhtml: str
    title: str
    language: str
    issued: datetime
    author: str = ""
    paper: str = "a4"
    fit: tuple[float, ...] = ()
    max_pages: int | None = None
    first_page: tuple[str, ...] = ()
    drawings: Mapping[str, Draw] = field(default_factory=dict)
    sources: Mapping[str, Span] = field(default_factory=dict)
    beside: str = ""
    is_draft: bool = False
