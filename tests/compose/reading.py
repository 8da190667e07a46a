"""Read composed documents back, as a reader or a machine would."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from generator.page.xhtml import Node, Text, read
from generator.protocol.model import Protocol
from generator.reckon.plan import Plan
from generator.reckon.reckoner import reckon
from generator.words.catalogue import Words, load_words
from tests.compose.plans import ROOT, ZONE, book, patient

ENGLISH = load_words("en")


def spanish() -> Words:
    """The shipped Spanish words, none of them signed."""
    return load_words("es", (ROOT / "locales" / "es" / "owner.po").read_text(encoding="utf-8"))


def body(xhtml: str) -> Node:
    return read(xhtml).elements("body")[0]


def main(xhtml: str) -> Node:
    return next(node for node in body(xhtml).walk() if node.tag == "main")


def bare(text: str) -> str:
    """Without isolates, joiners and no-break spaces."""
    return re.sub("[\u2066-\u2069\u2060]", "", text).replace("\u00a0", " ")


def said(node: Node) -> str:
    return bare(node.plain())


def with_class(node: Node, name: str) -> list[Node]:
    return [inner for inner in node.walk() if name in inner.classes]


def texts_outside(node: Node, *tags: str) -> Iterator[str]:
    """All text that stands in none of these elements."""
    for child in node.children:
        if isinstance(child, Text):
            yield child.text
        elif child.tag not in tags:
            yield from texts_outside(child, *tags)


def named(*names: str) -> tuple[tuple[Protocol, ...], Protocol | None]:
    """Protocols of the demo book by `slug` or `slug@stage`; a stored blend gives its parts and itself."""
    stored = book().protocols[names[0]] if names[0] in book().protocols and book().protocols[names[0]].blend else None
    parts = []
    for name in stored.blend if stored else names:
        slug, _, stage = name.partition("@")
        protocol = book().protocols[slug]
        parts.append(protocol.stages[stage] if stage else protocol)
    return tuple(parts), stored


def reckoned(who: str, *names: str, site: str = "", reason: str | None = None, minutes: int = 10) -> Plan:
    """A plan for a patient of the demo book, asked for some minutes after the bandage went on.

    site: somewhere else on that animal, unmeasured; `reason` then picks the end.
    """
    animal = patient(who)
    if site:
        limb = replace(animal.limb, site=site, distal_girth=None, proximal_girth=None, covered_length=None)
        animal = replace(animal, limb=limb, reason=reason)
    parts, stored = named(*names)
    now = animal.applied.replace(tzinfo=ZONE) + timedelta(minutes=minutes)
    return reckon(parts, animal, book(), now, ZONE, stored=stored, zone_release="2026b")


DEMO = {
    "maple": ("padded-limb-support",), "juniper": ("open-wound@proliferative",), "pollen": ("splinted-limb",), "rowan": ("velpeau-sling",),
    "sorrel": ("padded-limb-support",), "kestrel": ("pressure-bandage",), "brindle": ("open-fracture-before-fixation",),
}  # fmt: skip
GOES_HOME = ("maple", "juniper", "pollen", "rowan", "sorrel")
# No limb: there are no toes to look at.
ELSEWHERE = {
    "head": "head-bandage",
    "chest": "chest-belly-bandage",
    "abdomen": "chest-belly-bandage",
    "tail": "tail-bandage",
}
