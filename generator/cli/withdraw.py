"""`gauzeleaf withdraw`: take a document out of use for good, and print the sheet that goes round its copies."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from generator import flow, opening, shelf
from generator.cli.common import book_option, day, moment, now_option, output_option
from generator.cli.report import counted
from generator.control.papers import withdrawal_sheet
from generator.control.withdraw import withdraw


@click.command(
    "withdraw",
    epilog='Example: gauzeleaf withdraw LB-CVR-005 --why "no longer done here" --by "Dr M. Tamsin" --book our-book',
)
@click.argument("number", metavar="ID")
@click.option("--why", metavar="TEXT", required=True, help="the reason, for the record and the sheet")
@click.option("--by", metavar="NAME", required=True, help="who decides it: the head technician or a clinician")
@click.option("--on", metavar="DATE", callback=day, help="the day from which it no longer counts; left out, today")
@book_option
@now_option
@output_option
def command(number: str, why: str, by: str, on: date | None, book: str | None, now: str | None, output: Path) -> None:
    """Take a document out of use for good: record it, move its protocol out of the book, print the withdrawal sheet.

    ID is its document number (LB-CVR-005) or its name. The number is never used again; what was approved stays kept, and
    `gauzeleaf chapter` prints it. A protocol that another one still names is not withdrawn.
    """
    opened = opening.open_book(book)
    at = moment(now)
    done = withdraw(opened, number, at, why=why, by=by, on=on)
    row = done.withdrawn.row
    page = output / f"{shelf.file_name('withdrawal', row.id, row.on.isoformat())}.pdf"
    files = dict(done.files) | {page: flow.press(withdrawal_sheet(done.book, done.withdrawn, at))}
    shelf.write_whole(files, gone=[done.gone])
    click.echo(f"{row.id}: withdrawn on {row.on} by {row.by}; {done.gone.as_posix()} is out of the book.")
    for place in done.files:
        if place.suffix == ".yaml":
            click.echo(f"{place.as_posix()}: what it said last, which nobody had approved")
    if left := [problem for problem in done.book.problems if problem not in opened.problems]:
        click.echo(f"The book now has {counted(left)} more; `gauzeleaf check` shows them.")
    click.echo(f"{page.as_posix()}: goes round the copies, then is kept with the binder.")
