"""R12: the stifle of a growing animal with a femur injury is not held straight.

What it looks for: a splint or cast that holds the stifle, with no word on femur injuries in `do_not_use_when` nor in a modifier by age.
Why it matters: the thigh muscle can shorten for good, worst in the first three months of life.
Stops: `joints: [tarsus, stifle]` and nothing said.
Write instead: the line that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule, where
from generator.protocol.rules.wording import any_speaks_of, refrains, warnings_of
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if (
        protocol.kind not in ("support.splint", "support.cast")
        or protocol.covers is None
        or "stifle" not in protocol.covers.joints
    ):
        return
    if any_speaks_of(refrains(protocol), r"\bfemur|\bfemoral|\bthigh") or any_speaks_of(
        warnings_of(book, ages=True), r"\bstifle\b"
    ):
        return
    case = "a femur injury in an animal under six months"
    yield Problem(
        "stifle-held-in-growing-animal",
        where(protocol, "do_not_use_when"),
        f"the stifle is held, and `do_not_use_when` does not name {case}",
        "a stifle held straight while the femur heals can stay straight for good (quadriceps contracture)",
        f"add a line `- {{case: {case}, because: the thigh muscle can shorten for good}}`",
        severity="warning",
    )


RULE = Rule(
    id="R12",
    name="stifle-held-in-growing-animal",
    looks_for="The stifle of an animal under six months with a femur injury is not held in extension.",
    why="Quadriceps contracture: the joint can stay straight for good.",
    source="published 66; the age is from memory",
    broken="kind: support.splint\nsites: [distal hindlimb]\nbone: tibia\n"
    "covers: {from: toes, to: above the stifle, joints: [tarsus, stifle], leave_showing: tips of the two middle toes}\n"
    "do_not_use_when:\n  - {case: swelling that still grows, because: a rigid shell leaves it no room}\n",
    mended="kind: support.splint\n"
    "sites: [distal hindlimb]\n"
    "bone: tibia\n"
    "covers: {from: toes, to: above the stifle, joints: [tarsus, stifle], leave_showing: tips of the two middle toes}\n"
    "do_not_use_when:\n"
    "  - {case: swelling that still grows, because: a rigid shell leaves it no room}\n"
    "  - {case: a femur injury in an animal under six months, because: the thigh muscle can shorten for good}\n",
    beside=(("modifiers.yaml", ""),),
    check=check,
)
