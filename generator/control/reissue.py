"""Choose what a reissue exchanges, and put the book into the state that its copies are to have.

Takes  an open book, numbers or a day, the moment.
Gives  `reissue`: the lines of the insert list, and the book whose pages go in. Writes nothing.
Knows  which revision lies in the copies: the one approved before; and that a text which awaits approval is in none of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator import shelf
from generator.control.kept import document_named
from generator.control.named import number_of
from generator.opening import OpenBook, judged
from generator.protocol.approval import Approval
from generator.protocol.book import SETTINGS
from generator.protocol.model import Protocol
from generator.protocol.withdrawal import Exchanged
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.standing import against_use, kept_tree, standing


@dataclass(frozen=True, slots=True)
class Reissue:
    """What a reissue comes to. book: as its copies are to be; lines: of the insert list, in order of number."""

    book: OpenBook
    lines: tuple[Exchanged, ...]


def reissue(opened: OpenBook, names: Sequence[str], *, since: date | None = None, trial: bool = False) -> Reissue:
    """Choose what is exchanged.

    Args:
        names: document numbers or names. since: all that was approved or withdrawn on this day or after it; instead of names.
        trial: also what nobody has approved as it stands.
    Raises:
        Refusal: with all that stands against any of them.
    """
    if since is not None:
        lines = sorted(_since(opened, since), key=lambda line: line.id)
        if not lines:
            raise Refusal([_nothing(opened, since)])
        return Reissue(_as_approved(opened), tuple(lines))
    problems: list[Problem] = []
    found: dict[str, Exchanged] = {}
    for name in names:
        try:
            number = document_named(opened, name, "reissue", name)
            found[number] = _line(opened, number, name, trial)
        except Refusal as refusal:
            problems += refusal.problems
    if problems:
        raise Refusal(in_order(problems))
    return Reissue(opened if trial else _as_approved(opened), tuple(found[number] for number in sorted(found)))


def _line(opened: OpenBook, number: str, name: str, trial: bool) -> Exchanged:
    rows = opened.record.of(number)
    gone = opened.record.withdrawn(number)
    if gone is not None:
        if not rows:
            raise Refusal([_never_in(number, name)])
        return Exchanged(number, rows[-1].title, rows[-1].revision, None, gone.on)
    protocol = _of_number(opened, number)
    if protocol is None:
        raise Refusal([_lost(number, name, rows)])
    one = standing(opened, protocol)
    if one.is_approved or trial:
        earlier = [row.revision for row in rows if row.revision < protocol.revision]
        return Exchanged(
            number, protocol.title, earlier[-1] if earlier else None, protocol.revision, protocol.effective
        )
    problem = against_use(opened, one)
    assert problem is not None, "it is not approved"
    raise Refusal([replace(problem, fix=f"{problem.fix}; for proofreading, print with `--trial`")])


def _since(opened: OpenBook, day: date) -> Iterator[Exchanged]:
    record = opened.record
    for number in dict.fromkeys(row.id for row in record.approvals):
        rows, gone = record.of(number), record.withdrawn(number)
        before = [row.revision for row in rows if row.approved_on < day]
        last = rows[-1]
        if gone is not None:
            if gone.on >= day and before:
                yield Exchanged(number, last.title, before[-1], None, gone.on)
        elif last.approved_on >= day and _of_number(opened, number) is not None:
            yield Exchanged(number, last.title, before[-1] if before else None, last.revision, last.effective)


def _of_number(opened: OpenBook, number: str) -> Protocol | None:
    protocols = opened.book.protocols.values()
    return next((one for one in protocols if (number_of(one) or "").casefold() == number.casefold()), None)


def _as_approved(opened: OpenBook) -> OpenBook:
    """The book as its copies are to be: each protocol at its newest approved revision, what was never approved left out.

    Raises:
        Refusal: an approved revision does not pass with today's settings, or is not kept as it was approved.
    """
    files = shelf.yaml_files(opened.folder, patients=False)
    put_back: dict[str, str] = {}
    for name in list(files):
        stem = Path(name).stem
        if stem in SETTINGS:
            continue
        protocol = opened.book.protocols.get(stem)
        number = number_of(protocol) if protocol is not None else None
        if protocol is not None and number is not None and standing(opened, protocol).is_approved:
            continue
        del files[name]
        row = _newest(opened, number, stem)
        if row is not None:
            kept_tree(opened, row)
            kept = shelf.kept_file(opened.folder, row.kept)
            place = (opened.folder / f"{row.protocol}.yaml").as_posix()
            files[place] = shelf.read_file(kept, "approved revision")
            put_back[place] = kept.as_posix()
    is_same = files == shelf.yaml_files(opened.folder, patients=False)
    book = opened if is_same else judged(opened.folder, files)
    errors = [problem for problem in book.problems if problem.severity == "error"]
    if errors:
        raise Refusal(_where_kept(problem, put_back) for problem in errors)
    return book


def _newest(opened: OpenBook, number: str | None, stem: str) -> Approval | None:
    record = opened.record
    rows = record.of(number) if number is not None else ()
    rows = rows or tuple(row for row in record.approvals if row.protocol == stem)
    rows = tuple(row for row in rows if record.withdrawn(row.id) is None)
    return rows[-1] if rows else None


def _where_kept(problem: Problem, put_back: dict[str, str]) -> Problem:
    """A problem of a text that was put back points at the file it is kept in."""
    span = problem.span
    if span.file not in put_back:
        return problem
    return replace(problem, span=Span(put_back[span.file], span.line, span.column, span.length))


def _never_in(number: str, name: str) -> Problem:
    return Problem(
        "never-issued",
        Span(f"reissue {name}"),
        f"{number} was withdrawn before anybody approved it: no copy ever held it",
        "there is nothing to take out",
        "leave it out of the reissue",
    )


def _lost(number: str, name: str, rows: Sequence[Approval]) -> Problem:
    kept = f"its words are kept in approved/{rows[-1].kept}" if rows else "none of its words are kept"
    return Problem(
        "protocol-missing",
        Span(f"reissue {name}"),
        f"{number} is approved and was never withdrawn, but the book has no file for it",
        "nobody can tell whether it still counts",
        f"put the file back ({kept}), or take it out of use with `gauzeleaf withdraw`",
    )


def _nothing(opened: OpenBook, since: date) -> Problem:
    days = [row.approved_on for row in opened.record.approvals] + [row.on for row in opened.record.withdrawals]
    last = f"the last approval or withdrawal was on {max(days)}" if days else "nothing was ever approved"
    return Problem(
        "nothing-since",
        Span("--since"),
        f"nothing was approved or withdrawn on {since} or after it",
        "a reissue without a change sends everybody to their copies for nothing",
        f"name an earlier day ({last}), or the documents themselves",
    )
