"""Cases that a sling's protocol must name among those it is not used in.

Takes  a protocol and the cases of its sling.
Gives  `unnamed_cases`: a problem for each that is not named, or that `use_when` allows.
Knows  how a case is recognised by its words; which cases belong to which sling stands in that sling's rule.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.protocol.model import Protocol
from generator.protocol.rules.rule import where
from generator.protocol.rules.wording import any_speaks_of, asks_for, refrains
from generator.source.problem import Problem


@dataclass(frozen=True, slots=True)
class Case:
    """words: as it is to be written. pattern: what it is known by. because: what happens otherwise.

    may_be_used: the pattern also stands in good reasons to use the sling, so `use_when` is not judged by it.
    """

    words: str
    pattern: str
    because: str
    may_be_used: bool = False


def unnamed_cases(protocol: Protocol, prefix: str, sling: str, cases: Sequence[Case]) -> Iterator[Problem]:
    """Judge the cases; prefix: of the problems' names. sling: with its article, for the message."""
    for case in cases:
        if not case.may_be_used and any(asks_for(line, case.pattern) for line in protocol.use_when):
            yield Problem(
                f"{prefix}-case-forbidden",
                protocol.span("use_when"),
                f"`use_when` allows {sling} for {case.words}",
                case.because,
                "take the case out of `use_when`",
            )
        elif not any_speaks_of(refrains(protocol), case.pattern):
            yield Problem(
                f"{prefix}-case-missing",
                where(protocol, "do_not_use_when"),
                f"`do_not_use_when` lacks the case: {case.words}",
                f"whoever opens the binder would not be warned: {case.because}",
                f"add a line `- {{case: {case.words}, because: {case.because}}}`",
            )
