"""The order of the work for the pages of the binder: the whole of it, some chapters, what replaces pages, the page that is signed.

Takes  an open book, the moment of issue, the numbered copy.
Gives  `binder`, `chapters`, `reissue`, `approval_page` as documents; `copies_named`. Writes nothing.
Knows  what must be right before a page may stand in a binder; nothing of any one animal.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from generator import flow, standing
from generator.opening import OpenBook
from generator.protocol.book import SETTINGS
from generator.protocol.changes import changed_in
from generator.protocol.model import Book, Copy
from generator.protocol.shapes import is_unsound
from generator.reckon.clock import located
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span

if TYPE_CHECKING:
    from generator.compose.marks import Marks
    from generator.page.document import Document
    from generator.protocol.approval import Issue, Standing
    from generator.protocol.withdrawal import Exchanged


def binder(opened: OpenBook, issued: datetime, copy: Copy | None = None, *, trial: bool = False) -> Document:
    """Compose the SOP binder; `copy`: the numbered copy that every page says it belongs to.

    Args:
        trial: also of a book in which something has not been approved; each page of such a chapter then says so.
    Raises:
        Refusal: anything in the book is wrong, or not approved as it stands: an inspector reads every page.
    """
    from generator.compose import binder as compose_binder

    errors = [p for p in opened.problems if p.severity == "error"]
    if errors:
        raise Refusal(errors)
    standings = standing.standings(opened, opened.book.protocols.values())
    errors += [p for one in standings if (p := standing.out_of_use(opened, one.protocol)) is not None]
    errors += standing.training_problems(opened)
    if not trial:
        errors += [p for one in standings if (p := standing.against_use(opened, one)) is not None]
    if errors:
        raise Refusal(in_order(errors))
    return compose_binder(
        opened.book, flow.templates_of(opened), located(issued, opened.zone), copy=copy, marks=_marks(opened, standings)
    )


def _marks(opened: OpenBook, standings: Sequence[Standing]) -> Marks:
    """What is written across the pages of these protocols and barred in their margins."""
    from generator.compose.marks import Marks

    return Marks(
        {one.protocol.file: one for one in standings},
        {one.protocol.file: changed_in(standing.changes_of(opened, one)) for one in standings},
        {
            one.protocol.file: gone
            for one in standings
            if one.is_approved and one.approval and (gone := opened.record.replaced_on(one.approval)) is not None
        },
    )


def approval_page(opened: OpenBook, issues: Sequence[Issue], issued: datetime) -> Document:
    """Compose the pages that are signed by hand when protocols are approved."""
    from generator.compose import approval_page as compose

    return compose(opened.book, issues, flow.templates_of(opened), located(issued, opened.zone))


def copies_named(opened: OpenBook, names: Sequence[str]) -> tuple[Copy, ...]:
    """Numbered copies of the binder by number, as typed behind `--copy`; `all` names every one.

    Raises:
        Refusal: clinic.yaml lists no such copy, or it could not be read at all.
    """
    clinic = opened.book.clinic
    errors = [p for p in opened.problems if p.severity == "error" and Path(p.span.file).stem == "clinic"]
    if errors:
        raise Refusal(errors)
    if "all" in names and clinic.copies:
        return clinic.copies
    known = {str(copy.number): copy for copy in clinic.copies}
    listed = ", ".join(f"{copy.number} ({copy.place})" for copy in clinic.copies)
    unknown = [name for name in dict.fromkeys(names) if name not in known]
    if unknown:
        raise Refusal(
            [
                Problem(
                    "copy-unknown",
                    clinic.spans.get("copies", clinic.spans[""]),
                    f"the clinic has no copy `{name}`" if listed else "the clinic lists no copies of its binder",
                    "a page stamped for a copy that nobody keeps is never taken out again",
                    f"name one of: {listed}; or add the copy under `copies`"
                    if listed
                    else "add lines such as `copies: [{number: 1, place: prep room, holder: head technician}]`, or leave out `--copy`",
                )
                for name in unknown
            ]
        )
    return tuple(known[name] for name in dict.fromkeys(names))


def chapters(opened: OpenBook, slugs: Sequence[str], issued: datetime, copy: Copy | None = None) -> Document:
    """Compose the chapters of these protocols alone, as they stand in the binder; other protocols may have errors.

    One that nobody approved as it stands says TRIAL on each page.

    Args:
        slugs: 1 or more. copy: as for the binder.
    Raises:
        Refusal: no such protocol; or an error in one of them, in a part of a stored blend, or in a settings file.
    """
    from generator.compose import chapters as compose_chapters

    book = opened.book
    wanted = {name for slug in slugs for name in (slug, *_parts_of(book, slug))} | set(SETTINGS)
    files = {file for file in opened.readings if "/patients/" not in file and Path(file).stem in wanted}
    problems = [
        p for p in opened.problems if p.severity == "error" and (p.span.file in files or p.name == "file-missing")
    ]
    if not problems:
        problems = [
            flow.unknown(slug, Span("--protocol"), book.protocols) for slug in slugs if slug not in book.protocols
        ]
    if problems:
        raise Refusal(in_order(problems))
    standings = standing.standings(opened, [book.protocols[slug] for slug in slugs])
    return compose_chapters(
        book, slugs, flow.templates_of(opened), located(issued, opened.zone), copy=copy, marks=_marks(opened, standings)
    )


def reissue(opened: OpenBook, exchanges: Sequence[Exchanged], issued: datetime, copy: Copy | None = None) -> Document:
    """Compose what replaces pages of a binder; a chapter that nobody approved as it stands says TRIAL.

    Args:
        opened: the book as its copies are to be. exchanges: 1 or more. copy: as for the binder.
    Raises:
        Refusal: anything in the book is wrong: control page and contents tell of all of it.
    """
    from generator.compose import reissue as compose

    errors = [p for p in opened.problems if p.severity == "error"]
    if errors:
        raise Refusal(errors)
    standings = standing.standings(opened, opened.book.protocols.values())
    return compose(
        opened.book,
        exchanges,
        flow.templates_of(opened),
        located(issued, opened.zone),
        copy=copy,
        marks=_marks(opened, standings),
    )


def _parts_of(book: Book, slug: str) -> tuple[str, ...]:
    """Slugs of the protocols that a stored blend is made of."""
    protocol = book.protocols.get(slug)
    if protocol is None or is_unsound(protocol.blend):
        return ()
    return tuple(name.partition("@")[0] for name in protocol.blend)
