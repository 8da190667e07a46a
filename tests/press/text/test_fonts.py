from __future__ import annotations

import hashlib
import json

import pytest
import uharfbuzz as hb

from generator.press.text import MissingGlyph, fonts, missing_glyphs

from .lines import CJK, LINES
from .sheet import block

RECORDS = json.loads((fonts.FOLDER / "fonts.json").read_text(encoding="utf-8"))


def test_every_shipped_font_is_the_one_that_was_recorded():
    shipped = {path.name for path in fonts.FOLDER.glob("*.ttf")}
    assert shipped == {record["file"] for record in RECORDS}
    for record in RECORDS:
        data = (fonts.FOLDER / record["file"]).read_bytes()
        assert hashlib.sha256(data).hexdigest() == record["sha256"], record["file"]
        assert len(data) == record["bytes"]


def test_every_family_ships_its_licence_and_its_source():
    for record in RECORDS:
        text = (fonts.FOLDER / f"OFL-{record['file'].split('-')[0]}.txt").read_text(encoding="utf-8")
        assert text.startswith(record["copyright"])
        assert "SIL OPEN FONT LICENSE Version 1.1" in text
        assert "Reserved Font Name" not in record["copyright"]
        for key in ("package", "package_version", "source_file", "source_sha256", "font_version"):
            assert record[key]


def test_fonts_are_static_outlines_so_that_no_reader_has_to_pick_a_weight():
    for record in RECORDS:
        face = hb.Face(hb.Blob.from_file_path(str(fonts.FOLDER / record["file"])))
        assert not face.axis_infos
        assert "glyf" in face.table_tags


# Alphabets from memory, as their schools teach them; plus the signs of the clinic's prose.
ALPHABETS = {
    "en": "ABCXYZ abcxyz 0123456789 ° × ÷ ± ½ ¼ ¾ – — • … “ ” ‘ ’ € £ ™ ≤ ≥ ≈ ≠ → ← ↑ ↓ \u00a0\u202f\u2011",
    "en-GB": "αβγδεζηθλμπρστφχψωΔΩΣ",
    "es": "ÁÉÍÓÚÜÑáéíóúüñ¿¡ªº«»",
    "fr": "ÀÂÆÇÉÈÊËÎÏÔŒÙÛÜŸàâæçéèêëîïôœùûüÿ«»",
    "pt-BR": "ÀÁÂÃÇÉÊÍÓÔÕÚàáâãçéêíóôõú",
    "ht": "ÈÒÀèòà",
    "de": "ÄÖÜẞäöüß„“",
    "pl": "ĄĆĘŁŃÓŚŹŻąćęłńóśźż",
    "ru": "АБВГДЕЁЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯабвгдеёжзийклмнопрстуфхцчшщъыьэюя№",
    "uk": "ҐЄІЇґєії\u02bc’",
    "vi": "ĂÂĐÊÔƠƯăâđêôơưẮẰẲẴẶấầẩẫậếềểễệốồổỗộớờởỡợứừửữựỳỵỷỹ₫",
    "fil": "ÑñÁÀÂáàâ₱",
    "so": "DHKHdhkh’",
    "ar": "ابتثجحخدذرزسشصضطظعغفقكلمنهويءآأؤإئةى ًٌٍَُِّْ ٠١٢٣٤٥٦٧٨٩ ،؛؟",
    "fa": "پچژگکی ۰۱۲۳۴۵۶۷۸۹ \u200c",
    "ur": "ٹڈڑںھہۂےۓ۔",
    "he": "אבגדהוזחטיכךלמםנןסעפףצץקרשת ְֱֲֳִֵֶַָֹֻּ ־ ׳ ״ ₪",
    "hi": "अआइईउऊऋएऐओऔकखगघङचछजझञटठडढणतथदधनपफबभमयरलवशषसह ०१२३४५६७८९ ।॥ ड़ ढ़ ₹",
    "pa": "ਅਆਇਈਉਊਏਐਓਔਕਖਗਘਙਚਛਜਝਞਟਠਡਢਣਤਥਦਧਨਪਫਬਭਮਯਰਲਵੜਸ਼ਖ਼ਗ਼ਜ਼ਫ਼ ੦੧੨੩੪੫੬੭੮੯ ੴ",
    "th": "กขฃคฅฆงจฉชซฌญฎฏฐฑฒณดตถทธนบปผฝพฟภมยรลวศษสหฬอฮ ๐๑๒๓๔๕๖๗๘๙ ฿ ๆ ฯ",
}


@pytest.mark.parametrize("language", ALPHABETS)
def test_the_whole_alphabet_is_there_in_both_weights(language):
    assert missing_glyphs(ALPHABETS[language], language) == ()


@pytest.mark.parametrize("language", [language for language in LINES if language not in CJK])
def test_the_sample_line_is_covered(language):
    assert missing_glyphs(LINES[language], language) == ()


def test_names_in_any_shipped_script_print_on_an_english_sheet():
    assert missing_glyphs("Żółw, Борис, שרה, ليلى, प्रीति, ਸਿੰਘ, สมชาย, Nguyễn", "en") == ()


def test_missing_glyphs_are_named_all_at_once():
    assert missing_glyphs("Keep dry \u2610 \U0001f43e ok", "en") == ("\u2610", "\U0001f43e")
    with pytest.raises(MissingGlyph) as caught:
        block("Keep dry \u2610 \U0001f43e \u12a0 ok")
    names = [name for _, name in caught.value.missing]
    assert names == ["ETHIOPIC SYLLABLE GLOTTAL A", "BALLOT BOX", "PAW PRINTS"]
    assert caught.value.language == "en"
    assert caught.value.extra is None
    assert "U+2610 BALLOT BOX" in str(caught.value)


def test_a_chinese_name_without_the_extra_says_which_extra_to_install(monkeypatch):
    from generator.press.text import runs

    monkeypatch.setattr(fonts, "_cjk_folder", lambda: None)
    fonts.family.cache_clear()
    fonts.faces.cache_clear()
    runs.prepare.cache_clear()
    try:
        with pytest.raises(MissingGlyph) as caught:
            runs.prepare((runs.Piece("Owner: 王小明", False, "en"),), "en")
    finally:
        fonts.family.cache_clear()
        fonts.faces.cache_clear()
        runs.prepare.cache_clear()
    assert caught.value.extra == "gauzeleaf[cjk]"
    assert [character for character, _ in caught.value.missing] == ["小", "明", "王"]
    assert "gauzeleaf[cjk]" in str(caught.value)


@pytest.mark.parametrize("language", CJK)
def test_east_asian_lines_are_covered_where_the_extra_is_installed(language):
    pytest.importorskip("justmytype_intl_cjk")
    pytest.importorskip("uniseg")
    assert missing_glyphs(LINES[language], language) == ()


@pytest.mark.parametrize("language", ["en", "ar", *CJK])
def test_a_name_in_the_ideographs_of_another_language_is_printed_on_its_sheets(language):
    # The Unicode Standard, Unihan: U+8FBA 辺 is of Japan, U+8FB9 边 simplified, U+908A 邊 traditional; 乭 U+4E6D of Korean names.
    pytest.importorskip("justmytype_intl_cjk")
    pytest.importorskip("uniseg")
    assert missing_glyphs("川辺みどり 林小边 林小邊 乭 한여울 ポチ", language) == ()


def test_shared_ideographs_get_the_letter_forms_of_their_language():
    assert fonts.family_for_language("zh-Hans") == "NotoSansSC"
    assert fonts.family_for_language("zh_Hant") == "NotoSansTC"
    assert fonts.family_for_language("zh-TW") == "NotoSansTC"
    assert fonts.candidates("Hani", "ja")[0] == "NotoSansJP"
    assert fonts.candidates("Hani", "ko")[0] == "NotoSansKR"
    assert fonts.candidates("Hani", "en")[0] == "NotoSansSC"
