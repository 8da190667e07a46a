"""`gauzeleaf words import`: a translator's table taken back."""

from __future__ import annotations

from pathlib import Path

import click

from generator import shelf
from generator.cli import report
from generator.cli.common import book_option
from generator.source.problem import Refusal
from generator.source.span import Span
from generator.translation.exchange import read_back
from generator.translation.merge import may_write
from generator.translation.room import chosen, open_room


@click.command("import", epilog="Example: gauzeleaf words import for-the-translator.csv so")
@click.argument("file", type=click.Path(path_type=Path))
@click.argument("language", metavar="[LANG]", required=False)
@book_option
@click.pass_context
def command(ctx: click.Context, file: Path, language: str | None, book: str | None) -> None:
    """Take the second column of the table FILE into the catalogue of LANG; left out, the table's heading names it.

    Comma, semicolon or tab between the cells. Every problem is told with its row and column, and with one error nothing
    is taken in. A sentence whose words changed is a draft again, whoever had signed it.
    """
    room = open_room(book)
    may_write(room)
    tag = chosen(room, language, f"LANG {language}")[0] if language is not None else None
    name = file.as_posix()

    def line(span: Span) -> str | None:
        # Rows and cells of a table are no lines and letters: no excerpt could point at the right place.
        return None if span.file == name else report.line_on_disk(span)

    try:
        done = read_back(shelf.read_file(file, "table"), name, room, tag)
    except Refusal as refusal:
        ctx.exit(report.refused(refusal, line))
    shelf.write_whole(done.files)
    report.show(done.warnings, line)
    for entry in done.changed:
        click.echo(f"  {entry.source} -> {' | '.join(entry.translations)}")
    drafts = f"; signed before and drafts again: {done.unsigned}" if done.unsigned else ""
    click.echo(f"{done.held.file.as_posix()}: {done.rows} rows; changed: {len(done.changed)}{drafts}")
