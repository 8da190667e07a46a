"""Dots go down in order, apart from one another, below the cut face."""

from __future__ import annotations

from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.page.leaders import anchors


def test_a_dot_lies_level_with_its_label_where_its_ring_reaches_so_far():
    dots = anchors([100, 110, 120], [10, 40, 70], 5)
    assert [y for _, y in dots] == [-10, -40, -70]
    # On its ring, about a centre at x = 5: Pythagoras.
    assert dots[0][0] == pytest.approx(5 + (100**2 - 10**2) ** 0.5)


def test_dots_of_thin_layers_keep_apart_where_all_labels_stand_lower():
    heights = [y for _, y in anchors([100, 102, 104], [150, 200, 250], 0)]
    assert all(above - below >= 5 for above, below in pairwise(heights))


def test_dots_crowded_in_a_small_limb_still_lie_below_the_cut_face():
    heights = [y for _, y in anchors([10, 11, 12, 13], [8, 30, 60, 90], 0)]
    assert heights[0] <= -2
    assert all(above - below > 1 for above, below in pairwise(heights))


@given(st.lists(st.floats(2, 30), min_size=1, max_size=8), st.lists(st.floats(12, 50), min_size=8, max_size=8))
def test_every_dot_lies_on_its_ring_and_no_lower_than_its_label(steps, gaps):
    radii = [10 + sum(steps[: n + 1]) for n in range(len(steps))]
    levels = [sum(gaps[: n + 1]) for n in range(len(steps))]
    for (x, y), radius, level in zip(anchors(radii, levels, 0), radii, levels, strict=True):
        assert hypot(x, y) == pytest.approx(radius)
        assert -level <= y < 0 < x
