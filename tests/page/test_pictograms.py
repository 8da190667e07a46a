"""One family: same frame, same pen, no words, no two alike."""

from __future__ import annotations

from itertools import combinations

import pytest

from generator.page.paths import Path
from generator.page.pictograms import PICTOGRAMS, draw_pictogram
from generator.page.tokens import COLOURS

BOTH = pytest.mark.parametrize("species", ["dog", "cat"])


@BOTH
@pytest.mark.parametrize("name", PICTOGRAMS)
def test_a_sign_is_a_square_of_outlines_inside_its_frame(faults, name, species):
    picture = draw_pictogram(name, 32, species=species)
    assert (picture.width, picture.height) == (32, 32)
    assert all(isinstance(op, Path) for op in picture.operations)
    assert faults(picture) == []
    assert {op.fill for op in picture.operations} | {op.stroke for op in picture.operations} <= {*COLOURS, None}


@BOTH
def test_no_two_signs_are_alike(species):
    for one, other in combinations(PICTOGRAMS, 2):
        assert (
            draw_pictogram(one, 32, species=species).operations != draw_pictogram(other, 32, species=species).operations
        )


@pytest.mark.parametrize("name", PICTOGRAMS)
def test_what_is_forbidden_is_struck_through_from_corner_to_corner_and_nothing_else_is(name):
    strikes = [
        op
        for op in draw_pictogram(name, 32).operations
        if op.stroke == "alarm" and len(op.segments) == 2 and abs(op.segments[1][1] - op.segments[0][1]) > 20
    ]
    assert len(strikes) == (1 if name.startswith("no-") else 0)


def test_a_sign_grows_with_its_pen():
    small, large = draw_pictogram("ring", 30), draw_pictogram("ring", 60)
    for one, other in zip(small.operations, large.operations, strict=True):
        assert other.width == pytest.approx(2 * one.width)
        for a, b in zip(one.segments, other.segments, strict=True):
            assert b[1:] == pytest.approx([2 * value for value in a[1:]])


def test_beside_its_words_a_sign_says_nothing_and_alone_it_says_what_it_is_told():
    assert draw_pictogram("cone", 30).alternative == ""
    assert draw_pictogram("cone", 30, "Keep the cone on").alternative == "Keep the cone on"
