"""What changed between two revisions, as rows for paper.

Takes  differences, a `Writer`.
Gives  `change_rows`: where, what stood there, what stands there.
Knows  how a difference reads to somebody who has the old page in the head.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.compose.writer import Writer
from generator.protocol.changes import Difference, where


def change_rows(changes: Sequence[Difference], w: Writer) -> list[dict[str, Any]]:
    """A row a change; of what is new or gone, the other side is None."""
    return [
        {
            "where": w.authored(where(change.path), change.at, "where"),
            "was": w.authored(change.was, change.at, "was") if change.before is not None else None,
            "now": w.authored(change.now, change.at, "now") if change.after is not None else None,
        }
        for change in changes
    ]
