"""The insert list of a reissue: which pages come out of a copy, which go in, and where.

Takes  a book as its copies are to be, what is exchanged, the copy, a `Writer`.
Gives  `insert_values` for the template.
Knows  that a new chapter stands behind its tab, after the one before it; and that old pages count until the new ones are in force.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.copies import copy_rows
from generator.compose.on_trial import WORDS
from generator.compose.tabs import held, in_binder_order, tab_of
from generator.compose.withdrawal import copies_words
from generator.compose.writer import Writer
from generator.protocol.model import Book, Copy, Protocol
from generator.protocol.withdrawal import Exchanged


def insert_values(
    book: Book, exchanges: Sequence[Exchanged], copy: Copy | None, issued: datetime, w: Writer
) -> dict[str, Any]:
    """Everything that the insert list prints beside what all pages share.

    Args:
        copy: the one that the pages go into; None: any.
    """
    clinic = book.clinic
    order = in_binder_order(book.protocols.values())
    rows = [_row(one, order, issued, w) for one in exchanges]
    all_copies = [] if copy is None and not clinic.copies else copy_rows(clinic, w)
    numbers = [one.number for one in sorted(clinic.copies, key=lambda one: one.number)]
    every = copies_words(clinic, w)
    return {
        "insert_id": w.id("insert-list"),
        "trial_words": WORDS,
        "whose": Markup("pages that replace others") if copy is None else _copy_words(copy, book, w),
        "of_what": (every or "every copy") if copy is None else _copy_words(copy, book, w),
        "inserts": rows,
        "outs": [row for row in rows if row["out"] is not None or row["older"]],
        "any_ahead": any(row["ahead"] is not None for row in rows),
        "holders": [
            row for number, row in zip(numbers, all_copies, strict=False) if copy is None or number == copy.number
        ],
    }


def _copy_words(copy: Copy, book: Book, w: Writer) -> Markup:
    return Markup("copy {}, {}").format(
        w.number("copy", copy.number, str(copy.number)),
        w.authored(copy.place, book.clinic.spans.get("copies"), "copy-place"),
    )


def _row(one: Exchanged, order: Sequence[Protocol], issued: datetime, w: Writer) -> dict[str, Any]:
    own = next((place for place, protocol in enumerate(order) if protocol.id == one.id), None)
    tab = tab_of(order[own]) if own is not None else None
    before = order[own - 1] if own else None
    is_ahead = one.into is not None and one.day is not None and one.day > issued.date()

    def number(value: int | None) -> Markup | None:
        return None if value is None else w.number("revision", value, str(value))

    return {
        "number": w.authored(held(one.id), None, "id"),
        "name": w.authored(one.title, None, "title"),
        "out": number(one.out),
        "older": one.has_unrecorded,
        "into": number(one.into),
        "tab": None if tab is None else w.number("tab", tab.number, str(tab.number)),
        "after": w.authored(held(before.id), None, "before") if before is not None and tab_of(before) == tab else None,
        "ahead": w.day(one.day, hand.iso_day(one.day), "ahead") if is_ahead and one.day is not None else None,
    }
