"""R42: the steps lay every layer of the list, in its order, and no other.

What it looks for: `layer` of the steps beside `layers`, in a protocol whose steps say which layer they lay.
Why it matters: the card is worked from its steps; a layer that no step lays is missing from the animal.
Stops: padding in the list and no step that lays it; gauze laid before padding.
Write instead: a step with `layer: padding` and its `do`, in its place.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from generator.protocol.kinds import KINDS, LAYERS
from generator.protocol.model import Book, Protocol
from generator.protocol.rules.reach import WRAPS, lays, parts_of
from generator.protocol.rules.rule import Rule
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    marked = [step for step in protocol.steps if step.layer is not None]
    if not marked:
        return
    sources = parts_of(protocol, book) if protocol.kind == "blend" else (protocol,)
    if len(sources) < max(len(protocol.blend), 1):
        return  # A part that is not there has its own problem.
    listed = {layer.layer: layer for source in sources for layer in source.layers}
    for name in (name for name in LAYERS if name in listed):
        if not any(lays(step, name) for step in protocol.steps):
            yield Problem(
                "layer-not-laid",
                protocol.span("steps:"),
                f"no step lays the {name} layer",
                "the card is worked from its steps: a layer that none of them lays is missing from the animal",
                f"add `layer: {name}` and its `do` to the step that lays it",
                # One that is not always needed is missed only on some animals.
                severity="warning" if listed[name].needed_if is not None else "error",
            )
    for step in marked:
        if step.do is None:
            yield Problem(
                "layer-without-act",
                step.spans["layer"],
                f"the step names the {step.layer} layer and has no `do`",
                "what is to be done with the layer is not on the card",
                "add `do:` with the act, or delete `layer` from this step",
            )
            continue
        # A layer that the kind must have and that is gone from the list is `layers_needed`'s to tell.
        needed = any(
            step.layer is not None and kind.layers[step.layer] == "required"
            for source in sources
            if (kind := KINDS.get(source.kind)) is not None
        )
        if step.layer not in listed and not needed:
            yield Problem(
                "laid-but-not-listed",
                step.spans["layer"],
                f"the step lays a {step.layer} layer, and `layers` has none",
                "nothing would be fetched for it",
                f"add the {step.layer} layer to `layers`, or correct `layer` of this step",
            )
    laid = [step for step in marked if step.do is not None and step.layer in listed]
    # A shape that is no limb is laid at several places, one after the other: padding after the outer wrap begins the next.
    anew = any(layer.rolls is not None for layer in listed.values())
    laid = [step for step in laid if step.layer in WRAPS] if anew else laid
    for before, after in pairwise(laid):
        if anew and (before.layer, after.layer) == ("outer", "padding"):
            continue
        if LAYERS.index(str(before.layer)) > LAYERS.index(str(after.layer)):
            yield Problem(
                "laid-out-of-order",
                after.spans["layer"],
                f"the step lays the {after.layer} layer after the {before.layer} layer",
                "layers are laid skin outwards in one fixed order; out of order they harm",
                "order the steps: " + ", ".join(LAYERS),
                also=((before.spans["layer"], f"the {before.layer} layer is laid here"),),
            )


RULE = Rule(
    id="R42",
    name="layer-not-laid",
    looks_for="The steps lay every layer of the list, skin outwards, and no other layer.",
    why="The card is worked from its steps: a layer that none of them lays is missing from the animal.",
    source="common practice",
    broken="kind: support.soft\n"
    "steps:\n"
    '  - {do: "Dry the limb fully, also between the toes."}\n'
    '  - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side, free ends well past the toes."}\n'
    '  - {layer: contact, do: "If there is an incision, cover it with the low-adherent pad."}\n'
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: "Roll the padding from the toes upward, half over half, three passes."}\n'
    '  - {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}\n'
    '  - {caution: Do not lay the wrap straight off the roll., because: stretched on the roll it shrinks back on the limb, layer: outer, do: "Lay the re-rolled outer wrap from the toes upward, one light pass."}\n'
    "  - {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}\n"
    '  - {check: "Both middle toes are warm; once awake they flinch.", if_not: take the bandage off and call the clinician}\n',
    mended="kind: support.soft\n"
    "steps:\n"
    '  - {do: "Dry the limb fully, also between the toes."}\n'
    '  - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side, free ends well past the toes."}\n'
    '  - {layer: contact, do: "If there is an incision, cover it with the low-adherent pad."}\n'
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: "Roll the padding from the toes upward, half over half, three passes."}\n'
    '  - {layer: conforming, do: "Roll conforming gauze the same way, two passes, leaving 2 cm of padding at each end."}\n'
    '  - {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}\n'
    '  - {caution: Do not lay the wrap straight off the roll., because: stretched on the roll it shrinks back on the limb, layer: outer, do: "Lay the re-rolled outer wrap from the toes upward, one light pass."}\n'
    "  - {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}\n"
    '  - {check: "Both middle toes are warm; once awake they flinch.", if_not: take the bandage off and call the clinician}\n',
    check=check,
    also=("laid-but-not-listed", "laid-out-of-order", "layer-without-act"),
    blends=True,
)
