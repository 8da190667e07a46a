"""Lay out the minutes or hours of a bandage that lasts less than a day.

Takes  the moments, in order, with clock times as words; the last one is when it must be off.
Gives  a Picture: a cell a moment with its mark, words, clock time and box, the last cell dark, an arrow of
time.
Knows  cells and rows; nothing of clocks. Spans of days: `page/day_strip.py`.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.page.lettering import ASCENT, DESCENT, LEADING, TooNarrow, mirrored, shifted, wrapped
from generator.page.marks import MarkKind, mark, tick_box
from generator.page.paths import Label, Measure, Operation, Path, Picture
from generator.page.shapes import line, rectangle

_GAP = 11.0  # points between cells, with the arrow of time in them
_PAD = 6.0  # points inside a cell
_MOST = 8  # cells in a row


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """One moment. clock: "14:05". words: "Look at the toes". after: "5 min" since it went on, or empty.

    kind: its mark, or None. boxes: to tick when done.
    """

    clock: str
    words: str
    after: str = ""
    kind: MarkKind | None = None
    boxes: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class MinuteStrip:
    """moments: in order, 2 or more, the last one is the deadline. title: opens the text alternative."""

    moments: tuple[Moment, ...]
    title: str
    size: float = 12.0
    language: str | None = None
    from_right: bool = False

    def __post_init__(self) -> None:
        if len(self.moments) < 2:
            raise ValueError("a strip of minutes has a start and an end")


def draw_minute_strip(spec: MinuteStrip, width: float, measure: Measure) -> Picture:
    """The strip at full width, as high as it needs; as many cells in a row as their words allow.

    Raises:
        TooNarrow: a word or a clock time is wider than the whole strip.
    """
    count = len(spec.moments)
    # Rows of like length, so that the last one is not a single cell more often than it must.
    for rows in range(-(-count // _MOST), count + 1):
        try:
            picture = _drawn(spec, -(-count // rows), width, measure)
        except TooNarrow:
            if rows == count:
                raise
            continue
        return mirrored(picture) if spec.from_right else picture
    raise AssertionError("unreachable: the last try returns or raises")


def _drawn(spec: MinuteStrip, columns: int, width: float, measure: Measure) -> Picture:
    size, clock_size = spec.size, spec.size * 1.3
    cell = (width - _GAP * (columns - 1)) / columns
    inside = cell - 2 * _PAD
    texts: list[tuple[str, ...]] = []
    for moment in spec.moments:
        beside_mark = inside - (size * 1.4 if moment.kind else 0.0)
        if measure(moment.after, size, False) > beside_mark:
            raise TooNarrow(moment.after, beside_mark)
        if measure(moment.clock, clock_size, True) > inside:
            raise TooNarrow(moment.clock, inside)
        if max(moment.boxes, 1) * size * 1.4 - size * 0.4 > inside:
            raise TooNarrow(moment.words, inside)
        texts.append(wrapped(moment.words, size, inside, measure, bold=True))
    has_head = any(moment.after or moment.kind for moment in spec.moments)
    head = size * 1.5 if has_head else 0.0
    has_boxes = any(moment.boxes for moment in spec.moments)
    deep = max(map(len, texts)) * size * LEADING
    tall = 2 * _PAD + head + clock_size * (ASCENT - 0.1) + size * 0.2 + deep + (size * 1.6 if has_boxes else 0.0)
    operations: list[Operation] = []
    rows = -(-len(spec.moments) // columns)
    height = rows * tall + (rows - 1) * _GAP * 0.6
    for index, (moment, lines) in enumerate(zip(spec.moments, texts, strict=True)):
        row, column = divmod(index, columns)
        is_last = index == len(spec.moments) - 1
        x, y = column * (cell + _GAP), height - row * (tall + _GAP * 0.6)
        made = _cell(moment, lines, cell, tall, head, spec, is_last)
        operations.extend(shifted(operation, x, y) for operation in made)
        if not is_last and column < columns - 1:
            middle = y - tall / 2
            tip = x + cell + _GAP * 0.78
            back, barb = tip - _GAP * 0.5, _GAP * 0.42
            arrow = line((back, middle + barb), (tip, middle), (back, middle - barb))
            operations.append(Path(arrow, stroke="leaf", width=1.4))
    said = "; ".join(
        f"{moment.clock} {moment.words}" + (f" ({moment.after})" if moment.after else "") for moment in spec.moments
    )
    return Picture(width, height, tuple(operations), f"{spec.title}. {said}")


def _cell(
    moment: Moment,
    lines: tuple[str, ...],
    cell: float,
    tall: float,
    head: float,
    spec: MinuteStrip,
    is_last: bool,
) -> list[Operation]:
    """One cell, its upper left corner at 0, 0."""
    size, clock_size = spec.size, spec.size * 1.3
    words = "white" if is_last else "ink"
    ground, edge = ("leaf", "leaf") if is_last else ("leaf-soft" if moment.kind else "leaf-pale", "hairline")
    made: list[Operation] = [Path(rectangle(0.4, 0.4 - tall, cell - 0.8, tall - 0.8, 3.5), ground, edge, 0.8)]
    y = -_PAD
    if head:
        baseline = y - size * (ASCENT - 0.1)
        if moment.kind:
            made.extend(mark(moment.kind, _PAD, baseline - size * 0.14, size, dark=is_last, from_right=spec.from_right))
        if moment.after:
            made.append(Label(moment.after, cell - _PAD, baseline, size, colour=words, anchor="end",
                              language=spec.language))  # fmt: skip
        y -= head
    y -= clock_size * (ASCENT - 0.1)
    made.append(Label(moment.clock, _PAD, y, clock_size, True, words, language=spec.language))
    y -= size * (0.2 + DESCENT)
    for text in lines:
        y -= size * (LEADING - DESCENT)
        made.append(Label(text, _PAD, y, size, True, words, language=spec.language))
        y -= size * DESCENT
    for index in range(moment.boxes):
        made.append(tick_box(_PAD + index * size * 1.4, _PAD - tall, size))
    return made
