"""The last visit that can be booked inside a window.

Takes  opening hours, closed days, the window, the length of a visit.
Gives  the slot, or None where the doors stay shut; and whether another place answers meanwhile.
Knows  that a closed day moves a visit earlier, never later.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from datetime import UTC, date, datetime, timedelta, tzinfo

from generator.protocol.model import Hours
from generator.reckon.clock import at, later


def _stretches(
    hours: Hours, closed: Set[date], first: date, last: date, zone: tzinfo
) -> Iterator[tuple[datetime, datetime]]:
    """Open stretches, the latest first."""
    day = last
    while day >= first:
        if day not in closed:
            for opening in reversed(hours.get(day.weekday(), ())):
                yield at(day, opening.opens, zone), at(day, opening.closes, zone)
        day -= timedelta(days=1)


def last_slot(
    hours: Hours, closed: Set[date], visit: int, opens: datetime, due: datetime, zone: tzinfo
) -> datetime | None:
    """The latest start, to the minute, of a visit that ends before closing and before `due`, and starts at or after `opens`."""
    for start, end in _stretches(hours, closed, opens.astimezone(zone).date(), due.astimezone(zone).date(), zone):
        slot = later(min(due, end), -visit, zone)
        slot = later(slot, -(slot.second), zone)
        if slot >= max(start, opens):
            return slot
    return None


def is_open(hours: Hours, closed: Set[date], start: datetime, end: datetime, zone: tzinfo) -> bool:
    """Whether a visit from `start` to `end` falls inside one open stretch."""
    day = start.astimezone(zone).date()
    return any(a <= start and end <= b for a, b in _stretches(hours, closed, day, day, zone))


def answers_in(hours: Hours | None, opens: datetime, due: datetime, zone: tzinfo) -> bool:
    """Whether a place that answers at these hours (None: always) does so at any moment of a window."""
    if hours is None:
        return True
    first, last = opens.astimezone(zone).date() - timedelta(days=1), due.astimezone(zone).date()
    return any(
        max(a, opens).astimezone(UTC) < min(b, due).astimezone(UTC)
        for a, b in _stretches(hours, frozenset(), first, last, zone)
    )
