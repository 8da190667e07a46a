"""R01: a splint or cast names the joint above and the joint below.

What it looks for: `covers.joints` beside `bone`; without a bone, two joints of each limb it is for.
Why it matters: a splint that leaves out one of the two joints does not keep the bone from bending.
Stops: `bone: tibia` with `joints: [tarsus]`.
Write instead: both joints, `joints: [tarsus, stifle]`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import BONES
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem

RIGID = ("support.splint", "support.cast")
# The joints of each limb; a site's first word or ending says which limb it belongs to.
FORE, HIND = ("toes", "carpus", "elbow", "shoulder"), ("toes", "tarsus", "stifle", "hip")
WHY = "bending is not controlled unless both joints are held"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind not in RIGID or protocol.covers is None:
        return
    held = protocol.covers.joints
    at = protocol.covers.spans.get("joints") or protocol.span("covers")
    # What cannot be splinted at all is `humerus_femur`'s to tell.
    bones = [bone for bone in protocol.bone if bone not in ("humerus", "femur") or _reaches_body(bone, held)]
    for bone in bones:
        lacking = [joint for joint in BONES[bone] if joint not in held]
        if lacking:
            yield Problem(
                "joint-not-held",
                at,
                f"the bone is {bone}, but {' and '.join(lacking)} {'is' if len(lacking) == 1 else 'are'} not among the joints held",
                WHY,
                f"write `joints: [{', '.join([*BONES[bone], *(j for j in held if j not in BONES[bone])])}]` in `covers`, "
                "or name another `bone`",
                also=((protocol.span("bone"), "the bone is named here"),),
            )
    if protocol.bone:
        return
    for limb, joints in (("forelimb", FORE), ("hindlimb", HIND)):
        if any(_is_of(site, limb) for site in protocol.sites) and sum(joint in held for joint in joints) < 2:
            yield Problem(
                "joint-not-held",
                at,
                f"no bone is named, and fewer than two joints of the {limb} are held",
                WHY,
                f"name the joint above and the joint below in `covers`, such as `joints: [{joints[0]}, {joints[1]}]`",
            )


def _reaches_body(bone: str, held: tuple[str, ...]) -> bool:
    return BONES[bone][1] in held


def _is_of(site: str, limb: str) -> bool:
    return limb in site or site == {"forelimb": "fore foot", "hindlimb": "hind foot"}[limb]


RULE = Rule(
    id="R01",
    name="joint-not-held",
    looks_for="A splint or cast names the joint above and the joint below the bone.",
    why="Bending is not controlled unless both joints are held.",
    source="published 4, 7, 15",
    broken="kind: support.splint\nbone: tibia\ncovers: {from: toes, to: below the stifle, joints: [tarsus], leave_showing: tips of the two middle toes}\n",
    mended="kind: support.splint\n"
    "bone: tibia\n"
    "covers: {from: toes, to: above the stifle, joints: [tarsus, stifle], leave_showing: tips of the two middle toes}\n",
    check=check,
)
