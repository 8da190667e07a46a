"""Turn plans and books into documents: the owner's sheet, the floor card, the workings, the SOP binder, visits, plain data.

Takes  plans, a book, words, templates' text.
Gives  `owner_sheet`, `floor_card`, `sequence_card`, `change_card`, `workings`, `binder`, `chapters`, `reissue`, `approval_page` as `Document`s; `visits` as
       bytes; `plan_data`, `plan_text`, `course_text`, `workings_text`, `explain`.
Knows  which file makes which; each is loaded when it is first asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from generator.compose.approval import approval_page
    from generator.compose.at_change import change_card
    from generator.compose.calendar_file import visits
    from generator.compose.card import floor_card
    from generator.compose.course import course_text
    from generator.compose.data import plan_data, plan_digest
    from generator.compose.owner import owner_sheet
    from generator.compose.plain import plan_text
    from generator.compose.procedures import binder, chapters, reissue
    from generator.compose.sequence import sequence_card
    from generator.compose.workings_document import workings, workings_text

__all__ = [
    "approval_page",
    "binder",
    "change_card",
    "chapters",
    "course_text",
    "floor_card",
    "owner_sheet",
    "plan_data",
    "plan_digest",
    "plan_text",
    "reissue",
    "sequence_card",
    "visits",
    "workings",
    "workings_text",
]

_FILES = {
    "approval_page": "approval", "binder": "procedures", "change_card": "at_change", "chapters": "procedures", "course_text": "course", "floor_card": "card", "owner_sheet": "owner", "plan_data": "data", "plan_digest": "data", "plan_text": "plain",
    "reissue": "procedures", "sequence_card": "sequence", "visits": "calendar_file", "workings": "workings_document", "workings_text": "workings_document",
}  # fmt: skip


def __getattr__(name: str) -> Any:
    if name not in _FILES:
        raise AttributeError(name)
    return getattr(import_module(f"generator.compose.{_FILES[name]}"), name)
