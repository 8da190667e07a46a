"""R24: no limit is longer than the trade allows for its kind of bandage.

What it looks for: every time in `limits` against the ceilings of `protocol/kinds.py`.
Why it matters: past that time skin dies under a bandage that nobody has opened.
Stops: `change_every: 10 d` for a splint.
Write instead: the ceiling, or less. A clinic may tighten a ceiling, never loosen it.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Protocol
from generator.protocol.quantity import Limit
from generator.protocol.rules.amounts import ends, seconds
from generator.protocol.rules.rule import Rule, each, where
from generator.protocol.rules.wording import one
from generator.source.problem import Problem
from generator.source.span import Span

SAYS = {
    "first_check": "the first check",
    "check_every": "the time between checks",
    "change_every": "the time to a change",
    "recheck_every": "the time between rechecks",
    "release": "the release",
    "remove_by": "the removal",
}


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    kind = KINDS.get(protocol.kind)
    if kind is None:
        return

    def judge(key: str) -> Iterator[Problem]:
        ceiling = kind.ceilings[key]
        for reason, limit in ends(protocol.limits, key):
            if seconds(limit) > seconds(ceiling.limit):
                named = f"{SAYS[key]} for `{reason}`" if reason else SAYS[key]
                yield Problem(
                    "limit-over-ceiling",
                    _place(protocol, key),
                    f"{named} is {limit}; for {one(kind.words)} the longest is {ceiling.limit}",
                    f"harm under a bandage shows only when it is opened ({ceiling.source})",
                    f"write {_shown(limit, ceiling.limit)}",
                )

    yield from each(kind.ceilings, judge)


def _place(protocol: Protocol, key: str) -> Span:
    watched = protocol.limits.check_every
    return watched.spans["interval"] if key == "check_every" and watched else where(protocol, key)


def _shown(limit: Limit, ceiling: Limit) -> str:
    return f"`{ceiling}` instead of `{limit}`, or less"


RULE = Rule(
    id="R24",
    name="limit-over-ceiling",
    looks_for="No time limit is longer than the ceiling of the trade for its kind of bandage.",
    why="Harm under a bandage can come at any time and shows only when it is opened.",
    source="published 3, 9, 11, 15, 21, 22, 30, 35, 64; common practice; each ceiling names its own",
    broken="kind: support.splint\nlimits:\n  change_every: 5 d to 8 d\n",
    mended="kind: support.splint\nlimits:\n  change_every: 5 d to 7 d\n",
    check=check,
)
