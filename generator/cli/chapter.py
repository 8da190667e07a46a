"""`gauzeleaf chapter`: a revision that is kept, as its chapter of the binder."""

from __future__ import annotations

from pathlib import Path

import click

from generator import flow, opening, shelf
from generator.cli.common import book_option, moment, now_option, output_option
from generator.control.archive import archived
from generator.control.papers import archive_print


# Named, as `sheet`, `card` and `binder`, for the paper that it prints.
@click.command("chapter", epilog="Example: gauzeleaf chapter LB-SUP-002@3 --book our-book")
@click.argument("revision", metavar="REV")
@book_option
@now_option
@output_option
def command(revision: str, book: str | None, now: str | None, output: Path) -> None:
    """Print any approved revision that is kept, as its chapter of the binder.

    REV is a document number (or a protocol's name) and a revision, such as LB-SUP-002@3. One that counts no more says
    WITHDRAWN and since when on each page. It is made with today's settings; where these lack a sign or a material that it
    names, it is printed value by value instead.
    """
    opened = opening.open_book(book)
    found, at = archived(opened, revision), moment(now)
    document = archive_print(found, at)
    row = found.approval
    is_withdrawn = document.title.startswith("WITHDRAWN")
    name = [row.id, "revision", str(row.revision), *(["WITHDRAWN"] if is_withdrawn else [])]
    place = output / f"{shelf.file_name(*name)}.pdf"
    shelf.write_whole({place: flow.press(document)})
    click.echo(place.as_posix())
    if found.problems:
        click.echo(
            f"Printed value by value: with today's settings no chapter can be made of it ({found.problems[0].what}"
            + (f", and {len(found.problems) - 1} more" if len(found.problems) > 1 else "")
            + ").",
            err=True,
        )
