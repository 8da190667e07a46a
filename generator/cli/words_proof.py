"""`gauzeleaf words proof`: every owner's sheet of a language, to be revised."""

from __future__ import annotations

from pathlib import Path

import click

from generator import flow, opening, shelf
from generator.cli.common import book_option, output_option
from generator.translation.room import chosen, held, open_room
from generator.translation.sheets import proof_sheets


@click.command("proof", epilog="Example: gauzeleaf words proof es --output for-the-reviser")
@click.argument("language", metavar="LANG")
@output_option
@book_option
def command(language: str, output: Path, book: str | None) -> None:
    """Print every owner's sheet in LANG, for an invented animal each, so that a reviser reads the words where they stand.

    Words that nobody has signed are marked as drafts, with the clinic's language beneath. Sentences that stand on none of
    these sheets are named: they are read in the table of `gauzeleaf words export`.
    """
    room = open_room(book)
    (tag,) = chosen(room, language, f"LANG {language}")
    opened = opening.open_book(book)
    made = proof_sheets(opened, tag, held(room, tag).catalogue.entries)
    files = {}
    for number, (name, document) in enumerate(made.documents.items(), 1):
        parts = ["proof", tag, f"{number:02}", name, *(["DRAFT"] if document.is_draft else [])]
        files[output / f"{shelf.file_name(*parts)}.pdf"] = flow.press(document)
    shelf.write_whole(files)
    for place in files:
        click.echo(place.as_posix())
    if made.unseen:
        click.echo(f"\n{len(made.unseen)} sentences stand on none of these sheets:")
        for entry in made.unseen:
            click.echo(f"  {entry.span}: {entry.source}")
