"""R05: an Ehmer sling says when it must not be used.

What it looks for: five cases in `do_not_use_when`, by their words, and none of them in `use_when`.
Why it matters: in each of them the sling causes the hip to come out again or fails to hold it.
Stops: an Ehmer protocol that is silent on hip dysplasia.
Write instead: the line that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.cases import Case, unnamed_cases
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem

CASES = (
    Case("a ventral or caudoventral hip luxation", r"ventral", "the sling drives the hip out again", may_be_used=True),
    Case(
        "a luxation older than seven days",
        r"\b(old|older|week|weeks|days)\b",
        "the hip comes out again",
        may_be_used=True,
    ),
    Case("a fracture of the acetabulum", r"acetabul|socket", "the socket cannot hold the head"),
    Case("hip dysplasia", r"dysplas|shallow", "a shallow socket cannot hold the head"),
    Case(
        "the other hindlimb cannot bear weight",
        r"\bother (hind|leg|limb)|\bstand\b|opposite|three legs",
        "it would have no leg to stand on",
        may_be_used=True,
    ),
)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind == "sling.ehmer":
        yield from unnamed_cases(protocol, "ehmer", "an Ehmer sling", CASES)


RULE = Rule(
    id="R05",
    name="ehmer-case-missing",
    looks_for="An Ehmer sling is for craniodorsal luxation only: it names ventral luxation, one older than seven days, "
    "acetabular fracture, dysplasia and a bad other hindlimb among the cases in which it is not used.",
    why="In each of them it causes the hip to come out again, or fails to stop it.",
    source="published 9, 20",
    broken="kind: sling.ehmer\ndo_not_use_when:\n  - {case: hip dysplasia, because: a shallow socket cannot hold the head}\n",
    mended="kind: sling.ehmer\n"
    "do_not_use_when:\n"
    "  - {case: hip dysplasia, because: a shallow socket cannot hold the head}\n"
    "  - {case: a ventral or caudoventral hip luxation, because: this sling drives the head of the femur out again, instead: hobbles}\n"
    "  - {case: a luxation older than seven days, because: the hip comes out again}\n"
    "  - {case: a fracture of the acetabulum, because: the sling presses the head of the femur into it}\n"
    "  - {case: a dog that cannot stand on the other hindlimb, because: it would have no leg to stand on}\n",
    check=check,
    also=("ehmer-case-forbidden",),
)
