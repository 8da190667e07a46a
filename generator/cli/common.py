"""What most commands share: the book, the protocols, the moment, the patient.

Takes  options as typed.
Gives  decorators that add them, and `prepare`, which turns them into a plan.
Knows  nothing of any one command.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, TypeVar

import click

from generator import flow, opening
from generator.cli import patient, report
from generator.protocol.animal import doubts
from generator.protocol.quantity import Unreadable
from generator.protocol.shapes import DATE, read_moment
from generator.reckon.plan import Plan
from generator.source.problem import Problem, Refusal
from generator.source.span import Span

F = TypeVar("F", bound=Callable[..., Any])


def book_option(function: F) -> F:
    return click.option(
        "--book", "book", metavar="DIR", help="the book's folder; left out, the one you stand in, else the demo book"
    )(function)


def now_option(function: F) -> F:
    return click.option("--now", "now", metavar="INSTANT", help="pretend it is this moment, such as 2027-03-13T10:40")(
        function
    )


def output_option(function: F) -> F:
    return click.option(
        "--output",
        "output",
        type=click.Path(path_type=Path),
        default=Path("output"),
        show_default=True,
        metavar="DIR",
        help="where to write",
    )(function)


def plan_options(function: F) -> F:
    """Book, protocols, patient and moment."""
    for add in (now_option, patient.options, book_option):
        function = add(function)
    return click.option(
        "--protocol",
        "protocols",
        multiple=True,
        required=True,
        metavar="SLUG[@STAGE]",
        help="the protocol; several make one bandage",
    )(function)


def trial_option(function: F) -> F:
    """For drills and proofreading."""
    return click.option(
        "--trial", is_flag=True, help="also print what no clinician has approved as it stands; every page says TRIAL"
    )(function)


def then_option(function: F) -> F:
    """The bandage that follows a pressure bandage."""
    return click.option(
        "--then",
        "then",
        multiple=True,
        metavar="SLUG[@STAGE]",
        help="after a pressure bandage: the bandage that goes on once the bleeding has stopped; several make one bandage",
    )(function)


def moment(typed: str | None) -> datetime:
    """The moment a command works at: as typed, or the clock's, which is read here and nowhere else.

    Raises:
        Refusal: it is no moment.
    """
    if typed is None:
        return datetime.now(UTC).replace(second=0, microsecond=0)
    try:
        return read_moment(typed)
    except Unreadable as error:
        raise Refusal([Problem(error.name, Span("--now"), error.what, error.why, error.fix)]) from None


def day(_: click.Context, option: click.Parameter, typed: str | None) -> date | None:
    """A day as typed behind an option.

    Raises:
        Refusal: it is no day.
    """
    if typed is None:
        return None
    try:
        found: date = DATE.parse(typed)
        return found
    except Unreadable as error:
        raise Refusal(
            [Problem(error.name, Span(f"--{(option.name or '').replace('_', '-')}"), error.what, error.why, error.fix)]
        ) from None


def prepare(typed: dict[str, Any], *, on_trial: bool = True) -> tuple[opening.OpenBook, Plan]:
    """Open the book, choose the protocols, read the patient, reckon; show what is doubtful in the patient, or wrong elsewhere in the book, as warnings.

    Args:
        on_trial: whether what nobody approved is going to be printed, as a trial: then that is a warning too.
    """
    if typed["patient_file"] is None and not any(typed[name] for name in typed if name.startswith("p_")):
        raise click.UsageError("No patient: name its file with --patient FILE, or give it as options (see --help).")
    opened = opening.open_to_plan(typed["book"])
    now = moment(typed["now"])
    problems: list[Problem] = []
    chosen = then = animal = None
    try:
        chosen = flow.choose(opened, typed["protocols"])
    except Refusal as refusal:
        problems += refusal.problems
    try:
        then = flow.choose(opened, typed["then"], "--then") if typed.get("then") else None
    except Refusal as refusal:
        problems += refusal.problems
    try:
        animal = flow.patient_from(patient.tree_of(typed["patient_file"], typed))
    except Refusal as refusal:
        problems += refusal.problems
    if problems or chosen is None or animal is None:
        raise Refusal(dict.fromkeys(problems))
    plan = flow.make_plan(opened, chosen, animal, now, then)
    report.show(doubts(animal))
    _show_elsewhere(flow.elsewhere(opened, chosen, then))
    for problem in flow.unapproved(opened, plan) if on_trial else ():
        # The lines that changed are the head technician's business, and shown by `check`.
        click.echo(f"{problem.span}: warning: {problem.name}: {problem.what}; each page says TRIAL", err=True)
    return opened, plan


def _show_elsewhere(problems: Sequence[Problem]) -> None:
    """One line for each problem; of what is still to be decided, one for each file: a book being built up has a dozen in each."""
    left_open = Counter(problem.span.file for problem in problems if problem.name == "not-decided")
    for problem in problems:
        what = problem.what
        if problem.name == "not-decided":
            count = left_open.pop(problem.span.file, 0)
            if count == 0:
                continue
            if count > 1:
                what += f", and {count - 1} more in this file"
        click.echo(f"{problem.span}: warning: elsewhere in the book: {problem.name}: {what}", err=True)
