"""C11: each row of the record of training names people of the clinic, and its days are in order.

What it looks for: `name`, `by`, `read` and `competent` in training.yaml beside the people of clinic.yaml.
Why it matters: an inspector asks who was trained on this very revision, and by whom.
Stops: a name that is not in the clinic; whoever shows themselves competent; competence before reading; a row twice.
Write instead: the name as in clinic.yaml, somebody else as `by`, the days as they were.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Trained
from generator.protocol.rules.rule import ClinicRule, each
from generator.protocol.shapes import is_unsound, nearest
from generator.source.problem import Problem
from generator.source.span import Span


def check(book: Book) -> Iterator[Problem]:
    if is_unsound(book.training):
        return
    people = [person.name for person in book.clinic.roster]
    seen: dict[tuple[str, str, int], Trained] = {}
    yield from each(book.training, lambda row: _judge(row, people, seen))


def _judge(row: Trained, people: list[str], seen: dict[tuple[str, str, int], Trained]) -> Iterator[Problem]:
    key = row.name.casefold(), row.protocol.casefold(), row.revision
    first = seen.setdefault(key, row)
    if first is not row:
        yield Problem(
            "trained-twice",
            row.spans["name"],
            f"{row.name} has a second row for {row.protocol} revision {row.revision}",
            "nobody could tell which of the two days counts",
            "keep one of the rows",
            also=((first.spans["name"], "the first one is here"),),
        )
    if not _known(row.name, people):
        yield _stranger(row.name, row.spans["name"], people)
    if row.by is not None and not _known(row.by, people):
        yield _stranger(row.by, row.spans["by"], people)
    elif row.by is not None and row.by.casefold() == row.name.casefold():
        yield Problem(
            "trained-by-oneself",
            row.spans["by"],
            f"{row.name} was shown competent by {row.by}",
            "nobody finds their own slips",
            "write who watched them do it",
        )
    if row.competent is not None and row.competent < row.read:
        yield Problem(
            "competent-before-read",
            row.spans["competent"],
            f"{row.name} was shown competent on {row.competent}, before they read it on {row.read}",
            "they were watched doing it by other words",
            "write the days as they were; both may be the same",
        )


def _known(name: str, people: list[str]) -> bool:
    return any(name.casefold() == person.casefold() for person in people)


def _stranger(name: str, at: Span, people: list[str]) -> Problem:
    close = nearest(name, people)
    return Problem(
        "trained-stranger",
        at,
        f"clinic.yaml names nobody called {name}",
        "the training would count for nobody",
        (f"write `{close}`, or " if close else "")
        + f"add `- {{name: {name}, role: technician}}` to `staff` in clinic.yaml, with `until` if they have left",
    )


RULE = ClinicRule(
    id="C11",
    name="trained-stranger",
    looks_for="Each row of the record of training names people of the clinic, and its days are in order.",
    why="An inspector asks who was trained on this very revision, and by whom.",
    source="ISO 9001:2015 7.2; ISO/IEC 17025:2017 6.2; house rule",
    file="training.yaml",
    broken="training:\n  - {name: J. Adeyami, protocol: LB-SUP-002, revision: 4, read: 2026-11-03, competent: 2026-11-10, by: Dr M. Tamsin}\n",
    mended="training:\n  - {name: J. Adeyemi, protocol: LB-SUP-002, revision: 4, read: 2026-11-03, competent: 2026-11-10, by: Dr M. Tamsin}\n",
    check=check,
    also=("trained-twice", "trained-by-oneself", "competent-before-read"),
)
