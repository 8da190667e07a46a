"""`gauzeleaf reviews`: what falls due, by month, on the screen and as a calendar file."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from generator import opening, shelf
from generator.cli import report
from generator.cli.common import book_option, moment, now_option, output_option
from generator.control.named import today as day_of
from generator.control.papers import review_calendar, review_data, review_text
from generator.control.reviews import due


@click.command("reviews", cls=report.Command, epilog="Example: gauzeleaf reviews --months 6 --book our-book")
@click.option(
    "--months",
    type=click.IntRange(0, 120),
    default=12,
    show_default=True,
    help="how far ahead; what is overdue always counts",
)
@click.option(
    "--format", "format_", type=click.Choice(["text", "json"]), default="text", show_default=True, help="text, or data"
)
@book_option
@now_option
@output_option
def command(months: int, format_: str, book: str | None, now: str | None, output: Path) -> None:
    """List what falls due: reviews, approvals, revisions that come into force. Write it as a calendar file too.

    The file (reviews.ics) can be taken into any calendar again and again: an event that is there already is moved, not doubled.
    """
    opened, at = opening.open_book(book), moment(now)
    today = day_of(opened, at)
    matters = tuple(one for one in due(opened, today) if one.on <= _ahead(today, months))
    if broken := sum(problem.severity == "error" for problem in opened.problems):
        click.echo(
            f"The book has {broken} errors, and protocols with errors are not listed: see gauzeleaf check.", err=True
        )
    place = output / "reviews.ics"
    shelf.write_whole({place: review_calendar(opened, matters, at)})
    if format_ == "json":
        rows = {"reviews": review_data(matters, today), "calendar": place.as_posix()}
        click.echo(json.dumps(rows, ensure_ascii=False, indent=2))
        return
    click.echo(review_text(matters, today))
    click.echo(f"\n{place.as_posix()}: {len(matters)} events for a calendar.")


def _ahead(day: date, months: int) -> date:
    """The last day of the month that many months on."""
    year, month = divmod(day.year * 12 + day.month - 1 + months + 1, 12)
    return date.fromordinal(date(year, month + 1, 1).toordinal() - 1)
