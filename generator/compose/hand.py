"""Write figures the way staff read them: metric, 24 hours, short.

Takes  figures, moments, days.
Gives  their words in English.
Knows  the house's rounding: what is needed up, what is left down, all else half up; nothing of owners.
"""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction
from typing import Literal

from markupsafe import Markup

from generator.compose.writer import Writer
from generator.reckon.plan import Figure

NO_BREAK = "\u00a0"
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_UNITS = {"mm[Hg]": "mmHg", "1": ""}

Round = Literal["half", "up", "down"]


def day(of: date, year: bool = True) -> str:
    """`Sat 20 Mar 2027`."""
    text = f"{WEEKDAYS[of.weekday()]} {of.day} {MONTHS[of.month - 1]}"
    return (f"{text} {of.year}" if year else text).replace(" ", NO_BREAK)


def iso_day(of: date) -> str:
    """`2027-03-20`: a date of document control, written as in the clinic's files and in the stamp of issue."""
    return of.isoformat()


def short(at: date) -> str:
    """`Sat 20`, where the month stands elsewhere."""
    return f"{WEEKDAYS[at.weekday()]}{NO_BREAK}{at.day}"


def clock(at: datetime) -> str:
    """`10:30`, the minute begun."""
    return f"{at.hour:02d}:{at.minute:02d}"


def moment(at: datetime, year: bool = True) -> str:
    """`Sat 20 Mar 2027, 10:30`."""
    return f"{day(at.date(), year)}, {clock(at)}"


def stamp(at: datetime) -> str:
    """`2027-03-13 10:40 -05:00`: when a paper was issued, with the zone's offset."""
    offset = at.strftime("%z")
    return f"{at:%Y-%m-%d %H:%M} {offset[:3]}:{offset[3:5]}".replace(" ", NO_BREAK)


def number(value: Fraction, places: int = 1, way: Round = "half") -> str:
    """A number without trailing zeros; `way` says to which side it is rounded."""
    scale = 10**places
    scaled = abs(value) * scale
    whole = {"half": (2 * scaled + 1) // 2, "up": -(-scaled // 1), "down": scaled // 1}[way]
    text = f"{int(whole) // scale}"
    rest = f"{int(whole) % scale:0{places}d}".rstrip("0") if places else ""
    return ("\u2212" if value < 0 and whole else "") + text + (f".{rest}" if rest else "")


def measure(value: Fraction, unit: str, places: int = 1, way: Round = "half") -> str:
    """A number and its unit with a space that does not break."""
    shown = _UNITS.get(unit, unit)
    return f"{number(value, places, way)}{NO_BREAK}{shown}" if shown else number(value, places, way)


def figure(writer: Writer, of: Figure, places: int = 1, way: Round = "half") -> Markup:
    """A figure as markup: `7.5 cm`, `2`, `Sat 20 Mar 2027, 10:30`."""
    if isinstance(of.value, datetime):
        return writer.moment(of.value, moment(of.value), of.name)
    return writer.figure(of, measure(of.number, of.unit, places, way))
