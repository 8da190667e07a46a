"""R55: the parts of a stored blend can be joined, and an open fracture is opened every day.

What it looks for: the parts joined as for an animal; of a rigid support over an inflamed wound also its times.
Why it matters: a conflict found when the animal lies on the table is found too late.
Stops: a heavy padded bandage with a splint; a sling that cannot be opened over a wound; an open fracture closed for two days.
Write instead: `settles:` with the clinician's decision, or other parts; for the open fracture the line that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

from generator.protocol.joining import blend
from generator.protocol.joins import join_limits
from generator.protocol.model import Book, Limits, Protocol
from generator.protocol.quantity import limit
from generator.protocol.rules.amounts import is_looser, latest, seconds
from generator.protocol.rules.reach import parts_of
from generator.protocol.rules.rule import Rule, where
from generator.source.problem import Problem, Refusal

# Open fracture, temporary: first check 4 to 12 h (common practice), changed every 24 h until fixation (published 63).
OPEN_FRACTURE = {"first_check": limit("12 h"), "change_every": limit("24 h")}
SAYS = {"first_check": "first looked at", "change_every": "opened"}


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    parts = parts_of(protocol, book) if protocol.kind == "blend" else ()
    # A part that is not there, and bleeding in a blend, have their own problems.
    if len(parts) < max(2, len(protocol.blend)) or any(part.purpose == "haemorrhage" for part in parts):
        return
    try:
        blend(parts, protocol)
    except Refusal as refusal:
        for problem in refusal.problems:
            yield Problem(
                "parts-cannot-be-joined",
                protocol.span("blend"),
                problem.what,
                problem.why,
                problem.fix,
                also=((problem.span, "one side of the conflict is here"), *problem.also),
            )
    of_parts = reduce(join_limits, (part.limits for part in parts))
    kinds = {part.kind for part in parts}
    if kinds & {"support.splint", "support.cast"} and "wound.inflammatory" in kinds:
        yield from _open_fracture(protocol, of_parts)
    species = set.intersection(*(set(part.species) for part in parts))
    sites = set.intersection(*(set(part.sites) for part in parts))
    if not species or not sites:
        yield Problem(
            "parts-share-nothing",
            protocol.span("blend"),
            f"no {'species' if not species else 'site'} is common to all the parts",
            "the blend could be laid on no animal",
            "take out the part that is for another animal or another site",
        )


def _open_fracture(protocol: Protocol, of_parts: Limits) -> Iterator[Problem]:
    joined = join_limits(protocol.limits, of_parts)
    for key, most in OPEN_FRACTURE.items():
        own = getattr(protocol.limits, key)
        if own is not None and is_looser(key, own, getattr(of_parts, key)):
            continue  # That it allows more than its parts is `blend_parts`'s to tell.
        end = latest(joined, key)
        if end is not None and seconds(end) > seconds(most):
            yield Problem(
                "open-fracture-closed-too-long",
                where(protocol, key, "limits", "blend"),
                f"a splint over an inflamed wound is {SAYS[key]} after {end} at the latest; an open fracture by {most}",
                "what goes bad under a splint is seen only when it is opened (published 63)",
                f"write `{key}: {most}`, or less, in `limits` of the blend",
            )
    if joined.go_home:
        yield Problem(
            "open-fracture-goes-home",
            where(protocol, "go_home", "limits", "blend"),
            "a splint over an inflamed wound may go home",
            "an open fracture waits for its fixation, needs pain relief, and is opened every day",
            "write `go_home: no` and `check_every: {interval: 4 h, who: technician}` in `limits` of the blend",
            severity="warning",
        )


RULE = Rule(
    id="R55",
    name="parts-cannot-be-joined",
    looks_for="The parts of a stored blend can be joined, share a species and a site; a splint over an inflamed wound is opened every day.",
    why="A conflict that is found with the animal on the table is found too late.",
    source="published 63; common practice; that an open fracture stays is a house rule",
    broken="blend: [ehmer-sling, open-wound@inflammatory]\n",
    mended="blend: [splinted-limb, open-wound@inflammatory]\n",
    check=check,
    also=("parts-share-nothing", "open-fracture-closed-too-long", "open-fracture-goes-home"),
    blends=True,
)
