"""Other values that a key could just as well have had: of the same form, and read without a word of complaint."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import Any

from generator.protocol.kinds import FIRMNESS
from generator.protocol.shapes import Choice, Key, ListOf, MapOf, OneOrMore, Record, Words, YesNo
from generator.protocol.vocabulary import _Bands
from generator.source.problem import Problem
from tests.compose.seeing import tree_of
from tests.protocol.samples import _INSIDE

GONE: Any = object()
_NUMBER = re.compile(r"(?<![0-9.:T+-])[0-9]+(?:\.[0-9]+)?(?![0-9.:T-])")
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_CLOCK = re.compile(r"(?<![0-9:T])([0-9]{2}):([0-9]{2})(?![0-9:])")
# Forms that are no number, date or clock, by an example of each: what else could stand there.
_PLAIN = {
    "+1 802-555-0142": "+1 802-555-0199",
    "+1 802-555-0178": "+1 802-555-0199",
    "America/New_York": "America/Chicago",
    "LB-SUP-002": "LB-OTHER-9",
    "LB-???-###": "LB-???-##",
    "en": "es",
    "es": "en",
    "species cat": "species dog",
}
_SOURCES = ("common practice", "house rule", "from memory")


def is_read(shape: Any, value: Any) -> bool:
    problems: list[Problem] = []
    shape.read(tree_of(value, "x.yaml"), problems)
    return not problems


def others(key: Key, value: Any) -> Iterator[tuple[str, Any]]:
    """Each other value with a word on what was done; `GONE` where the key may be left out and had been written for a reason."""
    yield from _of(key.shape, value, "")
    problems: list[Problem] = []
    if not key.required and key.shape.read(tree_of(value, "x.yaml"), problems) != key.default:
        yield "left out", GONE


def _of(shape: Any, value: Any, where: str) -> Iterator[tuple[str, Any]]:
    if isinstance(value, list):
        yield from _of_list(shape, value, where)
    elif isinstance(value, dict):
        yield from _of_group(shape, value, where)
    else:
        for done, other in _of_text(shape, value):
            yield f"{where}{done}", other


def _of_list(shape: Any, value: list[Any], where: str) -> Iterator[tuple[str, Any]]:
    """Shorter, the other way round; and with another first value, where a value is no group of keys of its own."""
    assert isinstance(shape, ListOf | OneOrMore)
    if len(value) > 1:
        yield f"{where}shorter", value[:-1]
        # Days and numbered copies have an order of their own.
        numbered = isinstance(value[0], dict) and "number" in value[0]
        if not numbered and (not isinstance(value[0], str) or not _DAY.match(value[0])):
            yield f"{where}turned round", value[::-1]
    if value and isinstance(value[0], str):
        for done, other in _of_text(shape.shape, value[0]):
            if other not in value:
                yield f"{where}first {done}", [other, *value[1:]]


def _of_group(shape: Any, value: dict[str, Any], where: str) -> Iterator[tuple[str, Any]]:
    if isinstance(shape, Record):
        return  # its keys are tried one by one
    inside = shape if isinstance(shape, MapOf) else _INSIDE[type(shape)](shape)
    if isinstance(inside, Record):
        return
    if len(value) > 1:
        last = list(value)[-1]
        yield f"{where}without `{last}`", {k: v for k, v in value.items() if k != last}
    for name, item in value.items():
        if isinstance(inside.shape, Record):
            continue
        for done, other in _of(inside.shape, item, f"{where}`{name}` "):
            yield done, {**value, name: other}
    if isinstance(shape, _Bands):
        moved = {re.sub(r"(?<![0-9.])10 kg", "11 kg", name): item for name, item in value.items()}
        if moved != value:
            yield f"{where}bands moved", moved


def _of_text(shape: Any, text: str) -> Iterator[tuple[str, str]]:
    found: Iterator[tuple[str, str]]
    if isinstance(shape, YesNo):
        found = iter([("turned", "no" if text == "yes" else "yes")])
    elif isinstance(shape, Choice):
        at = shape.options.index(text)
        found = iter([(f"`{w}`", w) for w in (*shape.options[at + 1 :], *shape.options[:at])][:2])
    elif isinstance(shape, Words) and text.split()[0] in FIRMNESS:
        found = iter([("other firmness", text.replace(text.split()[0], FIRMNESS[FIRMNESS.index(text.split()[0]) - 1]))])
    elif isinstance(shape, Words):
        found = iter([("other words", _reworded(text, shape.most))])
    elif text in _SOURCES:
        found = iter([("another source", _SOURCES[_SOURCES.index(text) - 1])])
    elif text == "always":
        found = iter(())
    else:
        found = _of_form(shape, text)
    for done, other in found:
        assert is_read(shape, other), (shape, other)
        yield done, other


def _reworded(text: str, most: int) -> str:
    """With a word more before the end, or the last but one taken away; the first word stays, for it may have a meaning."""
    body, end = (text[:-1], ".") if text.endswith(".") else (text, "")
    if re.fullmatch(r"[0-9.]+ cm by [0-9]+ cm", text):
        return re.sub(r"by ([0-9]+)", lambda m: f"by {int(m[1]) + 10}", text)
    if len(text) + 6 <= most:
        return f"{body} again{end}"
    return f"{body[: body.rindex(' ')]}{end}"


def _of_form(shape: Any, text: str) -> Iterator[tuple[str, str]]:
    """Each number, day or clock time in a text, changed by itself."""
    if text in _PLAIN:
        yield f"`{_PLAIN[text]}`", _PLAIN[text]
    elif re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d", text):
        yield "earlier", (datetime.fromisoformat(text) - timedelta(minutes=95)).isoformat(timespec="minutes")
    elif re.match(r"\d{4}-\d\d-\d\d", text):
        # An age is told in months.
        days = 400 if "unknown" in shape.what else 1
        yield "another day", _DAY.sub(lambda m: (date.fromisoformat(m[0]) - timedelta(days=days)).isoformat(), text)
    elif _CLOCK.search(text):
        for found in _CLOCK.finditer(text):
            hour, minute = int(found[1]), int(found[2])
            for other in (f"{hour:02d}:{(minute + 20) % 60:02d}", f"{hour - 1:02d}:30"):
                changed = text[: found.start()] + other + text[found.end() :]
                if is_read(shape, changed):
                    yield f"{found[0]} as {other}", changed
                    break
    elif _NUMBER.search(text):
        for found in _NUMBER.finditer(text):
            for change in _CHANGES:
                number = change(Fraction(found[0]))
                changed = f"{text[: found.start()]}{_decimal(number)}{text[found.end() :]}"
                if number > 0 and changed != text and is_read(shape, changed):
                    yield f"{found[0]} as {_decimal(number)}", changed
                    break
            else:
                raise AssertionError(f"no other number is sound in {text!r}")
    else:
        other = {"LB": "LB-9"}.get(text, f"{text}-other")
        yield f"`{other}`", other


_CHANGES: tuple[Callable[[Fraction], Fraction], ...] = (
    lambda n: n * Fraction(4, 5), lambda n: n * Fraction(5, 4), lambda n: n - 1, lambda n: n + 1, lambda n: n * 2,
)  # fmt: skip


def _decimal(number: Fraction) -> str:
    return f"{float(number):.3f}".rstrip("0").rstrip(".")
