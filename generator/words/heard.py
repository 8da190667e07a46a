"""What printed words say: dates, clock times, numbers and telephone numbers, read as an owner would read them.

Takes  the words as they stand on paper, without isolates, in the digits 0 to 9; what they should say; a `Local`.
Gives  whether they say it.
Knows  the names of days and months and the order of figures in a date; nothing of how they are written (`words/moments.py`).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction
from functools import lru_cache

from generator.words.calendars import calendar_of
from generator.words.isolation import bare
from generator.words.local import Local, decimal_sign
from generator.words.telephone import calling_code

# Hours and minutes are parted by a colon, a full stop (fi, id) or a letter or word for the hour (fr-CA, ja, zh, ko); bg names
# the hour after them.
_CLOCK = re.compile(r"(?<!\d)(\d{1,2})(?::|\.| ?h ?|時|时|点|點|시 ?)(\d{2})(?!\d)(?: ?ч\.)?")
_OFFSET = re.compile(r"\s*UTC([+-]\d\d:\d\d)")
_VALUE = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_NUMBER = re.compile(r"\d+(?:[.,\u066b]\d+)?")
# What is kept in cm and printed in another unit; of both, `words/numbers.py` says that of the reader's country first.
# 1 ft = 30.48 cm, exact (international yard and pound agreement, 1959).
_CM_IN: Mapping[str, tuple[tuple[Fraction, int], ...]] = {
    "metric": ((Fraction(100), 1),),
    "us": ((Fraction("30.48"), 0),),
    "both": ((Fraction(100), 1), (Fraction("30.48"), 0)),
}


def _in_order(units: tuple[tuple[Fraction, int], ...], local: Local) -> tuple[tuple[Fraction, int], ...]:
    return units[::-1] if local.territory == "US" and not local.is_staff else units


def western(text: str) -> str:
    """The text with the digits of every script made 0 to 9."""
    return text if text.isascii() else "".join(str(int(c)) if c.isdecimal() else c for c in text)


def says_telephone(shown: str, uri: str) -> bool:
    """Whether the digits printed are those dialled: all after a `+`, else the national ones, with or without a trunk 0."""
    digits = uri.removeprefix("tel:")
    printed = re.sub(r"\D", "", shown)
    if shown.lstrip().startswith("+"):
        return "+" + printed == digits
    national = digits.removeprefix("+" + calling_code(digits))
    return printed in (national, "0" + national)


def says_number(shown: str, value: str, local: Local, lead: str | None = None) -> bool:
    """Whether a number, with or without its unit, is the value; words and codes are printed as they are kept.

    Args:
        lead: the clinic's units, where the value is in cm and is said in metres or feet, cut off.
    """
    if lead is None and shown == value and value.isdecimal():
        return True
    if not _VALUE.fullmatch(value):
        return shown == value
    sign = decimal_sign(local)
    printed = _NUMBER.findall(shown)
    if any(mark in number for number in printed for mark in ".,\u066b" if mark != sign):
        return False
    numbers = [Fraction(number.replace(sign, ".")) for number in printed]
    exact = Fraction(value)
    if lead is not None:
        return numbers == [
            Fraction(exact / unit * 10**places // 1, 10**places) for unit, places in _in_order(_CM_IN[lead], local)
        ]
    if len(numbers) != 1 or (exact < 0) != (re.search("[-\u2212]", shown) is not None):
        return False
    # Rounded half up, to one place at most: 2.25 is printed as 2.3, and never as 2.
    return numbers[0] == Fraction((abs(exact) * 20 + 1) // 2, 10)


def says_weekday(shown: str, value: str, local: Local) -> bool:
    """Whether it is the name of a day of the week, Monday is 1."""
    number, names = int(value) - 1, _names(local)
    return shown in (names.weekdays[number], names.short_weekdays[number])


def says_time(shown: str, value: str, local: Local) -> bool:
    """Whether the words printed say this date, moment or time of day, wholly or one half of it.

    Owners read a midnight, and a noon that has no word, as the minute before or after it; no other minute may be off.
    """
    reading = _read_back(shown, _names(local))
    if reading is None:
        return False
    if ":" not in value:
        return reading.minute is None and reading.is_day(date.fromisoformat(value))
    at = datetime.fromisoformat(value if "T" in value else f"2000-01-02T{value}")
    if reading.offset not in ("", value[-6:]) or (reading.day and "T" not in value):
        return False
    clock = at.replace(tzinfo=None)
    steps = (0, -1, 1) if (clock.hour, clock.minute) in ((0, 0), (12, 0)) else (0,)
    return any(reading.is_moment(clock + timedelta(minutes=step)) for step in steps)


@dataclass(frozen=True, slots=True)
class _Names:
    """The words of a language's calendar as they are read, and the order of figures in its dates, of `y`, `M` and `d`."""

    weekdays: tuple[str, ...]
    short_weekdays: tuple[str, ...]
    months: tuple[str, ...]
    am: str
    pm: str
    noon: str
    order: str


@lru_cache(maxsize=64)
def _names(local: Local) -> _Names:
    calendar = calendar_of(local)

    def plain(words: Iterable[str]) -> tuple[str, ...]:
        return tuple(bare(word) for word in words)

    pattern = re.sub("'[^']*'", "", calendar.year_date)
    # A month in words, as it is in most languages, is no figure.
    order = re.findall("y+|d+|(?<!M)M{1,2}(?!M)", pattern)
    am, pm, noon = plain((calendar.am, calendar.pm, calendar.noon))
    return _Names(
        plain(calendar.weekdays), plain(calendar.short_weekdays), plain(calendar.months),
        am, pm, noon, "".join(letter[0] for letter in order),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Reading:
    """What printed words say: a date, still in words, and a minute of the day, either of which may be absent."""

    day: str
    minute: int | None
    offset: str
    names: _Names

    def is_moment(self, at: datetime) -> bool:
        """Whether what there is of date and time is that of the moment."""
        return self.minute in (None, at.hour * 60 + at.minute) and (not self.day or self.is_day(at.date()))

    def is_day(self, day: date) -> bool:
        """Whether it names this weekday and month, and has the figures of this day, with its year or without, and no others."""
        names, number = self.names, day.weekday()
        rest = _without(self.day, names.weekdays[number], names.short_weekdays[number])
        if rest is not None and "M" not in names.order:
            month = names.months[day.month - 1]
            # Staff read `14 Mar`.
            rest = _without(rest, month, month[:3])
        if rest is None:
            return False
        figures = re.findall(r"\d+", rest)
        value = {"y": f"{day.year}", "M": f"{day.month}", "d": f"{day.day}"}
        return figures in ([value[c] for c in names.order], [value[c] for c in names.order if c != "y"])


def _without(text: str, name: str, short: str) -> str | None:
    """The text with a name taken out; a short one only where it is a word by itself: 월 is Monday, and 3월 is March."""
    start = text.find(name)
    end = start + len(name)
    if start >= 0 and not text[end : end + 1].isdigit():
        return f"{text[:start]} {text[end:]}"
    rest, count = re.subn(rf"(?<!\w){re.escape(short)}(?!\w)", " ", text, count=1)
    return rest if count else None


def _read_back(shown: str, names: _Names) -> _Reading | None:
    """Find date and clock time in printed words; None where there is neither."""
    offset = _OFFSET.search(shown)
    text = _OFFSET.sub("", shown)
    found = _CLOCK.search(text)
    if found is None:
        return _Reading(text, None, "", names) if re.search(r"\d", text) else None
    hour, before, after = int(found[1]), text[: found.start()].rstrip(), text[found.end() :].lstrip()
    for period, shift in ((names.noon, 12), (names.am, 0), (names.pm, 12)):
        if not period:
            continue
        if re.match(rf"{re.escape(period)}(?!\w)", after):
            after = after[len(period) :]
        elif before.endswith(period):
            before = before[: -len(period)]
        else:
            continue
        if hour > 12 or (period == names.noon and hour != 12):
            return None
        hour = hour % 12 + shift
        break
    date_words = f"{before} {after}"
    is_date = re.search(r"\d", date_words) is not None
    return _Reading(date_words if is_date else "", hour * 60 + int(found[2]), offset[1] if offset else "", names)
