"""Tables: hairline tables to read, grids to write in, rows of label and value.

Takes  rows of cells, each a Stack, with widths given or found from the content.
Gives  `Table`, a block that divides between rows and repeats its head on each page.
Knows  how widths are shared out; mirrors its columns for right-to-left text.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from generator.page.tokens import LINE
from generator.press.block import CLOSE, Block, Pen, Stack
from generator.press.box import Level
from generator.press.look import Look
from generator.press.prose import Prose
from generator.press.structure import LAYOUT, Artifact

Ruling = Literal["hairline", "grid", "unruled"]
_REPEATED = Artifact("Pagination")


@dataclass(slots=True)
class Cell:
    """One cell. span: columns covered. fixed: its column is not widened beyond its content (figures)."""

    content: Stack
    span: int = 1
    fixed: bool = False
    shaded: bool = False


@dataclass(slots=True)
class Row:
    """One row, never divided. least: height in points it has at least. total: a heavier rule above."""

    cells: list[Cell]
    least: float = 0.0
    total: bool = False
    shaded: bool = False
    with_next: bool = False
    changed: bool = False
    level: Level = "top"
    heights: dict[float, float] = field(default_factory=dict)  # by width of the table


def _at_least(wanted: list[float], least: list[float]) -> list[float]:
    """Widths as wanted, but none so narrow that a word would break; the others give way in proportion."""
    short = [max(0.0, m - w) for w, m in zip(wanted, least, strict=True)]
    if not any(short):
        return wanted
    slack = [max(0.0, w - m) for w, m in zip(wanted, least, strict=True)]
    if sum(slack) < sum(short):
        return wanted  # too narrow whatever is done
    give = sum(short) / sum(slack)
    return [w + up - down * give for w, up, down in zip(wanted, short, slack, strict=True)]


def _drops(row: Row) -> list[float]:
    """How far each cell's words start below the row's top, so that all first lines share one baseline."""
    openings = [cell.content.blocks[0] if cell.content.blocks else None for cell in row.cells]
    bases = [o.baseline() if isinstance(o, Prose) else None for o in openings]
    lowest = max((b for b in bases if b is not None), default=0.0)
    return [0.0 if b is None or row.level != "top" else lowest - b for b in bases]


class Table(Block):
    """A table. shares: relative widths of columns, None to find them from the content."""

    def __init__(
        self,
        head: Sequence[Row],
        rows: Sequence[Row],
        shares: Sequence[float] | None,
        ruling: Ruling,
        look: Look,
        *,
        tight: bool = False,
    ) -> None:
        self.head = list(head)
        self.rows = list(rows)
        self.shares = list(shares) if shares is not None else None
        self.ruling: Ruling = ruling
        self.look = look
        self.continued = False
        self.pad_x = (0.5 if ruling == "grid" else 0.6) * look.base
        self.pad_y = (0.14 if tight else 0.24 if ruling == "unruled" else 0.3) * look.base
        self._columns: tuple[float, list[float]] | None = None

    def parts(self) -> Sequence[Block]:
        return [cell.content for row in (*self.head, *self.rows) for cell in row.cells]

    # ---- widths -------------------------------------------------------------------------------------------

    def _count(self) -> int:
        return max((sum(c.span for c in row.cells) for row in (*self.head, *self.rows)), default=1)

    def _wanted(self) -> tuple[list[float], list[float], list[bool]]:
        """Natural and least width of each column, and whether it is one of figures."""
        count = self._count()
        natural, least, fixed = [0.0] * count, [0.0] * count, [False] * count
        for row in (*self.head, *self.rows):
            at = 0
            for cell in row.cells:
                if cell.span == 1:
                    pads = self._pads(at, 1, count)
                    natural[at] = max(natural[at], cell.content.natural() + pads)
                    least[at] = max(least[at], cell.content.narrowest() + pads)
                    fixed[at] = fixed[at] or cell.fixed
                at += cell.span
        return natural, least, fixed

    def widths(self, width: float) -> list[float]:
        """Of the columns in reading order, points; their sum is the width."""
        if self._columns is None or self._columns[0] != width:
            self._columns = (width, self._shared(width))
        return self._columns[1]

    def _shared(self, width: float) -> list[float]:
        natural, least, fixed = self._wanted()
        if self.shares is not None:
            return _at_least([width * share / sum(self.shares) for share in self.shares], least)
        spare = width - sum(natural)
        if spare >= 0:
            loose = [0.0 if f else n for n, f in zip(natural, fixed, strict=True)]
            if not any(loose):
                loose = [1.0] * len(natural)
            return [n + spare * part / sum(loose) for n, part in zip(natural, loose, strict=True)]
        slack = sum(natural) - sum(least)
        give = min(1.0, -spare / slack) if slack > 0 else 1.0
        found = [n - (n - m) * give for n, m in zip(natural, least, strict=True)]
        return [f * width / sum(found) for f in found]

    def natural(self) -> float:
        return sum(self._wanted()[0])

    def narrowest(self) -> float:
        return sum(self._wanted()[1])

    # ---- heights ------------------------------------------------------------------------------------------

    def _pads(self, at: int, span: int, count: int) -> float:
        return sum(self._sides(at, span, count))

    def _sides(self, at: int, span: int, count: int) -> tuple[float, float]:
        """Padding at start and end: in an open table the outer edges stand flush with the text."""
        if self.ruling == "grid":
            return self.pad_x, self.pad_x
        return (0.0 if at == 0 else self.pad_x), (0.0 if at + span == count else self.pad_x)

    def _row_height(self, row: Row, width: float) -> float:
        if width not in row.heights:
            widths, tallest, at = self.widths(width), 0.0, 0
            for cell, drop in zip(row.cells, _drops(row), strict=True):
                own = sum(widths[at : at + cell.span]) - self._pads(at, cell.span, len(widths))
                tallest = max(tallest, drop + cell.content.height(own))
                at += cell.span
            row.heights[width] = max(tallest + 2 * self.pad_y, row.least)
        return row.heights[width]

    def _head_height(self, width: float) -> float:
        return sum(self._row_height(row, width) for row in self.head)

    def height(self, width: float) -> float:
        return self._head_height(width) + sum(self._row_height(row, width) for row in self.rows)

    def split(self, width: float, room: float, *, force: bool = False) -> tuple[Block | None, Block | None]:
        used, count = self._head_height(width), 0
        for row in self.rows:
            used += self._row_height(row, width)
            if used > room + CLOSE:
                break
            count += 1
        # Neither the first row nor the last alone, where there are rows enough; and no row parted from what it heads.
        kept = count - 1 if count == len(self.rows) - 1 and count > 2 else count
        while kept and self.rows[kept - 1].with_next:
            kept -= 1
        count = kept or (count if force else 0)
        if count == 1 and len(self.rows) > 3 and not force:
            return None, self
        if count in (0, len(self.rows)):
            return None, self
        head, tail = self.headed(), self.tailed()
        # The parts keep the columns of the whole, to the last bit: another sum could break a line elsewhere.
        head.shares = tail.shares = self.widths(width)
        head._columns = tail._columns = (width, self.widths(width))
        head.rows, tail.rows = self.rows[:count], self.rows[count:]
        tail.continued = True
        return head, tail

    # ---- paint --------------------------------------------------------------------------------------------

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        at = top
        for row in self.head:
            if self.continued:
                with pen.canvas.repeated(_REPEATED):
                    at = self._paint_row(pen, row, x, at, width, head=True)
            else:
                at = self._paint_row(pen, row, x, at, width, head=True)
        for index, row in enumerate(self.rows):
            at = self._paint_row(pen, row, x, at, width, head=False, first=index == 0)
        if self.ruling == "grid":
            self._uprights(pen, x, top, at, width)

    def _paint_row(
        self, pen: Pen, row: Row, x: float, top: float, width: float, *, head: bool, first: bool = False
    ) -> float:
        height, widths = self._row_height(row, width), self.widths(width)
        self._grounds(pen, row, x, top, width, height)
        if row.changed:
            self._bar(pen, top, height)
        at, along = 0, 0.0
        for cell, drop in zip(row.cells, _drops(row), strict=True):
            own = sum(widths[at : at + cell.span])
            start, end = self._sides(at, cell.span, len(widths))
            inner = own - start - end
            left = x + width - along - own + end if self.look.direction == "rtl" else x + along + start
            needed = cell.content.height(inner)
            spare = height - 2 * self.pad_y - needed
            lower = {"top": drop, "middle": spare / 2, "bottom": spare}[row.level]
            cell.content.show(pen, left, top - self.pad_y - lower, inner, needed)
            at += cell.span
            along += own
        self._lines(pen, row, x, top, width, height, head=head, first=first)
        return top - height

    def _grounds(self, pen: Pen, row: Row, x: float, top: float, width: float, height: float) -> None:
        widths, at, along = self.widths(width), 0, 0.0
        for cell in row.cells:
            own = sum(widths[at : at + cell.span])
            if row.shaded or cell.shaded:
                left = x + width - along - own if self.look.direction == "rtl" else x + along
                with pen.canvas.scope(LAYOUT):
                    pen.canvas.fill_colour("leaf-pale")
                    pen.canvas.rect(left, top - height, own, height, stroke=0, fill=1)
            at += cell.span
            along += own

    def _lines(
        self, pen: Pen, row: Row, x: float, top: float, width: float, height: float, *, head: bool, first: bool
    ) -> None:
        if self.ruling == "unruled":
            return
        colour = self.look.hairline
        if self.ruling == "grid" and (head or (first and not self.head)):
            pen.canvas.rule(x, top, x + width, colour, LINE["hair"])
        last_head = head and row is self.head[-1]
        heavy = last_head and self.ruling == "hairline"
        ends = colour if not heavy else self.look.quiet
        pen.canvas.rule(x, top - height, x + width, ends, LINE["rule"] if heavy else LINE["hair"])
        if row.total:
            pen.canvas.rule(x, top, x + width, self.look.colour, LINE["rule"])

    def _uprights(self, pen: Pen, x: float, top: float, bottom: float, width: float) -> None:
        with pen.canvas.scope(LAYOUT):
            pen.canvas.stroke_colour(self.look.hairline, LINE["hair"])
            pen.canvas.line(x, bottom, x, top)
            pen.canvas.line(x + width, bottom, x + width, top)
            at = top
            widths = self.widths(width)
            for row in (*self.head, *self.rows):
                height, along, column = self._row_height(row, width), 0.0, 0
                for cell in row.cells[:-1]:
                    along += sum(widths[column : column + cell.span])
                    column += cell.span
                    edge = x + width - along if self.look.direction == "rtl" else x + along
                    pen.canvas.line(edge, at - height, edge, at)
                at -= height
