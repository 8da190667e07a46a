"""C07: every contact material names its family.

What it looks for: `family` in stock.yaml for materials of the contact layer, and for no others.
Why it matters: the family decides on which wounds it may lie, and for how long.
Stops: a contact material without `family`.
Write instead: `family: polyurethane foam`, or another of the list.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import FAMILIES
from generator.protocol.model import Book, Material
from generator.protocol.rules.rule import ClinicRule, each
from generator.source.problem import Problem


def check(book: Book) -> Iterator[Problem]:
    yield from each(book.stock.values(), _judge)


def _judge(material: Material) -> Iterator[Problem]:
    if material.layer == "contact" and material.family is None:
        yield Problem(
            "contact-family-missing",
            material.spans["layer"],
            f"`{material.name}` is a contact material of no family",
            "its family decides on which wounds it may lie, and for how long",
            f"add `family:` with one of: {', '.join(FAMILIES)}",
        )
    elif material.layer != "contact" and material.family is not None:
        yield Problem(
            "family-of-other-layer",
            material.spans["family:"],
            f"`{material.name}` is no contact material, and has a family",
            "only what touches a wound is judged by its family",
            "delete `family`, or write `layer: contact`",
        )


RULE = ClinicRule(
    id="C07",
    name="contact-family-missing",
    looks_for="Every contact material in stock.yaml names its family.",
    why="The family decides on which wounds it may lie, and for how long.",
    source="published 30, 31, 34; house rule",
    file="stock.yaml",
    broken="materials:\n  mystery pad: {layer: contact, sizes: [10 cm by 10 cm]}\n",
    mended="materials:\n  mystery pad: {layer: contact, family: low-adherent absorbent pad, sizes: [10 cm by 10 cm]}\n",
    check=check,
    also=("family-of-other-layer",),
)
