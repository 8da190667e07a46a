"""Which content of which protocol a clinician has approved: the record that a book keeps of its own revisions.

Takes  the text of a record; a protocol.
Gives  `Record` with its approvals and withdrawals, read and written; `standing_of` a protocol; `Issue`.
Knows  that an approval holds for one content only, that a number once withdrawn never comes back, and that a row is never
       changed; nothing of files.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date, datetime
from typing import Any, Literal

from generator.protocol.changes import Difference
from generator.protocol.content import SHOWN
from generator.protocol.model import Protocol
from generator.source.problem import Problem
from generator.source.span import Span


@dataclass(frozen=True, slots=True)
class Approval:
    """One revision as it was approved. digest: of its content, 64 hex digits; kept: the name of the file that holds it.

    protocol: its name in commands. recorded: when the row was written, with its offset.
    """

    id: str
    revision: int
    protocol: str
    title: str
    digest: str
    kept: str
    prepared_by: str
    approved_by: str
    role: str
    approved_on: date
    effective: date
    review_by: date
    recorded: datetime

    @property
    def shown(self) -> str:
        """The digest as far as it is printed."""
        return self.digest[:SHOWN]


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """A number taken out of use for good, from a day on."""

    id: str
    on: date
    why: str
    by: str
    recorded: datetime


@dataclass(frozen=True, slots=True)
class Record:
    """All rows, oldest first."""

    approvals: tuple[Approval, ...] = ()
    withdrawals: tuple[Withdrawal, ...] = ()
    file: str = ""

    def of(self, number: str) -> tuple[Approval, ...]:
        """The approved revisions of a document number, oldest first."""
        same = [row for row in self.approvals if row.id.casefold() == number.casefold()]
        return tuple(sorted(same, key=lambda row: row.revision))

    def revision(self, number: str, revision: int) -> Approval | None:
        """One approved revision."""
        return next((row for row in self.of(number) if row.revision == revision), None)

    def withdrawn(self, number: str) -> Withdrawal | None:
        """Whether and when a number was taken out of use."""
        return next((row for row in self.withdrawals if row.id.casefold() == number.casefold()), None)

    def replaced_on(self, approval: Approval) -> date | None:
        """The day from which this revision no longer counts: a later one came into force, or the number was withdrawn."""
        later = [row.effective for row in self.of(approval.id) if row.revision > approval.revision]
        gone = self.withdrawn(approval.id)
        return min([*later, *([gone.on] if gone else [])], default=None)

    def with_rows(self, *rows: Approval | Withdrawal) -> Record:
        """The record with more rows at its end."""
        return replace(
            self,
            approvals=(*self.approvals, *(row for row in rows if isinstance(row, Approval))),
            withdrawals=(*self.withdrawals, *(row for row in rows if isinstance(row, Withdrawal))),
        )


@dataclass(frozen=True, slots=True)
class Issue:
    """One approved revision with what it says, and what changed since the approved one before, if there was one."""

    approval: Approval
    protocol: Protocol
    changes: tuple[Difference, ...]
    before: Approval | None


# approved: this very content; changed: another content under an approved revision; open: a revision nobody has approved yet.
State = Literal["approved", "changed", "open"]


@dataclass(frozen=True, slots=True)
class Standing:
    """Whether what a protocol says now has been approved. against: the approved revision it is to be compared with, if any.

    Of an approved content that is the revision before it; of any other the newest approved one.
    """

    protocol: Protocol
    state: State
    approval: Approval | None
    against: Approval | None

    @property
    def is_approved(self) -> bool:
        return self.state == "approved"


def standing_of(protocol: Protocol, record: Record) -> Standing:
    """How a protocol stands in the record."""
    rows = record.of(protocol.id)
    own = next((row for row in rows if row.revision == protocol.revision), None)
    earlier = [row for row in rows if row.revision < protocol.revision]
    last = earlier[-1] if earlier else None
    if own is None:
        return Standing(protocol, "open", None, last)
    if own.digest != protocol.content:
        return Standing(protocol, "changed", own, own)
    return Standing(protocol, "approved", own, last)


# ---- the record as a file --------------------------------------------------------------------------------------

_READ: Mapping[str, Any] = {"date": date.fromisoformat, "datetime": datetime.fromisoformat, "int": int, "str": str}


def read_record(text: str, file: str) -> tuple[Record, tuple[Problem, ...]]:
    """Read a record. A row that is not sound approves nothing."""
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        return Record(file=file), (_unsound(Span(file, error.lineno, error.colno), f"it cannot be read: {error.msg}"),)
    if not isinstance(data, dict):
        return Record(file=file), (_unsound(Span(file, 1, 1), "it is not a table of approvals and withdrawals"),)
    problems: list[Problem] = []
    approvals = tuple(_rows(Approval, data.get("approvals", []), file, problems))
    withdrawals = tuple(_rows(Withdrawal, data.get("withdrawals", []), file, problems))
    seen: set[tuple[str, int]] = set()
    for row in approvals:
        key = (row.id.casefold(), row.revision)
        if key in seen:
            problems.append(_unsound(Span(file, 1, 1), f"{row.id} revision {row.revision} is approved twice"))
        seen.add(key)
    return Record(approvals, withdrawals, file), tuple(problems)


def _rows(kind: Any, rows: Any, file: str, problems: list[Problem]) -> Iterator[Any]:
    wanted = {field.name: str(field.type) for field in fields(kind)}
    for number, row in enumerate(rows if isinstance(rows, list) else [None], 1):
        try:
            if not isinstance(row, dict) or set(row) != set(wanted):
                raise ValueError("it must hold exactly: " + ", ".join(wanted))
            found = kind(**{name: _READ[wanted[name]](row[name]) for name in wanted})
            if isinstance(found, Approval) and (len(found.digest) != 64 or set(found.digest) - set("0123456789abcdef")):
                raise ValueError("its digest is not 64 hex digits")
            if found.recorded.tzinfo is None:
                raise ValueError("`recorded` has no offset from UTC")
            yield found
        except (TypeError, ValueError) as error:
            problems.append(
                _unsound(Span(file, 1, 1), f"row {number} of its {kind.__name__.lower()}s does not count: {error}")
            )


def _unsound(span: Span, what: str) -> Problem:
    return Problem(
        "record-unsound",
        span,
        f"the record of approvals is damaged: {what}",
        "what nobody has approved could be printed as approved, and the other way round",
        "bring back the last good copy of this file; it is written by `gauzeleaf approve` and `gauzeleaf withdraw`, never by hand",
    )


def write_record(record: Record) -> str:
    """The text of a record, a row a line, so that each approval adds one line."""

    def row(one: Approval | Withdrawal) -> str:
        said = {field.name: getattr(one, field.name) for field in fields(one)}
        return json.dumps({k: v.isoformat() if isinstance(v, date) else v for k, v in said.items()}, ensure_ascii=False)

    def table(name: str, rows: tuple[Any, ...]) -> str:
        inner = ",\n".join(f"    {row(one)}" for one in rows)
        return f'  "{name}": [\n{inner}\n  ]' if rows else f'  "{name}": []'

    return "{\n" + table("approvals", record.approvals) + ",\n" + table("withdrawals", record.withdrawals) + "\n}\n"
