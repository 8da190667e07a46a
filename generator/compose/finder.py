"""The finder: which bandage answers what stands on the table, and on which page it is.

Takes  protocols in the binder's order with their chapters' values, the `Book`, a `Writer`.
Gives  `finder_values`: rows by purpose, rows by site.
Knows  that it is one page as long as a book is of a common size, and then two that are looked up one after the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from markupsafe import Markup

from generator.compose.tabs import parts_of, sites_of, tab_of
from generator.compose.writer import Writer
from generator.protocol.kinds import SITES
from generator.protocol.model import Book, Protocol

# So many lines of two columns of small type stand on one page; a book that needs more has a table each, at full size.
ON_ONE_PAGE = 105

# Letters in a line of a column, of a site's name, of one procedure at a site: to set two columns of the same height.
_LETTERS, _SITE, _ENTRY = 45, 10, 15
Chapter = tuple[Protocol, dict[str, Any]]


def finder_values(chapters: Sequence[Chapter], book: Book, w: Writer) -> dict[str, Any]:
    """What the finder prints.

    Returns:
        `halves`: two columns that are read one after the other, or one in a large book. In each, `cases`: rows by purpose;
        `sites`: for each site of the trade, in order, what may go on there; sites with the same answer share a row.
    """
    cases: list[dict[str, Any]] = [{"case": question(protocol, book, w), "sop": sop} for protocol, sop in chapters]
    sites = _sites(chapters, book)
    weights = [_lines(row["case"].striptags() + row["sop"]["spoken"]) for row in cases]
    weights += [_lines("x" * (_SITE * len(row["sites"]) + _ENTRY * len(row["slugs"]))) for row in sites]
    if sum(weights) > ON_ONE_PAGE:
        return {"small": False, "halves": [{"cases": cases, "sites": sites}]}
    middle = next(n for n in range(len(weights) + 1) if 2 * sum(weights[:n]) >= sum(weights))
    over = max(0, middle - len(cases))
    return {
        "small": True,
        "halves": [
            {"cases": cases[:middle], "sites": sites[:over]},
            {"cases": cases[middle:], "sites": sites[over:]},
        ],
    }


def _lines(text: str) -> float:
    """About how many lines of a column a row takes, and the space between rows."""
    return len(text) // _LETTERS + 1.3


def question(protocol: Protocol, book: Book, w: Writer) -> Markup:
    """What is in front of the technician who needs it: its first use, the commonest; of a blend, its parts at once."""
    if protocol.use_when:
        return w.authored(protocol.use_when[0], protocol.spans.get("use_when"), "use_when")
    parts = parts_of(protocol, book)
    if not parts:
        return w.authored(protocol.function, protocol.spans.get("function"), "function")
    named = (
        w.authored(part.title.lower() + (f", {part.stage}," if part.stage else ""), part.span("title"), "part-title")
        for part in parts
    )
    return Markup("{} at once").format(Markup(" and ").join(named))


def _sites(chapters: Sequence[Chapter], book: Book) -> list[dict[str, Any]]:
    """Sites with the same protocols share a row; of a site for which the book has none, that is said."""
    rows: list[dict[str, Any]] = []
    for site in SITES:
        found = [(protocol, sop) for protocol, sop in chapters if site in sites_of(protocol, book)]
        slugs = [protocol.protocol for protocol, _ in found]
        same = next((row for row in rows if row["slugs"] == slugs and slugs), None)
        if same is not None:
            same["sites"].append(site)
        else:
            rows.append({"sites": [site], "slugs": slugs, "tabs": by_tab(found)})
    return rows


def by_tab(chapters: Sequence[Chapter]) -> list[dict[str, Any]]:
    """Chapters grouped by tab, both in the binder's order."""
    groups: dict[int, dict[str, Any]] = {}
    for protocol, sop in chapters:
        groups.setdefault(tab_of(protocol).number, {"tab": sop["tab"], "sops": []})["sops"].append(sop)
    return list(groups.values())
