"""R05: an Ehmer sling says when it must not be used.

What it looks for: five cases in `do_not_use_when`, by their words, and none of them in `use_when`.
Why it matters: in each of them the sling causes the hip to come out again or fails to hold it.
Stops: an Ehmer protocol that is silent on hip dysplasia.
Write instead: the line that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule, where
from generator.protocol.rules.wording import any_speaks_of, asks_for, refrains
from generator.source.problem import Problem

# Case as it is to be written, the words it is known by, and whether `use_when` may not name it either.
CASES: tuple[tuple[str, str, str, bool], ...] = (
    ("a ventral or caudoventral hip luxation", r"ventral", "the sling drives the hip out again", False),
    ("a luxation older than seven days", r"\b(old|older|week|weeks|days)\b", "the hip comes out again", False),
    ("a fracture of the acetabulum", r"acetabul|socket", "the socket cannot hold the head", True),
    ("hip dysplasia", r"dysplas|shallow", "a shallow socket cannot hold the head", True),
    (
        "the other hindlimb cannot bear weight",
        r"\bother (hind|leg|limb)|\bstand\b|opposite|three legs",
        "it would have no leg to stand on",
        False,
    ),
)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "sling.ehmer":
        return
    for case, pattern, because, contradicts in CASES:
        if contradicts and any(asks_for(line, pattern) for line in protocol.use_when):
            yield Problem(
                "ehmer-case-forbidden",
                protocol.span("use_when"),
                f"`use_when` allows an Ehmer sling for {case}",
                because,
                "take the case out of `use_when`",
            )
        elif not any_speaks_of(refrains(protocol), pattern):
            yield Problem(
                "ehmer-case-missing",
                where(protocol, "do_not_use_when"),
                f"`do_not_use_when` lacks the case: {case}",
                f"whoever opens the binder would not be warned: {because}",
                f"add a line `- {{case: {case}, because: {because}}}`",
            )


RULE = Rule(
    id="R05",
    name="ehmer-case-missing",
    looks_for="An Ehmer sling is for craniodorsal luxation only: it names ventral luxation, one older than seven days, "
    "acetabular fracture, dysplasia and a bad other hindlimb among the cases in which it is not used.",
    why="In each of them it causes the hip to come out again, or fails to stop it.",
    source="published 9, 20",
    broken="kind: sling.ehmer\ndo_not_use_when:\n  - {case: hip dysplasia, because: a shallow socket cannot hold the head}\n",
    check=check,
    also=("ehmer-case-forbidden",),
)
