"""`gauzeleaf reissue`: the pages that replace others in the copies of the binder, and the list of what comes out and goes in."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from generator import binding, flow, opening, shelf
from generator.cli.common import book_option, day, moment, now_option, output_option, trial_option
from generator.control.papers import reissue_pages
from generator.control.reissue import reissue
from generator.protocol.model import Copy


@click.command("reissue", epilog="Example: gauzeleaf reissue LB-SUP-002 --copy all --book our-book")
@click.argument("numbers", nargs=-1, metavar="[ID]...")
@click.option(
    "--since", metavar="DATE", callback=day, help="all that was approved or withdrawn on that day or after it"
)
@click.option(
    "--copy",
    "copies",
    multiple=True,
    metavar="NUMBER|all",
    help="for a numbered copy of clinic.yaml's list, a file each; may be given again",
)
@book_option
@now_option
@trial_option
@output_option
def command(
    numbers: tuple[str, ...],
    since: date | None,
    copies: tuple[str, ...],
    book: str | None,
    now: str | None,
    trial: bool,
    output: Path,
) -> None:
    """Print the pages that replace others in the binder's copies, without printing the binder.

    ID is a document number (LB-SUP-002) or a name; a withdrawn one is taken out. Each file holds the insert list, which is
    also the withdrawal sheet to be returned, the new chapters, and a new control page and contents.
    """
    if bool(numbers) == (since is not None):
        raise click.UsageError("Name the documents to exchange, or give --since.")
    opened, issued = opening.open_book(book), moment(now)
    named = binding.copies_named(opened, copies)
    found = reissue(opened, numbers, since=since, trial=trial)
    what = [line.id for line in found.lines] if len(found.lines) < 4 else ["since", str(since or issued.date())]
    wanted: dict[Path, Copy | None] = {}
    for copy in named or (None,):
        name = shelf.file_name("reissue", *what, *(["copy", str(copy.number)] if copy is not None else []))
        wanted[output / f"{name}.pdf"] = copy
    shelf.write_whole({place: flow.press(reissue_pages(found, issued, copy)) for place, copy in wanted.items()})
    for line in found.lines:
        out = (
            f"take out revision {line.out}"
            if line.out is not None
            else "take out any older revision"
            if line.has_unrecorded
            else "nothing comes out"
        )
        into = f"put in revision {line.into}" if line.into is not None else "nothing goes in"
        click.echo(f"{line.id}: {out}, {into}")
    for place in wanted:
        click.echo(place.as_posix())
