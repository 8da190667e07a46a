"""`gauzeleaf words sign`: two qualified people's approval, recorded."""

from __future__ import annotations

from datetime import date, datetime

import click

from generator import shelf
from generator.cli import report
from generator.cli.common import book_option, moment, now_option
from generator.source.problem import Problem
from generator.translation.room import chosen, held, open_room
from generator.translation.sign import Signed, sign, signature


@click.command(
    "sign",
    epilog='Example: gauzeleaf words sign es --all --translator "R. Osei-Lund" --reviser "M. Tamsin" --qualification "certified translator" --book our-book',
)
@click.argument("language", metavar="LANG")
@click.option("--translator", required=True, metavar="NAME", help="who translated, or revised the draft word by word")
@click.option("--reviser", required=True, metavar="NAME", help="the second person, who compared it with the English")
@click.option("--qualification", required=True, metavar="TEXT", help="what qualifies the reviser")
@click.option(
    "--date", "day", metavar="DATE", help="the day the revision was finished, such as 2027-03-14; left out, today"
)
@click.option("--message", "messages", multiple=True, metavar="SENTENCE", help="an English sentence to sign; may be given several times")  # fmt: skip
@click.option("--all", "everything", is_flag=True, help="sign every sentence that can be signed")
@book_option
@now_option
@click.pass_context
def command(
    ctx: click.Context,
    language: str,
    translator: str,
    reviser: str,
    qualification: str,
    day: str | None,
    messages: tuple[str, ...],
    everything: bool,
    book: str | None,
    now: str | None,
) -> None:
    """Record that two people have approved words of LANG, exactly as they stand now.

    What is signed prints without its draft mark and without the clinic's words beneath it. It is a draft again as soon as
    a letter of it changes, here or in English. STOP lines are signed only when they have been translated back.
    """
    if bool(messages) == everything:
        raise click.UsageError("Say what is signed: either --all, or each sentence with --message.")
    room = open_room(book)
    (tag,) = chosen(room, language, f"LANG {language}")
    today = _today(moment(now))
    by = signature(translator, reviser, qualification, day or today.isoformat(), today)
    done = sign(room, held(room, tag, today), by, None if everything else messages)
    shelf.write_whole(done.files)
    report.show(done.left)
    _tell(done)
    if done.left:
        ctx.exit(1)


def _today(at: datetime) -> date:
    """The day where the clinic's computer stands."""
    return (at.astimezone() if at.tzinfo else at).date()


def _tell(done: Signed) -> None:
    for entry in done.signed:
        click.echo(f"  {entry.source} -> {' | '.join(entry.translations)}")
    told = [f"signed now: {len(done.signed)}", f"before: {done.before}", f"still drafts: {done.drafts}"]
    if untranslated := _named(done.left, "translation-missing"):
        told.append(f"without words: {untranslated}")
    if stale := done.stale:
        told.append(f"old signatures taken out: {stale}")
    click.echo(f"{done.file.as_posix()}: {'; '.join(told)}")


def _named(problems: tuple[Problem, ...], name: str) -> int:
    return sum(problem.name == name for problem in problems)
