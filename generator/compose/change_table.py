"""What changed between two revisions, as rows for paper.

Takes  differences, a `Writer`.
Gives  `change_rows`: where, what stood there, what stands there, and whether it is new, taken out or changed.
Knows  how a difference reads to somebody who has the old page in the head: words that differ are bold, a row of many values has a
       line for each.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from markupsafe import Markup

from generator.compose.writer import Writer
from generator.protocol.changes import Difference, said, where
from generator.protocol.content import leaves
from generator.source.span import Span
from generator.source.tree import Node, Scalar

# A figure goes with its unit: half of an amount in bold is another amount at a glance.
_WORD = re.compile(r"\d[\d.,]* (?:%|cm|mm|min|mmHg|kgf|kg|g|m|h|d|wk)(?!\w)|\S+")
# Where less of the words than this is the same, everything would be bold, which shows nothing.
_ALIKE = 0.4


def change_rows(changes: Sequence[Difference], w: Writer) -> list[dict[str, Any]]:
    """A row a change; of what is new or gone, the other side is None."""
    return [
        {
            "where": w.authored(where(change.path), change.at, "where"),
            "kind": "new" if change.before is None else "taken out" if change.after is None else "changed",
            "was": _cell(change.before, change.after, change.at, "was", w),
            "now": _cell(change.after, change.before, change.at, "now", w),
        }
        for change in changes
    ]


def _cell(node: Node | None, other: Node | None, at: Span, name: str, w: Writer) -> Markup | None:
    if node is None:
        return None
    if isinstance(node, Scalar):
        if isinstance(other, Scalar):
            return _beside(said(node), said(other), at, name, w)
        return w.authored(said(node), at, name)
    lines = [
        f"{where(path)}: {said(leaf)}" if any(isinstance(step, str) for step in path) else said(leaf)
        for path, leaf in leaves(node)
    ]
    return Markup("<br/>").join(w.authored(line, at, name) for line in lines)


def _beside(text: str, other: str, at: Span, name: str, w: Writer) -> Markup:
    """A text with the words in bold that the other one has not."""
    import difflib

    own, theirs = _WORD.findall(text), _WORD.findall(other)
    match = difflib.SequenceMatcher(None, theirs, own, False)
    if match.ratio() < _ALIKE:
        return w.authored(text, at, name)
    parts = []
    for kind, _, _, start, end in match.get_opcodes():
        if start < end:
            words = w.authored(" ".join(own[start:end]), at, name)
            parts.append(words if kind == "equal" else Markup("<strong>{}</strong>").format(words))
    return Markup(" ").join(parts)
