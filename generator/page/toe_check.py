"""Show the toe check: two middle toes as they should be, and as they must not be.

Takes  one caption for each, as words.
Gives  a Picture of two paw ends out of their bandage: nails close together, and nails spread apart.
Knows  what owner and technician look at (digits 3 and 4); nothing of when.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.page.lettering import ASCENT, DESCENT, LEADING, TooNarrow, mirrored, wrapped
from generator.page.paths import Label, Measure, Operation, Path, Picture
from generator.page.shapes import Segments, circle, line, mapped, moved, smooth, turned

# One toe from the front, its root at 0, 0, nails down, about 1 high; units are `unit` points on paper.
_TOE = smooth((
    (-0.24, 0.30), (-0.31, -0.05), (-0.33, -0.38), (-0.25, -0.66), (0.0, -0.78), (0.25, -0.66), (0.33, -0.38),
    (0.31, -0.05), (0.24, 0.30),
))  # fmt: skip
_NAIL = smooth(((-0.12, -0.68), (-0.10, -0.88), (0.0, -1.14), (0.10, -0.88), (0.12, -0.68), (0.0, -0.62)),
               corners=(2,))  # fmt: skip
_SPREAD = 18.0  # degrees each swollen toe leans outwards
_PEN = 1.3  # points
_TURNS = 4
_SIGN = 1.65  # sizes: tick or cross in its ring, and the gap behind it


@dataclass(frozen=True, slots=True, kw_only=True)
class ToeCheck:
    """close, spread: the two captions. size: of them, in points. unit: length of a toe in points.

    from_right: for right-to-left scripts, the right way stands at the right.
    """

    close: str
    spread: str
    alternative: str
    size: float = 12.0
    unit: float = 30.0
    language: str | None = None
    from_right: bool = False


def draw_toe_check(spec: ToeCheck, width: float, measure: Measure) -> Picture:
    """Two pictures side by side, each with its caption and its sign (tick, cross) beneath.

    Where a word of a caption is too wide for that, one under the other, each with its words beside it.

    Raises:
        TooNarrow: a word of a caption is wider than the room beside a paw.
    """
    try:
        picture = _side_by_side(spec, width, measure)
    except TooNarrow:
        picture = _stacked(spec, width, measure)
    return mirrored(picture) if spec.from_right else picture


def _side_by_side(spec: ToeCheck, width: float, measure: Measure) -> Picture:
    half = width / 2
    unit = min(spec.unit, half / 2.5)
    sign, pitch, room = spec.size * 1.25, spec.size * LEADING, half - spec.size * 2.2
    captions = [wrapped(text, spec.size, room, measure, bold=True) for text in (spec.close, spec.spread)]
    foot = max(spec.size * (ASCENT + DESCENT) + pitch * (max(map(len, captions)) - 1), sign) + spec.size * 0.7
    height = foot + unit * 2.5
    operations: list[Operation] = []
    for index, (lines, is_wrong) in enumerate(zip(captions, (False, True), strict=True)):
        centre = half * (index + 0.5)
        operations.extend(_paw(centre, foot + unit * 1.2, unit, is_wrong))
        wide = max((measure(text, spec.size, True) for text in lines), default=0.0)
        left = centre - (spec.size * _SIGN + wide) / 2
        operations.extend(_caption(lines, left, foot - spec.size * 0.3, is_wrong, spec))
    return Picture(width, height, tuple(operations), spec.alternative)


def _stacked(spec: ToeCheck, width: float, measure: Measure) -> Picture:
    size, pitch = spec.size, spec.size * LEADING
    unit = min(spec.unit, width / 5)
    paw, tall = unit * 2.5, unit * 2.5
    room = width - paw - size * (_SIGN + 0.6)
    captions = [wrapped(text, size, room, measure, bold=True) for text in (spec.close, spec.spread)]
    rows = [max(tall, pitch * len(lines)) for lines in captions]
    operations: list[Operation] = []
    height = sum(rows) + size * 0.6
    top = height
    for lines, row, is_wrong in zip(captions, rows, (False, True), strict=True):
        operations.extend(_paw(paw / 2, top - row / 2 - tall / 2 + unit * 1.2, unit, is_wrong))
        operations.extend(_caption(lines, paw + size * 0.6, top - (row - pitch * len(lines)) / 2, is_wrong, spec))
        top -= row + size * 0.6
    return Picture(width, height, tuple(operations), spec.alternative)


def _paw(x: float, y: float, unit: float, is_wrong: bool) -> list[Operation]:
    """One paw end, the edge of its bandage at x, y."""
    made: list[Operation] = []
    # Swollen toes are wider and lean apart; the sign beneath and the arrows say it again without colour.
    apart, lean, fat = (0.47, _SPREAD, 1.2) if is_wrong else (0.315, 0.0, 1.0)
    for side in (-1, 1):

        def place(part: Segments, side: int = side) -> Segments:
            grown = mapped(part, unit * fat, 0, 0, unit, 0, 0)
            return moved(turned(grown, side * lean), x + side * apart * unit, y)

        made += [
            Path(place(_TOE), "alarm-soft" if is_wrong else "sand", "ink", _PEN),
            Path(place(_NAIL), "ink"),
        ]
        if is_wrong:
            tip, tail = x + side * 1.24 * unit, x + side * 0.96 * unit
            level, barb = y - unit * 1.02, unit * 0.13
            made += [
                Path(line((tail, level), (tip, level)), stroke="alarm", width=_PEN * 1.4),
                Path(line((tip - side * barb, level + barb), (tip, level), (tip - side * barb, level - barb)),
                     stroke="alarm", width=_PEN * 1.4),
            ]  # fmt: skip
    return [*made, *_cuff(x, y, unit)]


def _cuff(x: float, y: float, unit: float) -> list[Operation]:
    """The end of the bandage, its turns sagging like the edge of a tube seen from slightly above."""
    low, high, sag = unit * 0.78, unit * 0.98, unit * 0.16
    base, top = y - unit * 0.02, y + unit * 1.25
    edge = smooth(((x - low, base + sag), (x, base), (x + low, base + sag)), closed=False)
    rim = smooth(((x + high, top), (x, top - sag), (x - high, top)), closed=False)
    outline: Segments = (*edge, ("L", x + high, top), *rim[1:], ("Z",))
    made: list[Operation] = [Path(outline, "leaf-soft", "ink", _PEN)]
    for index in range(1, _TURNS):
        part = index / _TURNS
        reach = low + (high - low) * part
        level = base + (top - base - sag) * part
        turn = smooth(((x - reach, level + sag * 1.5), (x, level), (x + reach, level + sag * 0.5)), closed=False)
        made.append(Path(turn, stroke="leaf", width=_PEN * 0.9))
    return made


def _caption(lines: Sequence[str], left: float, top: float, is_wrong: bool, spec: ToeCheck) -> list[Operation]:
    """Tick or cross in a ring, then the words."""
    size, colour = spec.size, "alarm" if is_wrong else "leaf"
    r, gap = size * 0.6, size * (_SIGN - 1.2)
    baseline = top - size * ASCENT
    x, y = left + r, baseline + size * 0.34
    turn = -1 if spec.from_right else 1
    strokes: tuple[Segments, ...] = (
        (line((x - r * 0.4, y - r * 0.4), (x + r * 0.4, y + r * 0.4)),
         line((x - r * 0.4, y + r * 0.4), (x + r * 0.4, y - r * 0.4)))
        if is_wrong
        # A tick is written the same way by every hand: in a drawing to be mirrored it stands reversed.
        else (line(*((x + turn * r * dx, y + r * dy) for dx, dy in ((-0.48, -0.02), (-0.1, -0.42), (0.5, 0.42)))),)
    )  # fmt: skip
    made: list[Operation] = [Path(circle(x, y, r), fill=colour)]
    made += [Path(stroke, stroke="white", width=size * 0.14) for stroke in strokes]
    for index, text in enumerate(lines):
        made.append(
            Label(text, left + 2 * r + gap, baseline - index * size * LEADING, size, True, colour,
                  language=spec.language)
        )  # fmt: skip
    return made
