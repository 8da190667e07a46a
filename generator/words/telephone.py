"""A telephone number as it is dialled and as it is read.

Takes  a number in international form, as the clinic typed it, and the number of the clinic whose paper it stands on.
Gives  the `tel:` target, and the digits in groups of at most four, national for the clinic's own country.
Knows  calling codes and the digit dialled before a national number; not which numbers exist.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

# Codes of one and two digits; every other code has three. ITU-T E.164, list of assigned country codes (from memory,
# compared with a general library for telephone numbers).
_SHORT_CODES = frozenset(
    ["1", "7", "20", "27"]
    + [str(n) for n in (30, 31, 32, 33, 34, 36, 39, 40, 41, 43, 44, 45, 46, 47, 48, 49, 51, 52, 53, 54, 55, 56, 57, 58)]
    + [str(n) for n in (60, 61, 62, 63, 64, 65, 66, 81, 82, 84, 86, 90, 91, 92, 93, 94, 95, 98)]
)
# What is dialled before the number at home. Codes not listed: nothing is known, so the international form is printed.
_TRUNK: Mapping[str, str] = MappingProxyType(
    dict.fromkeys(("27", "31", "32", "33", "40", "41", "43", "44", "46", "49", "61", "62", "63", "64", "66", "81", "82",
                   "84", "86", "90", "91", "92", "93", "94", "98", "353", "358", "972"), "0")
    | dict.fromkeys(("30", "34", "39", "45", "47", "48", "52", "65", "351", "352", "354", "420", "502", "503", "504", "505",
                     "506", "507", "509", "852"), "")
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Telephone:
    """One number. digits: E.164, with +. shown: as printed, in plain spaces and hyphens (`isolation.ltr` glues them)."""

    digits: str
    shown: str

    @property
    def uri(self) -> str:
        """Target of a link over the printed number: `tel:+18025550142` (RFC 3966)."""
        return f"tel:{self.digits}"


def telephone(number: str, home: str) -> Telephone:
    """Make a number ready for paper.

    Args:
        number: international, `+` first, in any grouping.
        home: the clinic's own number: where both have one country, the national form is printed, else `+…`.
    Raises:
        ValueError: no international number: 7 to 15 digits after `+` (E.164).
    """
    # +44 (0)20 …: the digit in brackets is not dialled from abroad.
    number = number.replace("(0)", " ")
    digits = "+" + re.sub(r"\D", "", number)
    if not number.strip().startswith("+") or not re.fullmatch(r"\+[1-9][0-9]{6,14}", digits):
        raise ValueError(f"not a telephone number in international form: {number!r}")
    code = calling_code(digits)
    own = code == calling_code("+" + re.sub(r"\D", "", home))
    if code == "1":
        # North American numbering plan: three, three, four.
        area, office, line = digits[2:5], digits[5:8], digits[8:]
        return Telephone(digits, f"({area}) {office}-{line}" if own else f"+1 {area}-{office}-{line}")
    groups = _groups(number, code)
    abroad = f"+{code} " + " ".join(groups)
    if not own or code not in _TRUNK:
        return Telephone(digits, abroad)
    national = _TRUNK[code] + " ".join(groups)
    # A run of five digits is hard to read and dial; E.123's international form splits it by the country's own code.
    return Telephone(digits, abroad if re.search(r"\d{5}", national) else national)


def calling_code(digits: str) -> str:
    """The country code that starts an E.164 number: 1 to 3 digits."""
    for length in (1, 2):
        if digits[1 : 1 + length] in _SHORT_CODES:
            return digits[1 : 1 + length]
    return digits[1:4]


def _groups(number: str, code: str) -> list[str]:
    """The digits after the country code as the clinic grouped them, none longer than four."""
    typed = re.findall(r"\d+", number)
    typed = typed[1:] if typed[0] == code else ["".join(typed)[len(code) :]]
    return [part for group in typed for part in _split(group)]


def _split(group: str) -> list[str]:
    """Cut a long run from the left into threes, the rest of two to four last."""
    parts = []
    while len(group) > 4:
        cut = 3 if len(group) != 5 else 2
        parts.append(group[:cut])
        group = group[cut:]
    return [*parts, group]
