"""A protocol's limits as a table, each with what to do outside it and on whose word it stands.

Takes  limits, their sources, a `Writer`.
Gives  `limit_rows_of`, `limit_cells`, `source_words`, `cited`.
Knows  that no limit stands without a source, and no number without its line in the list of sources.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from markupsafe import Markup, escape

from generator.compose.card_limits import limit_words
from generator.compose.writer import Writer
from generator.protocol.citations import CITATIONS
from generator.protocol.model import Book, Limits, Protocol, Source

LIMIT_NAMES = {
    "first_check": "First check after it goes on", "check_every": "Looked at", "change_every": "Changed", "recheck_every": "Rechecked by staff",
    "release": "Released", "remove_by": "Off for good", "remove_when": "Off for good when", "supervised": "Watched all the time", "go_home": "May go home",
}  # fmt: skip
# What to do outside a limit: each limit says it, so that nobody has to think it up at the table.
_OUTSIDE = {
    "first_check": "too late: look at once, write down why; too early: look again inside the window",
    "check_every": "missed: look at once, write down why",
    "change_every": "past the later end: open it now, call the clinician",
    "recheck_every": "missed: recheck today, write down why",
    "release": "past it: release now, call the clinician",
    "remove_by": "past it: take it off now, call the clinician",
    "remove_when": "in doubt: ask the clinician",
    "supervised": "nobody free: do not apply it",
    "go_home": "owner insists: call the clinician",
}


def limit_rows_of(limits: Limits, sources: Mapping[str, Source], w: Writer) -> Iterator[dict[str, Any]]:
    for key, name in LIMIT_NAMES.items():
        value = getattr(limits, key)
        if value is None:
            continue
        shown = limit_words(key, value)
        source = sources.get(key)
        is_plain = key == "remove_when"
        yield {
            "name": name, "value": w.authored(shown, limits.spans.get(key), "limit") if is_plain else w.number(f"limit.{key}", shown, shown),
            "outside": _OUTSIDE[key], "source": source_words(source, w) if source else escape("clinic's own rule"),
        }  # fmt: skip


def limit_cells(limits: Limits, w: Writer) -> list[Markup]:
    """Each limit of a set as `changed 3 d to 4 d`."""
    cells = []
    for key, name in LIMIT_NAMES.items():
        value = getattr(limits, key)
        if value is not None:
            shown = limit_words(key, value)
            cells.append(Markup("{} {}").format(name.lower(), w.number(f"limit.{key}", shown, shown)))
    return cells


def source_words(source: Source, w: Writer) -> Markup:
    """`published [3]`, each number that of the list of sources; or the house's word."""
    if not source.published:
        return escape(source.word)
    return Markup("published {}").format(Markup(", ").join(w.number("source", n, f"[{n}]") for n in source.published))


def cited(every: tuple[Protocol, ...], book: Book, w: Writer) -> list[dict[str, Any]]:
    """The published sources that limits and signs name, by their number; nothing dangling, nothing twice."""
    named = [source for one in every for source in one.sources.values()]
    named += [
        sign.source
        for one in every
        for key in one.signs
        if (sign := book.signs.get(key)) is not None and sign.source is not None
    ]
    numbers = sorted({n for source in named for n in source.published})
    return [
        {"number": w.number("cited", n, f"[{n}]"), "text": w.authored(CITATIONS[n].text if n in CITATIONS else "not in the table of sources", None, "citation"),
         "seen": CITATIONS[n].seen if n in CITATIONS else ""}
        for n in numbers
    ]  # fmt: skip
