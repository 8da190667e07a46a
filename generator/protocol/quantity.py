"""Amounts with their units, exact as authored.

Takes  text such as `7.5 cm`, `12 h to 24 h`, `50 %`.
Gives  Fractions in one unit per dimension (cm, kg, kgf, share of 1), `Duration`, `Limit`, `Window`.
Knows  the units a clinic writes and how two time limits join; nothing of clocks or calendars.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

# 1 in = 2.54 cm and 1 lb = 0.45359237 kg, both exact: international yard and pound agreement, 1959.
# 1 kgf = 9.80665 N exact: standard gravity, 3rd CGPM 1901.
UNITS: dict[str, dict[str, Fraction]] = {
    "length": {
        "mm": Fraction(1, 10),
        "cm": Fraction(1),
        "m": Fraction(100),
        "in": Fraction("2.54"),
        "yd": Fraction("91.44"),
    },
    "mass": {"kg": Fraction(1), "g": Fraction(1, 1000), "lb": Fraction("0.45359237")},
    "share": {"%": Fraction(1, 100)},
    "tension": {"kgf": Fraction(1), "N": 1 / Fraction("9.80665")},
}
TIME_UNITS = {"min": 60, "h": 3600, "d": 86400, "wk": 604800}
EXAMPLES = {"length": "7.5 cm", "mass": "18.4 kg", "share": "50 %", "tension": "0.18 kgf", "time": "24 h"}

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?\Z")
_AMOUNT = re.compile(r"(?P<number>\S+?)(?P<gap>[ \u00a0]*)(?P<unit>[^\d\s.,]\S*)?\Z")


class Unreadable(ValueError):
    """A value that is not of the form its key asks for; `name`, what, why and fix go into the problem."""

    def __init__(self, name: str, what: str, why: str, fix: str) -> None:
        self.name, self.what, self.why, self.fix = name, what, why, fix
        super().__init__(what)


def plain_number(text: str, fix: str) -> Fraction:
    """Read a decimal number as it stands.

    Raises:
        Unreadable: anything but digits with at most one point: native digits, comma, sign, leading zero, exponent.
    """
    if not _NUMBER.match(text):
        if re.fullmatch(r"\d+(?:[.,]\d+)?", text) and not text.isascii():
            raise Unreadable(
                "foreign-digits",
                f"`{text}` is not written in the digits 0 to 9",
                "figures are read in one form only, so that none is ever guessed",
                fix,
            )
        if re.fullmatch(r"[0-9]+,[0-9]+", text):
            raise Unreadable(
                "decimal-comma",
                f"`{text}` has a comma",
                "1,5 can be read as 1.5 or as 15",
                f"write a point: `{text.replace(',', '.')}`",
            )
        raise Unreadable(
            "not-a-number",
            f"`{text}` is not a plain number",
            "a figure that cannot be read cannot be reckoned with",
            fix,
        )
    if len(text) > 1 and text[0] == "0" and text[1] != ".":
        raise Unreadable(
            "leading-zero",
            f"`{text}` starts with a zero",
            "a leading zero is read differently by different programs",
            f"write `{re.sub('^0+(?=[0-9])', '', text)}`",
        )
    if len(text) > 12:
        raise Unreadable("number-out-of-range", f"`{text}` has too many digits", "no bandage needs such a figure", fix)
    return Fraction(text)


def _split(text: str, dimension: str, units: tuple[str, ...], example: str) -> tuple[Fraction, str]:
    found = _AMOUNT.match(text.strip())
    if found is not None and not any(letter.isnumeric() for letter in found["number"]):
        found = None
    listed = ", ".join(f"`{unit}`" for unit in units)
    if found is None:
        raise Unreadable(
            "not-an-amount",
            f"`{text}` is not a number with a unit",
            "a figure that cannot be read cannot be reckoned with",
            f"write a number, a space and a unit, such as `{example}`",
        )
    number, unit = found["number"], found["unit"]
    if unit is None:
        if re.fullmatch(r"[0-9.,\-]+", number):
            shown = " or ".join(f"`{number} {u}`" for u in units[:3])
            raise Unreadable(
                "number-without-unit",
                f"`{text}` has no unit",
                f"it could mean any of {listed}, and the wrong one would reach the animal"
                if len(units) > 1
                else f"a bare figure can be misread; this one is a number of {listed}",
                f"write {shown}",
            )
        raise Unreadable(
            "not-an-amount",
            f"`{text}` is not a number with a unit",
            "a figure that cannot be read cannot be reckoned with",
            f"write a number, a space and a unit, such as `{example}`",
        )
    if unit not in units:
        raise Unreadable(
            "unknown-unit",
            f"`{unit}` is not a unit of {dimension} that is read here",
            "a unit that is guessed can be wrong tenfold",
            f"use one of {listed}",
        )
    return plain_number(number, f"write a number such as `{example}`"), unit


@lru_cache(4096)
def amount(text: str, dimension: str) -> Fraction:
    """Read `7.5 cm`, `50 %`, `0.18 kgf`, `18.4 kg`: an exact Fraction in cm, share of 1, kgf or kg."""
    units = UNITS[dimension]
    number, unit = _split(text, dimension, tuple(units), EXAMPLES[dimension])
    return number * units[unit]


@dataclass(frozen=True, slots=True, order=True)
class Duration:
    """A length of time as authored. Days follow the calendar, hours and minutes the clock's hand."""

    seconds: int
    calendar: bool = False

    def __str__(self) -> str:
        units = (("d", 86400),) if self.calendar else (("h", 3600), ("min", 60))
        for unit, length in units:
            if self.seconds % length == 0:
                return f"{self.seconds // length} {unit}"
        return f"{self.seconds} s"


@lru_cache(4096)
def duration(text: str) -> Duration:
    """Read `15 min`, `24 h`, `7 d`, `2 wk`."""
    number, unit = _split(text, "time", tuple(TIME_UNITS), "24 h")
    seconds = number * TIME_UNITS[unit]
    if (unit in ("d", "wk") and seconds % 86400) or seconds % 60:
        raise Unreadable(
            "part-of-a-day",
            f"`{text}` is no whole number of {'days' if unit in ('d', 'wk') else 'minutes'}",
            "a part of a day has no clock time of its own",
            "write it in hours, such as `36 h`, or in minutes",
        )
    if seconds <= 0:
        raise Unreadable(
            "number-out-of-range",
            f"`{text}` is no time at all",
            "a limit of nothing can never be kept",
            "write a time above zero, or leave the key out",
        )
    if seconds > 366 * 86400:
        raise Unreadable(
            "number-out-of-range", f"`{text}` is longer than a year", "no bandage stays so long", "write a shorter time"
        )
    return Duration(int(seconds), unit in ("d", "wk"))


# No zone moves its clocks by more than two hours at a time; beyond that the shorter nominal length always ends first.
_LONGEST_CLOCK_CHANGE = 7200


@dataclass(frozen=True, slots=True)
class Limit:
    """An upper end: the earliest of one or two durations.

    `7 d` and `167 h` cannot be told apart until the clocks are known: across a change of the clocks either may end
    first. So a join keeps one of each kind, and the earlier counts when a date is reckoned.
    """

    durations: tuple[Duration, ...]

    @property
    def shortest(self) -> Duration:
        """The shorter by its nominal length; of equals the calendar's, which never ends later."""
        return min(self.durations, key=lambda d: (d.seconds, not d.calendar))

    def __str__(self) -> str:
        return str(self.shortest)

    def join(self, other: Limit) -> Limit:
        """The stricter of two: whatever ends first."""
        kept: dict[bool, Duration] = {}
        for one in (*self.durations, *other.durations):
            kept[one.calendar] = min(one, kept.get(one.calendar, one))
        least = min(one.seconds for one in kept.values())
        return Limit(tuple(sorted(one for one in kept.values() if one.seconds <= least + _LONGEST_CLOCK_CHANGE)))


@lru_cache(4096)
def limit(text: str) -> Limit:
    """Read a lone duration as an upper end."""
    return Limit((duration(text),))


@dataclass(frozen=True, slots=True)
class Window:
    """Not before `lower` (None: at any time) and by `upper`."""

    lower: Limit | None
    upper: Limit

    def __str__(self) -> str:
        # A lower end that a join has left at or past the upper one says nothing any more.
        is_open = self.lower is not None and self.lower.shortest.seconds < self.upper.shortest.seconds
        return f"{self.lower} to {self.upper}" if is_open else str(self.upper)

    def join(self, other: Window) -> Window:
        """The minimum of each end that is set: a lone figure is only an upper end, and leaves the other's lower end alone.

        A lower end at or past the joined upper end says nothing any more; it is kept here so that joins associate, and
        disregarded where visits are reckoned.
        """
        lower = self.lower.join(other.lower) if self.lower and other.lower else self.lower or other.lower
        return Window(lower, self.upper.join(other.upper))


@lru_cache(4096)
def window(text: str) -> Window:
    """Read `12 h to 24 h`; a lone `24 h` is only an upper end."""
    parts = re.split(r"\s+to\s+", text.strip())
    if len(parts) == 1:
        return Window(None, limit(parts[0]))
    if len(parts) != 2:
        raise Unreadable(
            "not-a-window",
            f"`{text}` is not a time or a window of two times",
            "the earliest and the latest time must both be known",
            "write `24 h` or `12 h to 24 h`",
        )
    lower, upper = duration(parts[0]), duration(parts[1])
    if lower.seconds >= upper.seconds:
        raise Unreadable(
            "window-reversed",
            f"`{text}` ends before it begins",
            "no visit could ever fall inside it",
            f"write the shorter time first: `{parts[1]} to {parts[0]}`"
            if lower.seconds > upper.seconds
            else f"write `{parts[0]}` alone",
        )
    return Window(Limit((lower,)), Limit((upper,)))


@dataclass(frozen=True, slots=True)
class Band:
    """A half-open range in kg or cm: the lower end is included, the upper is not; None means no end."""

    lower: Fraction
    upper: Fraction | None
    dimension: str = "mass"

    def holds(self, value: Fraction) -> bool:
        return self.lower <= value and (self.upper is None or value < self.upper)


@lru_cache(4096)
def band(text: str, dimension: str) -> Band:
    """Read `2 kg to 5 kg`, `40 kg and over` or `under 8 cm`, as a Band in kg or cm."""
    example = EXAMPLES[dimension]
    unit = example.split()[1]
    text = text.strip()
    if text.endswith(" and over"):
        return Band(amount(text.removesuffix(" and over"), dimension), None, dimension)
    if text.startswith("under "):
        return Band(Fraction(0), amount(text.removeprefix("under "), dimension), dimension)
    parts = re.split(r"\s+to\s+", text)
    if len(parts) != 2:
        raise Unreadable(
            "not-a-band",
            f"`{text}` is not a range",
            "which size it holds for cannot be told",
            f"write `2 {unit} to 5 {unit}` or `40 {unit} and over`",
        )
    lower, upper = amount(parts[0], dimension), amount(parts[1], dimension)
    if lower >= upper:
        raise Unreadable(
            "band-reversed",
            f"`{text}` ends before it begins",
            "nothing could ever fall inside it",
            f"write the smaller figure first: `{parts[1]} to {parts[0]}`",
        )
    return Band(lower, upper, dimension)
