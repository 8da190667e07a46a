"""One weight of one font, opened when first asked and shaped by HarfBuzz.

Takes  a font file, for a variable font the weight, and stretches of text of one direction, script and
       language.
Gives  glyphs with their advances and offsets in thousandths of an em.
Knows  HarfBuzz; nothing of lines, and of PDF only that `embed.py` will ask for the file again.
"""

from __future__ import annotations

import unicodedata
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

import uharfbuzz as hb

from generator.press.text.script import is_mark

# Always: kerning and figures of one width, so that columns of numbers stand true. Never: ornamental
# ligatures, which turn `5 cm` into one sign in some fonts and copy out of the PDF as other characters.
_ALWAYS = {"kern": True, "tnum": True, "lnum": True, "dlig": False}
# A joined `fi` copies out as one character; the joins of Devanagari are spelling and stay.
_UNJOINED = {**_ALWAYS, "liga": False, "clig": False}
_WHOLE_LETTERS = {**_UNJOINED, "ccmp": False}
_ALPHABETS = frozenset({"Latn", "Cyrl", "Grek", "Zyyy"})
_KEPT = 20_000


class Glyph(NamedTuple):
    """One shaped glyph; `cluster` is the index of its first character, lengths are thousandths of an em."""

    number: int
    cluster: int
    advance: float
    dx: float
    dy: float


class Word(NamedTuple):
    """A word as shaped. width: thousandths of an em. lost: characters of it that the font has no glyph for after all."""

    glyphs: tuple[Glyph, ...]
    width: float
    lost: str


def apart(text: str) -> list[str]:
    """The words of a text, between single spaces, to be shaped one by one.

    No font of ours draws a letter otherwise because a space stands beside it (a test asks HarfBuzz of every character),
    so a line is its words and spaces one after the other, and a word that was shaped once is shaped for good. Only a
    mark without a letter may sit on the space before it: then the text stays whole.
    """
    words = text.split(" ")
    if not text.isascii() and any(word and is_mark(word[0]) for word in words):
        return [text]
    return words


class Words(dict[str, Word]):
    """Words of one direction, script and language as one face shapes them; each is shaped when first asked for."""

    def __init__(self, face: Face, rtl: bool, script: str, language: str) -> None:
        self._face = face
        self._kind = rtl, script, language

    def __missing__(self, text: str) -> Word:
        if len(self) >= _KEPT:
            self.clear()
        glyphs = self._face._shape("", text, "", *self._kind) if text else ()
        lost = "".join(text[glyph.cluster] for glyph in glyphs if not glyph.number)
        word = self[text] = Word(glyphs, sum(glyph.advance for glyph in glyphs), lost)
        return word

    def width_of(self, text: str) -> float:
        """Of a whole text, thousandths of an em."""
        words = apart(text)
        width = sum([self[word].width for word in words])
        return width + (len(words) - 1) * self[" "].width if len(words) > 1 else width


class Face:
    """A font file at one weight. Two faces are the same only if they are the same object."""

    def __init__(self, name: str, path: Path, weight: int | None = None) -> None:
        """`name` goes into the PDF; `weight` is set for a variable file only."""
        self.name = name
        self.path = path
        self.weight = weight
        self._font: Any = None
        self._shaped: dict[tuple[str, str, str, bool, str, str], tuple[Glyph, ...]] = {}
        self._covered: dict[str, bool] = {}
        self._words: dict[tuple[bool, str, str], Words] = {}
        # By number, cluster and place in font units.
        self._glyphs: dict[tuple[int, int, tuple[int, int, int, int]], Glyph] = {}
        self._widths: dict[int, float] = {}

    def __repr__(self) -> str:
        return f"Face({self.name!r})"

    @property
    def font(self) -> Any:
        """The HarfBuzz font, opened at first use.

        Raises:
            FileNotFoundError: the font file is gone.
        """
        if self._font is None:
            if not self.path.is_file():
                raise FileNotFoundError(f"font file missing: {self.path}")
            face = hb.Face(hb.Blob.from_file_path(str(self.path)))
            font = hb.Font(face)
            if self.weight is not None:
                font.set_variations({"wght": self.weight})
            self._font = font
        return self._font

    @cached_property
    def scale(self) -> float:
        """Thousandths of an em in one font unit."""
        return 1000 / float(self.font.face.upem)

    def width(self, glyph: int) -> float:
        """A glyph's own width, thousandths of an em, as the PDF's font will state it."""
        known = self._widths.get(glyph)
        if known is None:
            known = self._widths[glyph] = float(self.font.get_glyph_h_advance(glyph)) * self.scale
        return known

    def covers(self, character: str) -> bool:
        """True if the font itself has a glyph for the character."""
        known = self._covered.get(character)
        if known is None:
            known = self._covered[character] = self.font.get_nominal_glyph(ord(character)) is not None
        return known

    def words(self, rtl: bool, script: str, language: str) -> Words:
        """Its words of one kind; script and language as for `shape`."""
        kind = rtl, script, language
        found = self._words.get(kind)
        if found is None:
            found = self._words[kind] = Words(self, *kind)
        return found

    def shape(
        self, text: str, rtl: bool, script: str, language: str, before: str = "", after: str = ""
    ) -> tuple[Glyph, ...]:
        """Shape one stretch; glyphs come from left to right as printed.

        Args:
            script: ISO 15924 code. language: BCP 47 tag, which picks local letter forms.
            before, after: neighbours that are printed elsewhere but join (Arabic letters across a change of
                colour).
        """
        key = (before, text, after, rtl, script, language)
        glyphs = self._shaped.get(key)
        if glyphs is None:
            if len(self._shaped) >= _KEPT:
                self._shaped.clear()
            glyphs = self._shaped[key] = self._shape(*key)
        return glyphs

    def _shape(self, before: str, text: str, after: str, rtl: bool, script: str, language: str) -> tuple[Glyph, ...]:
        buffer = hb.Buffer()
        buffer.cluster_level = hb.BufferClusterLevel.MONOTONE_GRAPHEMES
        buffer.add_str(before + text + after, len(before), len(text))
        buffer.direction = "rtl" if rtl else "ltr"
        buffer.script = script
        # Never left to a guess: HarfBuzz's guess knows no language, and Urdu would get Persian figures.
        buffer.language = language
        hb.shape(self.font, buffer, features_for(script, before + text + after))
        start, unit = len(before), self.scale
        glyphs = []
        for info, at in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
            kind = info.codepoint, info.cluster - start, at.position
            glyph = self._glyphs.get(kind)  # the same letters come at the same places of many words
            if glyph is None:
                dx, dy, across, _ = kind[2]
                glyph = self._glyphs[kind] = Glyph(kind[0], kind[1], across * unit, dx * unit, dy * unit)
            glyphs.append(glyph)
        return tuple(glyphs)


def features_for(script: str, text: str) -> dict[str, bool]:
    """OpenType features set for a stretch, besides those its spelling requires."""
    if script in ("Arab", "Hebr"):
        return _UNJOINED  # lam-alef, the ligature that Arabic spelling requires, comes by `rlig`
    if script not in _ALPHABETS:
        return _ALWAYS
    if text.isascii():
        return _WHOLE_LETTERS
    # Noto Sans takes Vietnamese letters apart into letter and mark. They look the same whole, and copy out
    # whole; only a mark that Unicode itself keeps apart has to be placed.
    return _UNJOINED if any(unicodedata.combining(character) for character in text) else _WHOLE_LETTERS
