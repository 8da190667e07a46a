"""R30: a sling and a heavy padded bandage have an end.

What it looks for: `remove_by` in every sling and in `support.heavy`.
Why it matters: joints held too long stay stiff; cotton that has relaxed holds nothing and still presses.
Stops: a sling with only `remove_when`.
Write instead: `remove_by: 10 d`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Protocol
from generator.protocol.quantity import limit
from generator.protocol.rules.amounts import seconds
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import one
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.purpose != "sling" and protocol.kind != "support.heavy":
        return
    if protocol.limits.remove_by is None:
        kind = KINDS[protocol.kind]
        ceiling = kind.ceilings["remove_by"]
        yield Problem(
            "removal-missing",
            protocol.span("limits:"),
            f"{one(kind.words)} has no `remove_by`",
            f"joints held too long stay stiff, and cotton relaxes; the trade's end is {ceiling.limit} ({ceiling.source})",
            f"add a line `remove_by: {min(ceiling.limit, _TEN, key=seconds)}` to `limits`",
        )


_TEN = limit("10 d")

RULE = Rule(
    id="R30",
    name="removal-missing",
    looks_for="Every sling and every heavy padded bandage has a time by which it is off.",
    why="Joints held too long stay stiff, and cotton relaxes.",
    source="published 9, 11, 21, 22; common practice",
    broken="kind: sling.velpeau\n"
    "limits:\n"
    "  first_check: 12 h to 24 h\n"
    "  check_every: {interval: 12 h, who: technician}\n"
    "  change_every: 3 d to 7 d\n"
    "  recheck_every: 3 d to 4 d\n"
    "  supervised: no\n"
    "  go_home: no\n",
    mended="kind: sling.velpeau\n"
    "limits:\n"
    "  first_check: 12 h to 24 h\n"
    "  check_every: {interval: 12 h, who: technician}\n"
    "  change_every: 3 d to 7 d\n"
    "  recheck_every: 3 d to 4 d\n"
    "  remove_by: 14 d\n"
    "  supervised: no\n"
    "  go_home: no\n",
    check=check,
)
