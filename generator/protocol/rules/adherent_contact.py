"""R13: gauze that dries onto the wound has no place on healing tissue.

What it looks for: the family of the contact material in stock.yaml.
Why it matters: pulled off dry, it strips what has grown.
Stops: wet-to-dry or dry-to-dry gauze anywhere but in an inflammatory wound, and there without a reason.
Write instead: a contact material of another family.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import ADHERENT, BY_THE_WOUND
from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

ONLY = "wound.inflammatory"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    contact = protocol.layer("contact")
    if contact is None or contact.material is None:
        return
    if contact.material == BY_THE_WOUND:
        yield from each(contact.prefer, lambda name: _preferred(protocol, contact, name, book))
        return
    material = book.stock.get(contact.material)
    if material is None or is_unsound(material) or material.family not in ADHERENT:
        return
    at = contact.spans["material"]
    if protocol.kind != ONLY:
        yield Problem(
            "adherent-contact",
            at,
            f"`{contact.material}` is {material.family}",
            "it dries onto the wound and strips new tissue when it is pulled off",
            "write a contact material that does not stick, such as a foam, a silicone net or a low-adherent pad from stock.yaml",
        )
    elif contact.because is None:
        yield Problem(
            "adherent-contact",
            at,
            f"`{contact.material}` is {material.family}, and no reason is given",
            "it takes living tissue with it and hurts; opinion has turned against it",
            "add `because:` with the clinician's reason, or write another contact material",
        )
    else:
        yield Problem(
            "adherent-contact-used",
            at,
            f"`{contact.material}` is {material.family}",
            "it takes living tissue with it and hurts; two sources no longer recommend it, one still describes it",
            "write another contact material, or keep it for the inflammatory stage only, with pain relief",
            severity="warning",
        )


def _preferred(protocol: Protocol, contact: Layer, name: str, book: Book) -> Iterator[Problem]:
    """Where the wound chooses, such gauze is never among what it chooses from, but for the inflammatory stage."""
    material = book.stock.get(name)
    if material is None or is_unsound(material) or material.family not in ADHERENT:
        return
    allowed = protocol.kind == ONLY
    yield Problem(
        "adherent-contact-preferred",
        contact.spans["prefer"],
        f"`{name}` in `prefer` is {material.family}",
        "it takes living tissue with it and hurts; opinion has turned against it"
        if allowed
        else "it dries onto the wound and strips new tissue when it is pulled off",
        f"take `{name}` out of `prefer`"
        + ("; the clinician may still order it for one patient, with a reason" if allowed else ""),
        severity="warning" if allowed else "error",
    )


RULE = Rule(
    id="R13",
    name="adherent-contact",
    looks_for="Wet-to-dry and dry-to-dry gauze are never used on proliferative or maturing wounds; on an inflammatory one only with a reason.",
    why="They strip granulation and new skin.",
    source="published 30, 31, 78",
    broken="kind: wound.open\n"
    "stages:\n"
    "  proliferative:\n"
    "    layers:\n"
    "      - {layer: contact, material: wet gauze, count: 1}\n"
    "      - ...\n",
    mended="kind: wound.open\n"
    "stages:\n"
    "  proliferative:\n"
    "    layers:\n"
    "      - {layer: contact, material: foam sheet, count: 1, because: it keeps the bed moist and does not stick}\n"
    "      - ...\n",
    beside=(
        (
            "stock.yaml",
            "materials:\n  wet gauze: {layer: contact, family: wet-to-dry gauze, sizes: [10 cm by 10 cm]}\n",
        ),
    ),
    check=check,
    also=("adherent-contact-used", "adherent-contact-preferred"),
)
