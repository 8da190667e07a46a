"""Prepare a paragraph once: which face, script, direction and owner each character has.

Takes  pieces of plain text with weight and language, and the paragraph's language.
Gives  a `Paragraph` that shapes any stretch of itself into pieces of one face and one direction.
Knows  fonts, bidi and breaks; nothing of sizes, colours or pages. A missing character is found here, all at
       once.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import accumulate
from operator import attrgetter
from typing import NamedTuple

from generator.press.text import bidi, breaks, fonts
from generator.press.text.errors import MissingGlyph
from generator.press.text.face import Face, Glyph
from generator.press.text.script import CONTROLS, JOINERS, is_mark, is_rtl, script_of

# Other white space would find no glyph; it means a space.
_AS_SPACE = str.maketrans({"\t": " ", "\r": " ", "\v": " ", "\f": " ", "\u0085": " ", "\u2028": "\n", "\u2029": "\n"})
_RIGHT_TO_LEFT_KINDS = frozenset({"R", "AL", "AN", "RLE", "RLO", "RLI", "LRE", "LRO"})
# Where a font has no narrow no-break space, the wide one is printed in its place.
_STAND_IN = {"\u202f": "\u00a0", "\u2011": "\u2010"}
_ISOLATES = frozenset("\u2066\u2067\u2068\u2069")
_NUMBER, _ADVANCE = attrgetter("number"), attrgetter("advance")


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of text of one weight and language. `text` is plain, NFC or not."""

    text: str
    bold: bool
    language: str


@dataclass(frozen=True, slots=True)
class Item:
    """A shaped stretch: one face, direction and owner; glyphs from left to right.

    text: what the characters are (for copying out), which `glyphs[].cluster` counts in. place: of its first
    character in the paragraph. width: in thousandths of an em.
    """

    face: Face
    rtl: bool
    text: str
    glyphs: tuple[Glyph, ...]
    owner: int
    place: int
    width: float


class _Seen(NamedTuple):
    """The characters of a paragraph that are printed.

    places: of each in the paragraph. text, shown: all of them, one entry each. before: how many of them stand before
    each character of the paragraph. ends: where, counted among them, the stretch of one kind ends that each is in.
    """

    places: list[int]
    text: str
    shown: str
    before: list[int]
    ends: list[int]


@dataclass(eq=False)
class Paragraph:
    """A paragraph ready to be broken and shaped. The lists have one entry a character of `text`."""

    text: str
    language: str
    rtl: bool
    shown: str  # what is shaped: as `text`, stand-ins in place
    levels: list[int]
    scripts: list[str]
    languages: list[str]
    owners: list[int]
    faces: list[Face]
    breaks: list[int] = field(default_factory=list)

    def shape(self, start: int, stop: int, trailing_space: bool = False) -> tuple[list[Item], float]:
        """Shape [start, stop) as one line.

        Args:
            trailing_space: add the space at which the line was broken, so that copied words do not grow
                together; it takes no width.
        Returns:
            Items from left to right, and the line's width in thousandths of an em.
        """
        items = list(self._items(start, stop))
        width = sum(item.width for item in items)
        if trailing_space and items:
            items.append(self._space(items[-1]))
        order = bidi.visual_order([self.levels[item.place] for item in items[: len(items) - trailing_space]])
        visual = [items[place] for place in order]
        if trailing_space and items:
            visual.insert(0 if self.rtl else len(visual), items[-1])
        return visual, width

    @cached_property
    def advances(self) -> list[float]:
        """Total advance before each character, all shaped in one go; one entry more than `text`."""
        single = [0.0] * len(self.text)
        places = self._seen.places
        first = 0
        for item in self._items(0, len(self.text)):
            for glyph in item.glyphs:
                single[places[first + glyph.cluster]] += glyph.advance
            first += len(item.text)
        return list(accumulate(single, initial=0.0))

    def _items(self, start: int, stop: int) -> Iterator[Item]:
        """Stretches of one face, direction, script, language and owner, in reading order."""
        seen = self._seen
        low, high = seen.before[start], seen.before[stop]
        first = low
        while first < high:
            last = min(seen.ends[first], high)
            yield self._item(first, last, low, high)
            first = last

    @cached_property
    def _seen(self) -> _Seen:
        """What is printed of the text, and how far each stretch of one kind runs: asked anew for every line tried."""
        places = [i for i, character in enumerate(self.text) if character not in CONTROLS and character != "\n"]
        if len(places) == len(self.text):
            text, shown, before = self.text, self.shown, list(range(len(self.text) + 1))
        else:
            text, shown = "".join(self.text[i] for i in places), "".join(self.shown[i] for i in places)
            printed = set(places)
            before = list(accumulate((i in printed for i in range(len(self.text))), initial=0))
        kinds = list(zip(self.levels, map(id, self.faces), self.scripts, self.owners, self.languages, strict=True))
        ends = [len(places)] * len(places)
        for at in range(len(places) - 2, -1, -1):
            ends[at] = ends[at + 1] if kinds[places[at]] == kinds[places[at + 1]] else at + 1
        return _Seen(places, text, shown, before, ends)

    def _item(self, first: int, last: int, low: int, high: int) -> Item:
        seen = self._seen
        place = seen.places[first]
        before = after = ""
        if self.scripts[place] == "Arab":  # letters join across a change of colour or weight, or of owner
            before, after = seen.shown[max(low, first - 4) : first], seen.shown[last : min(high, last + 4)]
        rtl = bool(self.levels[place] & 1)
        glyphs = self.faces[place].shape(
            seen.shown[first:last], rtl, self.scripts[place], self.languages[place], before, after
        )
        text = seen.text[first:last]
        if 0 in map(_NUMBER, glyphs):
            lost = {text[glyph.cluster] for glyph in glyphs if glyph.number == 0}
            raise MissingGlyph(lost, self.language, fonts.extra_for(lost))
        width = sum(map(_ADVANCE, glyphs))
        return Item(self.faces[place], rtl, text, glyphs, self.owners[place], place, width)

    def _space(self, last: Item) -> Item:
        # The face of signs has no space: a line that is broken after one takes the space of another face of the paragraph.
        for face in dict.fromkeys((last.face, *self.faces)):
            glyphs = face.shape(" ", self.rtl, "Zyyy", self.language)
            if all(glyph.number for glyph in glyphs):
                return Item(face, self.rtl, " ", glyphs, last.owner, last.place + len(last.text), 0.0)
        raise MissingGlyph(" ", self.language)


@lru_cache(maxsize=1024)
def prepare(pieces: tuple[Piece, ...], language: str) -> Paragraph:
    """Make a paragraph of its pieces.

    Raises:
        MissingGlyph: with every character that no font at hand has.
        MissingExtra: Chinese or Japanese text without the extra.
    """
    texts = [unicodedata.normalize("NFC", piece.text.translate(_AS_SPACE)) for piece in pieces]
    text = "".join(texts)
    owners = [owner for owner, part in enumerate(texts) for _ in part]
    for place in range(1, len(text)):
        if is_mark(text[place]):  # a mark belongs to its letter, wherever a run was cut
            owners[place] = owners[place - 1]
    languages = [pieces[owner].language for owner in owners]
    rtl = is_rtl(language)
    levels = _levels(text, rtl)
    scripts = _scripts(text, levels, rtl)
    faces, shown = _faces(text, scripts, languages, [pieces[owner].bold for owner in owners], language)
    paragraph = Paragraph(text, language, rtl, shown, levels, scripts, languages, owners, faces)
    paragraph.breaks = breaks.opportunities(text, language)
    _ = paragraph.advances  # shapes all of it: a glyph that the font promised and shaping lost is found now
    return paragraph


def _levels(text: str, rtl: bool) -> list[int]:
    if not rtl and (text.isascii() or not any(unicodedata.bidirectional(c) in _RIGHT_TO_LEFT_KINDS for c in text)):
        # Everything runs one way; isolates would only raise the level by two and change nothing on paper.
        return [0] * len(text)
    found: list[int] = []
    for paragraph in text.splitlines(keepends=True):
        found += bidi.levels(paragraph, int(rtl))[1]
    return found


def _scripts(text: str, levels: Sequence[int], rtl: bool) -> list[str]:
    """Scripts, shared characters settled: as the one before in the same direction, else the one after.

    What an isolate holds is settled by itself: the `+` of a telephone number goes with its figures, whatever stands before.
    """
    known: list[str | None] = []
    for character in text:
        # Western figures belong with Latin, so that a number's brackets and points come from its font.
        known.append("Latn" if "0" <= character <= "9" else script_of(character))
    out: list[str] = []
    start = 0
    while start < len(text):
        stop = start
        while stop < len(text) and levels[stop] == levels[start] and (stop == start or text[stop] not in _ISOLATES):
            stop += 1
        first = next((script for script in known[start:stop] if script), None)
        current = first or (out[-1] if out else "Zyyy")
        for script in known[start:stop]:
            current = script or current
            out.append(current)
        start = stop
    return out


def _faces(
    text: str, scripts: Sequence[str], languages: Sequence[str], bold: Sequence[bool], language: str
) -> tuple[list[Face], str]:
    """Face of each character, letter and marks together, and the text with stand-ins."""
    chosen: list[Face] = []
    shown: list[str] = []
    missing: set[str] = set()
    start = 0
    while start < len(text):
        stop = start + 1
        while stop < len(text) and is_mark(text[stop]) and languages[stop] == languages[start]:
            stop += 1
        tried = fonts.faces(scripts[start], languages[start], bold[start])
        cluster = text[start:stop]
        if cluster[0].isspace() and chosen and chosen[-1] in tried:
            tried = (chosen[-1], *tried)  # a space does not interrupt the face of the word before it
        face, written = _cover(cluster, tried)
        if face is None:
            face, written = tried[0], cluster
            missing |= {c for c in cluster if not any(_has(each, c) for each in tried)} or set(cluster)
        chosen += [face] * len(cluster)
        shown.append(written)
        start = stop
    if missing:
        raise MissingGlyph(missing, language, fonts.extra_for(missing))
    return chosen, "".join(shown)


@lru_cache(maxsize=4096)
def _cover(cluster: str, tried: tuple[Face, ...]) -> tuple[Face | None, str]:
    for face in tried:
        if all(_has(face, character) for character in cluster):
            return face, cluster
    written = "".join(_STAND_IN.get(character, character) for character in cluster)
    return _cover(written, tried) if written != cluster else (None, cluster)


def _has(face: Face, character: str) -> bool:
    ignorable = character in CONTROLS or character in JOINERS or "\ufe00" <= character <= "\ufe0f"
    return ignorable or character == "\n" or face.covers(character)
