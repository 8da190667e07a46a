"""R07: a Velpeau sling says when it must not be used.

What it looks for: lateral shoulder luxation and distal oblique humerus fracture in `do_not_use_when`, by their words.
Why it matters: the sling pushes the shoulder out, or puts the radial nerve at risk.
Stops: a Velpeau protocol that is silent on one of them, or allows it.
Write instead: the line that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.cases import Case, unnamed_cases
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem

CASES = (
    Case(
        "a lateral luxation of the shoulder",
        r"\blateral\b|\boutside\b|\boutward",
        "the sling pushes the joint out again",
    ),
    Case("a distal oblique fracture of the humerus", r"\boblique\b|\bhumer(us|al)\b", "the radial nerve is at risk"),
)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind == "sling.velpeau":
        yield from unnamed_cases(protocol, "velpeau", "a Velpeau sling", CASES)


RULE = Rule(
    id="R07",
    name="velpeau-case-missing",
    looks_for="A Velpeau sling names lateral shoulder luxation and distal oblique humerus fracture among the cases in which it is not used.",
    why="It pushes the joint out, or puts the radial nerve at risk.",
    source="published 9",
    broken="kind: sling.velpeau\ndo_not_use_when:\n  - {case: a chest injury, because: the wrap goes round the chest}\n",
    mended="kind: sling.velpeau\n"
    "do_not_use_when:\n"
    "  - {case: a chest injury, because: the wrap goes round the chest}\n"
    "  - {case: a lateral shoulder luxation, because: this sling pushes the joint out again}\n"
    "  - {case: a distal oblique fracture of the humerus, because: the radial nerve is at risk}\n"
    '  - {case: a cat that fights the sling, because: "cats bear it badly, slip out of it and lose fur to its tape"}\n',
    check=check,
    also=("velpeau-case-forbidden",),
)
