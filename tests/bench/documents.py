"""What the benchmarks print: sheets of many patients in two directions, and binders of any length.

Takes  the shipped book and its patients.
Gives  `Sheets` (a document for each new name), `right_to_left` (a sheet's document turned into Arabic words); `binder_book`, `compose` and
       `varied` for binders.
Knows  the composing functions; how text is changed without touching figures.

Nothing repeats that would not in a practice: every sheet has a name not used before. A binder longer than the shipped book takes its
protocols once more under other slugs and numbers, the words of each text in another order: whole sentences do not come twice, single words in table cells and figures do.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from functools import cache, cached_property, partial
from itertools import pairwise
from xml.etree import ElementTree
from zoneinfo import ZoneInfo

from generator import flow, opening
from generator.compose import binder as compose_binder
from generator.page.document import Document
from generator.protocol.model import Book, Protocol
from generator.source.text import read_tree
from tests.bench.yardstick import ROOT
from tests.press.text.lines import ISLAND, LINES

NOW = datetime(2027, 3, 13, 10, 40)
NAME = "Maple"
_SPACE = "http://www.w3.org/1999/xhtml"
_KEPT = frozenset(f"{{{_SPACE}}}{tag}" for tag in ("data", "time", "a", "title"))
_WORD = re.compile(r"[A-Za-z]+(?:['’][a-z]+)?")
_ARABIC = [word for word in re.split(r"[\s.()!]+", LINES["ar"].replace(ISLAND, " ")) if word]
_STARTS, _MIDDLES, _ENDS = ("Ma", "Ro", "Ti", "Be", "Lu", "Sa", "No", "Ki"), ("pl", "nt", "rv", "sk", "mb"), ("e", "o", "a", "i", "y")  # fmt: skip


class Sheets:
    """Owner's sheets of one bandage, each for an animal of another name."""

    def __init__(self) -> None:
        self._opened = opening.open_book(str(ROOT / "protocols"))
        self._chosen = flow.choose(self._opened, ["padded-limb-support"])
        self._text = (ROOT / "protocols" / "patients" / "maple.yaml").read_text(encoding="utf-8")
        self._names = (
            start + middle + end + "".join(more)
            for length in itertools.count()
            for more in itertools.product("lnrst", repeat=length)
            for start, middle, end in itertools.product(_STARTS, _MIDDLES, _ENDS)
            if start + middle + end + "".join(more) != NAME
        )

    def plan(self, name: str = "") -> tuple[str, object]:
        """The next name (or the one given), and the plan of that animal."""
        name = name or next(self._names)
        tree = read_tree(self._text.replace(f"name: {NAME}", f"name: {name}").encode(), "patient").tree
        assert tree is not None
        return name, flow.make_plan(self._opened, self._chosen, flow.patient_from(tree), NOW)

    def compose(self, plan: object) -> Document:
        """As `gauzeleaf sheet` does."""
        return flow.sheet(self._opened, plan, "en")  # type: ignore[arg-type]

    @cached_property
    def pattern(self) -> Document:
        """The sheet whose letters the yardstick draws."""
        return self.compose(self.plan(NAME)[1])


def right_to_left(document: Document, name: str) -> Document:
    """The same sheet with Arabic words of about the same length in place of its own; figures, links and drawings as they are.

    The words are those of one invented line, so fewer differ than in a real text. The animal has a new name of its own.
    """
    turn = itertools.count()
    letters = "بتسدرمنلكفق"
    number = sum(ord(letter) * 31**place for place, letter in enumerate(name))
    own = "".join(letters[number // 11**place % 11] for place in range(max(4, len(name))))

    def arabic(found: re.Match[str]) -> str:
        if found[0].startswith(name):
            return own
        near = sorted(_ARABIC, key=lambda word: abs(len(word) - len(found[0])))[:3]
        return near[next(turn) % 3]

    html = _changed(document.xhtml, lambda text: _WORD.sub(arabic, text))
    html.set("lang", "ar")
    return replace(document, xhtml=_written(html), language="ar", title=own)


@cache
def shipped() -> Book:
    """The book that lies in the repository."""
    return opening.open_book(str(ROOT / "protocols")).book


@cache
def _templates() -> Mapping[str, str]:
    return flow.templates_of(opening.open_book(str(ROOT / "protocols")))


@cache
def binder_book(chapters: int) -> Book:
    """The shipped book with the first so many protocols by number; past the last they begin again as copies."""
    book = shipped()
    ordered = sorted(book.protocols.values(), key=lambda protocol: protocol.id)
    taken: list[Protocol] = []
    for copy in range(-(-chapters // len(ordered))):
        taken += [_again(protocol, copy) if copy else protocol for protocol in ordered]
    taken = taken[:chapters]
    files = {protocol.file.rpartition("/")[2] for protocol in taken}
    left = {protocol.file.rpartition("/")[2] for protocol in ordered} - files
    digests = {name: digest for name, digest in book.digests.items() if name not in left}
    return replace(book, protocols={protocol.protocol: protocol for protocol in taken}, digests=digests)


def compose(book: Book) -> Document:
    """The binder of a book, as `gauzeleaf binder` composes it."""
    return compose_binder(book, _templates(), NOW.replace(tzinfo=ZoneInfo(book.clinic.time_zone)))


def varied(document: Document) -> Document:
    """A binder whose copied chapters say their words in another order, line by line."""
    html = _parsed(document.xhtml)
    for section in html.iter(f"{{{_SPACE}}}section"):
        copied = re.fullmatch(r"sop\..*-c(\d+)", section.get("id") or "")
        if copied:
            _change(section, partial(_turned, int(copied[1])))
    return replace(document, xhtml=_written(html))


def chapters_for(pages: int, page_of: Mapping[str, int], all_pages: int) -> int:
    """How many protocols make a binder of about so many pages, told by the pages of the shipped one."""
    starts = sorted(page_of[name] for name in page_of if re.fullmatch(r"sop\.[a-z0-9-]+", name))
    lengths = [second - first for first, second in pairwise([*starts, page_of["rules"]])]
    total, count = all_pages - sum(lengths), 0
    for length in itertools.cycle(lengths):
        if count and abs(total + length - pages) > abs(total - pages):
            return count
        total, count = total + length, count + 1
    raise AssertionError("a cycle has no end")


def _again(protocol: Protocol, copy: int) -> Protocol:
    slug, number = f"{protocol.protocol}-c{copy}", f"{protocol.id}-{copy}"
    stages = {key: replace(stage, protocol=slug, id=number) for key, stage in protocol.stages.items()}
    return replace(protocol, protocol=slug, id=number, stages=stages)


def _turned(by: int, text: str) -> str:
    """The same words, begun at another one."""
    words = text.split()
    by %= max(1, len(words))
    lead, tail = text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :]
    return lead + " ".join(words[by:] + words[:by]) + tail if words else text


def _parsed(xhtml: str) -> ElementTree.Element:
    ElementTree.register_namespace("", _SPACE)
    return ElementTree.fromstring(xhtml)


def _written(html: ElementTree.Element) -> str:
    return ElementTree.tostring(html, encoding="unicode")


def _changed(xhtml: str, change: Callable[[str], str]) -> ElementTree.Element:
    html = _parsed(xhtml)
    _change(html, change)
    return html


def _change(node: ElementTree.Element, change: Callable[[str], str]) -> None:
    """All text but that of figures and links."""
    if node.tag not in _KEPT:
        node.text = change(node.text) if node.text else node.text
        for child in node:
            _change(child, change)
    for child in node if node.tag not in _KEPT else ():
        child.tail = change(child.tail) if child.tail else child.tail
