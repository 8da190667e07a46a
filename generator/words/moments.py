"""Dates, clock times and lengths of time as a reader says them.

Takes  dates and moments in the clinic's zone, and a `Local`.
Gives  phrases: never a date in bare figures, never a noon or midnight that could be the other one.
Knows  how patterns are filled; the names come from `words/calendars.py`.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from typing import Literal

from generator.words.calendars import Calendar, calendar_of
from generator.words.local import Local, unit_pattern
from generator.words.numbers import plain_number

# Whether a moment is the end of something ("by", so it may only be said too early) or its start ("from").
Edge = Literal["by", "from"]
Unit = Literal["minute", "hour", "day", "week"]

_TOKENS = re.compile(r"'((?:[^']|'')*)'|([A-Za-z])\2*")
_NO_BREAK = "\u00a0"


def long_date(day: date, local: Local, year: bool = True) -> str:
    """Weekday, day and month in words, and the year: `domingo, 7 de noviembre de 2027`."""
    calendar = calendar_of(local)
    return _filled(calendar.year_date if year else calendar.date, calendar, day=day)


def weekday(day: date, local: Local) -> str:
    """`domingo`."""
    return calendar_of(local).weekdays[day.weekday()]


def short_weekday(day: date, local: Local) -> str:
    """`dom`, for narrow columns."""
    return calendar_of(local).short_weekdays[day.weekday()]


def month_name(day: date, local: Local) -> str:
    """The month's name as it stands beside a day: `noviembre`."""
    return calendar_of(local).months[day.month - 1]


def clock(at: time, local: Local, edge: Edge = "by") -> str:
    """A time of day, whole minutes: `10:30 AM`, `18:00`.

    Owners read noon in words, or as a minute to or past it, and never a midnight: 12:00 AM is read both ways. Which
    minute it is depends on `edge`. Staff read exact 24-hour times.
    """
    return _clock(*_shifted(datetime.combine(date(2000, 1, 2), at.replace(tzinfo=None)), local, edge), local)


def moment(at: datetime, local: Local, edge: Edge = "by", year: bool = True) -> str:
    """Date and time in one phrase, in the zone `at` is in. A midnight that ends a day is said as that day, 11:59 PM."""
    shown, is_noon = _shifted(at, local, edge)
    calendar = calendar_of(local)
    words = _filled(calendar.year_date if year else calendar.date, calendar, day=shown.date())
    return calendar.joined.replace("{1}", words).replace("{0}", _clock(shown, is_noon, local))


def shown_day(at: datetime, local: Local, edge: Edge = "by") -> date:
    """The date a moment is printed under: the day before for a midnight that ends something."""
    return _shifted(at, local, edge)[0].date()


def duration(number: int, unit: Unit, local: Local) -> str:
    """A length of time in one unit: `24 hours`, `24 horas`, `2 èdtan`.

    Args:
        number: whole, 0 or more.
    """
    if local.base in _OWN_UNITS:
        one, many = _OWN_UNITS[local.base][unit]
        return f"{number}{_NO_BREAK}{one if number == 1 else many}"
    pattern = unit_pattern(local, f"duration-{unit}", number, "long")
    return re.sub(r"(?<=\d) |\u202f", _NO_BREAK, pattern.replace("{0}", plain_number(number, local)))


# From memory for Haitian Creole (see `words/calendars.py`); `èdtan` is an hour as a length of time.
_OWN_UNITS: dict[str, dict[str, tuple[str, str]]] = {
    "en": {
        "minute": ("minute", "minutes"),
        "hour": ("hour", "hours"),
        "day": ("day", "days"),
        "week": ("week", "weeks"),
    },
    "ht": {"minute": ("minit", "minit"), "hour": ("èdtan", "èdtan"), "day": ("jou", "jou"), "week": ("semèn", "semèn")},
}


def _shifted(at: datetime, local: Local, edge: Edge) -> tuple[datetime, bool]:
    """The minute that is printed, and whether it is noon said in words."""
    whole = at.replace(second=0, microsecond=0, tzinfo=None)
    if edge == "from" and at.replace(tzinfo=None) > whole:
        whole += timedelta(minutes=1)
    if local.is_staff or (whole.hour, whole.minute) not in ((0, 0), (12, 0)):
        return whole, False
    if whole.hour == 12 and (local.hours == 24 or calendar_of(local).noon):
        return whole, local.hours == 12
    return whole + timedelta(minutes=-1 if edge == "by" else 1), False


def _clock(at: datetime, is_noon: bool, local: Local) -> str:
    calendar = calendar_of(local)
    pattern = calendar.twelve if local.hours == 12 else calendar.twentyfour
    text = _filled(pattern, calendar, at=at, period=calendar.noon if is_noon else None)
    return re.sub("[ \u202f]", _NO_BREAK, text)


def _filled(
    pattern: str, calendar: Calendar, day: date | None = None, at: datetime | None = None, period: str | None = None
) -> str:
    """Fill a pattern of UTS 35, part 4, "Date Format Patterns"; only the letters our patterns use."""

    def value(found: re.Match[str]) -> str:
        if found[1] is not None:
            return found[1].replace("''", "'")
        letter, length = found[2], len(found[0])
        if day is not None:
            if letter in "Ec":
                return calendar.weekdays[day.weekday()]
            if letter in "ML":
                return calendar.months[day.month - 1] if length > 2 else str(day.month)
            if letter in "dy":
                return str(day.day if letter == "d" else day.year)
            if letter == "G":
                return _ERA
        if at is not None:
            if letter == "m":
                return f"{at.minute:02d}"
            if letter == "a":
                return period or (calendar.am if at.hour < 12 else calendar.pm)
            if letter in "hHK":
                hour = {"H": at.hour, "h": at.hour % 12 or 12, "K": at.hour % 12}[letter]
                return f"{hour:02d}" if length == 2 else str(hour)
        raise ValueError(f"the pattern {pattern!r} has a letter that is not filled here: {letter}")

    return _TOKENS.sub(value, pattern)


# Only Thai names the era in its full date (CLDR 47): the Christian era, beside Gregorian years.
_ERA = "ค.ศ."
