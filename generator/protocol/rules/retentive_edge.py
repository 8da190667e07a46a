"""R14: a dressing that keeps the wound moist is cut to the wound's edge.

What it looks for: a step that cuts it, where the contact material is a foam, a hydrocolloid or a hydrogel.
Why it matters: skin kept wet goes soft and breaks.
Stops: a foam sheet that no step cuts or lays inside the edge.
Write instead: the step that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import BY_THE_WOUND
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import any_speaks_of
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

# Not `contacts.RETENTIVE`: a calcium alginate holds fluid too, but lies in the wound, so nobody cuts it to the edge.
CUT_TO_EDGE = ("polyurethane foam", "hydrocolloid", "hydrogel")
EDGE = r"\b(cut|trim|lay|fit|keep|place|stay)\w*\b.*\b(edges?|size of the wound|wound'?s size|inside the wound|shape of the wound)\b"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    contact = protocol.layer("contact")
    if contact is None or contact.material is None:
        return
    by_the_wound = contact.material == BY_THE_WOUND
    if by_the_wound and protocol.stage is None:
        return  # Nothing is left to a wound that has no stage: `by_the_wound`.
    found = [
        name
        for name in (contact.prefer if by_the_wound else (contact.material,))
        if (material := book.stock.get(name)) is not None
        and not is_unsound(material)
        and material.family in CUT_TO_EDGE
    ]
    if not found or any_speaks_of([step.do for step in protocol.steps if step.do is not None], EDGE):
        return
    yield Problem(
        "dressing-past-edge",
        contact.spans["prefer" if by_the_wound else "material"],
        f"no step cuts `{found[0]}` to the edge of the wound",
        "it keeps whole skin wet, which goes soft and breaks",
        "add a line `- {caution: Do not let it lie on whole skin., because: skin kept wet goes soft and breaks, "
        'layer: contact, do: "Lay it on the wound, cut to its edge."}`',
        # Where the wound chooses, another dressing may be the one that goes on.
        severity="warning" if by_the_wound else "error",
    )


RULE = Rule(
    id="R14",
    name="dressing-past-edge",
    looks_for="A foam, hydrocolloid or hydrogel dressing is cut to the wound's edge by a step.",
    why="Whole skin under it is kept wet, goes soft and breaks.",
    source="published 30",
    broken="kind: wound.open\n"
    "stages:\n"
    "  proliferative:\n"
    "    layers:\n"
    "      - {layer: contact, material: foam sheet, count: 1}\n"
    "      - ...\n"
    "    steps:\n"
    '      - {caution: Do not pull a stuck dressing., because: it strips new tissue from the bed, do: "Float it off with sterile saline."}\n'
    '      - {do: "Rinse the wound with warm sterile saline, in sterile gloves."}\n'
    '      - {do: "Ask the clinician to name the stage of the wound."}\n'
    '      - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side of the limb, free ends well past the toes."}\n'
    '      - {layer: contact, do: "Lay the foam sheet on the wound."}\n'
    '      - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: "Roll the padding from the toes upward, half over half, two passes."}\n'
    '      - {layer: conforming, do: "Roll one light gauze pass the same way, 2 cm short at each end."}\n'
    '      - {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}\n'
    '      - {layer: outer, do: "Lay the re-rolled outer wrap from the toes upward, one light pass."}\n'
    "      - {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}\n"
    '      - {check: "Both middle toes are warm; once awake they flinch.", if_not: take the bandage off and call the clinician}\n',
    mended="kind: wound.open\n"
    "stages:\n"
    "  proliferative:\n"
    "    layers:\n"
    "      - {layer: contact, material: foam sheet, count: 1}\n"
    "      - ...\n"
    "    steps:\n"
    '      - {caution: Do not pull a stuck dressing., because: it strips new tissue from the bed, do: "Float it off with sterile saline."}\n'
    '      - {do: "Rinse the wound with warm sterile saline, in sterile gloves."}\n'
    '      - {do: "Ask the clinician to name the stage of the wound."}\n'
    '      - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side of the limb, free ends well past the toes."}\n'
    '      - {layer: contact, do: "Lay the foam sheet on the wound, cut to the wound\'s edge."}\n'
    '      - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: "Roll the padding from the toes upward, half over half, two passes."}\n'
    '      - {layer: conforming, do: "Roll one light gauze pass the same way, 2 cm short at each end."}\n'
    '      - {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}\n'
    '      - {layer: outer, do: "Lay the re-rolled outer wrap from the toes upward, one light pass."}\n'
    "      - {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}\n"
    '      - {check: "Both middle toes are warm; once awake they flinch.", if_not: take the bandage off and call the clinician}\n',
    check=check,
)
