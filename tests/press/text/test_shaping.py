from __future__ import annotations

import re
import unicodedata

import pytest
import uharfbuzz as hb

from generator.press.text import fonts, runs
from generator.press.text.runs import Paragraph, Piece, prepare
from generator.press.text.script import script_of

from .lines import LINES

# Words in their own script only, so that one call of HarfBuzz sets the whole: script, direction, font file.
WORDS = {
    "en": ("Keep the bandage dry and firm, never tight", "Latn", "ltr", "NotoSans"),
    "de": ("Affenfell fließt fünffach", "Latn", "ltr", "NotoSans"),
    "vi": ("Giữ băng khô và xem các ngón chân", "Latn", "ltr", "NotoSans"),
    "pl": ("Opatrunek musi być suchy, źdźbło", "Latn", "ltr", "NotoSans"),
    "ru": ("Держите повязку сухой", "Cyrl", "ltr", "NotoSans"),
    "uk": ("Тримайте пов\u02bcязку сухою", "Cyrl", "ltr", "NotoSans"),
    "el": ("Κρατήστε τον επίδεσμο στεγνό", "Grek", "ltr", "NotoSans"),
    "ar": ("حافظوا على جفاف الضماد", "Arab", "rtl", "NotoSansArabic"),
    "fa": ("پانسمان را خشک نگه می\u200cدارید", "Arab", "rtl", "NotoSansArabic"),
    "ur": ("پٹی کو خشک رکھیں", "Arab", "rtl", "NotoSansArabic"),
    "he": ("שמרו על התחבושת יבשה שָׁלוֹם", "Hebr", "rtl", "NotoSansHebrew"),
    "hi": ("पट्टी सूखी रखें क्षत्रिय विद्युत्", "Deva", "ltr", "NotoSansDevanagari"),
    "pa": ("ਪੱਟੀ ਸੁੱਕੀ ਰੱਖੋ ਪ੍ਰੀਤ", "Guru", "ltr", "NotoSansGurmukhi"),
    "th": ("รักษาผ้าพันแผลให้แห้ง น้ำ ปั๊ม", "Thai", "ltr", "NotoSansThai"),
}


def paragraph(text: str, language: str, bold: bool = False) -> Paragraph:
    return prepare((Piece(text, bold, language),), language)


def ours(text: str, language: str, bold: bool = False) -> list[tuple[int, float]]:
    made = paragraph(text, language, bold)
    items, _ = made.shape(0, len(made.text))
    return [(glyph.number, round(glyph.advance, 2)) for item in items for glyph in item.glyphs]


WHOLE = ("Latn", "Cyrl", "Grek")  # set without ligatures, letters not taken apart


def directly(text: str, script: str, direction: str, language: str, file: str) -> list[tuple[int, float]]:
    font = hb.Font(hb.Face(hb.Blob.from_file_path(str(fonts.FOLDER / file))))
    buffer = hb.Buffer()
    buffer.add_str(unicodedata.normalize("NFC", text))
    buffer.script, buffer.direction, buffer.language = script, direction, language
    hb.shape(font, buffer, {"liga": script not in WHOLE, "ccmp": script not in WHOLE})
    unit = 1000 / font.face.upem
    return [
        (info.codepoint, round(at.x_advance * unit, 2))
        for info, at in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True)
    ]


@pytest.mark.parametrize("language", WORDS)
@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_glyphs_are_those_of_harfbuzz_itself(language, style):
    text, script, direction, name = WORDS[language]
    expected = directly(text, script, direction, language, f"{name}-{style}.ttf")
    assert ours(text, language, style == "Bold") == expected
    assert all(number for number, _ in expected)


@pytest.mark.parametrize("language", ["hi", "pa", "th", "fa", "ur"])
@pytest.mark.parametrize("style", ["Regular", "Bold"])
def test_a_line_in_two_scripts_has_harfbuzzs_glyphs_stretch_by_stretch(language, style):
    # These lines have nothing outside their number that Noto Sans of their script lacks.
    _, script, direction, name = WORDS[language]
    text = unicodedata.normalize("NFC", LINES[language])
    before, number, after = re.split("[\u2066\u2069]", text)
    stretches = [
        directly(before.replace("\u200b", ""), script, direction, language, f"{name}-{style}.ttf"),
        directly(number.replace("\u2060", ""), "Latn", "ltr", language, f"NotoSans-{style}.ttf"),
        directly(after.replace("\u200b", ""), script, direction, language, f"{name}-{style}.ttf"),
    ]
    in_order = stretches if direction == "ltr" else stretches[::-1]
    assert ours(text, language, style == "Bold") == [glyph for stretch in in_order for glyph in stretch]


@pytest.mark.parametrize("sign", "≤≥≈≠→←↑↓")
def test_signs_that_noto_sans_lacks_are_those_of_harfbuzz_in_the_font_of_signs(sign):
    assert ours(sign, "en") == directly(sign, "Zyyy", "ltr", "en", "NotoSansMath-Regular.ttf")
    assert ours(sign, "en")[0][0] != 0


def test_every_script_that_is_shipped_is_compared_with_harfbuzz():
    compared = {name for _, _, _, name in WORDS.values()} | {"NotoSansMath"}
    assert compared == {path.name.split("-")[0] for path in fonts.FOLDER.glob("*.ttf")}


@pytest.mark.parametrize("language", ["hi", "pa", "th"])
def test_the_signs_of_a_number_come_from_the_font_of_its_figures(language):
    # The `+` stands beside letters of the language, inside the isolate: it is set with the figures after it.
    text = unicodedata.normalize("NFC", LINES[language])
    items, _ = paragraph(text, language).shape(0, len(text))
    assert [item.face.name for item in items if "+" in item.text] == ["NotoSans-Regular"]


def test_arabic_letters_join_and_lam_alef_is_one_glyph():
    # Unicode Standard, 9.2: the lam-alef ligature is mandatory; other letters take other shapes beside each
    # other.
    assert len(ours("لا", "ar")) == 1
    alone = {number for letter in "ضماد" for number, _ in ours(letter, "ar")}
    assert len({number for number, _ in ours("ضماد", "ar")} - alone) >= 3


def test_devanagari_conjuncts_form_and_short_i_moves_before_its_consonant():
    # Unicode Standard, 12.1: ka + virama + ssa is one conjunct; the vowel sign i stands left of what it
    # follows.
    assert len(ours("क्ष", "hi")) == 1
    [(first, _), (second, _)] = ours("कि", "hi")
    assert second == ours("क", "hi")[0][0]
    assert first != second


def test_urdu_and_persian_figures_have_their_own_forms():
    # Unicode Standard, table 9-2: the digits four, six and seven differ between Persian and Urdu.
    persian, urdu = ours("۰۱۲۳۴۵۶۷۸۹", "fa"), ours("۰۱۲۳۴۵۶۷۸۹", "ur")
    assert [digit for digit in range(10) if persian[digit][0] != urdu[digit][0]] == [4, 6, 7]


def test_figures_are_of_one_width_in_both_weights():
    widths = {advance for bold in (False, True) for _, advance in ours("0123456789", "en", bold)}
    assert len(widths) == 1


def test_letters_are_composed_first_and_never_joined_for_ornament():
    assert ours("e\u0301", "en") == ours("\u00e9", "en")
    assert len(ours("office waffle", "en")) == len("office waffle")


def test_a_narrow_no_break_space_is_printed_as_a_wide_one_where_the_font_has_none():
    # No font that is tried for Hebrew lacks it, so take it away.
    text = "14\u202f:"
    expected = ours("14\u00a0:", "en")
    for name in (fonts.LATIN, fonts.SIGNS):
        family = fonts.family(name)
        assert family is not None
        family.regular._covered["\u202f"] = False
    prepare.cache_clear()
    runs._cover.cache_clear()
    try:
        assert ours(text, "en") == expected
        assert paragraph(text, "en").text == text  # what is copied out stays as written
    finally:
        for name in (fonts.LATIN, fonts.SIGNS):
            family = fonts.family(name)
            assert family is not None
            del family.regular._covered["\u202f"]
        prepare.cache_clear()
        runs._cover.cache_clear()


def test_arabic_letters_join_across_a_change_of_weight_or_owner():
    text = "ضماد"
    split = prepare((Piece(text[:2], False, "ar"), Piece(text[2:], False, "ar")), "ar")
    glyphs = [glyph.number for item in split.shape(0, 4)[0] for glyph in item.glyphs]
    assert glyphs == [number for number, _ in ours(text, "ar")]


def test_a_mark_stays_with_its_letter_where_a_run_was_cut_between_them():
    cut = prepare((Piece("द", True, "hi"), Piece("\u093fन", False, "hi")), "hi")
    [first, second] = cut.shape(0, 3)[0]
    assert (first.text, second.text) == ("दि", "न")
    assert (first.owner, second.owner) == (0, 1)


def test_controls_order_the_text_and_leave_no_glyph():
    assert ours("\u2066a\u2060b\u2069\u200b", "en") == ours("ab", "en")
    assert ours("Verb\u00adand", "de") == ours("Verband", "de")


def test_no_digit_of_any_line_is_lost():
    for language in LINES:
        if language in ("zh-Hans", "zh-Hant", "ja", "ko"):
            continue
        text = unicodedata.normalize("NFC", LINES[language])
        items, _ = paragraph(text, language).shape(0, len(text))
        shown = "".join(item.text for item in items)
        assert [c for c in shown if c.isdigit()].count("5") == 3, language
        assert sum(c.isdigit() for c in shown) == sum(c.isdigit() for c in text)
        for item in items:
            for glyph in item.glyphs:
                if item.text[glyph.cluster].isdigit():
                    assert glyph.number != 0
                    assert glyph.advance > 400, language  # a digit of Noto Sans is 572 wide


def test_a_number_in_an_isolate_is_printed_from_left_to_right():
    for language in ("ar", "fa", "ur", "he"):
        text = unicodedata.normalize("NFC", LINES[language])
        items, _ = paragraph(text, language).shape(0, len(text))
        shown = "".join(item.text for item in items if not item.rtl).replace("\u00a0", " ")
        assert "+1 802-555-0142" in shown


@pytest.mark.parametrize(
    ("character", "script"),
    [
        ("a", "Latn"),
        ("Ł", "Latn"),
        ("Ж", "Cyrl"),
        ("ש", "Hebr"),
        ("ض", "Arab"),
        ("۴", "Arab"),
        ("ह", "Deva"),
        ("ਪ", "Guru"),
        ("ก", "Thai"),
        ("붕", "Hang"),
        ("骨", "Hani"),
        ("あ", "Hira"),
        ("ア", "Kana"),
        (" ", None),
        ("5", None),
        ("\u0301", None),
        ("\u02bc", None),
        ("،", None),
        ("±", None),
        ("ሰ", "Zyyy"),  # Ethiopic, which no font of ours prints
    ],
)
def test_scripts_are_those_of_unicodes_scripts_file(character, script):
    assert script_of(character) == script
