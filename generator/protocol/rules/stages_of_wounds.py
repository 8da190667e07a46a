"""R56: only an open wound has stages.

What it looks for: `stages` beside `kind`.
Why it matters: the binder and its index would call a wound bandage by another kind.
Stops: `kind: support.soft` in a file with `stages`.
Write instead: `kind: wound.open`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    # A stage is judged as the wound that it is; what the file calls itself is known only to the whole.
    whole = book.protocols.get(protocol.protocol)
    if protocol.stage is not None and whole is not None and whole.kind != "wound.open":
        yield Problem(
            "stages-of-another-kind",
            whole.span("kind"),
            f"the file is of kind `{whole.kind}` and has stages of wound healing",
            "each stage is judged and planned as an open wound, and the binder would call it something else",
            "write `kind: wound.open`, or take the stages out",
        )


RULE = Rule(
    id="R56",
    name="stages-of-another-kind",
    looks_for="Only an open wound has stages of healing.",
    why="The binder would call a wound bandage by another kind than the one it is judged by.",
    source="house rule",
    broken="kind: support.soft\n"
    "stages:\n"
    "  maturation:\n"
    "    layers:\n"
    "      - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "      - {layer: contact, material: silicone net, count: 1}\n"
    "      - {layer: padding, material: cast padding, passes: 2, overlap: 50 %, firmness: even}\n"
    "      - {layer: conforming, material: conforming gauze, passes: 1, overlap: 50 %, inset: 2 cm, firmness: light}\n"
    "      - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n"
    "    limits:\n"
    "      change_every: 4 d to 5 d\n",
    mended="kind: wound.open\n"
    "stages:\n"
    "  maturation:\n"
    "    layers:\n"
    "      - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "      - {layer: contact, material: silicone net, count: 1}\n"
    "      - {layer: padding, material: cast padding, passes: 2, overlap: 50 %, firmness: even}\n"
    "      - {layer: conforming, material: conforming gauze, passes: 1, overlap: 50 %, inset: 2 cm, firmness: light}\n"
    "      - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n"
    "    limits:\n"
    "      change_every: 4 d to 5 d\n",
    check=check,
)
