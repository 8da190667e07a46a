"""A bandage follows its part, and its turns run from edge to edge."""

from __future__ import annotations

import itertools
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.page.wrap import tube, turns


def test_a_straight_tube_is_a_band_of_the_thickness_given(box):
    outline, one, other = tube(((0, 0, 2), (10, 0, 2), (20, 0, 2)))
    assert {round(y, 6) for _, y in one} == {2}
    assert {round(y, 6) for _, y in other} == {-2}
    assert (outline[0], outline[-1]) == (("M", 0, 2), ("Z",))


@given(st.lists(st.tuples(st.integers(-5, 5), st.integers(1, 6)), min_size=3, max_size=7), st.floats(2, 6))
def test_turns_share_their_ends_and_cover_the_whole_length(stations, pitch):
    axis = tuple((x, 12.0 * index, half) for index, (x, half) in enumerate(stations))
    _, one, other = tube(axis)
    made = turns(one, other, pitch)
    starts = [segments[0][1:] for segments in made]
    ends = [segments[1][1:] for segments in made]
    assert starts[0] == one[0]
    assert ends[-1] == other[-1]
    assert all(start in one and end in other for start, end in zip(starts, ends, strict=True))
    # Even turns: none more than twice the pitch beyond the next.
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(starts, ends, strict=True)]
    assert max((dist(a, b) for a, b in itertools.pairwise(middles)), default=0) < 3 * pitch + 2


def test_a_short_bandage_still_shows_two_turns():
    _, one, other = tube(((0, 0, 3), (1, 0, 3)))
    assert len(turns(one, other, 50)) == 2


def test_pairs_of_edge_points_lie_across_the_axis():
    _, one, other = tube(((0, 0, 1), (0, 10, 3), (0, 20, 1)))
    for a, b in zip(one, other, strict=True):
        assert (a[0] + b[0]) / 2 == pytest.approx(0)
        assert a[1] == pytest.approx(b[1])
