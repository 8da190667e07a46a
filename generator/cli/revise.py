"""`gauzeleaf revise`: raise a protocol to its next revision."""

from __future__ import annotations

import click

from generator import opening, shelf
from generator.cli.common import book_option, moment, now_option
from generator.control.revise import revise
from generator.protocol.changes import where


@click.command(
    "revise", epilog='Example: gauzeleaf revise LB-SUP-002 --why "two slipped bandages in one month" --book our-book'
)
@click.argument("number", metavar="ID")
@click.option("--why", metavar="TEXT", help="the reason, for the history; left out, it stays to be decided")
@click.option("--change", metavar="TEXT", help="what changed, in words; left out, the places that differ")
@click.option("--by", metavar="NAME", help="who prepares it; left out, the head technician")
@book_option
@now_option
def command(
    number: str, why: str | None, change: str | None, by: str | None, book: str | None, now: str | None
) -> None:
    """Raise a protocol to its next revision: before you edit it, or after.

    ID is its document number (LB-SUP-002) or its name. The revision goes up by one, a row opens the history with what
    changed since the approved words, and the approval is cleared: until `gauzeleaf approve` everything printed from it
    says TRIAL. Comments and layout are kept.
    """
    opened = opening.open_book(book)
    done = revise(opened, number, moment(now), why=why, change=change, by=by)
    shelf.write_whole(done.files)
    for place in done.files:
        click.echo(f"{place.as_posix()}: {done.number} is revision {done.after} now, not approved yet.")
    if done.changes:
        click.echo(f"\nChanged since revision {done.before} was approved:")
        for difference in done.changes:
            click.echo(f"  {difference.at}: {where(difference.path)}")
    else:
        click.echo(
            f"\nNothing differs yet from revision {done.before}. Edit it now; its history has a row on top for what you change."
        )
    left = [problem for problem in done.problems if problem.name == "not-decided" and problem.severity == "error"]
    if left:
        click.echo("\nStill to be written:")
        for problem in left:
            click.echo(f"  {problem.span}: {problem.what}")
    click.echo(f"\nNext: gauzeleaf check, and when a clinician has read it: gauzeleaf approve {done.number} --by NAME")
