"""Words break where they may, and lose nothing."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.page.lettering import TooNarrow, label_box, mirrored, wrapped
from generator.page.paths import Label, Path, Picture
from generator.page.shapes import line

WORDS = st.lists(st.text("abcdefgh", min_size=1, max_size=9), min_size=1, max_size=12).map(" ".join)


@given(WORDS, st.floats(60, 300))
def test_every_line_fits_and_together_they_are_the_text(measure, text, width):
    lines = wrapped(text, 10, width, measure)
    assert all(measure(part, 10, False) <= width for part in lines)
    assert " ".join(lines) == text


@given(WORDS, st.floats(60, 300))
def test_no_line_could_have_taken_the_next_word(measure, text, width):
    lines = wrapped(text, 10, width, measure)
    for before, after in itertools.pairwise(lines):
        assert measure(f"{before} {after.split(' ')[0]}", 10, False) > width


def test_a_number_and_its_unit_stay_together(measure):
    # 20 points take "in 5" but not "in 5 min": U+00A0 holds the pair.
    assert wrapped("in 5\u00a0min", 10, 36, measure) == ("in", "5\u00a0min")


def test_a_text_without_spaces_breaks_at_marked_places_only(measure):
    # Thai catalogues carry U+200B between words.
    assert wrapped("aaaa\u200bbbbb", 10, 30, measure) == ("aaaa", "bbbb")
    with pytest.raises(TooNarrow) as caught:
        wrapped("aaaabbbb", 10, 30, measure)
    assert caught.value.text == "aaaabbbb"


def test_chinese_breaks_between_characters_but_not_before_a_full_stop(measure):
    # JIS X 4051 (from memory): 。 may not begin a line.
    lines = wrapped("请看脚趾。", 10, 4 * 5.8, measure)
    assert "".join(lines) == "请看脚趾。"
    assert not any(part.startswith("。") for part in lines)
    assert len(lines) == 2


def test_mirroring_flips_outlines_and_swaps_anchors():
    picture = Picture(
        100, 10, (Path(line((10, 1), (20, 2))), Label("a", 10, 1, 5), Label("b", 50, 1, 5, anchor="middle")), "x"
    )
    path, start, middle = mirrored(picture).operations
    assert path.segments == (("M", 90, 1), ("L", 80, 2))
    assert (start.x, start.anchor, start.text) == (90, "end", "a")
    assert (middle.x, middle.anchor) == (50, "middle")
    assert mirrored(mirrored(picture)) == picture


def test_a_label_box_follows_its_anchor(measure):
    wide = measure("abc", 10, False)
    for anchor, left in (("start", 50), ("middle", 50 - wide / 2), ("end", 50 - wide)):
        assert label_box(Label("abc", 50, 20, 10, anchor=anchor), measure)[0] == pytest.approx(left)


def test_thai_without_marks_between_its_words_is_broken_rather_than_refused(measure):
    # "Middle toes together, the nails do not move apart": no spaces. Unicode Standard, 16.1: vowels written in front (เแโใไ)
    # belong to the letter after them; those behind, above and below to the one before.
    text = "นิ้วเท้ากลางอยู่ชิดกันเล็บไม่แยกออกจากกัน"
    lines = wrapped(text, 10, 60, measure, bold=True)
    assert "".join(lines) == text
    assert len(lines) > 2
    for part in lines:
        assert measure(part, 10, True) <= 60
        assert part[-1] not in "เแโใไ"
        assert not "\u0e30" <= part[0] <= "\u0e3a"
        assert not "\u0e45" <= part[0] <= "\u0e4e"
