"""Words are shaped one by one: HarfBuzz, asked for whole lines, must give the same glyphs at the same places."""

from __future__ import annotations

import json
import unicodedata

import pytest
import uharfbuzz as hb

from generator.press.text import fonts
from generator.press.text.face import Face, apart, features_for
from generator.press.text.runs import Piece, prepare
from generator.press.text.script import is_mark
from tests.press.text.lines import CJK, LINES

SCRIPTS = {
    "NotoSans": ("Latn", "Cyrl", "Grek", "Zyyy"),
    "NotoSansArabic": ("Arab",),
    "NotoSansDevanagari": ("Deva",),
    "NotoSansGurmukhi": ("Guru",),
    "NotoSansHebrew": ("Hebr",),
    "NotoSansMath": ("Zyyy",),
    "NotoSansThai": ("Thai",),
}
FILES = [record["file"] for record in json.loads((fonts.FOLDER / "fonts.json").read_text(encoding="utf-8"))]


def shaped(font: hb.Font, text: str, script: str) -> list[tuple[int, int, int, int]]:
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.script = script
    buffer.language = "en"
    buffer.direction = "rtl" if script in ("Arab", "Hebr") else "ltr"
    hb.shape(font, buffer, features_for(script, text))
    return [
        (info.codepoint, at.x_advance, at.x_offset, at.y_offset)
        for info, at in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True)
    ]


@pytest.mark.parametrize("file", FILES)
def test_no_letter_of_any_font_is_drawn_otherwise_beside_a_space(file: str) -> None:
    face = hb.Face(hb.Blob.from_file_path(str(fonts.FOLDER / file)))
    font = hb.Font(face)
    letters = [chr(code) for code in face.unicodes if not is_mark(chr(code)) and chr(code) != " "]
    assert len(letters) > 10
    if 32 not in face.unicodes:
        return  # the font of signs: a space beside them is another font's
    for script in SCRIPTS[file.rpartition("-")[0]]:
        space = shaped(font, " ", script)
        alone = {letter: shaped(font, letter, script) for letter in letters}
        together = {letter: shaped(font, f"{letter} {letter}", script) for letter in letters}
        differ = [letter for letter in letters if together[letter] != alone[letter] + space + alone[letter]]
        assert not differ, (script, differ)


def printed(text: str, language: str) -> list[tuple[int, float, float, float]]:
    """As the press writes it: words and spaces, from left to right."""
    out = []
    for item in prepare((Piece(text, False, language),), language).shape(0, len(text))[0]:
        words = item.face.words(item.rtl, item.script, item.language)
        parts = [part for word in apart(item.text) for part in (" ", word)][1:]
        for part in reversed(parts) if item.rtl else parts:
            out += [(glyph.number, glyph.advance, glyph.dx, glyph.dy) for glyph in words[part].glyphs]
    return out


def whole(text: str, language: str) -> list[tuple[int, float, float, float]]:
    items = prepare((Piece(text, False, language),), language).shape(0, len(text))[0]
    return [(glyph.number, glyph.advance, glyph.dx, glyph.dy) for item in items for glyph in item.glyphs]


@pytest.mark.parametrize("language", sorted(LINES.keys() - set(CJK)))
def test_a_line_is_its_words_and_spaces(language: str) -> None:
    text = unicodedata.normalize("NFC", LINES[language])
    assert printed(text, language) == whole(text, language)


@pytest.mark.parametrize("language", sorted(LINES.keys() - set(CJK)))
def test_the_width_of_any_line_is_that_of_its_glyphs(language: str) -> None:
    paragraph = prepare(
        (Piece(LINES[language], False, language), Piece(" " + LINES[language], True, language)), language
    )
    places = [0, *paragraph.breaks, len(paragraph.text)]
    for start in places:
        for stop in places:
            if start < stop:
                items, _ = paragraph.shape(start, stop)
                width = sum(glyph.advance for item in items for glyph in item.glyphs)
                assert paragraph.width(start, stop) == pytest.approx(width, abs=1e-6)


def test_a_mark_without_a_letter_keeps_the_space_it_sits_on() -> None:
    assert apart("one two") == ["one", "two"]
    assert apart("one \u0301two") == ["one \u0301two"]


def test_a_word_is_shaped_once_however_often_it_is_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    shape = Face._shape

    def counted(self: Face, before: str, text: str, after: str, rtl: bool, script: str, language: str):  # type: ignore[no-untyped-def]
        asked.append(text)
        return shape(self, before, text, after, rtl, script, language)

    monkeypatch.setattr(Face, "_shape", counted)
    text = "quillfeather " * 30
    prepare((Piece(text, False, "en"),), "en").shape(0, len(text))
    assert asked.count("quillfeather") == 1
    assert len(asked) <= 3
