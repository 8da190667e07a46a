"""`gauzeleaf words export`: a language as a table."""

from __future__ import annotations

from pathlib import Path

import click

from generator import shelf
from generator.cli.common import book_option
from generator.source.problem import Problem, Refusal
from generator.source.span import Span
from generator.translation.exchange import export
from generator.translation.room import chosen, held, open_room


@click.command("export", epilog="Example: gauzeleaf words export so -o for-the-translator.csv")
@click.argument("language", metavar="LANG")
@click.option("-o", "--output", "output", type=click.Path(path_type=Path), metavar="FILE", help="left out: LANG.csv")
@book_option
def command(language: str, output: Path | None, book: str | None) -> None:
    """Write the catalogue of LANG as a table for a spreadsheet: English, translation, and what to know of each line.

    The translator fills in the second column and sends it back for `gauzeleaf words import`. A file that lies there
    already is never overwritten: it may hold a translator's work.
    """
    room = open_room(book)
    (tag,) = chosen(room, language, f"LANG {language}")
    place = output or Path(f"{tag}.csv")
    data = export(held(room, tag))
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
    shelf.write_whole({place: data})
    click.echo(place.as_posix())
