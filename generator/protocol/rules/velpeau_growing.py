"""R10: a Velpeau sling on a growing animal leaves the end of the carpus free.

What it looks for: a step, or a modifier by age, that speaks of growing animals and the carpus.
Why it matters: a carpus held bent while it grows may never straighten.
Stops: a Velpeau protocol in a book where nothing says so.
Write instead: the step that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import any_speaks_of, refrains, sentences_of_steps, warnings_of
from generator.source.problem import Problem

YOUNG = r"\b(grow|growing|young|pupp(y|ies)|kittens?|months)\b"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "sling.velpeau":
        return
    said = any_speaks_of((*sentences_of_steps(protocol), *refrains(protocol)), YOUNG)
    if said or any_speaks_of(warnings_of(book, ages=True), r"\bcarpus\b"):
        return
    yield Problem(
        "carpus-of-growing-animal",
        protocol.span("steps:"),
        "nothing says what to do on a growing animal",
        "its carpus, held bent in the sling, can stay bent for good",
        'add a line `- {do: "If the animal is growing, leave the end of the carpus free."}`',
        severity="warning",
    )


RULE = Rule(
    id="R10",
    name="carpus-of-growing-animal",
    looks_for="A Velpeau sling on a growing animal leaves the end of the carpus free.",
    why="The carpus can stay bent for good.",
    source="published 9",
    broken="kind: sling.velpeau\n"
    "steps:\n"
    '  - {caution: Do not use it for a lateral shoulder luxation., because: the sling pushes the joint out again, do: "Ask the clinician to confirm the injury, the limb and this protocol."}\n'
    '  - {layer: contact, do: "If there is an incision, cover it with the low-adherent pad."}\n'
    '  - {layer: padding, do: "Pad foot, carpus, elbow and armpit."}\n'
    '  - {do: "Bend the joints as the clinician shows; hold the limb flat on the chest."}\n'
    '  - {layer: conforming, do: "Roll gauze from the limb over the shoulder, round the chest behind the other forelimb."}\n'
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: conforming, do: "Lay further gauze turns below the elbow, so that the limb cannot drop out."}\n'
    '  - {caution: Do not pull the wrap tight on a sleeping animal., because: it tightens when the chest fills on waking, layer: outer, do: "Lay the re-rolled outer wrap while the chest is full of air."}\n'
    "  - {check: Two fingers slide flat under the wrap at the chest., if_not: take it off and start again}\n"
    '  - {check: "Breathing is quiet, lying and standing, once fully awake.", if_not: cut the wrap at once and call the clinician}\n'
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
    beside=(("modifiers.yaml", ""),),
    check=check,
)
