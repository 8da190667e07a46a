"""An item of a list, a caution, a row of boxes to tick: a mark, and words beside it.

Takes  a mark (a shape, a number or a drawing), its element in the tree, and the blocks beside it.
Gives  `Item` and `Ticked`, blocks.
Knows  marks, the text engine's labels; mirrors itself for right-to-left text.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.page.paths import Label
from generator.page.tokens import SMALL_FLOOR
from generator.press.block import Block, Pen, Stack
from generator.press.figures import Drawing
from generator.press.look import Look
from generator.press.marks import paint_mark
from generator.press.prose import Prose, first_baseline, first_prose, lozenge
from generator.press.structure import LAYOUT, Elem
from generator.press.text import draw_label, measure


@dataclass(frozen=True, slots=True)
class Mark:
    """What stands before an item.

    shape: of `marks.MARKS`, or "" for a bare number. number: printed inside or instead of it. elem: the label's
    element, for numbers. drawing: a picture instead of a shape.
    """

    shape: str
    colour: str
    number: str = ""
    elem: Elem | None = None
    drawing: Drawing | None = None

    def width(self, look: Look) -> float:
        """Room the mark takes, with its gap, points."""
        if self.drawing is not None:
            return self.drawing.least + 0.6 * look.base
        if self.shape == "disc":
            return 2 * self.radius(look) + 0.5 * look.base
        if self.number:
            return _digits(self.number + ".", look) + 0.5 * look.base
        return (1.0 if self.shape == "bullet" else 1.36) * look.size

    def number_size(self, look: Look) -> float:
        """Of a number in its disc: a little smaller than the words, never below the least size of small notes."""
        return min(look.size, max(0.86 * look.size, SMALL_FLOOR[look.kind]))

    def radius(self, look: Look) -> float:
        """Of the disc, points: wide enough for its number."""
        wide = measure(self.number, self.number_size(look), True, look.language)
        return max(0.63 * look.size, wide / 2 + 0.2 * look.size)


def _digits(text: str, look: Look) -> float:
    return measure(text, look.size, True, look.language)


class Item(Block):
    """A mark and, beside it, blocks.

    indent: room for the mark, the same for all items of a list. gutter: width of the pictures of the list, in the middle of
    which its small marks stand.
    """

    def __init__(
        self, mark: Mark | None, blocks: Sequence[Block], look: Look, indent: float, gutter: float = 0.0
    ) -> None:
        self.mark = mark
        self.gutter = gutter
        self.look = look
        self.indent = indent
        self.content = Stack(blocks)
        self.draft = False

    def parts(self) -> Sequence[Block]:
        return (self.content,)

    def _least(self) -> float:
        drawing = self.mark.drawing if self.mark else None
        return drawing.height(drawing.least) if drawing is not None else 0.0

    def height(self, width: float) -> float:
        line = self.look.text_style().leading
        return max(self.content.height(width - self.indent), self._least(), line if self.mark else 0.0)

    def natural(self) -> float:
        return self.indent + self.content.natural()

    def narrowest(self) -> float:
        return self.indent + self.content.narrowest()

    def split(self, width: float, room: float, *, force: bool = False) -> tuple[Block | None, Block | None]:
        if self._least() > room:
            return None, self
        first, rest = self.content.split(width - self.indent, room, force=force)
        if not isinstance(first, Stack) or not isinstance(rest, Stack):
            return None, self
        head, tail = self.headed(), self.tailed()
        head.content, tail.content, tail.mark = first, rest, None
        tail.draft = False
        return head, tail

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        rtl = self.look.direction == "rtl"
        inner = self.content.height(width - self.indent)
        # Words of one line stand level with the middle of a picture.
        lower = max(0.0, (self._least() - inner) / 2)
        if self.draft:
            # Among lines with pictures it stands where theirs stand: before the words.
            room = self.indent if self.gutter else 0.0
            lozenge(pen, x if rtl else x + room, top, width - room, self.look)
        if self.mark is not None:
            self._paint_mark(pen, x + width if rtl else x, top, rtl)
        self.content.show(pen, x if rtl else x + self.indent, top - lower, width - self.indent, inner)

    def _paint_mark(self, pen: Pen, edge: float, top: float, rtl: bool) -> None:
        mark, look, canvas = self.mark, self.look, pen.canvas
        if mark is None:
            return
        if mark.drawing is not None:
            least = mark.drawing.least
            mark.drawing.show(pen, edge - least if rtl else edge, top, least, mark.drawing.height(least))
            return
        opening = first_prose(self.content)
        line = opening.look if opening is not None else look
        base = top - first_baseline(line)
        capital = 0.72 * line.size
        away = -1 if rtl else 1
        if mark.shape == "disc":
            radius, size = mark.radius(look), mark.number_size(look)
            centre = edge + away * radius
            with canvas.scope(LAYOUT):
                paint_mark(canvas, "disc", centre, base + capital / 2, 2 * radius, mark.colour)
            colour = "leaf" if mark.colour == "white" else "white"
            label = Label(mark.number, centre, base + capital / 2 - 0.36 * size, size, True, colour, "middle")
            with canvas.scope(mark.elem or LAYOUT):
                draw_label(canvas, label, look.language)
        elif mark.number:
            text = mark.number + "."
            label = Label(text, edge, base, line.size, True, mark.colour, "end" if rtl else "start")
            with canvas.scope(mark.elem or LAYOUT):
                draw_label(canvas, label, look.language)
        else:
            size = 0.92 * line.size
            half = (0.24 if mark.shape == "bullet" else 0.5) * size
            with canvas.scope(LAYOUT):
                middle = self.gutter / 2 if self.gutter else half
                paint_mark(canvas, mark.shape, edge + away * middle, base + 0.36 * line.size, size, mark.colour)


class Ticked(Block):
    """A line of words with empty boxes to tick after it; many boxes stand in rows below it."""

    def __init__(self, prose: Prose | None, count: int, look: Look) -> None:
        self.prose = prose
        self.count = count
        self.look = look
        self.side = max(look.size, 11.0)  # of a box, points
        self.step = 1.5 * self.side
        self.gap = 0.4 * look.base

    def parts(self) -> Sequence[Block]:
        return (self.prose,) if self.prose is not None else ()

    def _beside(self, width: float) -> bool:
        """Whether the boxes stand on the line of the words."""
        return self.prose is not None and self.count * self.step <= 0.6 * width

    def _words(self, width: float) -> float:
        return width - self.count * self.step - self.gap if self._beside(width) else width

    def _rows(self, width: float) -> int:
        """Rows of boxes where they stand below."""
        return -(-self.count // max(1, int((width + self.side / 2) / self.step)))

    def height(self, width: float) -> float:
        words = self.prose.height(self._words(width)) if self.prose is not None else 0.0
        if self._beside(width):
            return max(words, 1.2 * self.side)
        if self.prose is None and self._rows(width) == 1:
            return 1.2 * self.side  # one row by itself needs no room for a finger between rows
        return words + self._rows(width) * self.step

    def natural(self) -> float:
        return self.count * self.step + (self.prose.natural() + self.gap if self.prose is not None else 0.0)

    def narrowest(self) -> float:
        return max(self.step, self.prose.narrowest() if self.prose is not None else 0.0)

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        rtl, words, used = self.look.direction == "rtl", self._words(width), 0.0
        middle = top - (0.6 if self.prose is None and self._rows(width) == 1 else 0.75) * self.side
        if self.prose is not None:
            tall = self.prose.height(words)
            self.prose.show(pen, x + width - words if rtl else x, top, words, tall)
            middle -= tall
            if self._beside(width):
                used = min(self.prose.natural(), words) + self.gap
                middle = top - self.prose.baseline() + 0.36 * self.look.size
        per_row = self.count if self._beside(width) else max(1, int((width + self.side / 2) / self.step))
        with pen.canvas.scope(LAYOUT):
            for at in range(self.count):
                row, column = divmod(at, per_row)
                along = used + column * self.step + self.side / 2
                centre = x + width - along if rtl else x + along
                paint_mark(pen.canvas, "tick", centre, middle - row * self.step, self.side, self.look.accent)
