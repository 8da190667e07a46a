"""Compose a revision that is kept for the record.

Takes  a chapter made from the kept file; or an approval and what the file says, where no chapter can be made of it.
Gives  `for_the_record`: the chapter with a strip that says what it was made with; `kept_text`: every value as it was approved.
Knows  that an inspector asks for the words that were approved, also when the signs and materials they lean on are gone.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.copies import UNCONTROLLED
from generator.compose.render import render
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.approval import Approval
from generator.protocol.changes import where
from generator.protocol.content import Path, leaves
from generator.protocol.model import Clinic
from generator.source.problem import Problem
from generator.source.tree import Node, Scalar

MADE_WITH = (
    "Archive print: the protocol as it was approved; signs, stock, size bands and house limits as they are today."
)
_RUNNING = re.compile(r'<header class="running"')


def for_the_record(chapter: Document) -> Document:
    """The chapter of a revision that counts no more, with the strip on each page, and the word in its title."""
    found = _RUNNING.search(chapter.xhtml)
    assert found is not None, "a chapter has a running head"
    strip = f'<aside class="band ink"><p>{MADE_WITH}</p></aside>'
    xhtml = chapter.xhtml[: found.start()] + strip + chapter.xhtml[found.start() :]
    return replace(chapter, xhtml=xhtml, title=f"WITHDRAWN: {chapter.title}")


def kept_text(
    clinic: Clinic,
    row: Approval,
    tree: Node,
    gone: date | None,
    problems: Sequence[Problem],
    templates: Mapping[str, str],
    issued: datetime,
) -> Document:
    """All that a kept revision says, value by value in the order of its file.

    Args:
        gone: the day from which it no longer counts. problems: why no chapter can be made of it. issued: aware.
    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    w = Writer()

    def day(of: date, name: str) -> Markup:
        return w.day(of, hand.iso_day(of), name)

    is_withdrawn = gone is not None and gone <= issued.date()
    title = f"{row.id} revision {row.revision} as approved"
    values = {
        "title": title,
        "clinic": lambda: w.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "issued": lambda: w.moment(issued, hand.stamp(issued), "issued"),
        "control": UNCONTROLLED,
        "id": w.id("kept"),
        "number": lambda: w.authored(row.id, None, "id"),
        "name": lambda: w.authored(row.title, None, "title"),
        "revision": lambda: w.number("revision", row.revision, str(row.revision)),
        "digest": lambda: w.number("digest", row.shown, row.shown),
        "gone": day(gone, "gone") if is_withdrawn and gone is not None else None,
        "ahead": day(row.effective, "ahead") if row.effective > issued.date() else None,
        "effective": lambda: day(row.effective, "effective"),
        "review_by": lambda: day(row.review_by, "review"),
        "prepared": w.authored(row.prepared_by, None, "prepared"),
        "approved": w.authored(f"{row.approved_by}, {row.role}", None, "approved"),
        "approved_on": day(row.approved_on, "approved-on"),
        "problems": [w.authored(problem.what, None, "problem") for problem in problems],
        "groups": _groups(tree, w),
    }
    xhtml = w.once(render(templates, "kept-text.xhtml.j2", values))
    audit(xhtml, w.sources)
    return Document(
        xhtml=xhtml, title=f"WITHDRAWN: {title}" if is_withdrawn else title, language="en", issued=issued, author=clinic.name, paper=clinic.paper,
        drawings=w.drawings, sources=w.sources,
    )  # fmt: skip


def _groups(tree: Node, w: Writer) -> list[dict[str, Any]]:
    """Values under their first key; what stands alone comes first, together."""
    by_key: dict[str, list[tuple[Path, Scalar]]] = {}
    for path, leaf in leaves(tree):
        by_key.setdefault(str(path[0]) if len(path) > 1 else "", []).append((path, leaf))
    return [
        {
            "heading": w.authored(key.replace("_", " ").capitalize(), None, "key") if key else None,
            "rows": [
                {
                    "where": w.authored(where(path[1:] if key else path), leaf.span, "where"),
                    "text": w.authored(" ".join(leaf.text.split()), leaf.span, "text"),
                }
                for path, leaf in rows
            ],
        }
        for key, rows in sorted(by_key.items(), key=lambda group: group[0] != "")
    ]
