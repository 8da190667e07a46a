"""Compose the SOP binder of a clinic, or some of its chapters alone.

Takes  a `Book`, the templates, the moment of issue, the copy to be printed, how the procedures stand.
Gives  `binder`: a `Document` of chapters: front matter, one for each protocol, appendices and forms; `chapters`: those of some protocols;
       `reissue`: what replaces pages of a binder.
Knows  in what order they stand; what each says: `binder_front.py`, `sop.py`, `binder_back.py`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from generator.compose import hand
from generator.compose.audit import audit_parts
from generator.compose.binder_back import back_values, contents_values
from generator.compose.binder_front import front_values
from generator.compose.binder_words import BACK, FRONT
from generator.compose.change_bars import barred
from generator.compose.copies import copy_words
from generator.compose.finder import Chapter
from generator.compose.insert_list import insert_values
from generator.compose.marks import UNMARKED, Marks
from generator.compose.render import render
from generator.compose.sop import sop_of
from generator.compose.sop_training import read_rows, training_values
from generator.compose.tabs import in_binder_order, reference_values
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.model import Book, Copy, Protocol
from generator.protocol.withdrawal import Exchanged
from generator.source.problem import Problem


def binder(
    book: Book,
    templates: Mapping[str, str],
    issued: datetime,
    *,
    problems: Sequence[Problem] = (),
    copy: Copy | None = None,
    marks: Marks = UNMARKED,
) -> Document:
    """The whole binder, in English.

    Args:
        issued: aware; decides what is not yet in force or overdue for review.
        problems: warnings of the check, printed in the front matter so that nobody takes the book for clean.
        copy: the numbered copy that every page says it belongs to; None: each says that it is uncontrolled.
        marks: how its procedures stand in the record of approvals, and what changed in them.
    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    writer = Writer()
    for id in (*FRONT, *BACK):
        writer.id(id)  # what links point at: no figure may take its name first
    found = _chapters(book, book.protocols.values(), writer, issued, marks)
    title = f"Bandaging procedures: {book.clinic.name}"
    values = {
        "title": title,
        "whole_binder": True,
        **_shared(book, writer, issued, copy),
        **front_values(book, found, writer, issued, problems),
        "sops": [sop for _, sop in found],
        **back_values(book, found, writer),
        "training": training_values(found, marks.standings, book, writer, issued.date()),
    }
    return _document("binder.xhtml.j2", title, values, book, found, templates, issued, writer, marks)


def chapters(
    book: Book,
    slugs: Sequence[str],
    templates: Mapping[str, str],
    issued: datetime,
    *,
    copy: Copy | None = None,
    marks: Marks = UNMARKED,
) -> Document:
    """The chapters of some protocols alone, as they stand in the binder, in its order; as `binder`.

    Args:
        slugs: of protocols that are in the book, 1 or more.
    Raises:
        KeyError: the book has no such protocol.
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    writer = Writer()
    protocols = [book.protocols[slug] for slug in dict.fromkeys(slugs)]
    found = _chapters(book, protocols, writer, issued, marks)
    title = f"Bandaging procedures: {', '.join(protocol.id for protocol, _ in found)}: {book.clinic.name}"
    values = {
        "title": title,
        "whole_binder": False,
        **_shared(book, writer, issued, copy),
        "sops": [sop for _, sop in found],
    }
    return _document("chapters.xhtml.j2", title, values, book, found, templates, issued, writer, marks)


def reissue(
    book: Book,
    exchanges: Sequence[Exchanged],
    templates: Mapping[str, str],
    issued: datetime,
    *,
    copy: Copy | None = None,
    marks: Marks = UNMARKED,
) -> Document:
    """What replaces pages of a binder: insert list, the chapters that go in, control page and contents; as `binder`.

    Args:
        book: as its copies are to be after it. exchanges: what goes out and in, 1 or more.
    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    writer = Writer()
    for id in (*FRONT, *BACK):
        writer.id(id)
    found = _chapters(book, book.protocols.values(), writer, issued, marks)
    new = {one.id for one in exchanges if one.into is not None}
    title = f"Replacement pages: {', '.join(one.id for one in exchanges)}: {book.clinic.name}"
    values = {
        "title": title,
        "whole_binder": False,
        **_shared(book, writer, issued, copy),
        **front_values(book, found, writer, issued, ()),
        **contents_values(book, writer),
        **insert_values(book, exchanges, copy, issued, writer),
        "sops": [sop for protocol, sop in found if protocol.id in new],
        "on_trial": any(protocol.id in new and _is_on_trial(protocol, marks) for protocol, _ in found),
    }
    printed = [pair for pair in found if pair[0].id in new]
    return _document("reissue.xhtml.j2", title, values, book, printed, templates, issued, writer, marks)


def _is_on_trial(protocol: Protocol, marks: Marks) -> bool:
    one = marks.standings.get(protocol.file)
    return one is not None and not one.is_approved


def _document(
    template: str,
    title: str,
    values: Mapping[str, Any],
    book: Book,
    found: Sequence[Chapter],
    templates: Mapping[str, str],
    issued: datetime,
    writer: Writer,
    marks: Marks,
) -> Document:
    ids = {protocol.file: sop["id"] for protocol, sop in found}
    xhtml = barred(writer.once(render(templates, template, values)), writer.sources, marks.changed, ids)
    audit_parts(xhtml, writer.sources)
    return Document(
        xhtml=xhtml, title=title, language="en", issued=issued, author=book.clinic.name, paper=book.clinic.paper, drawings=writer.drawings, sources=writer.sources,
    )  # fmt: skip


def _chapters(
    book: Book, protocols: Iterable[Protocol], writer: Writer, issued: datetime, marks: Marks
) -> list[Chapter]:
    """Each protocol in the binder's order, with what its chapter prints."""
    return [
        (
            protocol,
            sop_of(
                protocol,
                book,
                writer,
                issued.date(),
                marks.standings.get(protocol.file),
                marks.gone.get(protocol.file),
            )
            | reference_values(protocol, writer)
            | {"read_rows": read_rows(protocol, book, writer, issued.date())},
        )
        for protocol in in_binder_order(protocols)
    ]


def _shared(book: Book, writer: Writer, issued: datetime, copy: Copy | None) -> dict[str, Any]:
    """What the furniture of every page and every chapter asks for."""
    clinic = book.clinic
    return {
        "clinic": lambda: writer.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "issued": lambda: writer.moment(issued, hand.stamp(issued), "issued"),
        "control": lambda: copy_words(copy, clinic, writer),
        # Sections carry the same number in every chapter.
        "number": lambda n: writer.number("section", n, f"{n}."),
        # A line to read and sign for whoever the clinic names, and never fewer than 6.
        "staff_rows": [None] * max(6, 1 + len(clinic.clinicians)),
    }
