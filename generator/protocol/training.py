"""Who was trained on which revision, and for whom that is due.

Takes  the clinic's roster, the record of training, how protocols stand in the record of approvals, a day.
Gives  `wanted`: the revision that everybody must know; `level_of` a person; `due`; `against_record`: rows that cannot be so.
Knows  that training counts for one revision only, and from the day it was given; nothing of paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from generator.protocol.approval import Record, Standing
from generator.protocol.model import Clinic, Protocol, Staff, Trained
from generator.protocol.shapes import is_unsound, nearest
from generator.source.problem import Problem

# trained: read and shown competent; read: no more than that; prepared, approved: they answer for its words; due: none of these.
What = Literal["trained", "read", "prepared", "approved", "due"]


@dataclass(frozen=True, slots=True)
class Level:
    """How far one person is with one revision. row: of this revision, if there is one; before: the newest one they are trained on."""

    person: Staff
    what: What
    row: Trained | None
    before: int | None

    @property
    def is_due(self) -> bool:
        return self.what in ("read", "due")


@dataclass(frozen=True, slots=True)
class Wanted:
    """The revision of a protocol that everybody must know. by: from when; prepared_by, approved_by: who answers for its words."""

    number: str
    revision: int
    by: date | None
    prepared_by: str
    approved_by: str


def wanted(standing: Standing) -> Wanted | None:
    """The approved revision, or the last one if this one awaits approval; None where none was ever approved."""
    row = standing.approval if standing.approval is not None else standing.against
    if row is None:
        return None
    return Wanted(row.id, row.revision, row.effective, row.prepared_by, row.approved_by)


def of_protocol(protocol: Protocol) -> Wanted:
    """The revision as it stands in the book: what its own chapter asks for."""
    approved = protocol.approved_by
    return Wanted(
        protocol.id,
        protocol.revision,
        protocol.effective,
        protocol.prepared_by.name,
        approved.name if approved is not None else "",
    )


def level_of(person: Staff, of: Wanted, training: Iterable[Trained], day: date) -> Level:
    """How far one person is with one revision on a day; what was written for a later day has not been yet."""
    own = [
        row
        for row in training
        if row.name.casefold() == person.name.casefold()
        and row.protocol.casefold() == of.number.casefold()
        and row.read <= day
    ]
    row = next((row for row in own if row.revision == of.revision), None)
    before = max(
        (row.revision for row in own if row.revision < of.revision and row.competent is not None), default=None
    )
    if row is not None and row.competent is not None and row.competent <= day:
        return Level(person, "trained", row, before)
    if person.name.casefold() == of.prepared_by.casefold():
        return Level(person, "prepared", row, before)
    if person.name.casefold() == of.approved_by.casefold():
        return Level(person, "approved", row, before)
    return Level(person, "read" if row is not None else "due", row, before)


def levels(clinic: Clinic, of: Wanted, training: Iterable[Trained], day: date) -> tuple[Level, ...]:
    """Everybody who works here on a day, in the order of the roster."""
    rows = tuple(training)
    return tuple(level_of(person, of, rows, day) for person in clinic.roster if person.works_on(day))


# ---- the record of training beside the record of approvals --------------------------------------------------------


def against_record(training: Sequence[Trained], protocols: Iterable[Protocol], record: Record) -> tuple[Problem, ...]:
    """Rows of training on documents and revisions that never were, or on one before it was approved."""
    present: dict[str, tuple[str, int]] = {}
    for protocol in protocols:
        # What cannot be read has its problem already.
        if not is_unsound(protocol.id) and not is_unsound(protocol.revision):
            present[protocol.id.casefold()] = protocol.id, protocol.revision
    found: list[Problem] = []
    numbers = sorted({number for number, _ in present.values()} | {row.id for row in record.approvals})
    for row in training:
        found += _against(row, numbers, present, record)
    return tuple(found)


def _against(
    row: Trained, numbers: Sequence[str], present: dict[str, tuple[str, int]], record: Record
) -> Iterator[Problem]:
    if row.protocol.casefold() not in {number.casefold() for number in numbers}:
        close = nearest(row.protocol, list(numbers)) or nearest(row.protocol.upper(), list(numbers))
        yield Problem(
            "training-of-unknown-document",
            row.spans["protocol"],
            f"this book never had a document `{row.protocol}`",
            "the training would count for nothing, and nobody would be asked again",
            (f"write `{close}`" if close else "write one of: " + ", ".join(numbers)),
        )
        return
    approval = record.revision(row.protocol, row.revision)
    approved = {one.revision for one in record.of(row.protocol)}
    own = present.get(row.protocol.casefold())
    known = sorted(approved | ({own[1]} if own is not None else set()))
    if row.revision not in known:
        yield Problem(
            "training-of-unknown-revision",
            row.spans["revision"],
            f"{row.protocol} never had a revision {row.revision}",
            "training counts for one revision only, and nobody can read one that never was",
            "write the revision that stood on the page they read; there are: " + ", ".join(map(str, known)),
        )
    elif approval is not None and row.read < approval.approved_on:
        yield Problem(
            "trained-before-approval",
            row.spans["read"],
            f"{row.name} read {row.protocol} revision {row.revision} on {row.read}, before it was approved on {approval.approved_on}",
            "what they read was a draft, and may have said something else",
            f"write the day on which they read the approved page, {approval.approved_on} or later, or the revision that they read",
        )
