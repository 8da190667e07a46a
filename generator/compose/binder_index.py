"""The index of terms at the end of the binder.

Takes  protocols in the binder's order with their chapters' values, the `Book`, a `Writer`.
Gives  `index_pages`: entries in order of the alphabet, set in two columns a page.
Knows  what somebody looks up: materials, warning signs, sites, conditions, kinds of bandage, words; that an entry which leads
       to every procedure of a tab is read faster as the tab.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from markupsafe import Markup

from generator.compose.binder_words import BACK
from generator.compose.finder import Chapter
from generator.compose.glossary import GLOSSARY
from generator.compose.matrix import bandages_of
from generator.compose.tabs import APPENDICES, parts_of, sites_of, tab_of, tab_values
from generator.compose.writer import Writer
from generator.protocol.joining import blend
from generator.protocol.kinds import KINDS, SITES
from generator.protocol.model import Book, Protocol
from generator.source.problem import Refusal
from generator.source.span import Span

# Lines of a column, fewer of those beneath the title, letters of a line, what the space round an entry takes of a line: for a page that is never too long, at
# the price of one that is not quite full.
_LINES, _FIRST_LINES, _LETTERS, _SPACE = 44, 40, 41, 0.15
_ARTICLE = re.compile(r"^(?:an?|the) ")

Place = tuple[str, str]  # the id of a chapter, and of a protocol its slug, else ""


@dataclass(slots=True)
class Entry:
    """One line of the index: a term, a remark behind it, where it leads, the line of a file that it comes from."""

    term: str
    remark: str = ""
    slugs: set[str] = field(default_factory=set)
    appendices: list[str] = field(default_factory=list)
    span: Span | None = None

    @property
    def order(self) -> tuple[str, str, str]:
        return self.term.casefold(), self.term, self.remark


def index_entries(chapters: Sequence[Chapter], book: Book) -> list[Entry]:
    """Everything that can be looked up, in order of the alphabet; a term with the same remark stands once."""
    found: dict[tuple[str, str], Entry] = {}
    for term, remark, slug, appendix, span in _terms([protocol for protocol, _ in chapters], book):
        entry = found.setdefault((term, remark), Entry(term, remark, span=span))
        if slug:
            entry.slugs.add(slug)
        if appendix and appendix not in entry.appendices:
            entry.appendices.append(appendix)
    return sorted(found.values(), key=lambda entry: entry.order)


def index_pages(chapters: Sequence[Chapter], book: Book, w: Writer) -> list[list[dict[str, Any]]]:
    """What the index prints.

    Returns:
        Pages of two columns; each column its `groups`: a letter, whether it is continued from the column before, and rows of
        term, remark and where to look.
    """
    sops = {protocol.protocol: (protocol, sop) for protocol, sop in chapters}
    columns: list[dict[str, Any]] = []
    room, letter = 0.0, ""
    for entry in index_entries(chapters, book):
        where, length = _where(entry, sops, w)
        first = entry.term[0].upper()
        first = first if first.isalpha() else "Figures"
        lines = math.ceil((len(entry.term) + len(entry.remark) + length + 3) / _LETTERS) + _SPACE
        is_new = first != letter
        if lines + (1.5 if is_new else 0) > room:
            columns.append({"groups": [{"letter": first, "continued": not is_new, "rows": []}]})
            room = (_LINES if len(columns) > 2 else _FIRST_LINES) - 1.5
        elif is_new:
            columns[-1]["groups"].append({"letter": first, "continued": False, "rows": []})
            room -= 1.5
        letter = first
        room -= lines
        term = w.authored(entry.term, entry.span, "term")
        columns[-1]["groups"][-1]["rows"].append({"term": term, "remark": entry.remark, "where": where})
    return [columns[at : at + 2] for at in range(0, len(columns), 2)]


# ---- what can be looked up ---------------------------------------------------------------------------------------

Found = tuple[
    str, str, str, str, Span | None
]  # term, remark, slug of a protocol or "", id of an appendix or "", its line


def _terms(protocols: Sequence[Protocol], book: Book) -> Iterator[Found]:
    for word in GLOSSARY:
        yield word, "", "", "glossary", None
    for name, material in book.stock.items():
        yield name, "", "", "stock", material.spans.get("")
    for name, modifier in book.modifiers.items():
        yield name, "", "", "modifiers", modifier.spans.get("")
    for site in SITES:
        for protocol in protocols:
            if site in sites_of(protocol, book):
                yield site, "", protocol.protocol, "", protocol.spans.get("sites")
    for protocol in protocols:
        slug = protocol.protocol
        for one, layers in bandages_of(protocol, book):
            if one.kind in KINDS:
                yield KINDS[one.kind].words, "", slug, "", one.span("kind")
            for layer in layers:
                for laid in (layer.material, *layer.prefer):
                    if laid is not None and laid in book.stock:
                        yield laid, "", slug, "", layer.spans.get("material")
        for name in _signs(protocol, book):
            if name in book.signs:
                yield f"{name.replace('-', ' ')}", "warning sign", slug, "", book.signs[name].spans.get("")
        for case in protocol.use_when:
            yield _bare(case), "", slug, "", protocol.spans.get("use_when")
        for refrain in protocol.do_not_use_when:
            yield _bare(refrain.case), "do not use", slug, "", refrain.spans.get("case")


def _bare(case: str) -> str:
    """A case without its article, by which nobody looks it up."""
    return _ARTICLE.sub("", case)


def _signs(protocol: Protocol, book: Book) -> Iterable[str]:
    parts = parts_of(protocol, book)
    if parts:
        try:
            return blend(parts, protocol).signs
        except Refusal:  # parts that cannot be joined: the check has said so
            return protocol.signs
    return dict.fromkeys(name for one in (protocol, *protocol.stages.values()) for name in one.signs)


# ---- where it leads ----------------------------------------------------------------------------------------------


def _where(entry: Entry, sops: dict[str, Chapter], w: Writer) -> tuple[list[dict[str, Any]], int]:
    """Tab by tab, and about how many letters that takes on paper."""
    groups: list[dict[str, Any]] = []
    length = 0
    by_tab: dict[int, list[Chapter]] = {}
    for protocol, sop in sops.values():
        by_tab.setdefault(tab_of(protocol).number, []).append((protocol, sop))
    for every in by_tab.values():
        here = [(protocol, sop) for protocol, sop in every if protocol.protocol in entry.slugs]
        if not here:
            continue
        is_whole = len(here) == len(every) > 2
        listed = here[:1] if is_whole else here
        groups.append(
            {
                "tab": here[0][1]["tab"],
                "whole": is_whole,
                "places": [{"number": sop["held"], "id": sop["id"], "spoken": sop["spoken"]} for _, sop in listed],
            }
        )
        length += 4 + (10 if is_whole else sum(len(protocol.id) + 6 for protocol, _ in listed))
    if entry.appendices:
        groups.append(
            {
                "tab": tab_values(APPENDICES, w),
                "whole": False,
                "places": [
                    {"number": _named(id), "id": id, "spoken": f"page of {BACK[id]}"} for id in entry.appendices
                ],
            }
        )
        length += 4 + sum(len(_SHORT[id]) + 6 for id in entry.appendices)
    return groups, length


_SHORT = {"glossary": "glossary", "stock": "stock", "modifiers": "what tightens"}


def _named(id: str) -> Any:
    return lambda: Markup(_SHORT[id])
