"""`gauzeleaf words status`: how far each language has come."""

from __future__ import annotations

import json
import unicodedata
from dataclasses import asdict

import click

from generator.cli import report
from generator.cli.common import book_option, moment, now_option
from generator.source.problem import as_data
from generator.translation.room import open_room
from generator.translation.status import Row, rows

_HEADING = ("tag", "language", "sentences", "translated", "missing", "drafts", "signed", "last signed", "translated back", "catalogue")  # fmt: skip


@click.command("status", cls=report.Command, epilog="Example: gauzeleaf words status --book our-book")
@book_option
@click.option("--format", "format_", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option("--reading", is_flag=True, help="also measure how hard each language's lines are to read")
@now_option
def command(book: str | None, format_: str, reading: bool, now: str | None) -> None:
    """Show how far each language has come: a row for each catalogue.

    What is missing prints in the clinic's language; what is translated and not signed prints as a marked draft.
    """
    found = tuple(rows(open_room(book), moment(now).date()))
    if format_ == "json":
        click.echo(json.dumps({"languages": [_data(row) for row in found]}, ensure_ascii=False, indent=2))
        return
    if not found:
        click.echo(
            "No catalogue yet: every sheet prints in English. Start one with: gauzeleaf words merge --language TAG"
        )
        return
    table = [_HEADING, *map(_cells, found)]
    widths = [max(_width(row[column]) for row in table) for column in range(len(_HEADING))]
    for row in table:
        click.echo("  ".join(_filled(cell, width) for cell, width in zip(row, widths, strict=True)).rstrip())
    if reading:
        click.echo("\nHow hard the book's lines are to read (a formula may fail a text, never pass one alone):")
        for one in found:
            click.echo(f"  {one.language}: {one.reading}")
    click.echo()
    for line in _said(found):
        click.echo(line)
    report.show([problem for row in found for problem in row.problems])


def _cells(row: Row) -> tuple[str, ...]:
    one = row.standing
    counts = (one.messages, one.translated, one.missing, one.drafts, one.signed)
    day = one.last_signed.isoformat() if one.last_signed else "never"
    back = f"{one.back} of {one.stops}"
    return row.language, row.name, *map(str, counts), day, back, row.place


def _said(found: tuple[Row, ...]) -> tuple[str, ...]:
    drafts = [row for row in found if row.has_drafts]
    signed = [row for row in found if not row.has_drafts]
    told = []
    if drafts:
        told.append(
            "Every sentence that is not signed prints as a draft: marked, with the clinic's own language beneath it. "
            "Missing ones print in the clinic's language."
        )
    if signed:
        told.append("Signed throughout: " + ", ".join(f"{row.language} ({row.place})" for row in signed) + ".")
    told.append(
        "Translated back: STOP lines (deadline, alarm, warning signs, what must never be done) as they stand now."
    )
    return tuple(told)


def _data(row: Row) -> dict[str, object]:
    one = row.standing
    day = one.last_signed.isoformat() if one.last_signed else None
    return {
        "tag": row.language,
        "name": row.name,
        "catalogue": row.place,
        **(asdict(one) | {"last_signed": day}),
        "missing": one.missing,
        "drafts": one.drafts,
        "reading": row.reading,
        "problems": [as_data(problem) for problem in row.problems],
    }


def _width(text: str) -> int:
    """Cells of a screen: Han, Hangul and Kana take two, marks none (UAX 11)."""
    return sum(
        0 if unicodedata.combining(letter) else 2 if unicodedata.east_asian_width(letter) in "WF" else 1
        for letter in text
    )


def _filled(text: str, width: int) -> str:
    return text + " " * (width - _width(text))
