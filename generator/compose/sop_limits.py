"""A protocol's limits as a table, each with what to do outside it and on whose word it stands.

Takes  limits, their sources, a `Writer`.
Gives  `limit_rows_of`, `limit_cells`, `source_words`, `cited`.
Knows  that no limit stands without a source, and no number without its line in the list of sources.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from markupsafe import Markup, escape

from generator.compose.card_limits import limit_words, unbroken
from generator.compose.writer import Writer
from generator.protocol.citations import CITATIONS
from generator.protocol.model import Book, Limits, Protocol, Source
from generator.protocol.quantity import Window

LIMIT_NAMES = {
    "first_check": "First check", "check_every": "Looked at", "change_every": "Changed", "recheck_every": "Rechecked by staff",
    "release": "Released", "remove_by": "Off for good", "remove_when": "Off for good when", "supervised": "Always watched", "go_home": "May go home",
}  # fmt: skip
# What to do outside a limit: each limit says it, so that nobody has to think it up at the table.
_OUTSIDE = {
    "first_check": "late: look now, write down why; early: look again",
    "check_every": "missed: look now, write down why",
    "change_every": "late: open it, call the clinician; early on any sign",
    "recheck_every": "late: recheck today, write down why",
    "release": "past it: release, call the clinician",
    "remove_by": "past it: take it off, call the clinician",
    "remove_when": "in doubt: ask the clinician",
    "supervised": "nobody free: do not apply it",
    "go_home": "owner insists: call the clinician",
}
_GOES_HOME = "owner cannot look after it: admit"
# Decisions, not figures: whoever signs the protocol answers for them.
_DECISIONS = frozenset({"supervised", "go_home"})
_ANY_TIME = "any time"
_UNSOURCED = "no source given"
# How far a source was read, where it was not the passage itself.
_SEEN = {
    "abstract": "only its abstract was read",
    "title": "only its title was seen",
    "secondary": "as another source cites it",
    "memory": "from memory",
}


def limit_rows_of(limits: Limits, sources: Mapping[str, Source], w: Writer) -> Iterator[dict[str, Any]]:
    for key, name in LIMIT_NAMES.items():
        value = getattr(limits, key)
        # That nobody watches a bandage all the time goes without saying; that it must be watched never does.
        if value is None or (key, value) == ("supervised", False):
            continue
        source = sources.get(key)
        low, high = _ends(key, value, limits, w)
        yield {
            "name": name, "low": low, "high": high,
            "outside": _GOES_HOME if (key, value) == ("go_home", True) else _OUTSIDE[key], "source": source_words(source, w) if source else escape(_UNSOURCED if key not in _DECISIONS else "clinic's own rule"),
        }  # fmt: skip


def _ends(key: str, value: Any, limits: Limits, w: Writer) -> tuple[Markup | None, Markup]:
    """From when and by when; a lone figure is only an upper end. Of what is no range of time there is but the one."""
    if key == "remove_when":
        return None, w.authored(value, limits.spans.get(key), "limit")
    if key in _DECISIONS:
        return None, _bound(key, limit_words(key, value), limits, w)
    if isinstance(value, Window):
        low, _, high = str(value).rpartition(" to ")
        return _bound(key, low, limits, w) if low else escape(_ANY_TIME), _bound(key, high, limits, w)
    return escape(_ANY_TIME), _bound(key, limit_words(key, value), limits, w)


def _bound(key: str, shown: str, limits: Limits, w: Writer) -> Markup:
    return w.number(f"limit.{key}", shown, unbroken(shown), limits.spans.get(key))


def limit_cells(limits: Limits, w: Writer) -> list[Markup]:
    """Each limit of a set as `changed 3 d to 4 d`."""
    cells = []
    for key, name in LIMIT_NAMES.items():
        value = getattr(limits, key)
        if value is not None:
            shown = limit_words(key, value)
            cells.append(Markup("{} {}").format(name.lower(), w.number(f"limit.{key}", shown, unbroken(shown))))
    return cells


def source_words(source: Source, w: Writer) -> Markup:
    """`published [3]`, each number that of the list of sources; or the house's word."""
    if not source.published:
        return escape(source.word)
    return Markup("published {}").format(Markup(", ").join(w.number("source", n, f"[{n}]") for n in source.published))


def cited(every: tuple[Protocol, ...], book: Book, w: Writer, besides: Iterable[int] = ()) -> list[dict[str, Any]]:
    """The published sources that limits and signs name, and others named besides, by their number; nothing dangling, nothing twice."""
    named = [source for one in every for source in one.sources.values()]
    named += [
        sign.source
        for one in every
        for key in one.signs
        if (sign := book.signs.get(key)) is not None and sign.source is not None
    ]
    return citation_rows({n for source in named for n in source.published} | set(besides), w)


def citation_rows(numbers: Iterable[int], w: Writer) -> list[dict[str, Any]]:
    """Lines of a list of sources: number, text, and how far it was read where that was not the passage itself."""
    return [
        {"number": w.number("cited", n, f"[{n}]"), "text": w.authored(CITATIONS[n].text if n in CITATIONS else "not in the table of sources", None, "citation"),
         "seen": _SEEN.get(CITATIONS[n].seen, "") if n in CITATIONS else ""}
        for n in sorted(numbers)
    ]  # fmt: skip
