"""How the procedures of a book stand on the day of print: what is written across their pages and barred in their margins.

Takes  nothing: a plain value, made by `flow`.
Gives  `Marks`.
Knows  that what is not in it was not asked for, and is printed unmarked.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.protocol.approval import Standing
from generator.protocol.changes import Changed


@dataclass(frozen=True, slots=True)
class Marks:
    """All by the protocol's file.

    standings: in the record of approvals. changed: since the approved revision before: a bar stands beside it.
    gone: the day from which the revision no longer counts.
    """

    standings: Mapping[str, Standing] = field(default_factory=dict)
    changed: Mapping[str, Changed] = field(default_factory=dict)
    gone: Mapping[str, date] = field(default_factory=dict)


UNMARKED = Marks()
