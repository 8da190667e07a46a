"""A paragraph as a block: text whose page numbers may come to be known only when it is painted.

Takes  pieces of text, some of them late (a page number), and a Look.
Gives  `Prose`, a block around the text engine's TextBlock.
Knows  the text engine; where a line's baseline lies; nothing of XHTML.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import NamedTuple

from generator.page.tokens import DISPLAY_FLOOR
from generator.press.block import CLOSE, PAGE_COUNT, Block, Pen
from generator.press.look import Align, Look
from generator.press.structure import LAYOUT, Elem
from generator.press.text import Run, TextBlock, is_rtl
from generator.press.text.draw import ASCENT, DESCENT

# Isolates (Unicode Standard Annex 9): a whole line that runs against its language's direction.
_ISOLATES = {"ltr": "\N{LEFT-TO-RIGHT ISOLATE}", "rtl": "\N{RIGHT-TO-LEFT ISOLATE}"}
_POP = "\N{POP DIRECTIONAL ISOLATE}"
_SWAPPED: Mapping[Align, Align] = {"start": "end", "end": "start", "center": "center"}
# Sizes that a line in display size is tried in, in parts of its own, and the most lines it should take.
_SMALLER, _FEW = (1.0, 0.88, 0.76, 0.64), 2
# Writing without spaces: where a word ends only the text engine knows.
_UNSPACED = re.compile("[\u0e00-\u0eff\u2e80-\ua4cf\uf900-\ufaff\U00020000-\U000323af]")
# Widest number a counter or page reference is given room for; figures are all of one width.
_ROOM = {"page": "8888", "counter": "888"}


class Piece(NamedTuple):
    """A run of text. counter: `page-number` and its like; page_of: the id whose page number it prints."""

    run: Run
    counter: str = ""
    page_of: str = ""

    def provisional(self) -> Run:
        """With the widest number it may get."""
        if self.page_of:
            return self.run._replace(text=_ROOM["page"])
        return self.run._replace(text=_ROOM["counter"]) if self.counter else self.run

    def final(self, pen: Pen) -> Run:
        """With its number."""
        if self.page_of:
            return self.run._replace(text=str(pen.page_of[self.page_of]))
        return self.run._replace(text=str(pen.counters[self.counter])) if self.counter else self.run


class Prose(Block):
    """One paragraph. mark: the structure element of whatever text has none of its own."""

    def __init__(self, pieces: Sequence[Piece], look: Look, mark: Elem | object) -> None:
        self.pieces = tuple(pieces)
        self.look = look
        self.mark = mark
        self.draft = False
        self.balanced = False  # lines of about one length, for headings
        self.if_more = False  # printed only on pages that another one follows
        self.shrinks = False  # set smaller where a word does not fit
        self.is_late = any(p.counter or p.page_of for p in self.pieces)
        self.text = self._block([p.provisional() if self.is_late else p.run for p in self.pieces])
        self._height: tuple[float, float] | None = None
        self._sizes: tuple[tuple[Look, TextBlock], ...] = ()

    def _fit(self, width: float) -> None:
        """Choose the size for a width: the largest at which no word breaks and there are few lines."""
        if not self.shrinks:
            return
        for look, text in self._tried():
            self.look, self.text = look, text
            if text.narrowest_width() <= width + CLOSE and text.line_count(width) <= _FEW:
                return

    def _tried(self) -> tuple[tuple[Look, TextBlock], ...]:
        """The paragraph in each size it may have, largest first."""
        if not self._sizes:
            own = self.look
            steps = [own.size * part for part in _SMALLER if own.size * part > DISPLAY_FLOOR]
            looks = [own._replace(size=size) for size in (*steps, min(own.size, DISPLAY_FLOOR))]
            runs = [p.provisional() for p in self.pieces]
            blocks = []
            for look in looks:
                self.look = look
                blocks.append(self._block(runs))
            self.look = own
            self._sizes = tuple(zip(looks, blocks, strict=True))
        return self._sizes

    def _block(self, runs: list[Run]) -> TextBlock:
        look, style = self.look, self.look.text_style()
        if look.turned:
            runs = [Run(_ISOLATES[look.direction]), *runs, Run(_POP)]
        if (look.direction == "rtl") != is_rtl(look.language):
            style = style._replace(align=_SWAPPED[style.align])
        return TextBlock(runs, style, look.language, mark=self.mark)

    def asks(self) -> Iterator[str]:
        if self.is_late:
            yield from (piece.page_of for piece in self.pieces if piece.page_of)
            yield from (PAGE_COUNT for piece in self.pieces if piece.counter == PAGE_COUNT)
        if self.if_more:
            yield PAGE_COUNT

    @property
    def plain(self) -> str:
        return "".join(p.run.text for p in self.pieces)

    def height(self, width: float) -> float:
        if self._height is None or self._height[0] != width:
            self._fit(width)
            self._height = (width, self.text.wrap(width, 1e6)[1])
        return self._height[1]

    def natural(self) -> float:
        return self.text.natural_width()

    def narrowest(self) -> float:
        if self.shrinks:
            return self._tried()[-1][1].narrowest_width()
        return self.text.narrowest_width() if _UNSPACED.search(self.plain) else self.text.widest_word()

    def split(self, width: float, room: float, *, force: bool = False) -> tuple[Block | None, Block | None]:
        if self.is_late:
            return None, self
        self._fit(width)
        self.text.wrap(width, 1e6)
        parts = self.text.split(width, room)
        if len(parts) < 2:
            return None, self
        head, tail = self.headed(), self.tailed()
        head.text, tail.text = parts
        head._height = tail._height = None
        head.shrinks = tail.shrinks = False
        tail.draft = False
        return head, tail

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        if (self.is_late or self.if_more) and not all(map(pen.knows, self.asks())):
            pen.canvas.later(partial(self._paint_late, pen, x, top, width, height))
            return
        if self.if_more and pen.counters["page-number"] == pen.counters[PAGE_COUNT]:
            return
        self._fit(width)
        text = self._block([p.final(pen) for p in self.pieces]) if self.is_late else self.text
        if self.balanced:
            whole = width
            width = self._evened(text, width)
            if self.look.align == "center":
                x += (whole - width) / 2
            elif (self.look.direction == "rtl") != (self.look.align == "end"):
                x += whole - width
        used = text.wrap(width, 1e6)[1]
        if self.draft:
            lozenge(pen, x, top, width, self.look)
        text.draw_on(pen.canvas, x, top - used)

    def _paint_late(self, pen: Pen, x: float, top: float, width: float, height: float, count: int) -> None:
        pen.counters[PAGE_COUNT] = count
        self.paint(pen, x, top, width, height)

    def _evened(self, text: TextBlock, width: float) -> float:
        """The least width, to two percent, at which there are no more lines than at the whole width."""
        count = text.line_count(width)
        if not 2 <= count <= 3:
            return width
        # Never so narrow that a word would be torn, or a date at its no-break spaces.
        low, high = min(max(text.natural_width() / count, text.narrowest_width()), width), width
        while high - low > width / 50:
            middle = (low + high) / 2
            low, high = (low, middle) if text.line_count(middle) <= count else (middle, high)
        return high

    def baseline(self) -> float:
        """From the top down to the first baseline, points."""
        return first_baseline(self.look)


def first_baseline(look: Look) -> float:
    """From the top of a paragraph down to its first baseline."""
    style = look.text_style()
    return (style.leading + (ASCENT - DESCENT) * style.size) / 2


def first_prose(block: Block) -> Prose | None:
    """The paragraph that gives a block its first line, if text comes first."""
    for inner in block.walk():
        if isinstance(inner, Prose):
            return inner
    return None


def lozenge(pen: Pen, x: float, top: float, width: float, look: Look) -> None:
    """An open lozenge in the margin beside a first line: words not yet signed off."""
    # In the middle of the padding of a tight box: as far from its edge as from the words.
    reach, away = 2.3, 3.7
    middle = top - first_baseline(look) + 0.3 * look.size
    centre = x - away if look.direction == "ltr" else x + width + away
    with pen.canvas.scope(LAYOUT):
        pen.canvas.stroke_colour(look.colour, 1.1)
        path = pen.canvas.beginPath()
        path.moveTo(centre, middle + reach)
        for dx, dy in ((reach, 0), (0, -reach), (-reach, 0)):
            path.lineTo(centre + dx, middle + dy)
        path.close()
        pen.canvas.drawPath(path, stroke=1, fill=0)
