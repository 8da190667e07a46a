"""R51: a contact material serves the stage of the wound that it lies on.

What it looks for: the family of the contact material in stock.yaml beside the kind of bandage.
Why it matters: what loosens dead tissue harms new tissue; a plain pad sticks to it.
Stops: sugar on a granulating wound; a plain pad on new skin; a haemostatic pad left on a wound.
Write instead: a material of a family that the message lists.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.contacts import USES
from generator.protocol.kinds import ADHERENT, KINDS, STAGES
from generator.protocol.model import Book, Protocol
from generator.protocol.rules import contact_interval
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import one
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

# Where a family harms: 31 K9 guideline 14 (hypertonic gauze), 38 and 37 (honey, sugar: stop at healthy granulation).
# Haemostatic pads stop blood and are lifted by the clinician: common practice.
_HARMS = {
    "hypertonic saline gauze": ("wound.proliferative", "wound.maturation", "cover.wound"),
    "sugar": ("wound.proliferative", "wound.maturation", "cover.wound"),
    "haemostatic pad": tuple(kind for kind in KINDS if kind != "haemorrhage.pressure"),
}  # fmt: skip
# What else serves a kind badly; of open wounds the table of dressings tells (`contacts.py`).
_CLOSED = ("calcium alginate", "medical honey", "hydrogel", "hypertonic saline gauze", "sugar")
_DOUBTED = {
    # A stage of an open wound doubts every family that has no use in it.
    **{
        f"wound.{stage}": tuple(family for family, uses in USES.items() if all(use.stage != stage for use in uses))
        for stage in STAGES
    },
    "cover.wound": ("sterile absorbent pad", *_CLOSED),
    "wound.foot": (), "wound.tieover": (),
    "haemorrhage.pressure": ("polyurethane foam", "hydrocolloid", "hydrogel", "medical honey", "sugar", "silicone net", "petrolatum gauze", "low-adherent absorbent pad"),
}  # fmt: skip


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    contact = protocol.layer("contact")
    if contact is None or contact.material is None:
        return
    material = book.stock.get(contact.material)
    # A dressing that dries on is `adherent_contact`'s to tell.
    if material is None or is_unsound(material) or material.family is None or material.family in ADHERENT:
        return
    harms = protocol.kind in _HARMS.get(material.family, ())
    # One that stays too long is told as such, and once: `contact_interval`.
    doubted = (
        not harms
        and material.family in _DOUBTED.get(protocol.kind, _CLOSED)
        and not any(contact_interval.check(protocol, book))
    )
    if harms or doubted:
        yield Problem(
            "contact-of-another-stage",
            contact.spans["material"],
            f"`{contact.material}` ({material.family}) lies in {one(KINDS[protocol.kind].words)}",
            "what loosens dead tissue harms new tissue, and what does not hold fluid leaves it on the skin",
            f"write a contact material of another family; usual here: {_USUAL.get(protocol.kind, 'low-adherent absorbent pad')}",
            severity="error" if harms else "warning",
        )


_USUAL = {
    "wound.inflammatory": "sterile absorbent pad, calcium alginate, medical honey, hydrogel on a dry wound",
    "wound.proliferative": "polyurethane foam, hydrogel on a dry wound, silicone net on a graft",
    "wound.maturation": "silicone net, low-adherent absorbent pad, polyurethane foam",
    "haemorrhage.pressure": "haemostatic pad, sterile absorbent pad",
}

RULE = Rule(
    id="R51",
    name="contact-of-another-stage",
    looks_for="The family of the contact material serves the stage of the wound.",
    why="What loosens dead tissue harms new tissue, and a plain pad sticks to it.",
    source="published 30, 31, 34, 37, 38; petrolatum gauze and silicone net from memory",
    broken="kind: wound.open\n"
    "stages:\n"
    "  proliferative:\n"
    "    layers:\n"
    "      - {layer: contact, material: sugar, count: 1}\n"
    "      - ...\n",
    mended="kind: wound.open\n"
    "stages:\n"
    "  proliferative:\n"
    "    layers:\n"
    "      - {layer: contact, material: foam sheet, count: 1}\n"
    "      - ...\n",
    beside=(("stock.yaml", "materials:\n  sugar: {layer: contact, family: sugar, sizes: [10 cm by 10 cm]}\n"),),
    check=check,
)
