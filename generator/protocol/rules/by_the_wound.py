"""R41: only the contact layer of an open wound is left to the wound, and then with what to choose from.

What it looks for: `material: by the wound`, and `prefer`.
Why it matters: stage and fluid choose a dressing; they choose neither padding nor a splint, and not from nothing.
Stops: `by the wound` on padding, on a sutured wound, or without `prefer`; `prefer` that nothing reads.
Write instead: `material: by the wound, prefer: [foam sheet, silicone net]`, or the material's own name.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import BY_THE_WOUND, STAGES
from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

STAGE_KINDS = frozenset(f"wound.{stage}" for stage in STAGES)
SELDOM = ("haemostatic pad",)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    def judge(layer: Layer) -> Iterator[Problem]:
        if layer.material != BY_THE_WOUND:
            # On another layer than contact it is a key of that layer: `layer_keys` says so.
            if layer.prefer and layer.layer == "contact":
                yield Problem(
                    "prefer-unread",
                    layer.spans["prefer:"],
                    f"`prefer` stands in a {layer.layer} layer that names its material",
                    "nothing on paper comes of it, and whoever wrote it believes that something does",
                    f"write `material: {BY_THE_WOUND}` to let the wound choose, or delete `prefer`",
                )
            return
        at = layer.spans["material"]
        if layer.layer != "contact" or protocol.kind not in STAGE_KINDS:
            yield Problem(
                "wound-cannot-choose",
                at,
                f"the {layer.layer} layer is left to the wound"
                + ("" if layer.layer != "contact" else ", and this is no stage of an open wound"),
                "stage and fluid of an open wound choose its dressing, and nothing else",
                "write the material's name as it stands in stock.yaml",
            )
        elif not layer.prefer:
            yield Problem(
                "prefer-missing",
                at,
                "the dressing is left to the wound, and `prefer` names none to choose from",
                "whoever stands at the shelf would choose by memory",
                "add `prefer:` with the stocked dressings in the order in which to take them, such as `prefer: [foam sheet, silicone net]`",
            )
        else:
            yield from each(layer.prefer, lambda name: _can_be_chosen(layer, name, book))

    yield from each(protocol.layers, judge)


def _can_be_chosen(layer: Layer, name: str, book: Book) -> Iterator[Problem]:
    material = book.stock.get(name)
    if material is None or is_unsound(material) or material.layer != "contact":
        return  # `materials_known` says so.
    if material.family is None or material.family in SELDOM:
        yield Problem(
            "preferred-not-for-wounds",
            layer.spans["prefer"],
            f"`{name}` {'has no family in stock.yaml' if material.family is None else 'is there to stop blood'}",
            "stage and fluid choose by the family, and only a dressing that may lie on a healing wound",
            f"take `{name}` out of `prefer`"
            + (", or add `family:` to it in stock.yaml" if material.family is None else ""),
        )


RULE = Rule(
    id="R41",
    name="wound-cannot-choose",
    looks_for="Only the contact layer of an open wound's stage is left to the wound, with the dressings to choose from in order.",
    why="Stage and fluid choose a dressing, neither padding nor a splint, and not from nothing.",
    source="published 30; the order of preference is a house rule",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: by the wound, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - ...\n",
    check=check,
    also=("prefer-missing", "prefer-unread", "preferred-not-for-wounds"),
)
