"""What a page is filled with: blocks that are measured, divided and only then painted.

Takes  blocks in reading order, each able to tell its height for a width.
Gives  `Block`, the promise every kind keeps; `Stack`, blocks one under the other; `fill`, how much fits a height.
Knows  spaces, keeping together and keeping with the next; nothing of XHTML, and no page.
"""

from __future__ import annotations

import copy
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Self

from generator.page.tokens import BAR
from generator.press.structure import LAYOUT

if TYPE_CHECKING:
    from generator.press.canvas import TagCanvas

PAGE_COUNT = "page-count"  # the one counter that is not known before the last page is placed
CLOSE = 0.01  # points; sums of floats differ by less


@dataclass(slots=True)
class Pen:
    """Where painting stands: the canvas, this page's numbers, and the pages of all ids.

    counters: by the class that asks for them, without the page count while nobody knows it. outer: x in the outer margin
    where change bars go; targets: ids that some link names.
    """

    canvas: TagCanvas
    counters: dict[str, int]
    page_of: dict[str, int]
    targets: Container[str]
    outer: float = 0.0

    def knows(self, asked: str) -> bool:
        """Whether it can say the page of an id, or how many pages there are."""
        return asked in (self.counters if asked == PAGE_COUNT else self.page_of)


@dataclass(slots=True)
class Bookmark:
    """An entry of the outline: its words and level, 0 the highest."""

    title: str
    level: int
    name: str


class Block:
    """One thing with a height.

    before, after: space wanted, points; between neighbours the larger counts. keep: not to be divided if it fits on
    one page. with_next: on one page with the start of what follows. ids: places inside it that links may name.
    """

    before: float = 0.0
    after: float = 0.0
    keep: bool = False
    with_next: bool = False
    new_page: bool = False
    stretches: bool = False  # fills the height of its column
    changed: bool = False
    ids: tuple[str, ...] = ()
    bookmark: Bookmark | None = None
    rigid: bool = False  # what it shows hangs on the width it was given

    def height(self, width: float) -> float:
        """Points needed for a width in points."""
        raise NotImplementedError

    def natural(self) -> float:
        """Width at which nothing would wrap, points."""
        return 0.0

    def narrowest(self) -> float:
        """Least width at which no word breaks, points."""
        return self.natural()

    def split(self, width: float, room: float, *, force: bool = False) -> tuple[Block | None, Block | None]:
        """Divide so that the first part is no higher than room; (None, self) when it cannot be divided there.

        force: divide even what should be kept together, for it is higher than a page.
        """
        return None, self

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        """Put it on the canvas: left edge x, upper edge top; height is at least the height measured."""
        raise NotImplementedError

    def parts(self) -> Sequence[Block]:
        """Blocks directly inside."""
        return ()

    def asks(self) -> Iterator[str]:
        """What it has to know of later pages before it is painted: ids, whose page it prints, and `PAGE_COUNT`."""
        yield from ()

    # ---- the same for every kind --------------------------------------------------------------------------

    def show(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        """Paint it with its places, bookmark and change bar."""
        for name in self.ids:
            if name in pen.targets:
                pen.canvas.place(name, top + 6)
        if self.bookmark is not None:
            pen.canvas.place(self.bookmark.name, top + 6)
            pen.canvas.bookmark(self.bookmark.title, self.bookmark.name, self.bookmark.level)
        if self.changed:
            self._bar(pen, top, height)
        self.paint(pen, x, top, width, height)

    def _bar(self, pen: Pen, top: float, height: float) -> None:
        with pen.canvas.scope(LAYOUT):
            pen.canvas.fill_colour("ink")
            pen.canvas.rect(pen.outer - BAR / 2, top - height, BAR, height, stroke=0, fill=1)

    @property
    def is_rigid(self) -> bool:
        """Whether it or anything inside it is a drawing that no other width suits."""
        return any(block.rigid for block in self.walk())

    def walk(self) -> Iterator[Block]:
        """This block and all inside it."""
        yield self
        for part in self.parts():
            yield from part.walk()

    def headed(self) -> Self:
        """A copy to become the first part of a division: it keeps the places and the space before."""
        part = copy.copy(self)
        part.after = 0.0
        part.with_next = False
        return part

    def tailed(self) -> Self:
        """A copy to become what is left: it keeps the space after; its places are in the first part."""
        part = copy.copy(self)
        part.before, part.ids, part.bookmark, part.new_page = 0.0, (), None, False
        return part


@dataclass(slots=True)
class Filled:
    """Outcome of `fill`: each block taken with its distance from the top, the height used, and what is left."""

    taken: list[tuple[Block, float]] = field(default_factory=list)
    used: float = 0.0
    rest: list[Block] = field(default_factory=list)


def fill(blocks: Sequence[Block], width: float, room: float, *, whole_page: bool) -> Filled:
    """Take as many blocks as fit a height.

    Never leaves a block marked `with_next` last, unless it would stand alone on a whole page. With whole_page, a
    block to be kept that is higher than the page is divided after all. Nothing taken means nothing fits.
    """
    done = Filled()
    previous: Block | None = None
    for at, block in enumerate(blocks):
        if block.new_page and done.taken:
            return _backed(done, blocks[at:])
        gap = max(previous.after, block.before) if previous is not None else 0.0
        height = block.height(width)
        if done.used + gap + height <= room + CLOSE:
            done.taken.append((block, done.used + gap))
            done.used += gap + height
            previous = block
            continue
        must = whole_page and not done.taken
        left = room - done.used - gap
        head, tail = (None, block) if block.keep and not must else block.split(width, left)
        if head is None and must:
            head, tail = block.split(width, left, force=True)
        if head is not None:
            done.taken.append((head, done.used + gap))
            done.used += gap + head.height(width)
            done.rest = [*([tail] if tail is not None else []), *blocks[at + 1 :]]
            return done
        return _backed_off(done, blocks[at:], whole_page)
    return done


def _backed(done: Filled, rest: Sequence[Block]) -> Filled:
    done.rest = list(rest)
    return done


def _backed_off(done: Filled, rest: Sequence[Block], whole_page: bool) -> Filled:
    """Send what must stay with the next on to the next page with it."""
    kept = len(done.taken)
    while kept and done.taken[kept - 1][0].with_next:
        kept -= 1
    if not kept and whole_page:
        kept = len(done.taken)  # a whole page of them: breaking somewhere beats never
    moved = [block for block, _ in done.taken[kept:]]
    del done.taken[kept:]
    done.rest = [*moved, *rest]
    return done


class Anchor(Block):
    """Nothing to be seen: a place for a link to go to."""

    def height(self, width: float) -> float:
        return 0.0

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        return


class Stack(Block):
    """Blocks one under the other."""

    def __init__(self, blocks: Sequence[Block]) -> None:
        self.blocks = list(blocks)
        self._placed: tuple[float, float, list[tuple[Block, float]]] | None = None
        if self.blocks:
            self.before, self.after = self.blocks[0].before, self.blocks[-1].after
            self.with_next = self.blocks[-1].with_next

    def parts(self) -> Sequence[Block]:
        return self.blocks

    def _layout(self, width: float) -> tuple[float, float, list[tuple[Block, float]]]:
        if self._placed is None or self._placed[0] != width:
            placed: list[tuple[Block, float]] = []
            used, previous = 0.0, None
            for block in self.blocks:
                used += max(previous.after, block.before) if previous is not None else 0.0
                placed.append((block, used))
                used += block.height(width)
                previous = block
            self._placed = (width, used, placed)
        return self._placed

    def height(self, width: float) -> float:
        return self._layout(width)[1]

    def natural(self) -> float:
        return max((b.natural() for b in self.blocks), default=0.0)

    def narrowest(self) -> float:
        return max((b.narrowest() for b in self.blocks), default=0.0)

    def split(self, width: float, room: float, *, force: bool = False) -> tuple[Block | None, Block | None]:
        done = fill(self.blocks, width, room, whole_page=force)
        if not done.taken:
            return None, self
        head, tail = self.headed(), self.tailed()
        head.blocks, head._placed = [b for b, _ in done.taken], None
        tail.blocks, tail._placed = done.rest, None
        return head, (tail if done.rest else None)

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        _, used, placed = self._layout(width)
        spare = max(0.0, height - used)
        for at, (block, offset) in enumerate(placed):
            own = block.height(width)
            if at == len(placed) - 1 and block.stretches:
                own += spare
            block.show(pen, x, top - offset, width, own)
