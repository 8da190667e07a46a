"""R43: a bandage is written for sites that its kind can serve.

What it looks for: `sites` beside `kind`.
Why it matters: at another site it slips, or presses where it must not.
Stops: a Velpeau sling for the hindlimb; a padded limb bandage for the head.
Write instead: the sites that the message lists.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import KINDS, SITES
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.reach import LIMB_SITES
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import one
from generator.source.problem import Problem

_FORE, _HIND, _FEET = ("distal forelimb", "forelimb"), ("distal hindlimb", "hindlimb"), ("fore foot", "hind foot")
# A kind that is not named here may lie anywhere; how high a heavy bandage may reach is `heavy_distal`'s to tell.
_AT: dict[str, tuple[str, ...]] = {
    "support.soft": tuple(site for site in SITES if site in LIMB_SITES),
    "support.heavy": tuple(site for site in SITES if site in LIMB_SITES),
    "support.splint": tuple(site for site in SITES if site in LIMB_SITES),
    "support.cast": tuple(site for site in SITES if site in LIMB_SITES),
    "wound.inflammatory": (*_FORE, *_HIND, *_FEET),
    "wound.proliferative": (*_FORE, *_HIND, *_FEET),
    "wound.maturation": (*_FORE, *_HIND, *_FEET),
    "wound.foot": _FEET,
    "haemorrhage.pressure": (*_FORE, *_HIND, *_FEET),
    "sling.velpeau": ("shoulder", *_FORE),
    "sling.carpal": _FORE,
    "sling.ehmer": ("hip", *_HIND),
    "sling.flexion9090": ("hip", *_HIND),
    "sling.robinson": ("hip", *_HIND),
    "sling.hobbles": ("hip", *_HIND),
    "cover.wound": (*_FORE, *_HIND, *_FEET),
    "cover.head": ("head",),
    "cover.trunk": ("chest", "abdomen"),
    "cover.tail": ("tail",),
    "cover.catheter": (*_FORE, *_HIND),
}


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    allowed = _AT.get(protocol.kind)
    strange = [site for site in protocol.sites if allowed is not None and site not in allowed]
    if strange and allowed is not None:
        yield Problem(
            "site-not-of-kind",
            protocol.span("sites"),
            f"{one(KINDS[protocol.kind].words)} is planned for: {', '.join(strange)}",
            "at another site it slips, or presses where it must not",
            f"write one or more of: {', '.join(allowed)}",
        )


RULE = Rule(
    id="R43",
    name="site-not-of-kind",
    looks_for="A bandage is written for sites that its kind can serve.",
    why="At another site it slips, or presses where it must not.",
    source="published 5, 9, 20; common practice",
    broken="kind: sling.velpeau\nsites: [hindlimb]\n",
    mended="kind: sling.velpeau\nsites: [shoulder, forelimb]\n",
    check=check,
)
