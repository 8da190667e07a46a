"""Two states of one document side by side: what a change sheet is made from.

Takes  two located trees of one document, and how each stands in the record.
Gives  `Edition`, `Comparison`; `compared`: the differences, those that concern an animal's safety first.
Knows  what of a protocol is read first; nothing of files or paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from generator.protocol.approval import Approval, State
from generator.protocol.changes import Difference, differences, is_control
from generator.protocol.content import SHOWN, leaves
from generator.source.tree import Entries, Items, Node, Scalar

# What decides whether a limb, a skin or an animal is lost, the most urgent first. A caution goes before the step it guards.
_FIRST = (
    "limits",
    "do_not_use_when",
    "only_for",
    "caution",
    "steps",
    "signs",
    "on_skin_at_most",
    "firmness",
    "tension",
    "leave_showing",
)


@dataclass(frozen=True, slots=True)
class Edition:
    """One state of a document: a revision as it was approved, or what the book says now.

    digest: 64 hex digits. approval: None where nobody has approved it as it stands. replaced_on: the day from which it no longer
    counts, if there is one.
    """

    revision: int
    title: str
    digest: str
    state: State
    approval: Approval | None
    replaced_on: date | None

    @property
    def shown(self) -> str:
        """The digest as far as it is printed."""
        return self.digest[:SHOWN]


@dataclass(frozen=True, slots=True)
class Comparison:
    """What changed from one state to a later one.

    history: the rows written between them, newest first, each value by its key. first: what concerns an animal's safety;
    rest: all else; control: the document's own data.
    """

    id: str
    before: Edition
    after: Edition
    history: tuple[Mapping[str, Scalar], ...]
    first: tuple[Difference, ...]
    rest: tuple[Difference, ...]
    control: tuple[Difference, ...]

    @property
    def is_on_trial(self) -> bool:
        """Whether nobody has approved what it leads to."""
        return self.after.approval is None


def compared(number: str, before: tuple[Edition, Node], after: tuple[Edition, Node]) -> Comparison:
    """Compare two states, the earlier one first."""
    found = differences(before[1], after[1])
    content = [one for one in found if not is_control(one)]
    ranked = sorted(
        ((rank, place, one) for place, one in enumerate(content) if (rank := _rank(one)) is not None),
        key=lambda row: row[:2],
    )
    return Comparison(
        id=number,
        before=before[0],
        after=after[0],
        history=_rows_between(after[1], before[0].revision, after[0].revision),
        first=tuple(one for _, _, one in ranked),
        rest=tuple(one for one in content if _rank(one) is None),
        control=tuple(one for one in found if is_control(one)),
    )


def _rank(one: Difference) -> int | None:
    """Where it stands among what is read first; None: not there."""
    keys = {step for step in one.path if isinstance(step, str)}
    for node in (one.before, one.after):
        if node is not None:
            keys |= {step for path, _ in leaves(node) for step in path if isinstance(step, str)}
    return min((_FIRST.index(key) for key in keys if key in _FIRST), default=None)


def _rows_between(tree: Node, low: int, high: int) -> tuple[Mapping[str, Scalar], ...]:
    history = tree.get("history") if isinstance(tree, Entries) else None
    rows: Sequence[Node] = history.items if isinstance(history, Items) else ()
    read = [
        {key.text: value for key, value in row.entries if isinstance(value, Scalar)}
        for row in rows
        if isinstance(row, Entries)
    ]
    return tuple(row for row in read if "revision" in row and _is_between(row["revision"].text, low, high))


def _is_between(text: str, low: int, high: int) -> bool:
    # What was changed under a revision has no row of its own: the row of that revision is the one that should have told it.
    return text.isdecimal() and (low < int(text) <= high or low == high == int(text))
