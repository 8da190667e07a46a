"""Compose the change sheet: what changed from one revision of a document to a later one, for everybody who works by it to sign.

Takes  a book, a `Comparison`, the templates, the moment.
Gives  `change_sheet`: a `Document`; `change_text`: the same for the screen.
Knows  that limits, cautions, steps and warning signs are read first.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.change_table import change_rows
from generator.compose.on_trial import on_trial
from generator.compose.render import render
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.changes import Difference, where
from generator.protocol.comparison import Comparison, Edition
from generator.protocol.model import Book
from generator.source.tree import Scalar

_COLUMNS = 100


def change_sheet(book: Book, found: Comparison, templates: Mapping[str, str], issued: datetime) -> Document:
    """The pages to be read and signed; where nobody has approved the later state, each says TRIAL.

    Args:
        issued: aware.
    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    w, clinic = Writer(), book.clinic
    values = {
        "clinic": lambda: w.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "issued": lambda: w.moment(issued, hand.stamp(issued), "issued"),
        "id": w.id("change-sheet"),
        "number": lambda: w.authored(found.id, None, "id"),
        "name": lambda: w.authored(found.after.title, None, "title"),
        "before": _edition(found.before, issued.date(), w),
        "after": _edition(found.after, issued.date(), w),
        "history": [{key: w.authored(_value(row, key), _span(row, key), key) for key in _ROW} for row in found.history],
        "first": change_rows(found.first, w),
        "rest": change_rows(found.rest, w),
        "control": bool(found.control),
        "readers": [
            {"name": w.authored(one.name, one.spans.get("name"), "reader"), "role": w.authored(one.role, one.spans.get("role"), "role")}
            for one in clinic.roster if one.until is None or one.until >= issued.date()
        ],
    }  # fmt: skip
    title = f"Change sheet: {found.id} revision {found.before.revision} to {found.after.revision}"
    xhtml = w.once(render(templates, "change-sheet.xhtml.j2", {"title": title, **values}))
    audit(xhtml, w.sources)
    document = Document(
        xhtml=xhtml, title=title, language="en", issued=issued, author=clinic.name, paper=clinic.paper, drawings=w.drawings, sources=w.sources,
    )  # fmt: skip
    return on_trial(document) if found.is_on_trial else document


_ROW = ("revision", "date", "change", "why", "by")


def _value(row: Mapping[str, Scalar], key: str) -> str:
    return row[key].text if key in row else ""


def _span(row: Mapping[str, Scalar], key: str) -> Any:
    return row[key].span if key in row else None


def _edition(one: Edition, today: date, w: Writer) -> dict[str, Any]:
    def day(of: date, name: str) -> Markup:
        return w.day(of, hand.iso_day(of), name)

    row = one.approval
    gone = one.replaced_on
    return {
        "revision": lambda: w.number("revision", one.revision, str(one.revision)),
        "digest": lambda: w.number("digest", one.shown, one.shown),
        "is_approved": row is not None,
        "is_changed": one.state == "changed",
        "prepared": None if row is None else w.authored(row.prepared_by, None, "prepared"),
        "approved": None if row is None else w.authored(f"{row.approved_by}, {row.role}", None, "approved"),
        "approved_on": None if row is None else day(row.approved_on, "approved-on"),
        "effective": None if row is None else day(row.effective, "effective"),
        "is_ahead": row is not None and row.effective > today,
        "review_by": None if row is None else day(row.review_by, "review"),
        "gone": None if gone is None else day(gone, "gone"),
    }


# ---- the screen ------------------------------------------------------------------------------------------------


def change_text(found: Comparison) -> str:
    """What the sheet says, for the screen; the last line without a newline."""
    return "\n".join(_lines(found))


def _lines(found: Comparison) -> Iterator[str]:
    yield f"{found.id} {found.after.title}: revision {found.before.revision} to revision {found.after.revision}"
    for one in (found.before, found.after):
        yield f"  revision {one.revision}, content {one.shown}: {_standing(one)}"
    for row in found.history:
        yield f"  {_value(row, 'revision')}, {_value(row, 'date')}, {_value(row, 'by')}: {_value(row, 'change')}; because {_value(row, 'why')}"
    yield ""
    yield "Read these first:"
    yield from _told(found.first, "no limit, caution, step or warning sign changed")
    yield ""
    yield "Also changed:"
    yield from _told(found.rest, "nothing else")
    if found.control:
        yield ""
        yield "The document's own data changed too: revision, dates, names, history."


def _standing(one: Edition) -> str:
    if one.approval is None:
        return "TRIAL, nobody has approved these words"
    gone = f", out of use from {one.replaced_on}" if one.replaced_on is not None else ""
    return (
        f"approved by {one.approval.approved_by} on {one.approval.approved_on}, in force {one.approval.effective}{gone}"
    )


def _told(changes: Sequence[Difference], none: str) -> Iterator[str]:
    if not changes:
        yield f"  {none}"
    for change in changes:
        kind = "new" if change.before is None else "taken out" if change.after is None else "changed"
        yield f"  {where(change.path)} ({kind})"
        if change.before is not None:
            yield from _wrapped("was ", change.was)
        if change.after is not None:
            yield from _wrapped("is  ", change.now)


def _wrapped(label: str, text: str) -> list[str]:
    return textwrap.wrap(text, _COLUMNS, initial_indent=f"    {label}", subsequent_indent="        ") or [
        f"    {label}(empty)"
    ]
