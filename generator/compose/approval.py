"""Compose the page on which a clinician signs for a revision.

Takes  a book, issues (an approved revision each), the templates, the moment.
Gives  `approval_page`: a `Document`, one chapter an issue.
Knows  what a signature is given for: these words, told by their digest, and what changed in them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.change_table import change_rows
from generator.compose.render import render
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.approval import Issue
from generator.protocol.model import Book

_GROUP = 8


def approval_page(book: Book, issues: Sequence[Issue], templates: Mapping[str, str], issued: datetime) -> Document:
    """The pages to be signed.

    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    w = Writer()
    clinic = book.clinic
    values = {
        "title": "Approval",
        "clinic": lambda: w.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "issued": lambda: w.moment(issued, hand.stamp(issued), "issued"),
        "head_technician": lambda: w.authored(clinic.head_technician, clinic.spans.get("signs_for"), "head"),
        "issues": [_issue(one, w) for one in issues],
        "copies": [
            {"number": w.number("copy", copy.number, str(copy.number)), "place": w.authored(copy.place, clinic.spans.get("copies"), "place")}
            for copy in clinic.copies
        ],
    }  # fmt: skip
    xhtml = w.once(render(templates, "approval.xhtml.j2", values))
    audit(xhtml, w.sources)
    numbers = ", ".join(f"{one.approval.id} revision {one.approval.revision}" for one in issues[:3])
    return Document(
        xhtml=xhtml, title=f"Approval: {numbers}{' and others' if len(issues) > 3 else ''}", language="en", issued=issued,
        author=clinic.name, paper=clinic.paper, drawings=w.drawings, sources=w.sources,
    )  # fmt: skip


def _issue(one: Issue, w: Writer) -> dict[str, Any]:
    row, protocol = one.approval, one.protocol
    digest = " ".join(row.digest[at : at + _GROUP] for at in range(0, len(row.digest), _GROUP))
    newest = protocol.history[0]
    return {
        "id": w.id(f"approval.{row.id}"),
        "number": lambda: w.authored(row.id, protocol.span("id"), "id"),
        "revision": lambda: w.number("revision", row.revision, str(row.revision)),
        "title": lambda: w.authored(row.title, protocol.span("title"), "title"),
        "digest": w.number("digest", row.digest, digest), "shown": lambda: w.number("digest", row.shown, row.shown),
        "prepared": w.authored(f"{row.prepared_by}, {protocol.prepared_by.role}", protocol.prepared_by.spans.get("name"), "prepared"),
        "prepared_on": w.day(protocol.prepared_by.date, hand.iso_day(protocol.prepared_by.date), "prepared-on"),
        "approved": w.authored(f"{row.approved_by}, {row.role}", protocol.span("approved_by"), "approved"),
        "approved_on": w.day(row.approved_on, hand.iso_day(row.approved_on), "approved-on"),
        "effective": w.day(row.effective, hand.iso_day(row.effective), "effective"),
        "review_by": w.day(row.review_by, hand.iso_day(row.review_by), "review"),
        "change": w.authored(newest.change, newest.spans.get("change"), "change"),
        "why": w.authored(newest.why, newest.spans.get("why"), "why"),
        "before": None if one.before is None else w.number("before", one.before.revision, str(one.before.revision)),
        "changes": change_rows(one.changes, w),
    }  # fmt: skip
