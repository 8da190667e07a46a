"""R08: whatever goes round the chest has its breathing check.

What it looks for: a `check` among the steps of a Velpeau sling or a trunk bandage that speaks of breathing.
Why it matters: placed on a sleeping animal the wrap tightens when the chest fills on waking.
Stops: a Velpeau sling with no such check.
Write instead: the step that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import any_speaks_of
from generator.source.problem import Problem

ROUND_THE_CHEST = ("sling.velpeau", "cover.trunk")


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind not in ROUND_THE_CHEST:
        return
    checks = [step.check for step in protocol.steps if step.check is not None]
    if not any_speaks_of(checks, r"breath|respir"):
        yield Problem(
            "breathing-not-checked",
            protocol.span("steps:"),
            "no step checks the breathing once the animal is awake",
            "a chest wrap put on under sedation tightens when the chest fills on waking",
            "add a line `- {check: Breathing is quiet once the animal is fully awake., if_not: cut the wrap at once and call the clinician}`",
        )


RULE = Rule(
    id="R08",
    name="breathing-not-checked",
    looks_for="After a Velpeau sling or a chest wrap the breathing is checked again once the animal is awake.",
    why="Placed under anaesthesia, such a wrap tightens.",
    source="published 9",
    broken="kind: sling.velpeau\n"
    "steps:\n"
    '  - {caution: Do not use it for a lateral shoulder luxation., because: the sling pushes the joint out again, do: "Ask the clinician to confirm the injury, the limb and this protocol."}\n'
    '  - {layer: contact, do: "If there is an incision, cover it with the low-adherent pad."}\n'
    '  - {layer: padding, do: "Pad foot, carpus, elbow and armpit."}\n'
    '  - {do: "Bend the joints as the clinician shows; hold the limb flat on the chest."}\n'
    '  - {do: "If the animal is growing, leave the end of the carpus free."}\n'
    '  - {layer: conforming, do: "Roll gauze from the limb over the shoulder, round the chest behind the other forelimb."}\n'
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: conforming, do: "Lay further gauze turns below the elbow, so that the limb cannot drop out."}\n'
    '  - {caution: Do not pull the wrap tight on a sleeping animal., because: it tightens when the chest fills on waking, layer: outer, do: "Lay the re-rolled outer wrap while the chest is full of air."}\n'
    "  - {check: Two fingers slide flat under the wrap at the chest., if_not: take it off and start again}\n"
    '  - {check: "The middle toes are warm; once awake they flinch.", if_not: take the sling off and call the clinician}\n',
    mended="kind: sling.velpeau\n"
    "steps:\n"
    '  - {caution: Do not use it for a lateral shoulder luxation., because: the sling pushes the joint out again, do: "Ask the clinician to confirm the injury, the limb and this protocol."}\n'
    '  - {layer: contact, do: "If there is an incision, cover it with the low-adherent pad."}\n'
    '  - {layer: padding, do: "Pad foot, carpus, elbow and armpit."}\n'
    '  - {do: "Bend the joints as the clinician shows; hold the limb flat on the chest."}\n'
    '  - {do: "If the animal is growing, leave the end of the carpus free."}\n'
    '  - {layer: conforming, do: "Roll gauze from the limb over the shoulder, round the chest behind the other forelimb."}\n'
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: conforming, do: "Lay further gauze turns below the elbow, so that the limb cannot drop out."}\n'
    '  - {caution: Do not pull the wrap tight on a sleeping animal., because: it tightens when the chest fills on waking, layer: outer, do: "Lay the re-rolled outer wrap while the chest is full of air."}\n'
    "  - {check: Two fingers slide flat under the wrap at the chest., if_not: take it off and start again}\n"
    '  - {check: "Breathing is quiet, lying and standing, once fully awake.", if_not: cut the wrap at once and call the clinician}\n'
    '  - {check: "The middle toes are warm; once awake they flinch.", if_not: take the sling off and call the clinician}\n',
    check=check,
)
