"""Names of days and months, and how a language puts a date and a time together.

Takes  a `Local`.
Gives  its `Calendar`, the same for the same reader in every run.
Knows  English and Haitian Creole by heart, every other language from CLDR.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

from generator.words.local import Local, cldr_name, fact


@dataclass(frozen=True, slots=True)
class Calendar:
    """One language's words for the calendar. Patterns are those of UTS 35: E weekday, d day, M month, y year, h H m a.

    weekdays, short_weekdays: Monday first. months: January first, in the form used beside a day.
    year_date, date: pattern with and without the year. twelve, twentyfour: patterns of a clock time.
    noon: word that takes the place of am or pm at twelve; empty where none is known for certain.
    joined: date and time in one phrase, {1} the date, {0} the time.
    """

    weekdays: tuple[str, ...]
    short_weekdays: tuple[str, ...]
    months: tuple[str, ...]
    year_date: str
    date: str
    twelve: str
    twentyfour: str
    am: str
    pm: str
    noon: str = ""
    joined: str = "{1}, {0}"


_ENGLISH = Calendar(
    weekdays=("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"),
    short_weekdays=("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"),
    months=("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
            "December"),
    year_date="EEEE, MMMM d, y", date="EEEE, MMMM d", twelve="h:mm a", twentyfour="HH:mm", am="AM", pm="PM", noon="noon",
)  # fmt: skip
_BRITISH = replace(_ENGLISH, year_date="EEEE, d MMMM y", date="EEEE, d MMMM", am="am", pm="pm")

# babel carries a file for Haitian Creole that holds no names, so that every date comes out in French without a word.
# These names are from memory and need a native reader's check.
_HAITIAN = Calendar(
    weekdays=("lendi", "madi", "mèkredi", "jedi", "vandredi", "samdi", "dimanch"),
    short_weekdays=("len", "mad", "mèk", "jed", "van", "sam", "dim"),
    months=("janvye", "fevriye", "mas", "avril", "me", "jen", "jiyè", "out", "septanm", "oktòb", "novanm", "desanm"),
    year_date="EEEE d MMMM y", date="EEEE d MMMM", twelve="h:mm a", twentyfour="HH:mm", am="AM", pm="PM", noon="midi",
)  # fmt: skip

# What stands beside 12:00 at midday. es: CLDR 47 (`del mediodía`); vi, zh: common practice. Other languages print
# 11:59 or 12:01, which nobody can take for midnight.
_NOON: Mapping[str, str] = MappingProxyType({"es": "del mediodía", "vi": "trưa", "zh": "中午"})


@lru_cache(maxsize=64)
def calendar_of(local: Local) -> Calendar:
    """The calendar words of a reader.

    Raises:
        UnknownLanguageError: CLDR has nothing for this language.
    """
    if local.base == "ht":
        return _HAITIAN
    if local.base == "en" and local.territory in ("US", "GB") and local.language in ("en", "en-US", "en-GB"):
        return (
            _BRITISH
            if (local.language, local.territory) != ("en", "US") and "GB" in (local.language[3:], local.territory)
            else _ENGLISH
        )
    return _from_cldr(local)


def _from_cldr(local: Local) -> Calendar:
    name = cldr_name(local.language, local.territory)
    year_date = _bare(_pattern(fact(name, "date_formats", "full")))
    periods = fact(name, "day_periods", "format", "abbreviated")
    wide, short = fact(name, "days", "format", "wide"), fact(name, "days", "format", "abbreviated")
    months = fact(name, "months", "format", "wide")
    skeletons = fact(name, "datetime_skeletons")
    return Calendar(
        weekdays=tuple(_bare(wide[day]) for day in range(7)),
        short_weekdays=tuple(_bare(short[day]) for day in range(7)),
        months=tuple(_bare(months[month]) for month in range(1, 13)),
        year_date=year_date,
        date=without_year(year_date),
        twelve=re.sub("[Bb]", "a", _pattern(skeletons["hm"])),
        twentyfour=_twentyfour(name, _pattern(skeletons["Hm"])),
        am=_bare(periods["am"]),
        pm=_bare(periods["pm"]),
        noon=_NOON.get(local.base, ""),
        joined=_bare(_pattern(fact(name, "datetime_formats", "medium"))),
    )


def without_year(pattern: str) -> str:
    """A full date's pattern with the year, and whatever only serves it, taken away."""
    cut = re.sub(r"^y(?:年|년|\.)?\s*", "", pattern)
    return re.sub(r"[,،]?\s*(?:'[^']*'\s*)?(?:G\s*)?y(?:\s*'[^']*'\.?)?$", "", cut)


def _twentyfour(name: str, skeleton: str) -> str:
    """The language's usual short time where that is a 24-hour one (it has the spaces its readers know), else the other."""
    usual = str(fact(name, "time_formats", "short").pattern)
    return usual if "H" in usual and "a" not in usual else skeleton


def _pattern(value: object) -> str:
    return str(getattr(value, "pattern", value))


def _bare(text: str) -> str:
    """Without direction marks; narrow no-break spaces made ordinary ones, since few fonts have them."""
    return str(text).replace("\u200f", "").replace("\u200e", "").replace("\u202f", "\u00a0")
