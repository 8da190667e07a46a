"""R39: a contact layer is changed before it harms.

What it looks for: the longest time between changes beside the family of the contact material.
Why it matters: sugar dissolves, gauze dries on, a full pad wicks germs inward.
Stops: sugar under a bandage that is changed after 48 h.
Write instead: a shorter `change_every`, or a contact material that may stay longer.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import ADHERENT
from generator.protocol.model import Book, Protocol
from generator.protocol.quantity import Limit, limit
from generator.protocol.rules.amounts import is_over_ceiling, latest, seconds
from generator.protocol.rules.rule import Rule
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

# Longest time by family. 30 Campbell 2015; 31 K9 guideline 14; 34 Winkler 2023; 37 Birchard 2014; 87 equine chapter on hydrogels.
FAMILIES: dict[str, tuple[Limit, str]] = {
    "wet-to-dry gauze": (limit("24 h"), "published 31, 34"),
    "dry-to-dry gauze": (limit("24 h"), "published 34"),
    "sugar": (limit("24 h"), "published 37"),
    "hypertonic saline gauze": (limit("24 h"), "common practice"),
    "antimicrobial ointment under pad": (limit("24 h"), "published 31"),
    "calcium alginate": (limit("72 h"), "published 30"),
    "hydrogel": (limit("72 h"), "published 30, 87"),
    "medical honey": (limit("72 h"), "common practice"),
    "polyurethane foam": (limit("7 d"), "published 30"),
}
# A plain pad on a wound that weeps and swells: every day (31, 37).
PLAIN = ("sterile absorbent pad", "low-adherent absorbent pad", "petrolatum gauze")
PLAIN_INFLAMMATORY = (limit("24 h"), "published 31, 37")


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    contact = protocol.layer("contact")
    if contact is None or contact.material is None:
        return
    material = book.stock.get(contact.material)
    if material is None or is_unsound(material) or material.layer != "contact" or material.family is None:
        return
    if material.family in ADHERENT and protocol.kind != "wound.inflammatory":
        return  # It must not lie there at all: `adherent_contact` says so.
    plain = PLAIN_INFLAMMATORY if protocol.kind == "wound.inflammatory" and material.family in PLAIN else None
    most = plain or FAMILIES.get(material.family)
    closed = latest(protocol.limits, "change_every")
    if (
        most is None
        or closed is None
        or is_over_ceiling(protocol, "change_every")
        or seconds(closed) <= seconds(most[0])
    ):
        return
    named = f"`{contact.material}`" + (f" ({material.family})" if material.family != contact.material else "")
    yield Problem(
        "contact-left-too-long",
        protocol.limits.spans["change_every"],
        f"the bandage may stay closed for {closed}; {named} has to be changed within {most[0]}",
        f"a contact layer that is full, dry or dissolved harms the wound ({most[1]})",
        f"write `change_every: {most[0]}`, or less, or choose another contact material",
        also=((contact.spans["material"], "the contact material is named here"),),
    )


RULE = Rule(
    id="R39",
    name="contact-left-too-long",
    looks_for="The bandage is changed before its contact layer is full, dry or dissolved.",
    why="Such a contact layer harms the wound.",
    source="published 30, 31, 34, 37, 87; common practice",
    broken="kind: wound.open\n"
    "stages:\n"
    "  inflammatory:\n"
    "    layers:\n"
    "      - {layer: contact, material: sterile absorbent pad, count: 1}\n"
    "      - ...\n"
    "    limits:\n"
    "      change_every: 24 h to 48 h\n",
    mended="kind: wound.open\n"
    "stages:\n"
    "  inflammatory:\n"
    "    layers:\n"
    "      - {layer: contact, material: sterile absorbent pad, count: 1}\n"
    "      - ...\n"
    "    limits:\n"
    "      change_every: 12 h to 24 h\n",
    check=check,
)
