"""The rules for a clinic's settings, one file each.

Takes  a book.
Gives  `CLINIC_RULES` in the order of their ids, and `clinic_problems` to run them all.
Knows  that every file here holds one; to add one, write its file.
"""

from __future__ import annotations

from generator.protocol.model import Book
from generator.protocol.rules.rule import ClinicRule, each, found_in
from generator.source.problem import Problem, in_order

CLINIC_RULES: tuple[ClinicRule, ...] = found_in(__name__, __path__)


def clinic_problems(book: Book) -> tuple[Problem, ...]:
    """Run every rule over the settings of a book.

    A rule that meets a value that could not be read ends without a word: that value already has its problem.
    """
    return in_order(each(CLINIC_RULES, lambda rule: rule.check(book)))
