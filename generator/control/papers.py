"""The papers that go with a revision: made here, written by whoever asked.

Takes  an open book, what a command of document control came to, the moment.
Gives  `change_sheet`, `withdrawal_sheet`, `archive_print`, `reissue_pages`: a `Document` each; `change_text`: the change sheet for the screen;
       `review_text`, `review_data`, `review_calendar`: what falls due.
Knows  which composing function makes which paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from generator import binding, flow
from generator.control.archive import Archived
from generator.control.reissue import Reissue
from generator.opening import OpenBook
from generator.protocol.comparison import Comparison
from generator.protocol.due import Due
from generator.protocol.withdrawal import Withdrawn
from generator.reckon.clock import located

if TYPE_CHECKING:
    from generator.page.document import Document
    from generator.protocol.model import Copy


def change_sheet(opened: OpenBook, found: Comparison, issued: datetime) -> Document:
    """The sheet on which staff sign that they read what changed."""
    from generator.compose.comparison import change_sheet as compose

    return compose(opened.book, found, flow.templates_of(opened), located(issued, opened.zone))


def change_text(found: Comparison) -> str:
    """What changed, for the screen."""
    from generator.compose.comparison import change_text as text

    return text(found)


def withdrawal_sheet(opened: OpenBook, found: Withdrawn, issued: datetime) -> Document:
    """The sheet that goes round the copies of a document that is out of use."""
    from generator.compose.withdrawal import withdrawal_sheet as compose

    return compose(opened.book, found, flow.templates_of(opened), located(issued, opened.zone))


def archive_print(found: Archived, issued: datetime) -> Document:
    """A kept revision as its chapter; where no chapter can be made of it, all that it says."""
    from generator.compose.kept_revision import for_the_record, kept_text

    moment = located(issued, found.book.zone)
    if found.problems:
        clinic, templates = found.book.book.clinic, flow.templates_of(found.book)
        return kept_text(clinic, found.approval, found.tree, found.gone, found.problems, templates, moment)
    chapter = binding.chapters(found.book, [found.approval.protocol], issued)
    return for_the_record(chapter) if found.is_withdrawn(moment.date()) else chapter


def reissue_pages(found: Reissue, issued: datetime, copy: Copy | None = None) -> Document:
    """The pages that replace others in one copy, or in any."""
    return binding.reissue(found.book, found.lines, issued, copy)


def review_text(matters: Sequence[Due], today: date) -> str:
    """What falls due, by month, for the screen."""
    from generator.compose.review_calendar import review_text as text

    return text(matters, today)


def review_data(matters: Sequence[Due], today: date) -> list[dict[str, Any]]:
    """What falls due as plain data."""
    from generator.compose.review_calendar import review_data as data

    return data(matters, today)


def review_calendar(opened: OpenBook, matters: Sequence[Due], now: datetime) -> bytes:
    """What falls due as a calendar file."""
    from generator.compose.review_calendar import review_calendar as calendar

    return calendar(matters, located(now, opened.zone))
