"""R02: no splint, cast or padded limb bandage treats humerus or femur.

What it looks for: `bone`, and the lines of `use_when`, of support bandages.
Why it matters: such a bandage cannot cross shoulder or hip; its end works as a lever on the break.
Stops: `bone: femur` in a splint that ends below the hip.
Write instead: a splint over the back that holds the joint above too, or another protocol.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import BONES
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import asks_for
from generator.source.problem import Problem

WHY = "it cannot cross shoulder or hip: its end acts as a fulcrum, its weight as a pendulum"
_WORDS = {"humerus": r"\bhumer(us|al)\b", "femur": r"\b(femur|femoral)\b"}


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.purpose != "support":
        return
    held = protocol.covers.joints if protocol.covers else ()
    for bone, pattern in _WORDS.items():
        # A splint over the back (spica) does cross the joint; a soft bandage never holds it.
        if protocol.kind in ("support.splint", "support.cast") and BONES[bone][1] in held:
            continue
        above = BONES[bone][1]
        fix = f"take {bone} out, or, for a splint over the back, add `{above}` to `joints` in `covers`"
        if bone in protocol.bone:
            yield Problem("bone-out-of-reach", protocol.span("bone"), f"this bandage cannot treat the {bone}", WHY, fix)
        elif any(asks_for(line, pattern) for line in protocol.use_when):
            yield Problem(
                "bone-out-of-reach",
                protocol.span("use_when"),
                f"`use_when` names the {bone}, which this bandage cannot treat",
                WHY,
                fix,
            )


RULE = Rule(
    id="R02",
    name="bone-out-of-reach",
    looks_for="No splint, cast or padded limb bandage treats humerus or femur, unless it crosses shoulder or hip.",
    why="Its end acts as a fulcrum on the break and its weight as a pendulum.",
    source="published 7, 32, 63",
    broken="kind: support.soft\nbone: femur\n",
    mended="kind: support.soft\n"
    "sites: [distal forelimb, distal hindlimb]\n"
    "do_not_use_when:\n"
    "  - {case: any injury of humerus or femur, because: the bandage ends below the joint above and acts as a weight on a lever}\n"
    "  - ...\n",
    check=check,
)
