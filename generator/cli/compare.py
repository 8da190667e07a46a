"""`gauzeleaf compare`: the change sheet from one revision of a document to a later one."""

from __future__ import annotations

from pathlib import Path

import click

from generator import flow, opening, shelf
from generator.cli.common import book_option, moment, now_option, output_option
from generator.control.compare import compare
from generator.control.papers import change_sheet, change_text


@click.command("compare", epilog="Example: gauzeleaf compare LB-SUP-002@3 LB-SUP-002@4 --book our-book")
@click.argument("one", metavar="REV1")
@click.argument("other", metavar="[REV2]", required=False)
@click.option(
    "--format",
    "format_",
    type=click.Choice(["pdf", "text"]),
    default="pdf",
    show_default=True,
    help="pdf: the sheet that is signed; text: on the screen, nothing is written",
)
@book_option
@now_option
@output_option
def command(one: str, other: str | None, format_: str, book: str | None, now: str | None, output: Path) -> None:
    """Print what changed from one revision to another, for everybody who works by it to read and sign.

    REV1 and REV2 are a document number (or a protocol's name) and an approved revision, such as LB-SUP-002@3. Without
    REV2 the sheet leads to what the book says now; if nobody has approved that, each page says TRIAL.
    """
    opened = opening.open_book(book)
    found = compare(opened, one, other)
    if format_ == "text":
        click.echo(change_text(found))
        return
    name = [
        found.id,
        "revision",
        str(found.before.revision),
        "to",
        str(found.after.revision),
        *(["TRIAL"] if found.is_on_trial else []),
    ]
    place = output / f"{shelf.file_name('change', *name)}.pdf"
    shelf.write_whole({place: flow.press(change_sheet(opened, found, moment(now)))})
    click.echo(f"{place.as_posix()}: to be read and signed by whoever works by {found.id}.")
