"""The rules in force, one file each.

Takes  a protocol and its book.
Gives  `RULES` in the order of their ids, and `problems_of` to run them all; `CLINIC_RULES` and `clinic_problems` for the settings.
Knows  that every file here with a `RULE` holds one; to add one, write its file.
"""

from __future__ import annotations

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.clinic import CLINIC_RULES, clinic_problems
from generator.protocol.rules.rule import Rule, each, found_in
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem, in_order

__all__ = ["CLINIC_RULES", "RULES", "clinic_problems", "problems_of"]

RULES: tuple[Rule, ...] = found_in(__name__, __path__)


def problems_of(protocol: Protocol, book: Book) -> tuple[Problem, ...]:
    """Run every rule over one protocol, stage by stage where it has stages.

    A rule that meets a value that could not be read ends there without a word: that value already has its problem.
    """
    if is_unsound(protocol.kind) or is_unsound(protocol.stages):
        return ()
    found: list[Problem] = []
    for one in tuple(protocol.stages.values()) or (protocol,):
        if not is_unsound(one):
            rules = (rule for rule in RULES if rule.blends or one.kind != "blend")
            found += each(rules, lambda rule, one=one: rule.check(one, book))  # type: ignore[misc]
    return in_order(found)
