"""Record that a clinician approved what protocols say now.

Takes  an open book, numbers or names, who and when, the moment.
Gives  `approve`: the files to write (protocols with their open dates filled in, the record, each revision as approved), and
       what is to be printed for the signature. Writes nothing.
Knows  when an approval may be recorded; what it then holds for: `protocol/approval.py`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from generator import shelf
from generator.control.named import as_laid_out, errors_in, person, protocols_named, today
from generator.opening import OpenBook, judged
from generator.protocol.approval import Approval, Issue, Record, write_record
from generator.protocol.changes import is_control
from generator.protocol.model import Protocol
from generator.protocol.shapes import nearest
from generator.reckon.clock import located
from generator.source.change import Change, Put
from generator.source.editing import Unchangeable, edited
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.tree import Entries
from generator.standing import against_use, changes_of, out_of_use, standing

# A protocol is read again after a year, unless a day was written (common practice; accreditation asks for a day).
_YEARS = 1


@dataclass(frozen=True, slots=True)
class Terms:
    """What was typed. by: the clinician; on: the day of approval; effective, review_by: None leaves what is written or usual."""

    by: str | None = None
    on: date | None = None
    effective: date | None = None
    review_by: date | None = None


@dataclass(frozen=True, slots=True)
class Approvals:
    """What approving comes to. files: to write, by place. issues: a page each. book: as it will be."""

    files: Mapping[Path, bytes]
    issues: tuple[Issue, ...]
    book: OpenBook


def approve(opened: OpenBook, names: Sequence[str], terms: Terms, now: datetime) -> Approvals:
    """Approve protocols as they stand.

    Args:
        names: numbers or names; empty: every protocol that awaits approval.
    Raises:
        Refusal: with all that stands against any of them; nothing is to be written then.
    """
    chosen = protocols_named(opened, names, "approve") if names else _awaiting(opened)
    moment = located(now, opened.zone)
    problems = [*_typed(opened, terms, today(opened, now))]
    for protocol in chosen:
        problems += _against(opened, protocol, terms, today(opened, now))
    if problems:
        raise Refusal(in_order(problems))
    files = {Path(one.file): _filled(opened, one, terms, today(opened, now)) for one in chosen}
    present = shelf.yaml_files(opened.folder, patients=False)
    after = judged(opened.folder, present | {place.as_posix(): data for place, data in files.items()})
    as_written = [after.book.protocols[Path(one.file).stem] for one in chosen]
    if wrong := errors_in(after, *as_written):
        raise Refusal(in_order(wrong))
    rows = [_row(one, moment) for one in as_written]
    record = opened.record.with_rows(*rows)
    _must_have_own_files(record, rows)
    kept = {
        shelf.kept_file(opened.folder, row.kept): files[Path(one.file)] for one, row in zip(chosen, rows, strict=True)
    }
    written = {place: data for place, data in files.items() if data != present[place.as_posix()]}
    written |= kept | {shelf.record_file(opened.folder): write_record(record).encode()}
    after.__dict__["record"] = record
    return Approvals(written, tuple(_issues(after, rows, as_written)), after)


def _awaiting(opened: OpenBook) -> tuple[Protocol, ...]:
    found = tuple(one for one in opened.book.protocols.values() if standing(opened, one).state == "open")
    if not found:
        raise Refusal(
            [
                Problem(
                    "nothing-awaits-approval",
                    Span("approve"),
                    "every protocol of this book has been approved at its revision",
                    "a second signature under the same words says nothing new",
                    "after a change run `gauzeleaf revise` with the protocol's number first",
                )
            ]
        )
    return found


def _typed(opened: OpenBook, terms: Terms, day: date) -> Iterator[Problem]:
    if terms.on is not None and terms.on > day:
        yield Problem(
            "approved-in-the-future",
            Span("--on"),
            f"{terms.on} has not come yet",
            "an approval that nobody has given yet would count today",
            f"write the day on which it was signed, {day} or before",
        )
    clinicians = opened.book.clinic.clinicians
    if terms.by is not None and terms.by.casefold() not in {name.casefold() for name in clinicians}:
        close = nearest(terms.by, list(clinicians))
        yield Problem(
            "approver-unknown",
            Span("--by"),
            f"{terms.by} is not among the clinicians of clinic.yaml",
            "an approval counts only from somebody who answers for the case",
            (f"write `{close}`; " if close else "") + "the clinicians are: " + ", ".join(clinicians),
        )


def _against(opened: OpenBook, protocol: Protocol, terms: Terms, day: date) -> Iterator[Problem]:
    """What keeps one protocol from being approved as it stands."""
    if broken := errors_in(opened, protocol):
        yield from broken
        return
    if (gone := out_of_use(opened, protocol)) is not None:
        yield gone
        return
    one = standing(opened, protocol)
    if one.approval is not None:
        changed = against_use(opened, one)
        yield changed or Problem(
            "approved-already",
            protocol.span("revision"),
            f"{protocol.id} revision {protocol.revision} says what {one.approval.approved_by} approved on {one.approval.approved_on}",
            "a second signature under the same words says nothing new",
            f"after a change run `gauzeleaf revise {protocol.id}` first",
        )
        return
    last = opened.record.of(protocol.id)[-1:]
    if last and last[0].revision > protocol.revision:
        yield Problem(
            "revision-behind",
            protocol.span("revision"),
            f"revision {last[0].revision} of {protocol.id} was approved on {last[0].approved_on}, and this is revision {protocol.revision}",
            "a lower number would count as older than what it replaces",
            f"write `revision: {last[0].revision + 1}`, with its row in the history",
        )
    own = protocol.approved_by
    if own is None and terms.by is None:
        yield Problem(
            "approver-missing",
            protocol.span("approved_by"),
            f"nobody is named who approves {protocol.id}",
            "an approval counts only from somebody who answers for the case",
            "add `--by` with a name; the clinicians of clinic.yaml are: " + ", ".join(opened.book.clinic.clinicians),
        )
    elif own is not None and own.date > day:
        yield Problem(
            "approved-in-the-future",
            own.spans["date"],
            f"the file says that {own.name} approved it on {own.date}, which has not come yet",
            "an approval that nobody has given yet would count today",
            f"write the day on which it was signed, {day} or before; or `approved_by: to decide`, and name the clinician with `--by`",
        )
    elif own is not None and terms.by is not None and own.name.casefold() != terms.by.casefold():
        yield Problem(
            "approver-differs",
            own.spans["name"],
            f"the file says that {own.name} approved it, `--by` says {terms.by}",
            "the record and the printed page would name two people",
            f"leave `--by` out if {own.name} approves it, or write `approved_by: to decide` in the file",
        )


def _filled(opened: OpenBook, protocol: Protocol, terms: Terms, day: date) -> bytes:
    """The file with whatever its approval leaves open filled in; as it is, where nothing was."""
    place, reading = Path(protocol.file), opened.readings[protocol.file]
    data = shelf.read_file(place, "protocol")
    assert isinstance(reading.tree, Entries), "a protocol is a group of keys"
    own = protocol.approved_by
    on = own.date if own is not None else terms.on or day
    effective = terms.effective or protocol.effective or max(on, protocol.prepared_by.date)
    puts = {}
    if own is None:
        assert terms.by is not None, "it was asked for"
        named = next(name for name in opened.book.clinic.clinicians if name.casefold() == terms.by.casefold())
        known = opened.book.clinic.person(named)
        assert known is not None, "a clinician is on the roster"
        puts["approved_by"] = person(named, known.role, on)
    if protocol.effective != effective:
        puts["effective"] = str(effective)
    review = terms.review_by or protocol.review_by or _later(effective)
    if protocol.review_by != review:
        puts["review_by"] = str(review)
    changes: list[Change] = [Put(key, node, puts[key.text]) for key, node in reading.tree.entries if key.text in puts]
    if not changes:
        return data
    try:
        return as_laid_out(data, edited(reading.lines, reading.tree, changes))
    except Unchangeable:
        raise Refusal(
            [
                Problem(
                    "layout-in-the-way",
                    Span(protocol.file, 1, 1),
                    "this file is laid out so that its approval cannot be written without touching other values",
                    "a value that changes by the way would be approved unseen",
                    "write `approved_by`, `effective` and `review_by` on lines of their own",
                )
            ]
        ) from None


def _later(day: date) -> date:
    """A year on; of 29 February, the last day of that month."""
    try:
        return day.replace(year=day.year + _YEARS)
    except ValueError:
        return day.replace(year=day.year + _YEARS, day=28)


def _row(protocol: Protocol, moment: datetime) -> Approval:
    approved = protocol.approved_by
    assert approved is not None, "it was filled in"
    assert protocol.effective is not None, "it was filled in"
    assert protocol.review_by is not None, "it was filled in"
    return Approval(
        id=protocol.id,
        revision=protocol.revision,
        protocol=protocol.protocol,
        title=protocol.title,
        digest=protocol.content,
        kept=f"{shelf.file_name(protocol.id)}-rev-{protocol.revision}.yaml",
        prepared_by=protocol.prepared_by.name,
        approved_by=approved.name,
        role=approved.role,
        approved_on=approved.date,
        effective=protocol.effective,
        review_by=protocol.review_by,
        recorded=moment,
    )


def _must_have_own_files(record: Record, rows: Sequence[Approval]) -> None:
    """Two numbers that differ only in what a file name cannot hold would overwrite each other."""
    for row in rows:
        others = {one.id for one in record.approvals if one.kept.casefold() == row.kept.casefold() and one is not row}
        if others:
            raise Refusal(
                [
                    Problem(
                        "number-too-alike",
                        Span(f"approve {row.id}"),
                        f"the numbers {row.id} and {', '.join(sorted(others))} would be kept under one file name",
                        "one approved revision would overwrite the other",
                        "give one of them a number that differs in a letter or a figure",
                    )
                ]
            )


def _issues(after: OpenBook, rows: Sequence[Approval], protocols: Sequence[Protocol]) -> Iterator[Issue]:
    for row, protocol in zip(rows, protocols, strict=True):
        one = standing(after, protocol)
        changes = tuple(change for change in changes_of(after, one) if not is_control(change))
        yield Issue(row, protocol, changes, one.against)
