"""What falls due of a clinic's procedures, and by when: reviews, approvals, pages to be exchanged.

Takes  how a protocol stands in the record of approvals, the clinic, the day.
Gives  `Due`; `due_of` one protocol.
Knows  what the keeper of a book must see to and why; nothing of screens or calendars.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from generator.protocol.approval import Standing
from generator.protocol.model import Clinic

What = Literal["review", "in force", "approval", "training"]


@dataclass(frozen=True, slots=True)
class Due:
    """One matter. on: the last day for it. text: what is to be done. who: whom it asks."""

    on: date
    what: What
    id: str
    revision: int
    title: str
    text: str
    who: str


def due_of(one: Standing, clinic: Clinic, today: date) -> Iterator[Due]:
    """What falls due of one protocol. What nobody has approved is due today.

    Raises:
        UnsoundValue: it could not be read.
    """
    protocol, head = one.protocol, clinic.head_technician
    number, title = protocol.id, protocol.title
    if not one.is_approved:
        text = (
            "says something else than was approved: raise the revision, then have it approved"
            if one.state == "changed"
            else "awaits approval: have a clinician read it"
        )
        yield Due(today, "approval", number, protocol.revision, title, text, head)
    # While a revision awaits approval the words that count are those of the one before, and so is their day of review.
    counts = None if one.is_approved else one.against
    review_by = protocol.review_by if counts is None else counts.review_by
    if review_by is not None:
        text = "to be read again with a clinician"
        revision = protocol.revision if counts is None else counts.revision
        yield Due(review_by, "review", number, revision, title, text, head)
    if one.is_approved and protocol.effective is not None and protocol.effective > today:
        text = "comes into force: its pages in every copy by then, the old ones out, read by whoever works by them"
        yield Due(protocol.effective, "in force", number, protocol.revision, title, text, head)
