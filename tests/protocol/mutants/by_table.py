"""Slips that follow from the vocabulary alone: whatever key it gains is mutated the same day.

Takes  the tables that the reader works by, and a file's data.
Gives  `made`: keys and items left out, answers turned round, other options, figures and times made larger.
Knows  the forms of value; of the trade only where its closed lists stand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import Any

from generator.protocol import quantity
from generator.protocol.kinds import LAYERS
from generator.protocol.shapes import Choice, Form, ListOf, MapOf, OneOrMore, Record, YesNo
from generator.protocol.vocabulary import _TighterCheck
from tests.protocol.mutants.mutant import Made, stage_kind
from tests.protocol.samples import READERS, keys_in
from tests.protocol.writing import Path, Raw, at, changed, without

_TIME = re.compile(r"([0-9.]+) (min|h|d|wk)\b")
_ALIKE = (
    "a protocol.supplies",
    "a protocol.review",
    "a stage.supplies",
    "a stage.review",
    "a stored blend.supplies",
    "a stored blend.review",
    "a protocol.references",
)
_WINDOW = re.compile(r"(\S+ \S+) to (\S+ \S+)")


def table_of(data: Any) -> Any:
    """The table by which a file of this form is read."""
    return READERS["blend" if "blend" in data else "staged" if "stages" in data else "protocol"].table


def made(data: Any, table: Any = None) -> Iterator[Made]:
    for record, key, path in keys_in(table or table_of(data), data, ()):
        if len(path) > 1 and path[0] in ("history", "references") and path[1]:
            continue  # The rows are read and judged alike: the first stands for all.
        what, kind = f"{record.what.strip('`')}.{key.name}", stage_kind(data, path)
        value = at(data, path)
        yield "key left out", what, kind, _said(value), without(data, path)
        yield from (
            (how, what, kind, detail, changed(data, path, new)) for how, detail, new in _values(key.shape, value)
        )
        yield from _items(key.shape, value, what, kind, path, data)


def _values(shape: Any, value: Any) -> Iterator[tuple[str, str, Any]]:
    """How, detail and the new value, for a value that stands alone."""
    if isinstance(shape, YesNo):
        yield (
            "answer turned round",
            f"{value} to {'no' if value == 'yes' else 'yes'}",
            "no" if value == "yes" else "yes",
        )
    elif isinstance(shape, (Choice, OneOrMore)) and isinstance(value, str):
        options = shape.options if isinstance(shape, Choice) else getattr(shape.shape, "options", ())
        if options == LAYERS:
            # Of the layers the two beside it: any further off is stopped as they are.
            at_ = options.index(value)
            options = options[max(at_ - 1, 0) : at_ + 2]
        if len(options) > 12:
            # Of a long list every third, begun elsewhere in each file: all of them come among the files.
            options = options[sum(map(ord, value)) % 3 :: 3]
        for other in options:
            if other != value:
                yield "another option", f"{value} to {other}", other
    elif isinstance(value, str) and not isinstance(shape, (Record, MapOf, ListOf)) and _is_time(shape):
        yield "time doubled", value, _TIME.sub(lambda m: f"{_plain(float(m[1]) * 2)} {m[2]}", value)
        if found := _WINDOW.fullmatch(value):
            yield "window turned round", value, f"{found[2]} to {found[1]}"
            yield "window without its beginning", value, found[2]
    elif isinstance(value, str) and isinstance(shape, Form):
        yield from _figures(shape, value)


def _is_time(shape: Any) -> bool:
    """Whether the form reads a time; `remove_by` and a tightened check may be one plain time."""
    parse = getattr(shape, "parse", None)
    return parse in (quantity.limit, quantity.window) or type(shape).__name__ in ("_RemoveBy", "_TighterCheck")


def _figures(shape: Form, value: str) -> Iterator[tuple[str, str, Any]]:
    if re.fullmatch(r"[0-9]+", value):
        for other in (0, int(value) + 1, int(value) * 3, int(value) - 1):
            if other >= 0 and other != int(value):
                yield "another count", f"{value} to {other}", str(other)
    elif found := re.fullmatch(r"([0-9.]+) (%|mm|cm|m|in|kg)", value):
        for factor in (0, 0.25, 4):
            yield f"amount times {factor:g}", value, f"{_plain(float(found[1]) * factor)} {found[2]}"
    elif re.fullmatch(r"\d{4}-\d\d-\d\d", value):
        day = date.fromisoformat(value)
        for years in (-3, 3):
            yield (
                "another year",
                f"{years:+d} years",
                day.replace(year=day.year + years, day=min(day.day, 28)).isoformat(),
            )


def _items(shape: Any, value: Any, what: str, kind: str, path: Path, data: Any) -> Iterator[Made]:
    """Slips in a list or a group: each item left out, another put in its place, one more put beside it."""
    if isinstance(value, list) and isinstance(shape, (ListOf, OneOrMore)):
        options = getattr(shape.shape, "options", ())
        yield "list emptied", what, kind, "", changed(data, path, [])
        for index, item in enumerate(value):
            if what in _ALIKE and index:
                break  # Of lines that no rule tells apart the first stands for all.
            if what == "a protocol.history" and 0 < index < len(value) - 1:
                continue  # A gap is a gap: the first and the last row tell it.
            yield "item left out", what, kind, _said(item), changed(data, path, value[:index] + value[index + 1 :])
            if len(value) > 2 and options:
                yield "all but one item left out", what, kind, _said(item), changed(data, path, [item])
        start = len(value) % 2
        for option in options[start::2] if len(options) > 8 else options:
            if option not in value:
                yield "option added", what, kind, option, changed(data, path, [*value, option])
                if len(options) < 4 or option == options[0]:
                    yield "option alone", what, kind, option, changed(data, path, [option])
    elif isinstance(value, dict) and not isinstance(shape, (Record, _TighterCheck)):
        for name, child in value.items():
            if len(value) > 1:
                yield "entry left out", what, kind, name, without(data, (*path, name))
            if isinstance(child, str) and _TIME.fullmatch(child):
                doubled = _TIME.sub(lambda m: f"{_plain(float(m[1]) * 2)} {m[2]}", child)
                yield "time doubled", what, kind, f"{name}: {child}", changed(data, (*path, name), doubled)


def _plain(number: float) -> str:
    return f"{number:g}"


def _said(value: Any) -> str:
    if isinstance(value, dict):
        return "; ".join(f"{key}: {_said(child)}" for key, child in value.items() if isinstance(child, str))
    return str(value) if isinstance(value, (str, Raw)) else ""
