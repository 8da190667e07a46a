"""Lay out the days of a bandage, from the day it goes on to its deadline.

Takes  one `Day` for each date, in order, with words and numbers already in the owner's language.
Gives  a Picture: a cell a day with boxes to tick, marks for visits, the last cell dark, and a key.
Knows  cells and rows; nothing of calendars or clocks. Spans under a day: `page/minute_strip.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.page.lettering import ASCENT, DESCENT, LEADING, TooNarrow, mirrored, shifted
from generator.page.marks import Visit, key, mark, tick_box
from generator.page.paths import Label, Measure, Operation, Path, Picture
from generator.page.shapes import rectangle

_ROW = 7  # a week, so that a weekday stands under itself
_GAP = 2.0  # points between cells
_PAD = 5.0  # points inside a cell
_WIDEST = 11.4  # sizes; a strip of two days is not stretched over the page


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One date: weekday "Sat", number "13", month "March" (on the first day and where it changes, or empty).

    boxes: toe checks to tick that day. visits: marks, in order of time. clocks: words if the clocks change
    in the night that ends on this day ("Clocks go forward"), else empty.
    """

    weekday: str
    number: str
    month: str = ""
    boxes: int = 0
    visits: tuple[Visit, ...] = ()
    clocks: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayStrip:
    """days: in order, the last one is the deadline. tick_words: what a box means ("Tick each toe check").

    title: the strip in a few words, opening the text alternative. from_right: for right-to-left scripts.
    """

    days: tuple[Day, ...]
    title: str
    tick_words: str = ""
    size: float = 12.0
    language: str | None = None
    from_right: bool = False

    def __post_init__(self) -> None:
        if not self.days:
            raise ValueError("a strip without days")


def rows(count: int) -> tuple[int, ...]:
    """Cells in each row: one row up to eight, else weeks; a first row of eight where that saves a row.

    A bandage put on and opened on the same weekday spans 8, 15, 22 … days: its deadline would stand alone.
    """
    if count <= _ROW + 1:
        return (count,)
    first = _ROW + 1 if count % _ROW == 1 else _ROW
    full, rest = divmod(count - first, _ROW)
    return (first, *([_ROW] * full), *([rest] if rest else []))


def draw_day_strip(spec: DayStrip, width: float, measure: Measure) -> Picture:
    """The strip at full width, as high as it needs.

    Raises:
        TooNarrow: a weekday or a word of the key is wider than the room it has.
    """
    split = rows(len(spec.days))
    while True:
        try:
            return _drawn(spec, split, width, measure)
        except _CellTooNarrow as narrow:
            fewer = max(split) - 1
            if fewer == 0:
                raise TooNarrow(narrow.text, narrow.room) from None
            full, rest = divmod(len(spec.days), fewer)
            split = (*([fewer] * full), *([rest] if rest else []))


class _CellTooNarrow(TooNarrow):
    """The content of a cell; fewer cells in a row may cure it."""


@dataclass(frozen=True, slots=True)
class _Cell:
    """Measures shared by every cell of a strip, in points."""

    width: float
    is_stacked: bool
    head: float
    marks: float
    boxes: float
    across: int

    @property
    def height(self) -> float:
        return _PAD + self.head + self.marks + self.boxes + _PAD


def _measures(spec: DayStrip, columns: int, width: float, measure: Measure) -> _Cell:
    cell = min((width - _GAP * (columns - 1)) / columns, spec.size * _WIDEST)
    inside = cell - 2 * _PAD
    size, big = spec.size, spec.size * 1.3
    stacked = False
    for day in spec.days:
        weekday, number = measure(day.weekday, size, day is spec.days[-1]), measure(day.number, big, True)
        if max(weekday, number) > inside:
            raise _CellTooNarrow(day.weekday, inside)
        stacked = stacked or weekday + number + size * 0.3 > inside
        if _marks_width(day, size) > inside:
            raise _CellTooNarrow(day.number, inside)
    side = size  # of a box to tick
    across = int((inside + side * 0.4) // (side * 1.4))
    most = max(day.boxes for day in spec.days)
    if most and across < 1:
        raise _CellTooNarrow("", inside)
    lines = -(-most // across) if most else 0
    return _Cell(
        width=cell,
        is_stacked=stacked,
        head=big * (ASCENT - 0.1) + (_step(size) if stacked else 0.0) + size * 0.34,
        marks=size * 1.42 if any(_marks_width(day, size) for day in spec.days) else 0.0,
        boxes=lines * side * 1.4 - side * 0.4 + size * 0.15 if lines else 0.0,
        across=across,
    )


def _step(size: float) -> float:
    """From the baseline of the weekday to that of the larger number beneath it."""
    return size * DESCENT + size * 1.3 * ASCENT


def _marks_width(day: Day, size: float) -> float:
    count = len(day.visits) + bool(day.clocks)
    return count * size * 1.3 - size * 0.3 if count else 0.0


def _drawn(spec: DayStrip, split: tuple[int, ...], width: float, measure: Measure) -> Picture:
    strip = _measures(spec, max(split), width, measure)
    operations: list[Operation] = []
    y, done = 0.0, 0
    for length in split:
        days = spec.days[done : done + length]
        # Only a row that carries marks leaves room for them.
        cell = strip if any(_marks_width(day, spec.size) for day in days) else replace(strip, marks=0.0)
        depth, names = _months(days, cell, width, spec, measure)
        operations.extend(shifted(operation, 0, y) for operation in names)
        y -= depth
        for column, day in enumerate(days):
            is_deadline = done + column == len(spec.days) - 1
            left = column * (cell.width + _GAP)
            operations.extend(shifted(operation, left, y) for operation in _day(day, cell, spec, measure, is_deadline))
        y -= cell.height + _GAP * 2
        done += length
    foot, lines = key(_entries(spec), width, spec.size, measure, spec.language, spec.from_right)
    operations.extend(shifted(operation, 0, y) for operation in lines)
    height = -y + foot
    placed = tuple(shifted(operation, 0, height) for operation in operations)
    picture = Picture(width, height, placed, _alternative(spec))
    return mirrored(picture) if spec.from_right else picture


def _months(
    days: Sequence[Day], cell: _Cell, width: float, spec: DayStrip, measure: Measure
) -> tuple[float, list[Operation]]:
    """The names of months over a row; one that would run into the next steps up a line."""
    size = spec.size
    levels: list[float] = []  # where the last name on each level begins, from the right
    placed: list[tuple[int, float, str]] = []
    for column, day in reversed(list(enumerate(days))):
        if not day.month:
            continue
        wide = measure(day.month, size, True)
        if wide > width:
            raise TooNarrow(day.month, width)
        left = min(column * (cell.width + _GAP) + 1, width - wide)
        level = next((i for i, start in enumerate(levels) if left + wide + size * 0.5 <= start), len(levels))
        levels[level : level + 1] = [left]
        placed.append((level, left, day.month))
    if not levels:
        return 0.0, []
    depth = len(levels) * size * LEADING + size * 0.15
    names: list[Operation] = []
    for level, left, name in placed:
        baseline = -depth + size * 0.15 + DESCENT * size + level * size * LEADING
        names.append(Label(name, left, baseline, size, True, "leaf", language=spec.language))
    return depth, names


def _day(day: Day, cell: _Cell, spec: DayStrip, measure: Measure, is_deadline: bool) -> list[Operation]:
    """One cell, its upper left corner at 0, 0."""
    size, big, words = spec.size, spec.size * 1.3, "white" if is_deadline else "ink"
    ground = "leaf" if is_deadline else "leaf-soft" if day.visits else "leaf-pale"
    edge = "leaf" if is_deadline else "hairline"
    made: list[Operation] = [
        Path(rectangle(0.4, -cell.height + 0.4, cell.width - 0.8, cell.height - 0.8, 3.5), ground, edge, 0.8),
    ]
    baseline = -_PAD - big * (ASCENT - 0.2)
    quiet = words if is_deadline or day.visits else "slate"
    made.append(Label(day.weekday, _PAD, baseline, size, is_deadline, quiet, language=spec.language))
    if cell.is_stacked:
        number = Label(day.number, _PAD, baseline - _step(size), big, True, words, language=spec.language)
    else:
        right = cell.width - _PAD
        number = Label(day.number, right, baseline, big, True, words, "end", language=spec.language)
    made.append(number)
    top = -_PAD - cell.head
    kinds = (*(("clocks",) if day.clocks else ()), *(visit.kind for visit in day.visits))
    for index, kind in enumerate(kinds):
        left = _PAD + index * size * 1.3
        made.extend(mark(kind, left, top - size, size, dark=is_deadline, from_right=spec.from_right))
    top -= cell.marks
    side = size
    for index in range(day.boxes):
        line_, place = divmod(index, cell.across)
        made.append(tick_box(_PAD + place * side * 1.4, top - side - line_ * side * 1.4, side))
    return made


def _entries(spec: DayStrip) -> list[Visit]:
    """The key: what a box means, then every mark in order of days."""
    entries = [Visit(kind="tick", words=spec.tick_words)] if spec.tick_words else []
    for day in spec.days:
        if day.clocks:
            entries.append(Visit(kind="clocks", words=day.clocks))
        entries.extend(day.visits)
    return entries


def _alternative(spec: DayStrip) -> str:
    """The title, then every day that carries a mark, the deadline always, in words that were given."""
    parts, month = [spec.title], ""
    for index, day in enumerate(spec.days):
        month = day.month or month
        said = [day.clocks] if day.clocks else []
        said += [f"{visit.words} {visit.spoken or visit.when}".strip() for visit in day.visits]
        if said or index == len(spec.days) - 1:
            date = " ".join(part for part in (day.weekday, day.number, month) if part)
            parts.append(f"{date}: {', '.join(said)}" if said else date)
    return ". ".join(parts)
