"""`gauzeleaf words merge`: catalogues brought up to date."""

from __future__ import annotations

import click

from generator import shelf
from generator.cli.common import book_option
from generator.translation.merge import Merged, merge
from generator.translation.room import canonical, open_room


@click.command("merge", epilog="Example: gauzeleaf words merge --book our-book --language so")
@book_option
@click.option("--language", "language", metavar="TAG", help="only this one; a language without a catalogue gets one")
@click.option(
    "--override",
    "overrides",
    multiple=True,
    metavar="SENTENCE",
    help="an English sentence that your clinic says otherwise than the shipped translation; may be given several times",
)
@click.option(
    "--all", "everything", is_flag=True, help="take all shipped words into your own catalogue, to revise and sign them"
)
def command(book: str | None, language: str | None, overrides: tuple[str, ...], everything: bool) -> None:
    """Bring catalogues up to date with what the book says now.

    A sentence that changed is empty again, with the old English and its translation above it. One that nobody says any
    more goes. A new catalogue comes with its plural rule, and a glossary whose words are still to be found.
    """
    room = open_room(book)
    languages = room.languages if language is None else (canonical(language, room),)
    if not languages:
        click.echo(
            f"{room.folder.as_posix()}: no catalogue yet. Start one with: gauzeleaf words merge --language TAG",
            err=True,
        )
        return
    files, done = merge(room, languages, overrides, everything=everything)
    shelf.write_whole(files)
    for one in done:
        click.echo(_told(one))


def _told(one: Merged) -> str:
    update = one.update
    counts = [(update.kept, "as before"), (update.new, "new"), (update.changed, "changed"), (update.gone, "gone")]
    told = ", ".join(f"{number} {word}" for number, word in counts if number or word == "as before")
    start = "started; " if one.is_new else ""
    return f"{one.file.as_posix()}: {start}{told}; {one.to_translate} to translate"
