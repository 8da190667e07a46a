"""Gather what falls due in a whole book.

Takes  an open book and the day.
Gives  `due`: each matter with its day, the most urgent first.
Knows  which protocols are in a book; what falls due of each: `protocol/due.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.opening import OpenBook
from generator.protocol.approval import Standing
from generator.protocol.due import Due, due_of
from generator.protocol.model import Book
from generator.protocol.training import levels, wanted
from generator.standing import standing


def due(opened: OpenBook, today: date) -> tuple[Due, ...]:
    """Everything that falls due. A protocol with errors is left to `check`.

    Raises:
        Refusal: the record of approvals is damaged, or the settings could not be read.
    """
    broken = {problem.span.file for problem in opened.problems if problem.severity == "error"}
    found: list[Due] = []
    for protocol in opened.book.protocols.values():
        if protocol.file in broken:
            continue
        one = standing(opened, protocol)
        found += due_of(one, opened.book.clinic, today)
        found += _training(one, opened.book, today)
    return tuple(sorted(found, key=lambda one: (one.on, one.id, one.what, one.who)))


def _training(one: Standing, book: Book, today: date) -> Iterator[Due]:
    """Who has not been shown competent on the revision that counts; one matter a document, however many people."""
    of = wanted(one)
    if of is None:
        return
    names = [level.person.name for level in levels(book.clinic, of, book.training, today) if level.is_due]
    if names:
        day = max(today, of.by or today)
        text = f"to be read and shown: {', '.join(names)}"
        yield Due(day, "training", of.number, of.revision, one.protocol.title, text, book.clinic.head_technician)
