"""What `gauzeleaf check --watch` shows: a ruled line with the clock time, the problems, what changed, the page that is edited.

Takes  the rounds of `generator/watching.py`.
Gives  lines on standard error, one round below the other: nothing on the screen is cleared.
Knows  nothing of what is watched.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

import click

from generator import shelf, watching
from generator.cli import report
from generator.opening import OpenBook
from generator.source.problem import Problem, Refusal
from generator.watching import Found, Page, Round

_WIDE = 78


def keep_watching(book: str | None, judge: Callable[[], tuple[OpenBook, tuple[Problem, ...]]], output: Path) -> None:
    """Watch a book until somebody presses Ctrl-C.

    Raises:
        Refusal: there is no such folder to begin with.
    """
    folder = shelf.book_folder(book)
    # A short command needs no collector (`cli/main.py`); this one stays, and judges a whole book each time.
    gc.enable()

    def found() -> Found:
        try:
            opened, problems = judge()
        except Refusal as refusal:
            return Found(refusal.problems, None)
        return Found(problems, opened)

    try:
        watching.watch(lambda: shelf.stamps(folder), found, watching.EditedPage(output), show, _clock, time.sleep)
    except KeyboardInterrupt:
        click.echo(f"\nWatched {folder.as_posix()} until {_clock():%H:%M:%S}.", err=True)


def _clock() -> datetime:
    return datetime.now().astimezone()


def show(round_: Round) -> None:
    """Write one round below what stands there."""
    what = _files(round_.saved) or ("first look" if round_.page is None else "to be read again")
    click.echo(_ruled(f"{round_.at:%H:%M:%S}  {what}"), err=True)
    opened = round_.found.opened
    report.show(round_.found.problems, opened.line if opened is not None else report.line_on_disk)
    counted = report.counted(round_.found.problems)
    if round_.page is None:
        click.echo(f"{counted}. Save a file to have it checked again; Ctrl-C ends.", err=True)
        return
    click.echo(f"{_changed(round_.mended, round_.fresh)}: {counted}.", err=True)
    click.echo(_told(round_.page), err=True)


def _ruled(text: str) -> str:
    return f"-- {text} ".ljust(_WIDE, "-")


def _files(saved: Sequence[tuple[str, str]]) -> str:
    """`velpeau-sling.yaml saved`; of more than three the number."""
    if len(saved) > 3:
        return f"{len(saved)} files changed"
    return ", ".join(f"{Path(name).name} {word}" for name, word in saved)


def _changed(mended: int, fresh: int) -> str:
    """`2 problems mended, 1 new`."""
    parts = [f"{mended} {'problem' if mended == 1 else 'problems'} mended"] if mended else []
    if fresh:
        parts.append(f"{fresh} new" if mended else f"{fresh} new {'problem' if fresh == 1 else 'problems'}")
    return ", ".join(parts) or "nothing mended, nothing new"


def _told(page: Page) -> str:
    if page.file is None:
        return "No page printed: save a protocol to see its page."
    place = page.file.as_posix()
    if not page.errors:
        return f"{place} printed."
    against = page.why or f"{page.errors} {'error stands' if page.errors == 1 else 'errors stand'} against it"
    if page.at is None:
        return f"{place} not printed: {against}."
    return f"{place} stays as printed at {page.at:%H:%M:%S}: {against}."
