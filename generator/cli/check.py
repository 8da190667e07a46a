"""`gauzeleaf check`: everything wrong in a book, in one run."""

from __future__ import annotations

from pathlib import Path

import click

from generator import opening, proof, standing
from generator.cli import report
from generator.cli.common import output_option
from generator.opening import OpenBook
from generator.source.problem import Problem, in_order


@click.command("check", cls=report.Command, epilog="Example: gauzeleaf check my-book")
@click.argument("book", required=False, metavar="[BOOK]")
@click.option(
    "--format",
    "format_",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="how to write the problems",
)
@click.option(
    "--fit/--no-fit",
    default=True,
    show_default=True,
    help="also prove that every sheet fits its page with the longest content",
)
@click.option(
    "--watch",
    is_flag=True,
    help="check again whenever a file is saved, and print the page of the protocol that is edited into --output; ends on Ctrl-C",
)
@output_option
@click.pass_context
def command(ctx: click.Context, book: str | None, format_: str, fit: bool, watch: bool, output: Path) -> None:
    """Find everything wrong in the book in folder BOOK.

    Each problem is shown with its line, why it matters on an animal, and what to write instead. Exit status: 0 with
    warnings at most, 1 with errors. Without --watch nothing is written.
    """
    if watch:
        if format_ != "text":
            raise click.UsageError("--watch tells as text; leave --format out.")
        from generator.cli.watch import keep_watching

        keep_watching(book, lambda: opened_and_judged(book, fit), output)
        return
    opened, problems = opened_and_judged(book, fit)
    if format_ == "json":
        report.show_data(problems, book=opened.folder.as_posix())
    else:
        report.show(problems, opened.line)
        protocols = len(opened.reviewed.book.protocols) if opened.reviewed.book else 0
        click.echo(
            f"{opened.folder.as_posix()}: {protocols} protocols, {report.counted(problems)}.", err=bool(problems)
        )
    if any(problem.severity == "error" for problem in problems):
        ctx.exit(1)


def opened_and_judged(book: str | None, fit: bool) -> tuple[OpenBook, tuple[Problem, ...]]:
    """A book, and all that is wrong with it and with what would be printed from it."""
    opened = opening.open_book(book, patients=True)
    found = (
        *opened.problems,
        *standing.problems_of(opened),
        *proof.glyph_problems(opened),
        *proof.reading_problems(opened),
    )
    return opened, in_order((*found, *proof.fit_problems(opened)) if fit else found)
