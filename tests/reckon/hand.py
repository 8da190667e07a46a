"""Do a written working again, as somebody with pencil and calculator would; nothing of the program is used.

Reads  lines of the form `what: sum = result unit; sum ≈ result unit`, or `what: value unit`.
Gives  `redo`: the last result, and every sum whose result is not what stands beside it.
Knows  + − × ÷, brackets, 2π, and four phrases: the lesser of, the greater of, nearest to … of …, … rounded up.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

_TOKEN = re.compile(r"\s*(\d+(?:\.\d+)?|π|[()+−×÷])")
_EQUATION = re.compile(r"^(?P<sum>.+?) (?P<sign>[=≈]) (?P<result>−?\d+(?:\.\d+)?)(?: (?P<unit>[A-Za-z]+))?$")
_VALUE = re.compile(r"^(?P<value>\d+(?:\.\d+)?(?: or \d+(?:\.\d+)?)*)(?: (?P<unit>[A-Za-z]+))?$")
# Numbers on paper have four decimals; a sum of a dozen of them, each multiplied by a limb's length over a strip's width, is
# still right to a twentieth of a millimetre.
PAPER = 0.005


class Unreadable(ValueError):
    """A line that nobody could do again."""


@dataclass(frozen=True)
class Line:
    """One line of a working: the number and unit it comes to, and what in it does not come out."""

    text: str
    result: float
    unit: str
    wrong: tuple[str, ...]


def redo(working: str) -> list[Line]:
    """Every line done again.

    Raises:
        Unreadable: a line hides something.
    """
    return [_line(text) for text in working.splitlines()]


def _line(text: str) -> Line:
    what, colon, rest = text.partition(": ")
    if not colon or not what:
        raise Unreadable(text)
    wrong = []
    result, unit = math.nan, ""
    for one in rest.split("; "):
        found = _EQUATION.match(one)
        if found is None:
            plain = _VALUE.match(one)
            if plain is None:
                raise Unreadable(text)
            result, unit = float(plain["value"].split(" or ")[0]), plain["unit"] or ""
            continue
        result, unit = _number(found["result"]), found["unit"] or ""
        if not _agrees(value_of(found["sum"]), result, found["result"], found["sign"], found["sum"]):
            wrong.append(f"{one} (it is {value_of(found['sum'])})")
    return Line(text, result, unit, tuple(wrong))


def _agrees(value: float, result: float, shown: str, sign: str, sum_: str) -> bool:
    """Exact sums of exact numbers to the last place; others to what rounded numbers allow."""
    if "rounded up" in sum_ or "nearest to" in sum_:
        return value == result
    if sign == "=" and "π" not in sum_ and not re.search(r"\.\d{4}", sum_):
        return math.isclose(value, result, rel_tol=1e-12)
    decimals = len(shown.partition(".")[2])
    return decimals <= 12 and abs(value - result) <= max(PAPER, abs(result) * 1e-5)


def value_of(sum_: str) -> float:
    """The value of a sum."""
    for phrase, choose in (("the lesser of ", min), ("the greater of ", max)):
        if sum_.startswith(phrase):
            return choose(value_of(part) for part in sum_.removeprefix(phrase).split(" and "))
    if sum_.startswith("nearest to "):
        wanted, held = sum_.removeprefix("nearest to ").split(" of ")
        aims = [value_of(one) for one in wanted.split(" or ")]
        return min((value_of(one) for one in held.split(", ")), key=lambda w: (min(abs(w - aim) for aim in aims), -w))
    if sum_.endswith(" rounded up"):
        return max(1, math.ceil(value_of(sum_.removesuffix(" rounded up"))))
    return _Reader(sum_).whole()


def _number(text: str) -> float:
    return -float(text[1:]) if text.startswith("−") else float(text)


class _Reader:
    """Terms, then factors, then brackets: the order everyone learnt. `2π` is a product without its sign."""

    def __init__(self, text: str) -> None:
        self.tokens: list[str] = []
        at = 0
        while at < len(text):
            found = _TOKEN.match(text, at)
            if found is None:
                raise Unreadable(text)
            self.tokens.append(found[1])
            at = found.end()
        self.text = text

    def whole(self) -> float:
        value = self._sum()
        if self.tokens:
            raise Unreadable(self.text)
        return value

    def _take(self, *signs: str) -> str | None:
        return self.tokens.pop(0) if self.tokens and self.tokens[0] in signs else None

    def _sum(self) -> float:
        value = self._product()
        while sign := self._take("+", "−"):
            value = value + self._product() if sign == "+" else value - self._product()
        return value

    def _product(self) -> float:
        value = self._factor()
        while True:
            if self.tokens and self.tokens[0] == "π":
                value *= self._factor()
            elif sign := self._take("×", "÷"):
                value = value * self._factor() if sign == "×" else value / self._factor()
            else:
                return value

    def _factor(self) -> float:
        if self._take("("):
            value = self._sum()
            if not self._take(")"):
                raise Unreadable(self.text)
            return value
        if self._take("−"):
            return -self._factor()
        if self._take("π"):
            return math.pi
        if not self.tokens or not self.tokens[0][0].isdigit():
            raise Unreadable(self.text)
        return float(self.tokens.pop(0))
