"""R36: the history is newest first, has no gaps, and ends at the revision in force.

What it looks for: the rows of `history`, their numbers and dates.
Why it matters: what changed in a missing row cannot be told to anyone who learned the protocol before.
Stops: revision 4 above revision 2; a top row that is not the protocol's `revision`.
Write instead: one row for each revision, the newest on top.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from generator.protocol.model import Book, Protocol, Revision
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem
from generator.source.span import Span


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    rows = protocol.history
    pairs = tuple(pairwise(rows))
    for newer, older in pairs:
        if older.revision >= newer.revision:
            yield _problem(
                "history-out-of-order",
                older,
                "revision",
                f"revision {older.revision} stands below revision {newer.revision}",
                "order the rows newest first, each revision once",
                newer,
            )
            return
    if rows[0].revision != protocol.revision:
        yield _problem(
            "revision-without-history",
            rows[0],
            "revision",
            f"the newest row is revision {rows[0].revision}, the protocol is revision {protocol.revision}",
            f"add a row for revision {protocol.revision} on top, or write `revision: {rows[0].revision}`",
            None,
            also=((protocol.span("revision"), "the revision is set here"),),
        )
    else:
        for newer, older in pairs:
            if newer.revision - older.revision > 1:
                missing = ", ".join(str(n) for n in range(older.revision + 1, newer.revision))
                yield _problem(
                    "history-gap",
                    newer,
                    "revision",
                    f"revision {missing} is missing from the history",
                    f"add the row between {newer.revision} and {older.revision}",
                    older,
                )
    for newer, older in pairs:
        if older.date > newer.date:
            yield _problem(
                "history-dates",
                older,
                "date",
                f"revision {older.revision} is dated {older.date}, after revision {newer.revision} of {newer.date}",
                "write the dates as they were; each row is as old as the one above it, or older",
                newer,
            )


def _problem(
    name: str,
    row: Revision,
    key: str,
    what: str,
    fix: str,
    beside: Revision | None,
    also: tuple[tuple[Span, str], ...] = (),
) -> Problem:
    if beside is not None:
        also = ((beside.spans[key], f"revision {beside.revision} is here"),)
    return Problem(
        name,
        row.spans[key],
        what,
        "what changed, and why, could not be told to whoever learned the protocol before",
        fix,
        also=also,
    )


RULE = Rule(
    id="R36",
    name="history-gap",
    looks_for="The history is newest first, without gaps, dates descending, and its top row is the revision in force.",
    why="What changed, and why, could not be told to whoever learned the protocol before.",
    source="ISO 9001:2015 7.5; ISO/IEC 17025:2017 8.3",
    broken="kind: support.soft\n"
    "revision: 4\n"
    "history:\n"
    "  - {revision: 4, date: 2026-08-20, change: finger test, why: yearly review, by: R. Osei-Lund}\n"
    "  - {revision: 2, date: 2025-08-20, change: padding passes 2 → 3, why: two slipped bandages in one month, by: R. Osei-Lund}\n"
    "  - {revision: 1, date: 2024-08-20, change: first issue, why: new book, by: R. Osei-Lund}\n",
    mended="kind: support.soft\n"
    "revision: 4\n"
    "history:\n"
    "  - {revision: 4, date: 2026-08-20, change: finger test, why: yearly review, by: R. Osei-Lund}\n"
    "  - {revision: 3, date: 2026-02-10, change: limits written as windows, why: a closed Sunday left no check, by: R. Osei-Lund}\n"
    "  - {revision: 2, date: 2025-08-20, change: padding passes 2 → 3, why: two slipped bandages in one month, by: R. Osei-Lund}\n"
    "  - {revision: 1, date: 2024-08-20, change: first issue, why: new book, by: R. Osei-Lund}\n",
    check=check,
    also=("history-out-of-order", "revision-without-history", "history-dates"),
    blends=True,
)
