"""`gauzeleaf words export`: a language as a table."""

from __future__ import annotations

from pathlib import Path

import click

from generator import flow, opening, shelf
from generator.cli.common import book_option
from generator.source.problem import Problem, Refusal
from generator.source.span import Span
from generator.translation.exchange import export, table_lines
from generator.translation.room import chosen, held, open_room
from generator.translation.sheets import place_sheets


@click.command("export", epilog="Example: gauzeleaf words export so -o for-the-translator.csv")
@click.argument("language", metavar="LANG")
@click.option("-o", "--output", "output", type=click.Path(path_type=Path), metavar="FILE", help="left out: LANG.csv")
@click.option(
    "--where",
    "where",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="also write English sheets there that show where each line stands, by the letters in the table's column Line",
)
@book_option
def command(language: str, output: Path | None, where: Path | None, book: str | None) -> None:
    """Write the catalogue of LANG as a table for a spreadsheet: English, translation, and what to know of each line.

    The translator fills in the second column and sends it back for `gauzeleaf words import`. A file that lies there
    already is never overwritten: it may hold a translator's work.
    """
    room = open_room(book)
    (tag,) = chosen(room, language, f"LANG {language}")
    place = output or Path(f"{tag}.csv")
    one = held(room, tag)
    data = export(one)
    if place.exists() and (not place.is_file() or place.read_bytes() != data):
        raise Refusal(
            [
                Problem(
                    "place-taken",
                    Span(place.as_posix()),
                    "another file lies in this place",
                    "it may hold a translator's work",
                    "take it in with `gauzeleaf words import`, move it away, or name another file with -o",
                )
            ]
        )
    files = {place: data}
    if where is not None:
        made = place_sheets(opening.open_book(book), table_lines(one))
        files |= {where / f"{shelf.file_name('where', name)}.pdf": flow.press(d) for name, d in made.documents.items()}
    shelf.write_whole(files)
    for written in files:
        click.echo(written.as_posix())
    if where is not None and made.unseen:
        click.echo(f"{len(made.unseen)} lines stand on none of these sheets; their notes say what they are for.")
