"""A prepared paragraph: how wide any stretch of it is, and what is printed of it on one line.

Takes  the text, and which stretches of it have one face, direction, script, language and owner.
Gives  `Paragraph` with `width` and `shape`, and `Item`, what `shape` makes of one stretch.
Knows  that words are shaped one by one (see `face.apart`); nothing of sizes, colours or pages.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise
from operator import attrgetter
from typing import NamedTuple

from generator.press.text import bidi, fonts
from generator.press.text.errors import MissingGlyph
from generator.press.text.face import Face, Glyph, apart
from generator.press.text.script import CONTROLS

_UNPRINTED = CONTROLS | {"\n"}
_WIDTH = attrgetter("width")
_NEIGHBOURS = 4  # characters: a letter and the marks on it


class Stretch(NamedTuple):
    """Characters [start, stop) of a paragraph that are alike. level: of embedding (UAX 9); odd runs right to left."""

    start: int
    stop: int
    face: Face
    level: int
    script: str
    language: str
    owner: int


class Item(NamedTuple):
    """What is printed of one stretch on one line.

    text: what the characters are (for copying out); shown: the same with stand-ins, which is what is shaped. place: of
    its first character in the paragraph. width: in thousandths of an em, without the space that a line is broken at.
    before, after: printed neighbours that its letters join.
    """

    face: Face
    rtl: bool
    script: str
    language: str
    text: str
    shown: str
    owner: int
    place: int
    width: float
    before: str = ""
    after: str = ""

    @property
    def glyphs(self) -> tuple[Glyph, ...]:
        """From left to right; their clusters count in `text`."""
        return self.face.shape(self.shown, self.rtl, self.script, self.language, self.before, self.after)


class Paragraph:
    """A paragraph ready to be broken and shaped. breaks: indices before which a line may break, ascending."""

    __slots__ = (
        "_after", "_bare", "_before", "_ends", "_joined", "_starts", "breaks", "language", "rtl", "shown", "stretches", "text", "widest_word",
    )  # fmt: skip

    def __init__(
        self, text: str, shown: str, language: str, rtl: bool, stretches: Sequence[Stretch], breaks: Sequence[int]
    ) -> None:
        """Shape all of it, word by word: a glyph that a font promised and shaping lost is found now.

        Args:
            shown: what is shaped: as `text`, stand-ins in place.
        Raises:
            MissingGlyph: with every character whose glyph was lost.
        """
        self.text, self.shown, self.language, self.rtl = text, shown, language, rtl
        self.stretches, self.breaks = stretches, breaks
        self._bare = _UNPRINTED.isdisjoint(text)
        # Arabic letters join across a change of colour or weight, or of owner, inside a word.
        self._joined = any(
            one.script == other.script == "Arab" and " " not in (shown[one.stop - 1], shown[other.start])
            for one, other in pairwise(stretches)
        )
        self.widest_word = 0.0  # thousandths of an em; parts of a word that have two owners count apart
        # Of each word: where it starts and ends, and the total width before and after it.
        self._starts, self._ends, self._before, self._after = array("l"), array("l"), array("d"), array("d")
        self._measure()

    def _measure(self) -> None:
        total = run = 0.0
        owner, lost = -1, ""
        for stretch in self.stretches:
            shown = self.shown if len(self.stretches) == 1 else self.shown[stretch.start : stretch.stop]
            known, at = stretch.face.words(bool(stretch.level & 1), stretch.script, stretch.language), stretch.start
            run, owner = run if stretch.owner == owner else 0.0, stretch.owner
            space = known[" "].width if " " in shown else 0.0
            for line in shown.split("\n") if "\n" in shown else (shown,):
                words = apart(line)
                found = [known[word] for word in (words if self._bare else map(self._printed, words))]
                widths = [word.width for word in found]
                lost += "".join([word.lost for word in found])
                starts = list(accumulate([len(word) + 1 for word in words], initial=at))
                totals = list(accumulate([width + space for width in widths], initial=total))
                self._starts.extend(starts[:-1])
                self._ends.extend([start - 1 for start in starts[1:]])
                self._before.extend(totals[:-1])
                self._after.extend([after - space for after in totals[1:]])
                at, total = starts[-1], totals[-1] - space
                # What was written before, in another face but of the same owner, is part of the first word.
                widths[0] += run
                run = widths[-1]
                self.widest_word = max(self.widest_word, *widths)
        if lost:
            raise MissingGlyph(lost, self.language, fonts.extra_for(set(lost)))

    def width(self, start: int, stop: int) -> float:
        """Of [start, stop) as one line, thousandths of an em."""
        first, last = bisect_left(self._starts, start), bisect_left(self._starts, stop) - 1
        if first <= last and self._starts[first] == start and self._ends[last] == stop and not self._joined:
            return self._after[last] - self._before[first]
        return self.shape(start, stop)[1]  # a part of a word is shaped alone

    def reach(self, start: int, room: float) -> int:
        """No line from start that ends further on, white space left out, is narrower than room."""
        first = bisect_left(self._starts, start)
        if first == len(self._starts):
            return len(self.text)
        beyond = bisect_right(self._before, self._before[first] + room)
        return self._starts[beyond] if beyond < len(self._starts) else len(self.text)

    def shape(self, start: int, stop: int, trailing_space: bool = False) -> tuple[list[Item], float]:
        """What is printed of [start, stop) as one line.

        Args:
            trailing_space: add the space at which the line was broken, so that copied words do not grow together; it
                takes no width.
        Returns:
            Items from left to right, and the line's width in thousandths of an em.
        """
        items: list[Item] = []
        levels: list[int] = []
        for stretch in self.stretches:
            first, last = max(start, stretch.start), min(stop, stretch.stop)
            shown = self._printed(self.shown[first:last]) if first < last else ""
            if shown:
                items.append(self._item(stretch, first, last, shown, start, stop))
                levels.append(stretch.level)
        width = sum(map(_WIDTH, items))
        visual = items
        if len(items) > 1 and any(level & 1 for level in levels):
            visual = [items[place] for place in bidi.visual_order(levels)]
        if trailing_space and items:
            if not self.rtl and not levels[-1] and items[-1].face.covers(" "):
                visual[-1] = items[-1]._replace(text=items[-1].text + " ", shown=items[-1].shown + " ")
            else:
                visual.insert(0 if self.rtl else len(visual), self._space(items[-1]))
        return visual, width

    def _item(self, stretch: Stretch, first: int, last: int, shown: str, start: int, stop: int) -> Item:
        before = after = ""
        if self._joined and stretch.script == "Arab":
            before = self._printed(self.shown[max(start, first - 2 * _NEIGHBOURS) : first])[-_NEIGHBOURS:]
            after = self._printed(self.shown[last : min(stop, last + 2 * _NEIGHBOURS)])[:_NEIGHBOURS]
            # Nothing joins across a space.
            before, after = "" if before.endswith(" ") else before, "" if after.startswith(" ") else after
        face, rtl = stretch.face, bool(stretch.level & 1)
        text = shown if self.shown is self.text else self._printed(self.text[first:last])
        if before or after:
            glyphs = face.shape(shown, rtl, stretch.script, stretch.language, before, after)
            width = sum(glyph.advance for glyph in glyphs)
        else:
            width = face.words(rtl, stretch.script, stretch.language).width_of(shown)
        return Item(
            face, rtl, stretch.script, stretch.language, text, shown, stretch.owner, first, width, before, after
        )

    def _printed(self, text: str) -> str:
        return text if self._bare or _UNPRINTED.isdisjoint(text) else "".join(c for c in text if c not in _UNPRINTED)

    def _space(self, last: Item) -> Item:
        # The face of signs has no space: a line that is broken after one takes the space of another face of the paragraph.
        for face in dict.fromkeys((last.face, *(stretch.face for stretch in self.stretches))):
            if face.covers(" "):
                place = last.place + len(last.text)
                return Item(face, self.rtl, "Zyyy", self.language, " ", " ", last.owner, place, 0.0)
        raise MissingGlyph(" ", self.language)
