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
    broken="kind: sling.velpeau\nsteps:\n  - {do: Pad the paw.}\n  - {do: Roll gauze round limb and chest.}\n",
    check=check,
)
