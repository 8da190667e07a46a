"""Find a revision that is kept, and put it back into the book as it was, for one print.

Takes  an open book, a revision as typed.
Gives  `archived`: the approval, what it says, and the book with this revision in the place of today's. Writes nothing.
Knows  that settings change: a kept revision may name a sign or a material that the book no longer has.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from generator import shelf
from generator.control.kept import approval_named
from generator.control.named import number_of
from generator.opening import OpenBook, judged
from generator.protocol.approval import Approval
from generator.source.problem import Problem
from generator.source.tree import Node
from generator.standing import kept_tree


@dataclass(frozen=True, slots=True)
class Archived:
    """A kept revision. tree: all it says. book: today's book with it in the place of its successor.

    gone: the day from which it no longer counts, if there is one. problems: what keeps it from being printed as a chapter with
    today's settings.
    """

    approval: Approval
    tree: Node
    book: OpenBook
    gone: date | None
    problems: tuple[Problem, ...]

    def is_withdrawn(self, today: date) -> bool:
        """Whether it counts no more."""
        return self.gone is not None and self.gone <= today


def archived(opened: OpenBook, typed: str) -> Archived:
    """The revision that `NUMBER@REVISION` names.

    Raises:
        Refusal: it is not kept as it was approved; the message says which are.
    """
    row = approval_named(opened, typed, "chapter")
    tree = kept_tree(opened, row)
    now = {one.file for one in opened.book.protocols.values() if (number_of(one) or "").casefold() == row.id.casefold()}
    place = (opened.folder / f"{row.protocol}.yaml").as_posix()
    kept = shelf.read_file(shelf.kept_file(opened.folder, row.kept), "approved revision")
    files = {name: data for name, data in shelf.yaml_files(opened.folder, patients=False).items() if name not in now}
    book = judged(opened.folder, files | {place: kept})
    problems = tuple(p for p in book.problems if p.severity == "error" and p.span.file == place)
    return Archived(row, tree, book, opened.record.replaced_on(row), problems)
