"""Compose the withdrawal sheet: what is taken out of which copy and destroyed, and by whom.

Takes  a book, a `Withdrawn`, the templates, the moment.
Gives  `withdrawal_sheet`: a `Document`; `out_rows`, `numbered`: what every list of old pages says.
Knows  that taking a paper out of use takes no bandage off an animal.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.copies import copy_rows
from generator.compose.render import render
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.model import Book, Clinic
from generator.protocol.withdrawal import TakenOut, Withdrawn


def withdrawal_sheet(book: Book, found: Withdrawn, templates: Mapping[str, str], issued: datetime) -> Document:
    """The sheet that goes round the copies.

    Args:
        issued: aware.
    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    w, clinic, row = Writer(), book.clinic, found.row
    values = {
        "clinic": lambda: w.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "issued": lambda: w.moment(issued, hand.stamp(issued), "issued"),
        "head_technician": lambda: w.authored(clinic.head_technician, clinic.spans.get("signs_for"), "head"),
        "id": w.id("withdrawal"),
        "number": lambda: w.authored(row.id, None, "id"),
        "name": lambda: w.authored(found.out.title, None, "title"),
        "on": lambda: w.day(row.on, hand.iso_day(row.on), "on"),
        "by": w.authored(row.by, None, "by"),
        "why": w.authored(row.why, None, "why"),
        "was_approved": found.last is not None,
        "content": None if found.last is None else w.number("digest", found.last.shown, found.last.shown),
        "out": out_rows([found.out], w)[0],
        "whose": copies_words(clinic, w),
        "copies": copy_rows(clinic, w),
        "blank": [None] * 4,
    }
    title = f"Withdrawal: {row.id}"
    xhtml = w.once(render(templates, "withdrawal.xhtml.j2", {"title": title, **values}))
    audit(xhtml, w.sources)
    return Document(
        xhtml=xhtml, title=title, language="en", issued=issued, author=clinic.name, paper=clinic.paper, drawings=w.drawings, sources=w.sources,
    )  # fmt: skip


def out_rows(outs: Sequence[TakenOut], w: Writer) -> list[dict[str, Any]]:
    """Number, title, revision of what is taken out, and the older revisions that should be there no more."""

    def number(value: int) -> Markup:
        return w.number("revision", value, str(value))

    return [
        {
            "number": w.authored(one.id, None, "id"),
            "name": w.authored(one.title, None, "title"),
            "revision": number(one.revision),
            "earlier": numbered(one.earlier, number),
        }
        for one in outs
    ]


def copies_words(clinic: Clinic, w: Writer) -> Markup | None:
    """`copies 1 to 4`; None where the clinic lists none."""
    numbers = sorted(copy.number for copy in clinic.copies)
    if not numbers:
        return None
    words = numbered(numbers, lambda value: w.number("copy", value, str(value)))
    return Markup("{} {}").format("copy" if len(numbers) == 1 else "copies", words)


def numbered(numbers: Iterable[int], write: Any) -> Markup:
    """`1 to 4`, `1, 2 and 7`; empty for none. Numbers in rising order."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts: list[Markup] = []
    for run in runs:
        if len(run) > 2:
            parts.append(Markup("{} to {}").format(write(run[0]), write(run[-1])))
        else:
            parts += [write(number) for number in run]
    if len(parts) < 2:
        return parts[0] if parts else Markup()
    return Markup("{} and {}").format(Markup(", ").join(parts[:-1]), parts[-1])
