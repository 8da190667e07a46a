"""`gauzeleaf words check`: everything wrong in the catalogues, in one run."""

from __future__ import annotations

from dataclasses import asdict

import click

from generator.cli import report
from generator.cli.common import book_option, moment, now_option
from generator.source.problem import Problem, in_order
from generator.translation.check import check_language, without_catalogue
from generator.translation.room import chosen, held, open_room
from generator.translation.standing import Standing, standing


@click.command("check", cls=report.Command, epilog="Example: gauzeleaf words check --language es")
@book_option
@click.option("--language", "language", metavar="TAG", help="only this one")
@click.option(
    "--format",
    "format_",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="how to write the problems",
)
@now_option
@click.pass_context
def command(ctx: click.Context, book: str | None, language: str | None, format_: str, now: str | None) -> None:
    """Find everything wrong in the catalogues that can be seen without knowing the language.

    Lost fields, figures, negations and sides, unlocked words, missing and stale lines, signatures, back-translations. A
    sheet that passes can still be wrong: only people can read it. Exit status: 0 with warnings at most, 1 with errors.
    """
    room = open_room(book)
    today = moment(now).date()
    problems: list[Problem] = []
    counts: dict[str, Standing] = {}
    lines = []
    for tag in chosen(room, language):
        one = held(room, tag, today)
        found = check_language(room, one)
        problems += found
        counts[tag] = standing(one)
        lines.append(f"{one.file.as_posix()}: {_told(counts[tag])}; {report.counted(found)}.")
    if language is None:
        problems += without_catalogue(room)
    if format_ == "json":
        languages = {tag: asdict(one) | {"last_signed": _day(one)} for tag, one in counts.items()}
        report.show_data(in_order(problems), room=room.folder.as_posix(), languages=languages)
    else:
        report.show(in_order(problems))
        for line in lines or [f"{room.folder.as_posix()}: no catalogue of its own."]:
            click.echo(line)
    if any(problem.severity == "error" for problem in problems):
        ctx.exit(1)


def _told(one: Standing) -> str:
    return (
        f"{one.translated} of {one.messages} sentences translated, {one.signed} signed, {one.drafts} drafts; "
        f"{one.back} of {one.stops} STOP lines translated back"
    )


def _day(one: Standing) -> str | None:
    return one.last_signed.isoformat() if one.last_signed else None
