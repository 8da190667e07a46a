"""Moments, durations and the two ways of counting a day.

Takes  aware moments, a zone, limits as authored.
Gives  the moment a limit ends or a window opens.
Knows  that hours elapse and days follow the calendar; nothing of visits or opening hours.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo

from generator.protocol.quantity import Duration, Limit


def fixed(moment: datetime, zone: tzinfo) -> datetime:
    """The moment as the zone's clocks show it, with the offset of that very moment.

    Two moments that share one zone object are compared by their clock faces, so that in the hour that comes twice a later
    one can seem earlier. With an offset of its own each is compared as an instant.
    """
    there = moment.astimezone(zone)
    offset = there.utcoffset()
    assert offset is not None
    return there.replace(tzinfo=timezone(offset), fold=0)


def located(moment: datetime, zone: tzinfo) -> datetime:
    """Give a typed moment its zone.

    A clock time that the change of the clocks skips is taken with the offset before it, one that comes twice is its first
    (RFC 5545, 3.3.5): both are the earlier reading, and a limit never starts later than it must.
    """
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=zone, fold=0)
    # Through UTC and back: a skipped clock time becomes the one the clock really showed.
    return fixed(moment.astimezone(UTC), zone)


def later(moment: datetime, seconds: int, zone: tzinfo) -> datetime:
    """The moment when so many seconds have elapsed. Python's own `+` would move the hands instead."""
    return fixed(moment.astimezone(UTC) + timedelta(seconds=seconds), zone)


def same_clock_time(moment: datetime, days: int, zone: tzinfo) -> datetime:
    """The same clock time so many days later."""
    there = moment.astimezone(zone).replace(tzinfo=None) + timedelta(days=days)
    return located(there, zone)


def _end(moment: datetime, duration: Duration, zone: tzinfo) -> datetime:
    elapsed = later(moment, duration.seconds, zone)
    if not duration.calendar:
        return elapsed
    return min(elapsed, same_clock_time(moment, duration.seconds // 86400, zone))


def _start(moment: datetime, duration: Duration, zone: tzinfo) -> datetime:
    if duration.calendar:
        return same_clock_time(moment, duration.seconds // 86400, zone)
    return later(moment, duration.seconds, zone)


def end_of(moment: datetime, limit: Limit, zone: tzinfo) -> datetime:
    """When a limit that counts from `moment` ends; the earliest of its durations, rounded never later."""
    return min(_end(moment, duration, zone) for duration in limit.durations)


def opening_of(moment: datetime, limit: Limit, zone: tzinfo) -> datetime:
    """When a window that counts from `moment` opens: days at the same clock time, hours elapsed."""
    return min(_start(moment, duration, zone) for duration in limit.durations)


def at(day: date, clock: time | None, zone: tzinfo) -> datetime:
    """A clock time on a day; None is the midnight that ends it."""
    if clock is None:
        return located(datetime.combine(day + timedelta(days=1), time(0)), zone)
    return located(datetime.combine(day, clock), zone)


def months_later(day: date, months: int) -> date:
    """The same day so many months on; the last of a shorter month where it has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    for number in range(day.day, 27, -1):
        try:
            return date(year, month + 1, number)
        except ValueError:
            continue
    return date(year, month + 1, day.day)
