"""`gauzeleaf binder`: the clinic's SOP binder."""

from __future__ import annotations

from pathlib import Path

import click

from generator import binding, flow, opening, shelf
from generator.cli.common import book_option, moment, now_option, output_option, trial_option
from generator.protocol.model import Copy


@click.command("binder", epilog="Example: gauzeleaf binder --copy 2")
@click.option(
    "--copy",
    "copies",
    multiple=True,
    metavar="NUMBER|all",
    help="print a numbered copy of clinic.yaml's list, its number on every page; may be given again",
)
@book_option
@now_option
@trial_option
@output_option
def command(copies: tuple[str, ...], book: str | None, now: str | None, trial: bool, output: Path) -> None:
    """Print the whole book as a binder: cover, contents, every protocol with id and revision on each page."""
    opened, issued = opening.open_book(book), moment(now)
    wanted: dict[Path, Copy | None] = {output / "binder.pdf": None} if not copies else {}
    wanted |= {output / f"binder-copy-{copy.number}.pdf": copy for copy in binding.copies_named(opened, copies)}
    shelf.write_whole(
        {place: flow.press(binding.binder(opened, issued, copy, trial=trial)) for place, copy in wanted.items()}
    )
    for place in wanted:
        click.echo(place.as_posix())
