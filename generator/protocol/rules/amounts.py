"""Which of two limits is the longer one.

Takes  limits as authored.
Gives  `ends`, `is_over_ceiling`, `is_looser`, `is_tighter`: the comparisons that several rules share.
Knows  that the upper end of a window is what counts, and that a day is compared as 24 hours.
"""

from __future__ import annotations

from typing import Any

from generator.protocol.joins import WATCHERS
from generator.protocol.kinds import KINDS
from generator.protocol.model import Limits, Protocol, Removal
from generator.protocol.quantity import Limit

WINDOWS = ("first_check", "change_every", "recheck_every")


def seconds(limit: Limit) -> int:
    """The limit's nominal length."""
    return limit.shortest.seconds


def ends(limits: Limits, key: str) -> tuple[tuple[str, Limit], ...]:
    """Every upper end that a key sets, each with its reason; `remove_by` alone has reasons, "" elsewhere."""
    value = getattr(limits, key)
    if value is None:
        return ()
    if key in WINDOWS:
        return (("", value.upper),)
    if key == "check_every":
        return (("", value.interval),)
    if key == "remove_by":
        return _removals(value)
    return (("", value),)


def _removals(value: Removal) -> tuple[tuple[str, Limit], ...]:
    plain = (("", value.plain),) if value.plain else ()
    return plain + tuple(value.by_reason.items())


def latest(limits: Limits, key: str) -> Limit | None:
    """The longest that a key allows, whatever the reason."""
    return max((limit for _, limit in ends(limits, key)), key=seconds, default=None)


def is_over_ceiling(protocol: Protocol, key: str) -> bool:
    """Whether a limit is longer than the trade allows: then that is its problem, and no other need be told."""
    kind = KINDS.get(protocol.kind)
    ceiling = kind.ceilings.get(key) if kind else None
    return ceiling is not None and any(seconds(end) > seconds(ceiling.limit) for _, end in ends(protocol.limits, key))


def is_looser(key: str, own: Any, other: Any) -> bool:
    """Whether `own` allows anything that `other` does not; None allows everything."""
    if other is None or key == "remove_when":
        return False
    if own is None:
        return True
    if key in WINDOWS:
        return seconds(own.upper) > seconds(other.upper)
    if key == "check_every":
        return seconds(own.interval) > seconds(other.interval) or WATCHERS.index(own.who) < WATCHERS.index(other.who)
    if key == "remove_by":
        return _removal_is_looser(own, other)
    if key == "supervised":
        return bool(other and not own)
    if key == "go_home":
        return bool(own and not other)
    return seconds(own) > seconds(other)


def _removal_is_looser(own: Removal, other: Removal) -> bool:
    for reason, end in _removals(own):
        capped = other.by_reason.get(reason) or other.plain
        if capped is None and not reason:
            capped = max(other.by_reason.values(), key=seconds)
        if capped is not None and seconds(end) > seconds(capped):
            return True
    return False


def is_tighter(key: str, own: Any, other: Any) -> bool:
    """Whether `own` forbids anything that `other` allows, so that joining it changes something."""
    if own is None:
        return False
    if other is None:
        return True
    if key == "remove_when":
        return bool(own != other)
    if key == "remove_by":
        return any(_cuts(reason, end, other) for reason, end in _removals(own))
    return is_looser(key, other, own)


def _cuts(reason: str, end: Limit, other: Removal) -> bool:
    if reason:
        there = other.by_reason.get(reason) or other.plain
        return there is None or seconds(end) < seconds(there)
    return any(seconds(end) < seconds(limit) for _, limit in _removals(other))
