from __future__ import annotations

import builtins
import re
from itertools import pairwise
from pathlib import Path

import pytest

from generator.press.text import MissingExtra, breaks

SAMPLE = Path(__file__).parent / "data" / "LineBreakTest-sample.txt"
# Debian package unicode-data, 15.0.0-1 when the sample was taken.
WHOLE = Path("/usr/share/unicode/auxiliary/LineBreakTest.txt")
# Turned into spaces or line feeds before breaks are looked for.
CONTROL_SPACES = set("\t\n\v\f\r\x85\u2028\u2029")


def cases(path: Path) -> list[tuple[str, set[int]]]:
    """Text and the places where UAX 14 lets a line break."""
    out = []
    for row in path.read_text(encoding="utf-8").splitlines():
        text, allowed = "", set()
        for part in row.split("#")[0].split():
            if part == "\u00f7":
                allowed.add(len(text))
            elif part != "\u00d7":
                text += chr(int(part, 16))
        if text and not CONTROL_SPACES & set(text):
            out.append((text, allowed))
    return out


def available() -> list[Path]:
    return [path for path in (SAMPLE, WHOLE) if path.exists()]


@pytest.mark.parametrize("path", available(), ids=lambda path: path.stem)
def test_no_line_breaks_where_uax_14_forbids_it(path):
    pytest.importorskip("uniseg")
    found = cases(path)
    assert len(found) > 900
    wrong = [(text, places) for text, allowed in found if (places := set(breaks.opportunities(text, "en")) - allowed)]
    assert wrong == []


def test_ideographs_break_exactly_where_uax_14_allows():
    pytest.importorskip("uniseg")
    found = [(text, allowed) for text, allowed in cases(SAMPLE) if re.search(breaks._IDEOGRAPHS, text)]
    assert len(found) > 50
    for text, allowed in found:
        inside = allowed - {0, len(text)}
        hangul = {i for i in inside if all(0xAC00 <= ord(c) < 0xD7A4 for c in text[i - 1 : i + 1])}
        assert set(breaks.opportunities(text, "ja")) >= inside - hangul, text


def test_words_part_at_spaces_and_hyphens_and_never_inside_numbers():
    def parts(text: str, language: str = "en") -> list[str]:
        places = [0, *breaks.opportunities(text, language), len(text)]
        return [text[a:b] for a, b in pairwise(places)]

    assert parts("a post-op check") == ["a ", "post-", "op ", "check"]
    assert parts("call 555-0142 or 2-4 h") == ["call ", "555-0142 ", "or ", "2-4 ", "h"]
    assert parts("at\u00a0802\u2060-\u2060555 now") == ["at\u00a0802\u2060-\u2060555 ", "now"]
    assert parts("Quoi ? Rien !", "fr") == ["Quoi ? ", "Rien !"]
    assert parts("leave ( this ) on") == ["leave ", "( this ) ", "on"]
    assert parts("keep 50 % on") == ["keep ", "50 % ", "on"]
    assert parts("one\ntwo three") == ["one\n", "two ", "three"]


def test_soft_hyphens_do_not_break_words():
    assert breaks.opportunities("Ver\u00adbands\u00adwechsel", "de") == []


def test_korean_breaks_at_spaces_only():
    assert breaks.opportunities("붕대를 건조하게", "ko") == [4]


def test_the_translators_marks_are_the_whole_truth_in_thai():
    text = "ผ้าพันแผล\u200bให้แห้ง\u200bอยู่เสมอ"
    assert breaks.opportunities(text, "th") == [10, 18]


def test_thai_without_marks_and_without_a_word_list_is_left_whole(monkeypatch):
    monkeypatch.setattr(breaks, "_thai_parser", lambda: None)
    breaks._thai_words.cache_clear()
    assert breaks.opportunities("รักษาผ้าพันแผลให้แห้ง", "th") == []
    breaks._thai_words.cache_clear()


def test_thai_words_are_found_where_the_word_list_is_installed():
    pytest.importorskip("budoux")
    breaks._thai_words.cache_clear()
    text = "รักษาผ้าพันแผลให้แห้งอยู่เสมอ"
    places = breaks.opportunities(text, "th")
    assert len(places) >= 3
    assert all(breaks._may_part(text, place) for place in places)


def test_a_thai_day_or_month_is_never_torn():
    pytest.importorskip("budoux")
    from babel import Locale  # CLDR

    breaks._thai_words.cache_clear()
    thai = Locale("th")
    for month in thai.months["format"]["wide"].values():
        for day in thai.days["format"]["wide"].values():
            text = f"ภายใน{day}ที่ 20 {month} ค.ศ. 2027"
            places = breaks.opportunities(text, "th")
            for word in (day, month):
                start = text.index(word)
                assert not [place for place in places if start < place < start + len(word)], (day, month)


def test_chinese_without_the_extra_says_what_to_install(monkeypatch):
    real = builtins.__import__

    def without(name, *args, **kwargs):
        if name.startswith("uniseg"):
            raise ImportError(name)
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", without)
    breaks._uax14.cache_clear()
    with pytest.raises(MissingExtra, match=r"gauzeleaf\[cjk\]"):
        breaks.opportunities("请保持绷带干燥", "zh-Hans")
    breaks._uax14.cache_clear()


def test_a_wide_word_parts_first_at_its_joints_then_between_letters_never_before_a_mark():
    address = "desk@larkspur.example"
    assert [address[place:] for place in breaks.joints(address, 0, len(address))] == [
        "larkspur.example",
        "example",
    ]
    assert breaks.cluster_starts("e\u0301a", 0, 3) == [2]
    assert breaks.cluster_starts("ก\u0e33ก", 0, 3) == [2]  # sara am belongs to its consonant
    assert 1 not in breaks.cluster_starts("क\u094dष", 0, 3)
    assert 2 not in breaks.cluster_starts("क\u094dष", 0, 3)
