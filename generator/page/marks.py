"""Mark visits on a strip of days, and explain the marks beneath it.

Takes  kinds of visit and words.
Gives  small shapes that differ in form and not only in colour, and a key that wraps to a width.
Knows  one shape for each kind of visit; nothing of dates.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from generator.page.lettering import ASCENT, LEADING, wrapped
from generator.page.paths import Label, Measure, Operation, Path
from generator.page.shapes import arc, circle, line, mapped, moved, rectangle, smooth
from generator.page.tokens import MOST_LETTERS

# on: the bandage went on. check: staff look, it may stay. change: off and a new one on. release: loosened
# to look. removal: off for good. clocks: the night on which the clocks change. tick: a box to tick.
MarkKind = Literal["on", "check", "change", "release", "removal", "clocks", "tick"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A mark in a cell and its line in the key: words "First check", when "Sun 14 March, by 11:30"."""

    kind: MarkKind
    words: str
    when: str = ""
    # For those who listen, where the key itself leaves the time to the words beside the strip.
    spoken: str = ""


# Clocks and what goes round like them run the same way for every reader: a mirror would make an hour of another.
_NEVER_MIRRORED = frozenset({"change", "clocks"})


def mark(
    kind: MarkKind, x: float, y: float, size: float, *, dark: bool = False, from_right: bool = False
) -> tuple[Path, ...]:
    """The shape of a kind in a square of `size` points, lower left corner at x, y; white on dark ground.

    from_right: it stands in a drawing that will be mirrored as a whole.
    """
    made = _shape(kind, x, y, size, dark)
    if not from_right or kind not in _NEVER_MIRRORED:
        return made
    return tuple(replace(path, segments=mapped(path.segments, -1, 0, 0, 1, 2 * x + size, 0)) for path in made)


def _shape(kind: MarkKind, x: float, y: float, size: float, dark: bool) -> tuple[Path, ...]:
    ink, ground = ("white", "leaf") if dark else ("leaf", "white")
    cx, cy, r, pen = x + size / 2, y + size / 2, size / 2, size * 0.11
    match kind:
        case "on":
            return (Path(circle(cx, cy, r * 0.8), fill=ink),)
        case "check":  # an eye
            lid = smooth(
                ((cx - r, cy), (cx - r * 0.45, cy + r * 0.5), (cx + r * 0.45, cy + r * 0.5), (cx + r, cy),
                 (cx + r * 0.45, cy - r * 0.5), (cx - r * 0.45, cy - r * 0.5)),
                corners=(0, 3),
            )  # fmt: skip
            return (
                Path(lid, fill=ground, stroke=ink, width=pen),
                Path(circle(cx, cy, r * 0.3), fill=ink),
            )
        case "change":  # round once and on again
            tip = line((-r * 0.42, r * 0.05), (r * 0.5, r * 0.1), (r * 0.02, -r * 0.62), closed=True)
            return (
                Path(arc(cx, cy, r * 0.72, 60, 345), stroke=ink, width=pen * 1.35),
                Path(moved(tip, cx + r * 0.64, cy + r * 0.25), fill=ink),
            )
        case "release":  # two ends drawn apart
            strokes = []
            for side in (-1, 1):
                far, barb = cx + side * r * 0.95, cx + side * r * 0.5
                strokes.append(line((cx + side * r * 0.2, cy), (far, cy)))
                strokes.append(line((barb, cy + r * 0.5), (far, cy), (barb, cy - r * 0.5)))
            return tuple(Path(stroke, stroke=ink, width=pen * 1.3) for stroke in strokes)
        case "removal":  # the flag at the end of the course
            pole = cx - r * 0.6
            cloth = line((pole, cy + r), (cx + r * 0.85, cy + r * 0.45), (pole, cy - r * 0.15), closed=True)
            return (
                Path(line((pole, cy - r), (pole, cy + r)), stroke=ink, width=pen * 1.2),
                Path(cloth, fill=ink, stroke=ink, width=pen * 0.6),
            )
        case "clocks":
            return (
                Path(circle(cx, cy, r * 0.88), fill=ground, stroke=ink, width=pen),
                Path(line((cx, cy + r * 0.55), (cx, cy), (cx + r * 0.4, cy - r * 0.25)), stroke=ink, width=pen),
            )
        case "tick":
            return (tick_box(x + size * 0.04, y + size * 0.04, size * 0.92),)


def tick_box(x: float, y: float, side: float) -> Path:
    """A box to tick by hand: white on any ground, so that a pen shows in it."""
    return Path(rectangle(x, y, side, side, side * 0.16), fill="white", stroke="leaf", width=1.1)


def key(
    entries: Sequence[Visit],
    width: float,
    size: float,
    measure: Measure,
    language: str | None,
    from_right: bool = False,
) -> tuple[float, tuple[Operation, ...]]:
    """Lines that explain the marks: shape, bold words, time; hung from y = 0.

    Returns:
        The height in points, and the operations (all at negative y).
    Raises:
        TooNarrow: a word does not fit the width.
    """
    operations: list[Operation] = []
    hang, gap, pitch = size * 1.45, size * 1.3, size * LEADING * 1.08
    x, y = 0.0, -ASCENT * size
    for entry in entries:
        bold, plain = measure(entry.words, size, True), measure(entry.when, size, False)
        space = measure(" ", size, False) * 1.4 if entry.when else 0.0
        whole = hang + bold + space + plain
        if x > 0 and x + whole > width:
            x, y = 0.0, y - pitch
        operations.extend(mark(entry.kind, x, y - size * 0.16, size, from_right=from_right))
        letters = len(entry.words) + len(entry.when)
        if whole <= width and letters <= MOST_LETTERS["sheet"]:
            operations.append(Label(entry.words, x + hang, y, size, True, language=language))
            if entry.when:
                operations.append(Label(entry.when, x + hang + bold + space, y, size, language=language))
            x += whole + gap
            continue
        # Wider than the whole strip, or too long a line to read: its words, then its time, each broken to the width under one another.
        most = MOST_LETTERS["sheet"]
        room = min(width - hang, max(bold, plain) * most / letters) if letters > most else width - hang
        lines = [(text, True) for text in wrapped(entry.words, size, room, measure, bold=True)]
        lines += [(text, False) for text in wrapped(entry.when, size, room, measure)]
        for index, (text, is_bold) in enumerate(lines):
            y -= pitch if index else 0.0
            operations.append(Label(text, hang, y, size, is_bold, language=language))
        x = width
    height = -y + 0.3 * size if entries else 0.0
    return height, tuple(operations)
