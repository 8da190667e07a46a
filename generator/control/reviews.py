"""Gather what falls due in a whole book.

Takes  an open book and the day.
Gives  `due`: each matter with its day, the most urgent first.
Knows  which protocols are in a book; what falls due of each: `protocol/due.py`.
"""

from __future__ import annotations

from datetime import date

from generator.opening import OpenBook
from generator.protocol.due import Due, due_of
from generator.protocol.shapes import UnsoundValue
from generator.standing import standing


def due(opened: OpenBook, today: date) -> tuple[Due, ...]:
    """Everything that falls due. A protocol that cannot be read is left to `check`.

    Raises:
        Refusal: the record of approvals is damaged, or the settings could not be read.
    """
    found: list[Due] = []
    for protocol in opened.book.protocols.values():
        try:
            found += due_of(standing(opened, protocol), opened.book.clinic, today)
        except UnsoundValue:
            continue
    return tuple(sorted(found, key=lambda one: (one.on, one.id, one.what, one.who)))
