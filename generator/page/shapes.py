"""Build and measure outlines.

Takes  plain numbers in points, y upwards.
Gives  tuples of path segments: boxes, circles, smooth curves; moved, turned or flattened to points.
Knows  geometry only; nothing of colours, words or animals.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, cos, radians, sin

from generator.page.paths import Segment

Segments = tuple[Segment, ...]
Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, bottom, right, top

# A quarter circle as one cubic curve: handle = 4/3 (sqrt 2 - 1) x radius, off by less than 0.03 %.
_KAPPA = 0.5522847498


def rectangle(x: float, y: float, width: float, height: float, radius: float = 0.0) -> Segments:
    """A closed box, lower left corner at x, y; corners rounded by `radius` points (at most half a side)."""
    right, top = x + width, y + height
    r = min(radius, width / 2, height / 2)
    if r <= 0:
        return (("M", x, y), ("L", right, y), ("L", right, top), ("L", x, top), ("Z",))
    k = r * (1 - _KAPPA)
    return (
        ("M", x + r, y), ("L", right - r, y), ("C", right - k, y, right, y + k, right, y + r),
        ("L", right, top - r), ("C", right, top - k, right - k, top, right - r, top),
        ("L", x + r, top), ("C", x + k, top, x, top - k, x, top - r),
        ("L", x, y + r), ("C", x, y + k, x + k, y, x + r, y), ("Z",),
    )  # fmt: skip


def ellipse(x: float, y: float, rx: float, ry: float, turn: float = 0.0) -> Segments:
    """A closed ellipse about x, y, turned anticlockwise by `turn` degrees."""
    a, b = rx * _KAPPA, ry * _KAPPA
    upright: Segments = (
        ("M", rx, 0.0), ("C", rx, b, a, ry, 0.0, ry), ("C", -a, ry, -rx, b, -rx, 0.0),
        ("C", -rx, -b, -a, -ry, 0.0, -ry), ("C", a, -ry, rx, -b, rx, 0.0), ("Z",),
    )  # fmt: skip
    return moved(turned(upright, turn) if turn else upright, x, y)


def circle(x: float, y: float, radius: float) -> Segments:
    """A closed circle about x, y."""
    return ellipse(x, y, radius, radius)


def arc(x: float, y: float, radius: float, start: float, end: float) -> Segments:
    """An open arc about x, y from `start` to `end` degrees (0 = right, anticlockwise positive)."""
    pieces = max(1, ceil(abs(end - start) / 45 - 1e-9))
    step = radians((end - start) / pieces)
    handle = 4 / 3 * _tan_quarter(step) * radius
    angle = radians(start)
    made: list[Segment] = [("M", x + radius * cos(angle), y + radius * sin(angle))]
    for _ in range(pieces):
        after = angle + step
        x1, y1 = x + radius * cos(angle), y + radius * sin(angle)
        x2, y2 = x + radius * cos(after), y + radius * sin(after)
        made.append((
            "C", x1 - handle * sin(angle), y1 + handle * cos(angle),
            x2 + handle * sin(after), y2 - handle * cos(after), x2, y2,
        ))  # fmt: skip
        angle = after
    return tuple(made)


def _tan_quarter(angle: float) -> float:
    return sin(angle / 4) / cos(angle / 4)


def line(*points: Point, closed: bool = False) -> Segments:
    """Straight strokes through 2 or more points, in order."""
    (x, y), *rest = points
    body: list[Segment] = [("M", x, y), *(("L", px, py) for px, py in rest)]
    return (*body, ("Z",)) if closed else tuple(body)


def smooth(points: Sequence[Point], *, closed: bool = True, corners: Iterable[int] = ()) -> Segments:
    """A smooth curve through the points, in order.

    Args:
        points: 3 or more.
        closed: whether it returns to its first point.
        corners: indices (from 0) of points where the curve may turn sharply.
    Returns:
        One cubic for each step. Handles are a third of the step's own length, so that uneven spacing of the
        points makes no loops.
    """
    sharp = set(corners)
    count = len(points)
    if not closed:
        sharp |= {0, count - 1}

    def handle(at: int, towards: int) -> Point:
        here, there = points[at], points[towards]
        length = _distance(here, there)
        if at in sharp:
            return here[0] + (there[0] - here[0]) / 3, here[1] + (there[1] - here[1]) / 3
        before, after = points[(at - 1) % count], points[(at + 1) % count]
        d0, d1 = _distance(before, here), _distance(here, after)
        # Tangent of the parabola through three points, spaced by their distances.
        tx = ((here[0] - before[0]) / d0 * d1 + (after[0] - here[0]) / d1 * d0) / (d0 + d1)
        ty = ((here[1] - before[1]) / d0 * d1 + (after[1] - here[1]) / d1 * d0) / (d0 + d1)
        sign = 1 if towards == (at + 1) % count else -1
        return here[0] + sign * tx * length / 3, here[1] + sign * ty * length / 3

    made: list[Segment] = [("M", *points[0])]
    for index in range(count if closed else count - 1):
        after = (index + 1) % count
        made.append(("C", *handle(index, after), *handle(after, index), *points[after]))
    if closed:
        made.append(("Z",))
    return tuple(made)


def _distance(a: Point, b: Point) -> float:
    return float(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5) or 1e-9


def mapped(segments: Segments, a: float, b: float, c: float, d: float, e: float, f: float) -> Segments:
    """Every point (x, y) becomes (a x + c y + e, b x + d y + f)."""
    made: list[Segment] = []
    for segment in segments:
        # Written out: a call for each point would cost as much as everything else here, and drawings are made of this.
        if len(segment) == 7:
            _, x1, y1, x2, y2, x, y = segment
            made.append(
                (
                    "C",
                    a * x1 + c * y1 + e,
                    b * x1 + d * y1 + f,
                    a * x2 + c * y2 + e,
                    b * x2 + d * y2 + f,
                    a * x + c * y + e,
                    b * x + d * y + f,
                )
            )
        elif len(segment) == 3:
            step, x, y = segment
            made.append((step, a * x + c * y + e, b * x + d * y + f))
        else:
            made.append(segment)
    return tuple(made)


def moved(segments: Segments, dx: float, dy: float) -> Segments:
    """The outline shifted by dx, dy points."""
    return mapped(segments, 1, 0, 0, 1, dx, dy)


def turned(segments: Segments, degrees: float) -> Segments:
    """The outline turned anticlockwise about 0, 0."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return mapped(segments, c, s, -s, c, 0, 0)


def flattened(segments: Segments, steps: int = 12) -> tuple[Point, ...]:
    """Points along the outline, in order, `steps` to a curve."""
    points: list[Point] = []
    for segment in segments:
        if segment[0] == "C" and len(segment) == 7:
            x0, y0 = points[-1]
            _, x1, y1, x2, y2, x3, y3 = segment
            for index in range(1, steps + 1):
                t = index / steps
                u = 1 - t
                b0, b1, b2, b3 = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
                points.append((b0 * x0 + b1 * x1 + b2 * x2 + b3 * x3, b0 * y0 + b1 * y1 + b2 * y2 + b3 * y3))
        elif len(segment) == 3:
            points.append((segment[1], segment[2]))
    return tuple(points)


def extent(segments: Segments) -> Box:
    """The smallest upright box around the outline (curves by 12 points each)."""
    points = flattened(segments)
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)
