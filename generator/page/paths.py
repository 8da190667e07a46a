"""The few shapes of which every drawing is made.

Takes  nothing: these are plain values.
Gives  `Path` and `Label` operations gathered in a `Picture`, in points, y upwards.
Knows  no canvas and no markup: the press paints a Picture, `page/svg.py` writes it for a browser.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

# Width in points of a text set at a size, bold or not. The press lends its own, so that labels are placed by
# the very fonts that will print them.
Measure = Callable[[str, float, bool], float]

# One step of an outline: ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y) or ("Z",).
Segment = tuple[str] | tuple[str, float, float] | tuple[str, float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """One outline, filled and/or stroked. Colours are names of tokens, never values."""

    segments: tuple[Segment, ...]
    fill: str | None = None
    stroke: str | None = None
    width: float = 1.0
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Label:
    """A line of words; x, y is the baseline at the anchor, size in points."""

    text: str
    x: float
    y: float
    size: float
    bold: bool = False
    colour: str = "ink"
    anchor: Literal["start", "middle", "end"] = "start"
    language: str | None = None


Operation = Path | Label


@dataclass(frozen=True, slots=True)
class Picture:
    """A finished drawing: its size in points, what is painted in order, and what it says in words."""

    width: float
    height: float
    operations: tuple[Operation, ...]
    alternative: str
