"""A book as it is the day all of it has been approved: for tests of what is printed then, whatever a test wrote into it."""

from __future__ import annotations

from datetime import UTC, date, datetime

from generator.opening import OpenBook
from generator.protocol.approval import Approval, Record
from generator.protocol.model import Protocol
from generator.protocol.shapes import UnsoundValue

_DAY = date(2020, 1, 1)


def approved(opened: OpenBook) -> OpenBook:
    """The same book, with a record in which every protocol that can be read is approved as it stands."""
    book = opened.reviewed.book
    rows = [row for protocol in (book.protocols.values() if book else ()) if (row := _row(protocol)) is not None]
    opened.__dict__["record"] = Record(tuple(rows))
    return opened


def _row(protocol: Protocol) -> Approval | None:
    try:
        return Approval(
            str(protocol.id), int(protocol.revision), str(protocol.protocol), "", protocol.content, "", "", "", "", _DAY, _DAY, _DAY,
            datetime(2020, 1, 1, tzinfo=UTC),
        )  # fmt: skip
    except (UnsoundValue, TypeError):
        return None
