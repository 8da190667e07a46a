"""Wrap a bandage round a part that is drawn.

Takes  the axis of the part: points with half a thickness at each, and the distance of turns.
Gives  the outline of the bandage and the slanting lines of its turns.
Knows  tubes; nothing of animals. The turns are a pattern that a photocopy keeps.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from generator.page.shapes import Point, Segments, flattened, line, smooth

_STEPS = 24


def tube(axis: Sequence[tuple[float, float, float]]) -> tuple[Segments, tuple[Point, ...], tuple[Point, ...]]:
    """The outline of a tube, and its two edges as points pair by pair.

    Args:
        axis: 2 or more stations (x, y, half thickness), in order.
    """
    edges: list[list[Point]] = [[], []]
    for index, (x, y, half) in enumerate(axis):
        x0, y0, _ = axis[max(index - 1, 0)]
        x1, y1, _ = axis[min(index + 1, len(axis) - 1)]
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        nx, ny = -(y1 - y0) / length, (x1 - x0) / length
        edges[0].append((x + nx * half, y + ny * half))
        edges[1].append((x - nx * half, y - ny * half))
    one, other = (smooth(edge, closed=False) for edge in edges)
    back = smooth(edges[1][::-1], closed=False)
    outline: Segments = (*one, ("L", *edges[1][-1]), *back[1:], ("Z",))
    return outline, flattened(one, _STEPS), flattened(other, _STEPS)


def turns(one: Sequence[Point], other: Sequence[Point], pitch: float) -> tuple[Segments, ...]:
    """Slanting lines from edge to edge, about `pitch` apart along the tube, none across its ends."""
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(one, other, strict=True)]
    along = [0.0]
    for (x0, y0), (x1, y1) in pairwise(middles):
        along.append(along[-1] + ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
    count = max(2, round(along[-1] / pitch))
    places = [min(range(len(along)), key=lambda i: abs(along[i] - along[-1] * k / count)) for k in range(count + 1)]
    return tuple(line(one[start], other[end]) for start, end in pairwise(places))
