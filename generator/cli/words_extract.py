"""`gauzeleaf words extract`: every sentence an owner may read."""

from __future__ import annotations

import click

from generator import shelf
from generator.cli.common import book_option
from generator.translation import merge
from generator.translation.room import open_room


@click.command("extract", epilog="Example: gauzeleaf words extract --book our-book")
@book_option
def command(book: str | None) -> None:
    """Write every sentence an owner may read to `owner.pot`, in the folder of the catalogues.

    Each with the lines it is written in, the part of the sheet it stands in, and what its fields hold.
    """
    room = open_room(book)
    merge.may_write(room)
    place, data = merge.sentence_list(room)
    shelf.write_whole({place: data})
    click.echo(f"{place.as_posix()}: {len(room.said)} sentences")
