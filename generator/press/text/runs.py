"""Prepare a paragraph once: which face, script, direction and owner each character has.

Takes  pieces of plain text with weight and language, and the paragraph's language.
Gives  `prepare`: a `Paragraph`, its stretches of one face and one direction found.
Knows  fonts, bidi and breaks; nothing of sizes, colours or pages. A missing character is found here, all at
       once.
"""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from generator.press.text import bidi, breaks, fonts
from generator.press.text.errors import MissingGlyph
from generator.press.text.face import Face
from generator.press.text.paragraph import Paragraph, Stretch
from generator.press.text.script import CONTROLS, JOINERS, is_mark, is_rtl, script_of

# Other white space would find no glyph; it means a space.
_AS_SPACE = str.maketrans({"\t": " ", "\r": " ", "\v": " ", "\f": " ", "\u0085": " ", "\u2028": "\n", "\u2029": "\n"})
_RIGHT_TO_LEFT_KINDS = frozenset({"R", "AL", "AN", "RLE", "RLO", "RLI", "LRE", "LRO"})
# Where a font has no narrow no-break space, the wide one is printed in its place.
_STAND_IN = {"\u202f": "\u00a0", "\u2011": "\u2010"}
_ISOLATES = frozenset("\u2066\u2067\u2068\u2069")
# "": brackets, points, spaces and what else every script shares.
_ALPHABETS = frozenset({"", "Latn", "Cyrl", "Grek"})
# What `_alphabet` has found to be Latin or shared, by face: most texts are of nothing else.
_LATIN: defaultdict[Face, set[str]] = defaultdict(set)


class Piece(NamedTuple):
    """A stretch of text of one weight and language. `text` is plain, NFC or not."""

    text: str
    bold: bool
    language: str


@lru_cache(maxsize=1024)
def prepare(pieces: tuple[Piece, ...], language: str) -> Paragraph:
    """Make a paragraph of its pieces.

    Raises:
        MissingGlyph: with every character that no font at hand has.
        MissingExtra: Chinese or Japanese text without the extra.
    """
    text, shown, stretches = _in_faces(pieces, language)
    return Paragraph(text, shown, language, is_rtl(language), stretches, breaks.opportunities(text, language))


def see_faces(piece: Piece, language: str) -> None:
    """See that fonts at hand have every letter of a text; where its lines may break, which costs far more, is not asked.

    Raises:
        MissingGlyph, MissingExtra: as `prepare`.
    """
    text, _, _ = _in_faces((piece,), language)
    breaks.opportunities(text[:_FEW], language)


_FEW = 8  # letters that tell whether the breaker of their script is there


def _in_faces(pieces: tuple[Piece, ...], language: str) -> tuple[str, str, list[Stretch]]:
    """The text, the text as shown, and its stretches of one face each."""
    texts = [unicodedata.normalize("NFC", piece.text.translate(_AS_SPACE)) for piece in pieces]
    text = "".join(texts)
    rtl = is_rtl(language)
    stretches = None if rtl else _alphabetic(texts, pieces, language)
    shown = text
    if stretches is None:
        stretches, shown = _of_any_kind(texts, pieces, language, rtl)
    return text, shown, stretches


def _alphabetic(texts: Sequence[str], pieces: Sequence[Piece], language: str) -> list[Stretch] | None:
    """Stretches of a text in one alphabet that runs from left to right, as most are; None if it is of another kind.

    Gives what `_of_any_kind` gives, without asking of every place what it need ask of every character only.
    """
    stretches, scripts, start = [], set[str](), 0
    for owner, (text, piece) in enumerate(zip(texts, pieces, strict=True)):
        if not text:
            continue
        if fonts.family_for_language(piece.language) != fonts.LATIN:
            return None
        face = fonts.faces("Latn", piece.language, piece.bold)[0]
        letters = set(text)
        if not letters <= _LATIN[face]:
            alphabets = {letter: _alphabet(letter, face) for letter in letters}
            if None in alphabets.values():
                return None
            _LATIN[face].update(letter for letter, script in alphabets.items() if script in ("", "Latn"))
            scripts.update(filter(None, alphabets.values()))
        elif "Latn" not in scripts and any(_alphabet(letter, face) for letter in letters):
            scripts.add("Latn")
        stretches.append(Stretch(start, start + len(text), face, 0, "", piece.language, owner))
        start += len(text)
    if len(scripts) > 1:
        return None
    script = scripts.pop() if scripts else "Zyyy"
    return [stretch._replace(script=script) for stretch in stretches]


@lru_cache(maxsize=4096)
def _alphabet(character: str, face: Face) -> str | None:
    """Alphabet of a letter that the face has, "" for what all alphabets share; None for what needs a closer look."""
    script = _script(character) or ""
    if is_mark(character) or character in _STAND_IN or unicodedata.bidirectional(character) in _RIGHT_TO_LEFT_KINDS:
        return None
    return script if script in _ALPHABETS and _has(face, character) else None


def _of_any_kind(texts: Sequence[str], pieces: Sequence[Piece], language: str, rtl: bool) -> tuple[list[Stretch], str]:
    """Stretches of a text, whatever is in it, and the text with stand-ins."""
    text = "".join(texts)
    owners = [owner for owner, part in enumerate(texts) for _ in part]
    for place in range(1, len(text)):
        if is_mark(text[place]):  # a mark belongs to its letter, wherever a run was cut
            owners[place] = owners[place - 1]
    languages = [pieces[owner].language for owner in owners]
    levels = _levels(text, rtl)
    scripts = _scripts(text, levels, rtl)
    faces, shown = _faces(text, scripts, languages, [pieces[owner].bold for owner in owners], language)
    stretches: list[Stretch] = []
    for place, kind in enumerate(zip(faces, levels, scripts, languages, owners, strict=True)):
        if text[place] in CONTROLS or text[place] == "\n":
            continue  # not printed, so it parts nothing
        if stretches and stretches[-1][2:] == kind:
            stretches[-1] = stretches[-1]._replace(stop=place + 1)
        else:
            stretches.append(Stretch(place, place + 1, *kind))
    return stretches, shown if shown != text else text


def _levels(text: str, rtl: bool) -> list[int]:
    if not rtl and (text.isascii() or not any(unicodedata.bidirectional(c) in _RIGHT_TO_LEFT_KINDS for c in text)):
        # Everything runs one way; isolates would only raise the level by two and change nothing on paper.
        return [0] * len(text)
    found: list[int] = []
    for paragraph in text.splitlines(keepends=True):
        found += bidi.levels(paragraph, int(rtl))[1]
    return found


def _script(character: str) -> str | None:
    # Western figures belong with Latin, so that a number's brackets and points come from its font.
    return "Latn" if "0" <= character <= "9" else script_of(character)


def _scripts(text: str, levels: Sequence[int], rtl: bool) -> list[str]:
    """Scripts, shared characters settled: as the one before in the same direction, else the one after.

    What an isolate holds is settled by itself: the `+` of a telephone number goes with its figures, whatever stands before.
    """
    known: list[str | None] = []
    for character in text:
        known.append(_script(character))
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
