"""Numbers with their units, and amounts of money, as a reader writes them.

Takes  exact values (Fraction) in cm, kg, cm2 or another unit by its UCUM code, and a `Local`.
Gives  `18.4 kg`: rounded half up, no trailing zero, a no-break space before the unit.
Knows  metric and US customary units; nothing of what a number is for.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from generator.words.local import Local, cldr_name, decimal_sign, unit_pattern

System = Literal["metric", "us", "both"]

_NO_BREAK = "\u00a0"
# 1 in = 2.54 cm, 1 lb = 0.45359237 kg: exact, international yard and pound agreement, 1959.
_IN_CM: Mapping[str, Fraction] = MappingProxyType({
    "mm": Fraction(1, 10), "cm": Fraction(1), "m": Fraction(100),
    "in": Fraction("2.54"), "ft": Fraction("30.48"), "yd": Fraction("91.44"),
})  # fmt: skip
_IN_KG: Mapping[str, Fraction] = MappingProxyType(
    {"g": Fraction(1, 1000), "kg": Fraction(1), "lb": Fraction("0.45359237")}
)
_US_OF: Mapping[str, str] = MappingProxyType({"mm": "in", "cm": "in", "m": "ft", "g": "lb", "kg": "lb"})
_ON_PAPER: Mapping[str, str] = MappingProxyType({"mm[Hg]": "mmHg", "cm2": "cm²", "mo": "months"})
_CLDR_UNITS: Mapping[str, str] = MappingProxyType({
    "mm": "length-millimeter", "cm": "length-centimeter", "m": "length-meter", "in": "length-inch", "ft": "length-foot",
    "yd": "length-yard", "g": "mass-gram", "kg": "mass-kilogram", "lb": "mass-pound", "min": "duration-minute",
    "h": "duration-hour", "d": "duration-day", "wk": "duration-week", "mm[Hg]": "pressure-millimeter-ofhg",
})  # fmt: skip


def rounded(value: Fraction, places: int = 1) -> Fraction:
    """Round half up, away from zero: 2.25 is 2.3. Rounding to the safe side is done in `reckon`, not here."""
    scale = 10**places
    whole = (abs(value) * scale * 2 + 1) // 2
    return Fraction(whole, scale) * (-1 if value < 0 else 1)


def plain_number(value: Fraction | int, local: Local, places: int = 1) -> str:
    """A number in the digits 0 to 9: `5`, not `5.0`; `0.5`, not `.5`; no grouping, since none here needs it."""
    shown = rounded(Fraction(value), places)
    whole, rest = divmod(abs(shown), 1)
    tail = f"{int(rest * 10**places):0{places}d}".rstrip("0") if places else ""
    sign = "\u2212" if shown < 0 else ""
    return f"{sign}{int(whole)}{decimal_sign(local) + tail if tail else ''}"


def measure(value: Fraction | int, unit: str, local: Local, places: int = 1) -> str:
    """A number and its unit: `7.5 cm`, `50 %`, `24 h`.

    Args:
        unit: a UCUM code (`cm`, `kg`, `mm[Hg]`, `kgf`) or `%`; another word is printed as it stands.
    """
    number = plain_number(value, local, places)
    if local.base in ("en", "ht", "es") or unit not in _CLDR_UNITS:
        return f"{number}{_NO_BREAK}{_ON_PAPER.get(unit, unit)}"
    text = unit_pattern(local, _CLDR_UNITS[unit], rounded(Fraction(value), places), "short").replace("{0}", number)
    return re.sub(f"{re.escape(number)}[ \u202f\u00a0]?", number + _NO_BREAK, text)


def length(
    cm: Fraction | int, system: System, local: Local, unit: str = "cm", places: int = 1, down: bool = False
) -> str:
    """A length given in cm, in the clinic's units: `14 cm`, `5.5 in`, or `14 cm (5.5 in)`; an owner in the United States reads `5.5 in (14 cm)`.

    Args:
        unit: the metric unit it is said in; metres go with feet, the others with inches.
        down: cut off instead of rounding, for what must not be exceeded, such as a lead.
    """
    return _both(Fraction(cm), _IN_CM, system, local, unit, places, down)


def mass(kg: Fraction | int, system: System, local: Local, unit: str = "kg", places: int = 1) -> str:
    """A weight given in kg: `18.4 kg`, `40.6 lb`, or both."""
    return _both(Fraction(kg), _IN_KG, system, local, unit, places, down=False)


def money(amount: Fraction | int, currency: str, local: Local) -> str:
    """An amount of money, by ISO 4217 code: `$1.10`, `1,10 €`. Rounded half up to the currency's own places."""
    from decimal import Decimal

    if local.base in ("en", "ht") and (currency, local.territory) == ("USD", "US"):
        dollars, cents = divmod(int(rounded(Fraction(amount), 2) * 100), 100)
        return f"${dollars}.{cents:02d}"
    from babel.numbers import format_currency, get_currency_precision

    exact = rounded(Fraction(amount), get_currency_precision(currency))
    value = Decimal(exact.numerator) / Decimal(exact.denominator)
    # babel writes Haitian amounts as in French, which is right for amounts.
    name = "fr_HT" if local.base == "ht" else cldr_name(local.language, local.territory)
    return format_currency(value, currency, locale=name).replace("\u202f", _NO_BREAK)


def numbers_in(text: str) -> tuple[str, ...]:
    """The digit runs of a text in the digits 0 to 9, sorted: source and target sheet must be equal in this."""
    import unicodedata

    western = "".join(str(unicodedata.digit(letter)) if letter.isdigit() else letter for letter in text)
    return tuple(sorted(re.findall(r"[0-9]+", western)))


def _both(
    value: Fraction, table: Mapping[str, Fraction], system: System, local: Local, unit: str, places: int, down: bool
) -> str:
    def said(unit: str, places: int) -> str:
        number = value / table[unit]
        if down:
            number = Fraction(number * 10**places // 1, 10**places)
        return measure(number, unit, local, places)

    metric = said(unit, places)
    if system == "metric":
        return metric
    # A lead of 2 m is 6.56 ft: whole feet, so that no owner has to choose between two.
    us = said(_US_OF[unit], 0 if down else places)
    if system == "us":
        return us
    # What the reader is used to comes first (CLDR, measurement systems: the United States keep to feet and pounds).
    first, second = (us, metric) if local.territory == "US" and not local.is_staff else (metric, us)
    return f"{first}{_NO_BREAK}({second})"
