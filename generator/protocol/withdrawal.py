"""What is taken out of a clinic's copies, for good or because something newer goes in.

Takes  nothing: these are plain values.
Gives  `TakenOut`; `Withdrawn`: a document out of use, with all that its withdrawal sheet says.
Knows  nothing of files or paper.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.protocol.approval import Approval, Withdrawal


@dataclass(frozen=True, slots=True)
class TakenOut:
    """One document as it lies in the copies. earlier: revisions before it, which should be there no more."""

    id: str
    title: str
    revision: int
    earlier: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """A document taken out of use. last: its newest approved revision; None where nobody ever approved it."""

    row: Withdrawal
    out: TakenOut
    last: Approval | None
