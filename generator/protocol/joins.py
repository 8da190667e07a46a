"""How two values of one limit join into the stricter one.

Takes  two values of the same key, either of which may be None: no limit set.
Gives  the stricter; joins commute and associate, and are never looser than either.
Knows  blends, modifiers and house limits all join by these same functions.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

from generator.protocol.model import CheckEvery, Limits, Removal
from generator.protocol.quantity import Limit, Window

# Who looks: the more trained person wins.
WATCHERS = ("owner", "technician", "clinician")


def stricter_window(one: Window, other: Window) -> Window:
    """Shortest window: the minimum of each end (house rule)."""
    return one.join(other)


def stricter_limit(one: Limit, other: Limit) -> Limit:
    """Whatever ends first (house rule: shortest interval, earliest ceiling, never averaged)."""
    return one.join(other)


def stricter_check(one: CheckEvery, other: CheckEvery) -> CheckEvery:
    """The shorter interval, by the more trained watcher."""
    first = min(one, other, key=lambda c: (c.interval.durations, c.who))
    return replace(first, interval=one.interval.join(other.interval), who=max(one.who, other.who, key=WATCHERS.index))


def stricter_removal(one: Removal, other: Removal) -> Removal:
    """The earliest end. A plain limit caps every reason; a reason only one side offers keeps that side's limit."""
    plain = one.plain.join(other.plain) if one.plain and other.plain else one.plain or other.plain
    reasons: dict[str, Limit] = {}
    for reason in sorted({*one.by_reason, *other.by_reason}):
        here, there = one.by_reason.get(reason), other.by_reason.get(reason)
        joined = here.join(there) if here and there else here or there
        assert joined is not None
        reasons[reason] = joined.join(plain) if plain else joined
    return Removal(plain, reasons)


def either_end(one: str, other: str) -> str:
    """Two clinical ends: bandaging ends when the first is reached."""
    return " or ".join(sorted({*one.split(" or "), *other.split(" or ")}))


def both(one: bool, other: bool) -> bool:
    """Allowed only if every part allows it."""
    return one and other


def any_of(one: bool, other: bool) -> bool:
    """Demanded as soon as one part demands it."""
    return one or other


STRICTER: dict[str, Callable[[Any, Any], Any]] = {
    "first_check": stricter_window,
    "check_every": stricter_check,
    "change_every": stricter_window,
    "recheck_every": stricter_window,
    "release": stricter_limit,
    "remove_by": stricter_removal,
    "remove_when": either_end,
    "supervised": any_of,
    "go_home": both,
}


def join_limits(one: Limits, other: Limits) -> Limits:
    """Join every limit of two sets; a limit that only one side sets counts.

    Spans of `one` are kept: whoever needs to know which side decided compares the values (`decided`).
    """
    joined: dict[str, Any] = {}
    spans = {**other.spans, **one.spans}
    for key, stricter in STRICTER.items():
        here, there = getattr(one, key), getattr(other, key)
        joined[key] = there if here is None else here if there is None else stricter(here, there)
        if here != joined[key] and joined[key] == there and key in other.spans:
            spans[key] = other.spans[key]
    return Limits(**joined, spans=spans)


LIMIT_KEYS = tuple(f.name for f in fields(Limits) if f.name != "spans")
