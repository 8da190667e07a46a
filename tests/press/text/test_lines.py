from __future__ import annotations

import unicodedata
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.press.text.lines import break_lines
from generator.press.text.runs import Piece, prepare
from generator.press.text.script import CONTROLS, is_mark

from .lines import CJK, LINES


def broken(text: str, language: str, points: float, size: float = 12.0):
    paragraph = prepare((Piece(text, False, language),), language)
    return paragraph, break_lines(paragraph, points * 1000 / size)


def check(text: str, language: str, points: float) -> None:
    paragraph, lines = broken(text, language, points)
    assert "".join(paragraph.text[line.start : line.after] for line in lines) == paragraph.text
    for line in lines:
        lost = paragraph.text[line.stop : line.after]
        assert all(character.isspace() or character in CONTROLS for character in lost)
        width = paragraph.shape(line.start, line.stop)[1] * 12 / 1000
        visible = [c for c in paragraph.text[line.start : line.stop] if c not in CONTROLS and not is_mark(c)]
        assert width <= points + 0.01 or len(visible) <= 2, paragraph.text[line.start : line.stop]
        if line.start < line.stop:
            assert not unicodedata.combining(paragraph.text[line.start])


@pytest.mark.parametrize("language", [language for language in LINES if language not in CJK])
def test_at_any_width_no_text_is_lost_and_no_line_is_wider_than_its_measure(language):
    for points in range(24, 424, 40):
        check(LINES[language], language, points)


@pytest.mark.parametrize("language", CJK)
def test_east_asian_lines_keep_the_measure_and_do_not_start_with_closing_signs(language):
    pytest.importorskip("justmytype_intl_cjk")
    pytest.importorskip("uniseg")
    for points in (60, 140, 300):
        check(LINES[language], language, points)
        paragraph, lines = broken(LINES[language], language, points)
        # JIS X 4051 and its Chinese kin: no line begins with these.
        assert not {paragraph.text[line.start] for line in lines} & set("、。，：」”）)!?")


@settings(max_examples=60, deadline=None)
@given(
    words=st.lists(st.text(alphabet="abiWm-.@é5 ", min_size=1, max_size=45), min_size=1, max_size=8),
    points=st.integers(min_value=20, max_value=300),
)
def test_random_words_are_neither_lost_nor_wider_than_the_measure(words, points):
    check(" ".join(words), "en", points)


def test_lines_are_as_full_as_they_will_go():
    paragraph, lines = broken("one two three four five six seven eight nine ten " * 3, "en", 120)
    for line, following in pairwise(lines):
        end = paragraph.text.find(" ", following.start)
        assert paragraph.shape(line.start, end)[1] * 12 / 1000 > 120


def test_a_forty_letter_name_stays_in_its_box():
    name = "Wolframwilhelminamarmaladepumpernickelwww"
    paragraph, lines = broken(name, "en", 100)
    assert len(lines) > 1
    assert all(paragraph.shape(line.start, line.stop)[1] * 12 / 1000 <= 100.01 for line in lines)
    assert not any(line.spaced for line in lines)


def test_an_address_wider_than_its_column_parts_at_its_joints():
    paragraph, lines = broken("frontdesk@larkspur-bridge.example", "en", 110)
    pieces = [paragraph.text[line.start : line.stop] for line in lines]
    assert len(pieces) > 1
    assert all(piece[-1] in "@-." for piece in pieces[:-1])


def test_a_line_feed_ends_a_line_and_an_empty_line_stays():
    paragraph, lines = broken("one\n\ntwo", "en", 300)
    assert [paragraph.text[line.start : line.stop] for line in lines] == ["one", "", "two"]


def test_only_a_break_at_a_space_leaves_a_space():
    _, lines = broken("one two", "en", 30)
    assert [line.spaced for line in lines] == [True, False]
    _, lines = broken("two-handed", "en", 45)
    assert [line.spaced for line in lines] == [False, False]


def test_a_line_broken_after_a_sign_ends_with_a_space_of_another_face() -> None:
    # The face that has ≈ and arrows has no space.
    paragraph = prepare((Piece("12 ≈ 12.0004", False, "en"),), "en")
    items, _ = paragraph.shape(0, 4, trailing_space=True)
    assert "".join(item.text for item in items) == "12 ≈ "
    assert all(glyph.number for item in items for glyph in item.glyphs)
    assert items[-1].face is not items[-2].face


def test_isolates_and_joiners_are_no_letters_of_a_line():
    text = " ".join(["\u2066" + "abcd" + "\u2069"] * 14)  # fourteen words of four letters: 69 with their spaces
    made = prepare((Piece(text, False, "en"),), "en")
    assert len(break_lines(made, 1e6, most=70)) == 1
    assert len(break_lines(made, 1e6, most=68)) == 2
