"""`gauzeleaf check`: everything wrong in a book, in one run."""

from __future__ import annotations

import click

from generator import opening, proof, standing
from generator.cli import report
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
@click.pass_context
def command(ctx: click.Context, book: str | None, format_: str, fit: bool) -> None:
    """Find everything wrong in the book in folder BOOK.

    Each problem is shown with its line, why it matters on an animal, and what to write instead. Exit status: 0 with
    warnings at most, 1 with errors.
    """
    opened = opening.open_book(book, patients=True)
    problems: tuple[Problem, ...] = in_order(
        (
            *opened.problems,
            *standing.problems_of(opened),
            *proof.glyph_problems(opened),
            *proof.reading_problems(opened),
        )
    )
    if fit:
        problems = in_order((*problems, *proof.fit_problems(opened)))
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
