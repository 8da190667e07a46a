"""R09: an Ehmer or Velpeau sling for cats carries a warning.

What it looks for: a modifier `species cat` that warns, or the word cat in a caution or in `do_not_use_when`.
Why it matters: cats bear these slings badly, slip out of them, and tape tears their fur.
Stops: `species: [dog, cat]` with no such word anywhere.
Write instead: `species: [dog]`, or a warning in modifiers.yaml.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import any_speaks_of, refrains, warnings_of
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind not in ("sling.ehmer", "sling.velpeau") or "cat" not in protocol.species:
        return
    cautions = [step.caution for step in protocol.steps if step.caution is not None]
    if any_speaks_of((*cautions, *refrains(protocol)), r"\bcats?\b") or any(warnings_of(book, species="cat")):
        return
    yield Problem(
        "cat-not-warned-of",
        protocol.span("species"),
        "this sling is for cats too, and nothing warns of it",
        "cats bear it badly and slip out of it, and tape tears their fur",
        "write `species: [dog]`, or add to the modifier `cat` in modifiers.yaml a line `warns: Slings slip and are borne badly.`",
        severity="warning",
    )


RULE = Rule(
    id="R09",
    name="cat-not-warned-of",
    looks_for="An Ehmer or Velpeau sling for cats carries a warning.",
    why="Cats bear these slings badly and slip out of them, and tape tears their fur.",
    source="published 9",
    broken="kind: sling.velpeau\n"
    "species: [dog, cat]\n"
    "do_not_use_when:\n"
    "  - {case: a lateral shoulder luxation, because: this sling pushes the joint out again}\n"
    "  - {case: a distal oblique fracture of the humerus, because: the radial nerve is at risk}\n"
    "  - {case: hard breathing or a chest injury, because: the wrap goes round the chest}\n",
    mended="kind: sling.velpeau\n"
    "species: [dog, cat]\n"
    "do_not_use_when:\n"
    "  - {case: a lateral shoulder luxation, because: this sling pushes the joint out again}\n"
    "  - {case: a distal oblique fracture of the humerus, because: the radial nerve is at risk}\n"
    "  - {case: hard breathing or a chest injury, because: the wrap goes round the chest}\n"
    '  - {case: a cat that fights the sling, because: "cats bear it badly, slip out of it and lose fur to its tape"}\n',
    beside=(("modifiers.yaml", ""),),
    check=check,
)
