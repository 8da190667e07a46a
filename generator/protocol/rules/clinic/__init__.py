"""The rules for a clinic's settings, one file each.

Takes  a book.
Gives  `CLINIC_RULES` in the order of their ids, and `clinic_problems` to run them all.
Knows  which files hold such rules; to add one, write its file and name it here.
"""

from __future__ import annotations

from generator.protocol.model import Book
from generator.protocol.rules.clinic import (
    contact_family,
    copies_numbered,
    hours_covered,
    limits_with_effect,
    modifiers_sound,
    pictures_used,
    signs_worded,
    size_bands,
)
from generator.protocol.rules.rule import ClinicRule, each
from generator.source.problem import Problem, in_order

_FILES = (
    contact_family,
    copies_numbered,
    hours_covered,
    limits_with_effect,
    modifiers_sound,
    pictures_used,
    signs_worded,
    size_bands,
)
CLINIC_RULES: tuple[ClinicRule, ...] = tuple(sorted((file.RULE for file in _FILES), key=lambda rule: rule.id))


def clinic_problems(book: Book) -> tuple[Problem, ...]:
    """Run every rule over the settings of a book.

    A rule that meets a value that could not be read ends without a word: that value already has its problem.
    """
    return in_order(each(CLINIC_RULES, lambda rule: rule.check(book)))
