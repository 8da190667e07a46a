"""`gauzeleaf binder`: the clinic's SOP binder."""

from __future__ import annotations

from pathlib import Path

import click

from generator import flow, opening, shelf
from generator.cli.common import book_option, moment, now_option, output_option, trial_option


@click.command("binder", epilog="Example: gauzeleaf binder --book my-book")
@book_option
@now_option
@trial_option
@output_option
def command(book: str | None, now: str | None, trial: bool, output: Path) -> None:
    """Print the whole book as a binder: cover, contents, every protocol with id and revision on each page."""
    opened = opening.open_book(book)
    document = flow.binder(opened, moment(now), trial=trial)
    place = output / "binder.pdf"
    shelf.write_whole({place: flow.press(document)})
    click.echo(place.as_posix())
