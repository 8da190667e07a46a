"""The rules in force, one file each.

Takes  a protocol and its book.
Gives  `RULES` in the order of their ids, and `problems_of` to run them all.
Knows  which files hold rules; to add one, write its file and name it here.
"""

from __future__ import annotations

from generator.protocol.model import Book, Protocol
from generator.protocol.rules import layer_order, layers_needed
from generator.protocol.rules.rule import Rule
from generator.protocol.shapes import UnsoundValue, is_unsound
from generator.source.problem import Problem, in_order

RULES: tuple[Rule, ...] = tuple(sorted((layers_needed.RULE, layer_order.RULE), key=lambda rule: rule.id))


def problems_of(protocol: Protocol, book: Book) -> tuple[Problem, ...]:
    """Run every rule over one protocol, stage by stage where it has stages.

    A rule that meets a value that could not be read ends without a word: that value already has its problem.
    """
    if is_unsound(protocol.stages):
        return ()
    found: list[Problem] = []
    for one in tuple(protocol.stages.values()) or (protocol,):
        if is_unsound(one):
            continue
        for rule in RULES:
            try:
                found += rule.check(one, book)
            except UnsoundValue:
                continue
    return in_order(found)
