"""What is taken out of a clinic's copies, for good or because something newer goes in.

Takes  nothing: these are plain values.
Gives  `TakenOut`; `Withdrawn`: a document out of use, with all that its withdrawal sheet says; `Exchanged`: a line of an insert list.
Knows  nothing of files or paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

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


@dataclass(frozen=True, slots=True)
class Exchanged:
    """One document in a reissue. out, into: the revision that comes out, that goes in; None for nothing.

    day: in force from; of a withdrawn one, the day from which it no longer counts; None: nobody has decided it yet.
    """

    id: str
    title: str
    out: int | None
    into: int | None
    day: date | None

    @property
    def has_unrecorded(self) -> bool:
        """Whether copies may hold a revision from before the record began: a first approval that is not of a first revision."""
        return self.out is None and self.into is not None and self.into > 1
