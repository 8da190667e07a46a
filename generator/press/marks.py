"""The marks that stand before items of a list, drawn as outlines so that no font can lack them.

Takes  a mark's name, the centre it stands on, its size and its colour.
Gives  paint on the canvas, inside whatever scope is open.
Knows  six shapes; nothing of lists.
"""

from __future__ import annotations

from collections.abc import Callable

from generator.page.tokens import RADIUS
from generator.press.canvas import TagCanvas

Paint = Callable[[TagCanvas, float, float, float, str], None]

# Marks that warn are red wherever no other colour is asked for.
WARNING_MARKS = frozenset({"triangle", "ring", "cross"})


def _tick(canvas: TagCanvas, x: float, y: float, size: float, colour: str) -> None:
    canvas.stroke_colour(colour, 1.1)
    half = size * 0.44
    canvas.roundRect(x - half, y - half, 2 * half, 2 * half, RADIUS["tick"], stroke=1, fill=0)


def _triangle(canvas: TagCanvas, x: float, y: float, size: float, colour: str) -> None:
    canvas.fill_colour(colour)
    path = canvas.beginPath()
    path.moveTo(x - size * 0.48, y - size * 0.40)
    path.lineTo(x + size * 0.48, y - size * 0.40)
    path.lineTo(x, y + size * 0.46)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)


def _ring(canvas: TagCanvas, x: float, y: float, size: float, colour: str) -> None:
    canvas.stroke_colour(colour, size * 0.14)
    canvas.circle(x, y, size * 0.41, stroke=1, fill=0)


def _cross(canvas: TagCanvas, x: float, y: float, size: float, colour: str) -> None:
    canvas.stroke_colour(colour, size * 0.22)
    canvas.setLineCap(1)
    reach = size * 0.3
    canvas.line(x - reach, y - reach, x + reach, y + reach)
    canvas.line(x - reach, y + reach, x + reach, y - reach)
    canvas.setLineCap(0)


def _bullet(canvas: TagCanvas, x: float, y: float, size: float, colour: str) -> None:
    canvas.fill_colour(colour)
    canvas.circle(x, y, size * 0.19, stroke=0, fill=1)


def _disc(canvas: TagCanvas, x: float, y: float, size: float, colour: str) -> None:
    canvas.fill_colour(colour)
    canvas.circle(x, y, size / 2, stroke=0, fill=1)


MARKS: dict[str, Paint] = {
    "tick": _tick, "triangle": _triangle, "ring": _ring, "cross": _cross, "bullet": _bullet, "disc": _disc,
}  # fmt: skip


def paint_mark(canvas: TagCanvas, name: str, x: float, y: float, size: float, colour: str) -> None:
    """One mark centred on x, y; size in points is about the height of a capital letter."""
    MARKS[name](canvas, x, y, size, colour)
