"""Lines to write on by hand, and lines of the list of contents.

Takes  a label, or the words and target of an entry.
Gives  `Blank` and `Entry`, blocks.
Knows  how high a line must be for a pen; page numbers, when they are known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.page.paths import Label
from generator.page.tokens import LINE, WRITING_ROW
from generator.press.block import Block, Pen
from generator.press.look import Look
from generator.press.prose import Prose, first_baseline
from generator.press.structure import LAYOUT, Elem
from generator.press.text import draw_label, measure


class Blank(Block):
    """A label and a line to write on, up to the far edge; `under`: the label below its line."""

    def __init__(self, prose: Prose | None, look: Look, lines: int = 1, *, under: bool = False) -> None:
        self.prose = prose
        self.look = look
        self.lines = lines
        self.under = under

    def parts(self) -> Sequence[Block]:
        return (self.prose,) if self.prose is not None else ()

    def _label(self, width: float) -> float:
        """Width of the label; a long one has its lines below."""
        if self.prose is None:
            return 0.0
        natural = self.prose.natural()
        return natural if natural <= 0.7 * width else width

    def height(self, width: float) -> float:
        label = self.prose.height(self._label(width) or width) if self.prose is not None else 0.0
        if self.under:
            return self.lines * WRITING_ROW + 2 + (self.prose.height(width) if self.prose is not None else 0.0)
        if self._label(width) >= width:
            return label + self.lines * WRITING_ROW
        return max(label, WRITING_ROW) + (self.lines - 1) * WRITING_ROW

    def natural(self) -> float:
        return (self.prose.natural() if self.prose is not None else 0.0) + 60.0

    def narrowest(self) -> float:
        return (self.prose.narrowest() if self.prose is not None else 0.0) + 30.0

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        rtl = self.look.direction == "rtl"
        if self.under:
            for line in range(1, self.lines + 1):
                self._rule(pen, x, x + width, top - line * WRITING_ROW)
            if self.prose is not None:
                own = self.prose.height(width)
                self.prose.show(pen, x, top - self.lines * WRITING_ROW - 2, width, own)
            return
        label = self._label(width)
        wide = label >= width
        first = top - (self.prose.height(width) if wide and self.prose is not None else 0.0) - WRITING_ROW + 3
        if self.prose is not None:
            own = self.prose.height(label)
            # The label's baseline stands on the line that follows it.
            upper = top if wide else first + first_baseline(self.look) - 1
            self.prose.show(pen, x + width - label if rtl else x, upper, label, own)
        start = 0.0 if wide or not label else label + 0.4 * self.look.base
        self._rule(pen, x if rtl else x + start, x + width - start if rtl else x + width, first)
        for line in range(1, self.lines):
            self._rule(pen, x, x + width, first - line * WRITING_ROW)

    def _rule(self, pen: Pen, x0: float, x1: float, y: float) -> None:
        pen.canvas.rule(x0, y, x1, self.look.quiet, LINE["hair"])


class Entry(Block):
    """A line of the list of contents: words, dots, page number. link: its Link element."""

    def __init__(self, prose: Prose, target: str, link: Elem, look: Look, indent: float) -> None:
        self.prose = prose
        self.target = target
        self.link = link
        self.look = look
        self.indent = indent

    def parts(self) -> Sequence[Block]:
        return (self.prose,)

    def asks(self) -> Iterator[str]:
        yield self.target

    def _room(self) -> float:
        return measure("8888", self.look.size, True, self.look.language)

    def _words(self, width: float) -> float:
        return width - self.indent - self._room() - self.look.base

    def height(self, width: float) -> float:
        return self.prose.height(self._words(width))

    def natural(self) -> float:
        return self.indent + self.prose.natural() + self._room() + self.look.base

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        rtl, look, canvas = self.look.direction == "rtl", self.look, pen.canvas
        words, style = self._words(width), self.look.text_style()
        own = self.prose.height(words)
        self.prose.show(pen, x + width - self.indent - words if rtl else x + self.indent, top, words, own)
        last = top - own + style.leading - first_baseline(look)
        number = str(pen.page_of[self.target])
        drawn = measure(number, look.size, look.bold, look.language)
        if own < 1.5 * style.leading:
            used = self.indent + min(words, self.prose.natural()) + 0.5 * look.base
            self._dots(pen, x, width, used, width - drawn - 0.5 * look.base, last, rtl)
        edge = x if rtl else x + width
        label = Label(number, edge, last, look.size, look.bold, look.colour, "start" if rtl else "end")
        # An anchor follows the label's own direction, and figures run left to right everywhere.
        with canvas.scope(self.link):
            draw_label(canvas, label, "en")
        left = edge if rtl else edge - drawn
        canvas.link((left, last - 0.2 * look.size, left + drawn, last + 0.8 * look.size), f"#{self.target}", self.link)

    def _dots(self, pen: Pen, x: float, width: float, start: float, end: float, y: float, rtl: bool) -> None:
        if end - start < 3 * self.look.base:
            return
        step = 0.42 * self.look.base
        # Dots stand on one raster down the page, so that they line up from entry to entry.
        first = (int(start / step) + 1) * step
        with pen.canvas.scope(LAYOUT):
            pen.canvas.saveState()
            pen.canvas.stroke_colour(self.look.hairline, 1.1)
            pen.canvas.setLineCap(1)
            pen.canvas.setDash([0, step])
            pen.canvas.line(
                *((x + width - first, y + 1, x + width - end, y + 1) if rtl else (x + first, y + 1, x + end, y + 1))
            )
            pen.canvas.restoreState()
