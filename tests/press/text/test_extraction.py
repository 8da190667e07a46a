from __future__ import annotations

import io
import re
import unicodedata

import pytest

from .lines import CJK, LINES, PHONE, RTL
from .sheet import block, by_pdfium, by_pypdf, pdf, plain

LEFT_TO_RIGHT = [language for language in LINES if language not in (*CJK, *RTL, "th")]


@pytest.mark.parametrize("language", LEFT_TO_RIGHT)
@pytest.mark.parametrize("reader", [by_pypdf, by_pdfium])
def test_what_is_copied_out_is_what_was_written(language, reader):
    pytest.importorskip("pypdf" if reader is by_pypdf else "pypdfium2")
    data = pdf([block(LINES[language], language)], width=220)
    assert plain(reader(data)) == plain(unicodedata.normalize("NFC", LINES[language]))


@pytest.mark.parametrize("language", CJK)
def test_east_asian_text_is_copied_out_whole(language):
    pytest.importorskip("justmytype_intl_cjk")
    pytest.importorskip("uniseg")
    pytest.importorskip("pypdfium2")
    data = pdf([block(LINES[language], language)], width=220)
    # These lines break without a space, so readers are free to put one there.
    assert plain(by_pdfium(data)).replace(" ", "") == plain(LINES[language]).replace(" ", "")


def test_thai_is_copied_out_whole_by_pdfium():
    pytest.importorskip("pypdfium2")
    data = pdf([block(LINES["th"], "th")], width=220)
    assert plain(by_pdfium(data)).replace(" ", "") == plain(LINES["th"]).replace(" ", "")


@pytest.mark.parametrize("language", RTL)
def test_a_phone_number_in_right_to_left_text_is_printed_in_its_order(language):
    pdfplumber = pytest.importorskip("pdfplumber")
    data = pdf([block(LINES[language], language)], width=500)
    with pdfplumber.open(io.BytesIO(data)) as document:
        characters = document.pages[0].chars
    lines: dict[int, list[dict]] = {}
    for character in characters:
        lines.setdefault(round(character["matrix"][5]), []).append(character)
    printed = ["".join(c["text"] for c in sorted(line, key=lambda c: c["x0"])) for line in lines.values()]
    assert any(PHONE in line.replace("\u00a0", " ") for line in printed), printed


@pytest.mark.parametrize("language", RTL)
@pytest.mark.parametrize("reader", [by_pypdf, by_pdfium])
def test_a_phone_number_alone_in_its_line_is_copied_out_whole(language, reader):
    pytest.importorskip("pypdf" if reader is by_pypdf else "pypdfium2")
    data = pdf([block("\u2066" + PHONE.replace(" ", "\u00a0") + "\u2069", language)])
    assert plain(reader(data)) == PHONE


@pytest.mark.parametrize("language", RTL)
@pytest.mark.parametrize("reader", [by_pypdf, by_pdfium])
def test_right_to_left_words_are_copied_out_whole(language, reader):
    pytest.importorskip("pypdf" if reader is by_pypdf else "pypdfium2")
    words = [word for word in plain(LINES[language]).split() if all(unicodedata.category(c)[0] in "LM" for c in word)]
    if reader is by_pypdf:  # it does not turn round the two letters of one ligature
        words = [word for word in words if not re.search("\u0644[\u0627\u0623\u0625\u0622\u0649]", word)]
    found = plain(reader(pdf([block(LINES[language], language)], width=220)))
    assert [word for word in words if word not in found] == []
    assert PHONE in found


@pytest.mark.parametrize("language", ["ar", "fa", "ur"])
def test_arabic_script_is_copied_out_to_the_letter_by_pdfium(language):
    pytest.importorskip("pypdfium2")
    assert plain(by_pdfium(pdf([block(LINES[language], language)], width=220))) == plain(LINES[language])


def test_words_at_the_ends_of_lines_do_not_grow_together():
    pypdf = pytest.importorskip("pypdf")
    text = "call us if all the toes are cold, post-op or not"
    data = pdf([block(text, "en")], width=45)
    read = pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()
    assert read.count("\n") >= 6
    # The line feeds are the reader's own; without them only what is in the file is left.
    assert read.replace("\n", "") == text


def test_every_code_of_the_file_has_a_text_and_none_is_the_empty_glyph():
    pikepdf = pytest.importorskip("pikepdf")
    data = pdf([block(LINES[language], language) for language in LINES if language not in CJK])
    fonts = 0
    with pikepdf.open(io.BytesIO(data)) as document:
        for thing in document.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Subtype") == "/Type0":
                fonts += 1
                descendant = thing.DescendantFonts[0]
                numbers = descendant.CIDToGIDMap.read_bytes()
                codes = len(numbers) // 2 - 1
                assert all(numbers[at : at + 2] != b"\0\0" for at in range(2, len(numbers), 2))
                assert thing.ToUnicode.read_bytes().count(b"> <") == codes + 1  # and the code space
                assert len(descendant.W[1]) == codes
                assert str(thing.BaseFont)[7] == "+"
                assert descendant.FontDescriptor.FontFile2.read_bytes()[:4] == b"\0\1\0\0"
    assert fonts == 6  # Latin, Arabic, Hebrew, Devanagari, Gurmukhi, Thai: one object set a face
