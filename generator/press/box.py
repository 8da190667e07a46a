"""Boxes, columns and rules: what gives a page its shape.

Takes  blocks to be framed or set side by side.
Gives  `Box`, `Columns`, `Rule`, blocks that divide over pages and mirror for right-to-left text.
Knows  tokens and artifacts; nothing of what the blocks say.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from generator.page.tokens import LINE, RADIUS
from generator.press.block import CLOSE, Block, Pen, Stack
from generator.press.look import Look
from generator.press.structure import LAYOUT

Level = Literal["top", "middle", "bottom"]


@dataclass(frozen=True, slots=True)
class Frame:
    """How a box looks. side: a thick rule on the starting side instead of a border."""

    ground: str | None
    border: str | None
    line: float
    pad: float
    radius: float = RADIUS["box"]
    side: bool = False


class Box(Block):
    """A Stack inside a frame."""

    def __init__(self, content: Stack, frame: Frame, look: Look, level: Level = "top") -> None:
        self.content = content
        self.level: Level = level
        self.frame = frame
        self.look = look
        self.stretches = not frame.side

    def parts(self) -> Sequence[Block]:
        return (self.content,)

    def height(self, width: float) -> float:
        return self.content.height(width - 2 * self.frame.pad) + 2 * self._pad_y()

    def _pad_y(self) -> float:
        # Lines of text carry some air of their own above and below.
        return self.frame.pad * 0.82

    def natural(self) -> float:
        return self.content.natural() + 2 * self.frame.pad

    def narrowest(self) -> float:
        return self.content.narrowest() + 2 * self.frame.pad

    def split(self, width: float, room: float, *, force: bool = False) -> tuple[Block | None, Block | None]:
        first, rest = self.content.split(width - 2 * self.frame.pad, room - 2 * self._pad_y(), force=force)
        if not isinstance(first, Stack) or not isinstance(rest, Stack):
            return None, self
        head, tail = self.headed(), self.tailed()
        head.content, tail.content = first, rest
        return head, tail

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        canvas, frame = pen.canvas, self.frame
        with canvas.scope(LAYOUT):
            if frame.side:
                thick = 3.0
                if frame.ground is not None:
                    canvas.fill_colour(frame.ground)
                    canvas.rect(x, top - height, width, height, stroke=0, fill=1)
                canvas.fill_colour(frame.border or self.look.accent)
                at = x + width - thick if self.look.direction == "rtl" else x
                canvas.rect(at, top - height, thick, height, stroke=0, fill=1)
            else:
                if frame.ground is not None:
                    canvas.fill_colour(frame.ground)
                if frame.border is not None:
                    canvas.stroke_colour(frame.border, frame.line)
                # The border lies inside the box's own measure.
                inset = frame.line / 2 if frame.border is not None else 0.0
                canvas.roundRect(
                    x + inset, top - height + inset, width - 2 * inset, height - 2 * inset, frame.radius,
                    stroke=int(frame.border is not None), fill=int(frame.ground is not None),
                )  # fmt: skip
        inner = height - 2 * self._pad_y()
        spare = inner - self.content.height(width - 2 * frame.pad)
        lower = {"top": 0.0, "middle": spare / 2, "bottom": spare}[self.level]
        self.content.show(pen, x + frame.pad, top - self._pad_y() - lower, width - 2 * frame.pad, inner - lower)


class Columns(Block):
    """Stacks side by side. shares: relative widths, in reading order; gap in points."""

    def __init__(
        self, columns: Sequence[Stack], shares: Sequence[float], gap: float, look: Look, level: Level = "top"
    ) -> None:
        self.columns = list(columns)
        self.shares = list(shares)
        self.gap = gap
        self.look = look
        self.level: Level = level
        self._least: list[float] | None = None
        self.before = max((c.before for c in columns), default=0.0)
        self.after = max((c.after for c in columns), default=0.0)

    def parts(self) -> Sequence[Block]:
        return self.columns

    def _widths(self, width: float) -> list[float]:
        """By shares; where a word would break that its neighbours have room for, its column is widened to hold it."""
        free = width - self.gap * (len(self.columns) - 1)
        if self._least is None:
            self._least = [column.narrowest() for column in self.columns]
        widths = [free * share / sum(self.shares) for share in self.shares]
        # A drawing was given its width by whoever wrote the page: it lends none.
        least = [max(a, b) if c.is_rigid else a for a, b, c in zip(self._least, widths, self.columns, strict=True)]
        if sum(least) > free:
            return widths
        held: set[int] = set()
        while short := {at for at, own in enumerate(widths) if own < least[at] - CLOSE} - held:
            held |= short
            left = free - sum(least[at] for at in held)
            rest = sum(share for at, share in enumerate(self.shares) if at not in held)
            widths = [least[at] if at in held else left * share / rest for at, share in enumerate(self.shares)]
        return widths

    def narrowest(self) -> float:
        return sum(column.narrowest() for column in self.columns) + self.gap * (len(self.columns) - 1)

    def height(self, width: float) -> float:
        return max((c.height(w) for c, w in zip(self.columns, self._widths(width), strict=True)), default=0.0)

    def natural(self) -> float:
        widest = max((c.natural() / s for c, s in zip(self.columns, self.shares, strict=True)), default=0.0)
        return widest * sum(self.shares) + self.gap * (len(self.columns) - 1)

    def split(self, width: float, room: float, *, force: bool = False) -> tuple[Block | None, Block | None]:
        heads: list[Stack] = []
        tails: list[Stack] = []
        for column, own in zip(self.columns, self._widths(width), strict=True):
            if column.height(own) <= room + CLOSE:
                first: Block | None = column
                rest: Block | None = Stack([])
            else:
                first, rest = column.split(own, room, force=force)
            if not isinstance(first, Stack) or not isinstance(rest, Stack | None):
                return None, self
            heads.append(first)
            tails.append(rest or Stack([]))
        head, tail = self.headed(), self.tailed()
        head.columns, tail.columns = heads, tails
        return head, tail

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        rtl = self.look.direction == "rtl"
        at = x + width if rtl else x
        for column, own in zip(self.columns, self._widths(width), strict=True):
            needed = column.height(own)
            lower = {"top": 0.0, "middle": (height - needed) / 2, "bottom": height - needed}[self.level]
            left = at - own if rtl else at
            column.show(pen, left, top - lower, own, height - lower)
            at += -(own + self.gap) if rtl else own + self.gap


class Rule(Block):
    """A line across."""

    def __init__(self, colour: str, line: float = LINE["rule"], air: float = 0.0) -> None:
        self.colour = colour
        self.line = line
        self.before = self.after = air

    def height(self, width: float) -> float:
        return self.line

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        pen.canvas.rule(x, top - self.line / 2, x + width, self.colour, self.line)
