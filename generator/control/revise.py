"""Raise a protocol to its next revision: a row in its history, its approval cleared.

Takes  an open book, a number or name, who, what and why, the moment.
Gives  `revise`: the file to write, and what changed since the last approved revision. Writes nothing.
Knows  which values a new revision leaves open, for the approval to write.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from generator import shelf
from generator.control.named import as_laid_out, errors_in, person, protocols_named, quoted, today
from generator.opening import OpenBook, judged
from generator.protocol.changes import Difference, is_control, where
from generator.protocol.model import Book, Protocol
from generator.protocol.shapes import TO_DECIDE
from generator.source.change import Change, First, Put
from generator.source.editing import Unchangeable, edited
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.tree import Entries, Items
from generator.standing import changes_of, out_of_use, standing

# As much of what changed as makes a row of a history.
_LONGEST_ROW = 160


@dataclass(frozen=True, slots=True)
class Revised:
    """A protocol as it is to be written. number: its document number; before, after: revisions; changes: since the approved one.

    problems: what is still open in it.
    """

    files: Mapping[Path, bytes]
    number: str
    before: int
    after: int
    changes: tuple[Difference, ...]
    problems: tuple[Problem, ...]


def revise(
    opened: OpenBook, name: str, now: datetime, *, why: str | None, change: str | None = None, by: str | None = None
) -> Revised:
    """Raise the revision of one protocol.

    Args:
        why: the reason, for the history; None leaves it to be decided. change: what changed, in words; None: told from what
            differs from the approved revision. by: who prepares it; None: the head technician.
    Raises:
        Refusal: it is not there, was never approved, or is raised already; nothing is to be written then.
    """
    (protocol,) = protocols_named(opened, [name], "revise")
    if broken := [p for p in errors_in(opened, protocol) if p.name != "not-decided"]:
        raise Refusal(in_order(broken))
    if (gone := out_of_use(opened, protocol)) is not None:
        raise Refusal([gone])
    one = standing(opened, protocol)
    if one.state == "open":
        raise Refusal([_nothing_to_raise(protocol, one.against is not None)])
    assert one.approval is not None, "what is not open has been approved once"
    changes = tuple(difference for difference in changes_of(opened, one) if not is_control(difference))
    if one.approval.digest == protocol.content:
        changes = ()
    reading = opened.readings[protocol.file]
    assert isinstance(reading.tree, Entries), "a protocol is a group of keys"
    row = _row(protocol, changes, now, opened, why=why, change=change, by=by)
    try:
        text = edited(reading.lines, reading.tree, _edits(reading.tree, protocol, row, now, opened, by))
    except Unchangeable:
        raise Refusal([_layout(protocol)]) from None
    place = Path(protocol.file)
    data = as_laid_out(shelf.read_file(place, "protocol"), text)
    after = judged(opened.folder, shelf.yaml_files(opened.folder, patients=False) | {protocol.file: data})
    new = [p for p in after.problems if p.span.file == protocol.file]
    if harm := [p for p in new if p.severity == "error" and p.name != "not-decided"]:
        raise Refusal(in_order(harm))
    return Revised({place: data}, protocol.id, protocol.revision, protocol.revision + 1, changes, tuple(new))


def _row(
    protocol: Protocol,
    changes: Sequence[Difference],
    now: datetime,
    opened: OpenBook,
    *,
    why: str | None,
    change: str | None,
    by: str | None,
) -> str:
    said = change or _in_few_words(changes) or TO_DECIDE
    name = by or opened.book.clinic.head_technician
    return (
        f"{{revision: {protocol.revision + 1}, date: {today(opened, now)}, change: {quoted(said)}, "
        f"why: {quoted(why or TO_DECIDE)}, by: {quoted(name)}}}"
    )


def _in_few_words(changes: Sequence[Difference]) -> str:
    """Where something changed, each place once, as many as one row holds."""
    places = list(dict.fromkeys(where(difference.path) for difference in changes))
    said = "; ".join(places)
    if len(said) <= _LONGEST_ROW:
        return said
    broad = list(dict.fromkeys(where(difference.path[:1]) for difference in changes))
    return "; ".join(broad)


def _edits(
    tree: Entries, protocol: Protocol, row: str, now: datetime, opened: OpenBook, by: str | None
) -> tuple[Change, ...]:
    history = tree.get("history")
    assert isinstance(history, Items), "a protocol has a history"
    assert history.items, "a history has rows"
    name = by or opened.book.clinic.head_technician
    puts = {
        "revision": str(protocol.revision + 1),
        "effective": TO_DECIDE,
        "review_by": TO_DECIDE,
        "prepared_by": person(name, role_of(opened.book, protocol, name), today(opened, now)),
        "approved_by": TO_DECIDE,
    }
    found: list[Change] = [Put(key, node, puts[key.text]) for key, node in tree.entries if key.text in puts]
    return (*found, First(history, row))


def role_of(book: Book, protocol: Protocol, name: str) -> str:
    """The role of whoever prepares it: as in the protocol before, or as clinic.yaml says (`staff`); else to be decided."""
    before = protocol.prepared_by
    if before.name.casefold() == name.casefold():
        return before.role
    known = book.clinic.person(name)
    return TO_DECIDE if known is None else known.role


def _nothing_to_raise(protocol: Protocol, has_earlier: bool) -> Problem:
    if has_earlier:
        return Problem(
            "revision-raised-already",
            protocol.span("revision"),
            f"revision {protocol.revision} of {protocol.id} is not approved yet: it is the new one already",
            "a number that was never in force would leave a gap that nobody can explain",
            "go on editing it, and add what changed to the top row of its history; then run "
            f"`gauzeleaf approve {protocol.id}`",
        )
    return Problem(
        "never-approved",
        protocol.span("revision"),
        f"{protocol.id} was never approved in this book: there is nothing to raise",
        "a revision counts from the words that somebody approved before",
        f"edit it as it is, then run `gauzeleaf approve {protocol.id} --by NAME`",
    )


def _layout(protocol: Protocol) -> Problem:
    return Problem(
        "layout-in-the-way",
        Span(protocol.file, 1, 1),
        "this file is laid out so that its revision cannot be changed without touching other values",
        "a value that changes by the way would be approved unseen",
        "write `revision`, `effective`, `review_by`, `prepared_by`, `approved_by` and each row of `history` on lines of their own",
    )
