"""A paragraph that can be placed: measured, split between pages, drawn.

Takes  runs of plain text with their weight, colour, language and owner; a style; a language.
Gives  `TextBlock`. It is no ReportLab flowable: our own pages place it, and to load that library's layout takes longer
       than to set a whole sheet.
Knows  lines and drawing; nothing of documents. Every text of every language goes through here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from generator.press.text.draw import ASCENT, DESCENT, Paint, draw_lines
from generator.press.text.errors import TooManyLines
from generator.press.text.lines import Line, break_lines
from generator.press.text.paragraph import Item, Paragraph
from generator.press.text.runs import Piece, prepare

_TOGETHER = 2  # lines of a paragraph kept together at the foot and at the head of a page


class Run(NamedTuple):
    """A stretch of text of one kind.

    text: plain text, never markup. colour: name of a colour token, None for the style's. language: BCP 47,
    None for the block's. mark: structure element that owns the run, None for the block's. link: `tel:`,
    `https:`, `mailto:` or `#id`.
    """

    text: str
    bold: bool = False
    colour: str | None = None
    language: str | None = None
    mark: object | None = None
    link: str | None = None


class TextStyle(NamedTuple):
    """Size and leading in points; `start` and `end` follow the direction of the block's language; most: letters in a line."""

    size: float
    leading: float
    colour: str = "ink"
    align: Literal["start", "end", "center"] = "start"
    bold: bool = False
    most: int | None = None


class TextBlock:
    """One paragraph in one style."""

    def __init__(
        self,
        runs: Sequence[Run],
        style: TextStyle,
        language: str,
        *,
        mark: object | None = None,
        max_lines: int | None = None,
        colours: Mapping[str, str] | None = None,
    ) -> None:
        """Prepare the text; nothing can be missing afterwards.

        Args:
            language: BCP 47 tag; it decides direction, fonts, letter forms and line breaks.
            mark: structure element that owns what no run owns.
            max_lines: `wrap` refuses to set more lines than this; None sets as many as it takes.
            colours: token name to `#rrggbb`; those of `page/tokens.py` by default.
        Raises:
            TypeError: a plain string instead of runs, or something else that is not a `Run`.
            MissingGlyph: with every character that no font at hand has.
            MissingExtra: Chinese or Japanese without the extra `gauzeleaf[cjk]`.
        """
        if isinstance(runs, str):
            raise TypeError("a TextBlock is made of Run objects, not of a string: wrap the text in Run(text)")
        for run in runs:
            if not isinstance(run, Run):
                raise TypeError(f"a TextBlock is made of Run objects, not of {type(run).__name__}")
        self.style = style
        self.language = language
        self.mark = mark
        self.max_lines = max_lines
        self._colours = colours
        self._paragraph: Paragraph = prepare(
            tuple(Piece(run.text, run.bold or style.bold, run.language or language) for run in runs), language
        )
        self._runs = tuple(runs)
        self._start, self._stop = 0, len(self._paragraph.text)
        self._lines: Sequence[Line] = ()
        self._measure = -1.0
        self.width = self.height = 0.0

    @property
    def plain(self) -> str:
        """The block's text, in NFC; of a part made by `split`, that part's."""
        return self._paragraph.text[self._start : self._stop]

    @property
    def is_rtl(self) -> bool:
        """True if lines start at the right."""
        return self._paragraph.rtl

    def natural_width(self) -> float:
        """Width in points if no line were broken but at line feeds."""
        text, widest, start = self._paragraph.text, 0.0, self._start
        while start < self._stop:
            feed = text.find("\n", start, self._stop)
            end = self._stop if feed < 0 else feed
            widest = max(widest, self._paragraph.width(start, end))
            start = end + 1
        return widest * self.style.size / 1000

    def narrowest_width(self) -> float:
        """Least width in points at which no word breaks."""
        made = self._paragraph
        places = [p for p in made.breaks if self._start < p < self._stop]
        ends = zip([self._start, *places], [*places, self._stop], strict=True)
        widths = (made.width(start, start + len(made.text[start:stop].rstrip())) for start, stop in ends)
        return max(widths, default=0.0) * self.style.size / 1000

    def widest_word(self) -> float:
        """Width in points of the widest stretch between two spaces, of the whole block even in a part made by `split`."""
        return self._paragraph.widest_word * self.style.size / 1000

    def line_count(self, width: float) -> int:
        """How many lines the block takes in a column of `width` points."""
        return len(self._broken(width))

    def wrap(self, aw: float, ah: float) -> tuple[float, float]:
        """Set the lines for a column `aw` points wide; the height may well exceed `ah`.

        Raises:
            TooManyLines: more than `max_lines`.
        """
        lines = self._broken(aw)
        if self.max_lines is not None and len(lines) > self.max_lines:
            raise TooManyLines(self.plain, len(lines), self.max_lines)
        self.width, self.height = aw, len(lines) * self.style.leading
        return self.width, self.height

    def split(self, aw: float, ah: float) -> list[TextBlock]:
        """Part the block at `ah` points of height, two lines or more on either side.

        Returns:
            The block alone if it fits, nothing if it cannot be parted so, else the two parts.
        """
        lines = self._broken(aw)
        fit = int((ah + 1e-6) // self.style.leading)
        if len(lines) <= fit:
            return [self]
        fit = min(fit, len(lines) - _TOGETHER)
        if fit < _TOGETHER:
            return []
        place = lines[fit].start
        return [self._part(self._start, place), self._part(place, self._stop)]

    def draw_on(self, canvas: Any, x: float, y: float) -> None:
        """Draw the lines as `wrap` has set them, the block's lower left corner at x, y."""
        size, leading = self.style.size, self.style.leading
        # Half the leading above the letters, half below, as CSS does it.
        base = y + self.height - (leading + (ASCENT - DESCENT) * size) / 2
        lines = []
        for number, line in enumerate(self._lines):
            items, width = _shaped(self._paragraph, line)
            if items:
                left = x + self._left(self.width - width * size / 1000)
                lines.append((items, left, base - number * leading))
        paints = [
            Paint(run.colour or self.style.colour, self.mark if run.mark is None else run.mark, run.link)
            for run in self._runs
        ]
        draw_lines(canvas, lines, paints, size, self._colours)

    def _left(self, spare: float) -> float:
        if self.style.align == "center":
            return spare / 2
        return spare if (self.style.align == "end") != self._paragraph.rtl else 0.0

    def _broken(self, width: float) -> Sequence[Line]:
        if width != self._measure:
            measure = max(width, 0.001) * 1000 / self.style.size
            self._lines = _broken(self._paragraph, measure, self._start, self._stop, self.style.most)
            self._measure = width
        return self._lines

    def _part(self, start: int, stop: int) -> TextBlock:
        part = TextBlock.__new__(TextBlock)
        part.style, part.language, part.mark, part.max_lines = self.style, self.language, self.mark, None
        part._colours, part._paragraph, part._runs = self._colours, self._paragraph, self._runs
        part._start, part._stop, part._measure, part._lines = start, stop, -1.0, ()
        part.width = part.height = 0.0
        return part


# Cells of tables repeat, and the next sheet has the paragraphs of the last at the same widths.
@lru_cache(maxsize=2048)
def _broken(paragraph: Paragraph, measure: float, start: int, stop: int, most: int | None) -> Sequence[Line]:
    return break_lines(paragraph, measure, start, stop, most)


@lru_cache(maxsize=4096)
def _shaped(paragraph: Paragraph, line: Line) -> tuple[Sequence[Item], float]:
    return paragraph.shape(line.start, line.stop, line.spaced)
