"""Take a document out of use for good.

Takes  an open book, a number or name, who, why and from which day, the moment.
Gives  `withdraw`: the files to write, the one to take away, and what the withdrawal sheet says. Writes nothing.
Knows  what still leans on a protocol, and which of its words must be kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from generator import shelf
from generator.control.named import number_of, protocols_named, today
from generator.opening import OpenBook, judged
from generator.protocol.approval import Withdrawal, write_record
from generator.protocol.model import Protocol
from generator.protocol.shapes import is_unsound, nearest
from generator.protocol.withdrawal import TakenOut, Withdrawn
from generator.reckon.clock import located
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span


@dataclass(frozen=True, slots=True)
class Withdrawing:
    """What withdrawing comes to. files: to write, by place; gone: to be taken away; book: as it will be."""

    files: Mapping[Path, bytes]
    gone: Path
    withdrawn: Withdrawn
    book: OpenBook


def withdraw(opened: OpenBook, name: str, now: datetime, *, why: str, by: str, on: date | None = None) -> Withdrawing:
    """Withdraw one document.

    Args:
        why: the reason, for the record and the sheet. by: who decides it: the head technician or a clinician. on: the day from
            which it no longer counts; None: today.
    Raises:
        Refusal: with all that stands against it; nothing is to be written then.
    """
    _must_be_in_use(opened, name)
    (protocol,) = protocols_named(opened, [name], "withdraw")
    number = number_of(protocol)
    if number is None or is_unsound(protocol.revision):
        raise Refusal([_unnumbered(protocol)])
    if opened.record.withdrawn(number) is not None:
        raise Refusal([_withdrawn_already(opened, number, Path(protocol.file))])
    day = on or today(opened, now)
    rows = opened.record.of(number)
    after = judged(opened.folder, _without(opened, protocol))
    problems = [*_typed(opened, why, by, on, now, protocol), *_leaning(opened, protocol)]
    if not problems:
        # Whatever else of the book needs it shows as an error that was not there before.
        problems += [p for p in after.problems if p.severity == "error" and p not in opened.problems]
    if problems:
        raise Refusal(in_order(problems))
    row = Withdrawal(number, day, " ".join(why.split()), _as_written(opened, by), located(now, opened.zone))
    record = opened.record.with_rows(row)
    files = {shelf.record_file(opened.folder): write_record(record).encode()}
    if not any(approval.digest == protocol.content for approval in rows):
        files |= _kept(opened, protocol, number)
    after.__dict__["record"] = record
    last = rows[-1] if rows else None
    revision = last.revision if last is not None else protocol.revision
    title = last.title if last is not None else str(protocol.title)
    out = TakenOut(number, title, revision, tuple(one.revision for one in rows if one.revision < revision))
    return Withdrawing(files, Path(protocol.file), Withdrawn(row, out, last), after)


def _must_be_in_use(opened: OpenBook, name: str) -> None:
    """A document that was withdrawn before is no longer in the book: say that it was, not that it never existed."""
    record = opened.record
    numbers = {name, *(row.id for row in record.approvals if row.protocol == name)}
    gone = next((row for row in record.withdrawals if row.id.casefold() in {n.casefold() for n in numbers}), None)
    present = {number_of(one) for one in opened.book.protocols.values()}
    if gone is not None and gone.id not in present:
        raise Refusal([_withdrawn_already(opened, gone.id, None)])


def _withdrawn_already(opened: OpenBook, number: str, file: Path | None) -> Problem:
    gone = opened.record.withdrawn(number)
    assert gone is not None, "it was asked before"
    return Problem(
        "withdrawn-already",
        Span(f"withdraw {number}"),
        f"{number} was withdrawn on {gone.on} by {gone.by}: {gone.why}",
        "a second row would leave open from which day it no longer counts",
        f"take {file.as_posix()} out of the book; under this number nothing comes back"
        if file is not None
        else "nothing is left to do; its kept revisions are printed with `gauzeleaf chapter`",
    )


def _unnumbered(protocol: Protocol) -> Problem:
    return Problem(
        "number-unreadable",
        Span(protocol.file, 1, 1),
        f"`{protocol.protocol}` has no document number or revision that could be read",
        "the record of what is out of use goes by them",
        "mend `id` and `revision` first; a file that never had any can simply be taken out of the folder",
    )


def _typed(
    opened: OpenBook, why: str, by: str, on: date | None, now: datetime, protocol: Protocol
) -> Iterator[Problem]:
    day = today(opened, now)
    if not why.strip():
        yield Problem(
            "reason-missing",
            Span("--why"),
            "no reason is given",
            "whoever used it has to know what was wrong with it",
            'write the reason, such as --why "replaced by the splinted bandage"',
        )
    known = _signing(opened)
    if by.casefold() not in {name.casefold() for name in known}:
        close = nearest(by, list(known))
        yield Problem(
            "withdrawer-unknown",
            Span("--by"),
            f"{by} is neither the head technician nor a clinician of clinic.yaml",
            "a document is taken from the floor only by somebody who answers for what is done instead",
            (f"write `{close}`; " if close else "") + "they are: " + ", ".join(known),
        )
    if on is not None and on > day:
        yield Problem(
            "withdrawn-in-the-future",
            Span("--on"),
            f"{on} has not come yet",
            "its file leaves the book now: until that day nobody could print what is still in force",
            f"wait for the day, or write {day} or before",
        )
    rows = opened.record.of(protocol.id)
    if on is not None and rows and on < rows[-1].approved_on:
        yield Problem(
            "withdrawn-before-approval",
            Span("--on"),
            f"revision {rows[-1].revision} of {protocol.id} was approved on {rows[-1].approved_on}, after {on}",
            "it would have been approved while it was out of use",
            f"write {rows[-1].approved_on} or a later day",
        )


def _signing(opened: OpenBook) -> tuple[str, ...]:
    clinic = opened.book.clinic
    return (clinic.head_technician, *clinic.clinicians)


def _as_written(opened: OpenBook, by: str) -> str:
    return next(name for name in _signing(opened) if name.casefold() == by.casefold())


def _leaning(opened: OpenBook, protocol: Protocol) -> Iterator[Problem]:
    """A problem for each protocol that still sends somebody to this one or is made of it."""
    for other in opened.book.protocols.values():
        if other is protocol:
            continue
        places = dict.fromkeys(_mentions(other, protocol.protocol))
        if places:
            (span, word), *more = places
            yield Problem(
                "still-needed",
                span,
                f"`{other.protocol}` ({number_of(other) or '?'}) still names `{protocol.protocol}`: {word}",
                "whoever follows it would look for a procedure that is out of use",
                f"name another protocol there and have {number_of(other) or 'it'} approved again, or withdraw {number_of(other) or 'it'} first",
                also=tuple(more),
            )


def _mentions(other: Protocol, slug: str) -> Iterator[tuple[Span, str]]:
    if not is_unsound(other.blend) and slug in {part.partition("@")[0] for part in other.blend}:
        yield other.span("blend"), "it is a part of this stored blend"
    stages = () if is_unsound(other.stages) else tuple(other.stages.values())
    for one in (other, *(stage for stage in stages if not is_unsound(stage))):
        for refrain in () if is_unsound(one.do_not_use_when) else one.do_not_use_when:
            if not is_unsound(refrain) and refrain.instead == slug:
                yield refrain.spans.get("instead", one.span("do_not_use_when")), "to be used instead"


def _without(opened: OpenBook, protocol: Protocol) -> dict[str, bytes]:
    files = shelf.yaml_files(opened.folder, patients=False)
    files.pop(protocol.file)
    return files


def _kept(opened: OpenBook, protocol: Protocol, number: str) -> dict[Path, bytes]:
    """What it said last, where nobody approved that: an inspector may still ask what hung on the wall."""
    place = shelf.kept_file(opened.folder, f"{shelf.file_name(number)}-rev-{protocol.revision}-withdrawn.yaml")
    if place.exists():
        raise Refusal(
            [
                Problem(
                    "place-taken",
                    Span(place.as_posix()),
                    "a withdrawn text is kept under this name already",
                    "it would be overwritten, and nobody could tell what it said",
                    "move that file to a safe place, then withdraw again",
                )
            ]
        )
    return {place: shelf.read_file(Path(protocol.file), "protocol")}
