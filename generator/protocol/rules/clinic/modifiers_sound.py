"""C04: a modifier does something, and age and species are never left to a tick.

What it looks for: modifiers that neither tighten, forbid nor warn; `growing` and `cat` without `derived`.
Why it matters: a box is ticked and nothing comes of it; or a kitten's box is forgotten.
Stops: a modifier with only `because`; a modifier `cat` that somebody has to tick.
Write instead: `derived: species cat`, and what it tightens.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Modifier
from generator.protocol.rules.rule import ClinicRule, each
from generator.source.problem import Problem

DERIVED = {"growing": "age under 6 months, or under 12 months over 25 kg", "cat": "species cat"}


def check(book: Book) -> Iterator[Problem]:
    yield from each(book.modifiers.values(), _judge)


def _judge(modifier: Modifier) -> Iterator[Problem]:
    acts = (
        any(limits.spans.keys() - {""} for limits in modifier.tightens.values())
        or modifier.forbids
        or modifier.warns is not None
    )
    if not acts:
        yield Problem(
            "modifier-without-effect",
            modifier.spans["because"],
            f"the modifier `{modifier.name}` neither tightens, nor forbids, nor warns",
            "a box is ticked, and nothing comes of it",
            "add `tightens:`, `forbids:` or `warns:`, or delete the modifier",
        )
    if modifier.name in DERIVED and not modifier.is_derived:
        yield Problem(
            "modifier-not-derived",
            modifier.spans["because"],
            f"the modifier `{modifier.name}` waits for somebody to tick it",
            "birth date and species are known; a tick can be forgotten",
            f"add a line `derived: {DERIVED[modifier.name]}`",
        )


RULE = ClinicRule(
    id="C04",
    name="modifier-without-effect",
    looks_for="Every modifier tightens, forbids or warns; `growing` and `cat` are derived from birth date and species.",
    why="A box would be ticked and nothing come of it, or a tick be forgotten.",
    source="house rule",
    file="modifiers.yaml",
    broken="shy:\n  because: it hides\n  source: house rule\n",
    mended="shy:\n"
    "  warns: Hides when handled. Look from a distance before the hands-on check.\n"
    "  because: it hides\n"
    "  source: house rule\n",
    check=check,
    also=("modifier-not-derived",),
)
