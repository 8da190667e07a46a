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
    broken="kind: sling.velpeau\nsteps:\n  - {do: Pad the paw.}\n  - {do: Roll gauze round limb and chest.}\n",
    check=check,
)
