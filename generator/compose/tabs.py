"""The tabs of the binder, and in what order chapters stand behind them.

Takes  protocols and their `Book`.
Gives  `TABS`, `tab_of`, `in_binder_order`, `tab_values`, `held`, `reference_values`; `parts_of` and `sites_of`, which a blend has from its parts.
Knows  which purpose stands behind which tab; nothing of pages.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from generator.compose.writer import Writer
from generator.protocol.kinds import SITES
from generator.protocol.model import Book, Protocol


@dataclass(frozen=True, slots=True)
class Tab:
    """One tab: its number, from 1, and what stands on it."""

    number: int
    words: str


# In figures: the letters A to F name the layers.
TABS = tuple(
    Tab(number, words)
    for number, words in enumerate(
        ("Support", "Wounds", "Bleeding", "Slings", "Covers", "Blends", "Appendices and forms"), 1
    )
)
_JOINED = "\N{WORD JOINER}"  # a number that is broken over two lines is read as another one
_BY_PURPOSE = dict(zip(("support", "wound", "haemorrhage", "sling", "cover"), TABS, strict=False))
BLENDS, APPENDICES = TABS[5], TABS[6]


def tab_of(protocol: Protocol) -> Tab:
    """The tab behind which a protocol stands."""
    return BLENDS if protocol.blend else _BY_PURPOSE[protocol.purpose]


def in_binder_order(protocols: Iterable[Protocol]) -> list[Protocol]:
    """By tab, then by the clinic's number."""
    return sorted(protocols, key=lambda protocol: (tab_of(protocol).number, protocol.id))


def tab_values(tab: Tab, writer: Writer) -> dict[str, Any]:
    """What a template says of a tab: its number, its words, its place among all (`2/7`, an attribute)."""
    return {
        "number": lambda: writer.number("tab", tab.number, str(tab.number)),
        "words": tab.words,
        "shown": lambda: Markup("{} {}").format(writer.number("tab", tab.number, str(tab.number)), tab.words),
        "place": f"{tab.number}/{len(TABS)}",
    }


def held(number: str) -> str:
    """A document number in one piece, wherever the line ends."""
    return number.replace("-", f"-{_JOINED}")


def reference_values(protocol: Protocol, writer: Writer) -> dict[str, Any]:
    """What a list that points at a chapter says of it besides what the chapter says: tab, number in one piece, link's words."""
    return {
        "tab": tab_values(tab_of(protocol), writer),
        "held": lambda: writer.authored(held(protocol.id), protocol.spans.get("id"), "id"),
        "spoken": f"page of {protocol.id}, {protocol.title}",
    }


def parts_of(protocol: Protocol, book: Book) -> tuple[Protocol, ...]:
    """The protocols a stored blend is made of, each at its stage; none for a protocol that stands alone."""
    found = []
    for name in protocol.blend:
        slug, _, stage = name.partition("@")
        part = book.protocols.get(slug)
        if part is not None:
            found.append(part.stages.get(stage, part))
    return tuple(found)


def sites_of(protocol: Protocol, book: Book) -> tuple[str, ...]:
    """Where it may go on, in the trade's order; a blend goes where all its parts may."""
    own = set(protocol.sites)
    parts = [set(part.sites) for part in parts_of(protocol, book)]
    if not own and parts:
        own = set.intersection(*parts)
    return tuple(site for site in SITES if site in own)
