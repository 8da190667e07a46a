"""Outlines are where geometry says they are."""

from __future__ import annotations

import itertools
from math import dist, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.page.shapes import (
    arc,
    circle,
    extent,
    flattened,
    line,
    mapped,
    moved,
    rectangle,
    smooth,
    turned,
)


def test_a_circle_stays_within_three_hundredths_of_a_percent_of_its_radius():
    # Known bound of the four-curve circle: 2.7e-4 of the radius.
    for x, y in flattened(circle(3, 4, 10), 40):
        assert hypot(x - 3, y - 4) == pytest.approx(10, rel=2.8e-4)


@given(st.floats(-360, 360), st.floats(5, 359))
def test_an_arc_keeps_its_radius_and_its_ends(start, sweep):
    points = flattened(arc(0, 0, 7, start, start + sweep), 10)
    assert all(hypot(x, y) == pytest.approx(7, rel=1e-3) for x, y in points)
    assert points[0] == pytest.approx(turned_point(start), abs=1e-6)
    assert points[-1] == pytest.approx(turned_point(start + sweep), abs=1e-6)


def turned_point(degrees):
    ((_, x, y),) = turned((("M", 7.0, 0.0),), degrees)
    return x, y


def test_turning_by_a_quarter_sends_right_to_up():
    ((_, x, y),) = turned((("M", 1.0, 0.0),), 90)
    assert (x, y) == pytest.approx((0, 1))


@given(
    st.lists(st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=3, max_size=12, unique=True),
    st.booleans(),
)
def test_a_smooth_curve_goes_through_every_point_given(points, closed):
    ends = [(segment[-2], segment[-1]) for segment in smooth(points, closed=closed) if len(segment) > 1]
    wanted = [*points, points[0]] if closed else points
    assert ends == wanted


def test_a_corner_turns_sharply_and_other_points_do_not():
    points = [(0, 0), (10, 0), (10, 10), (0, 10)]
    soft, sharp = smooth(points), smooth(points, corners=(1,))

    def handles(segments):
        _, _, _, x2, y2, x, y = segments[1]
        _, x1, y1, *_ = segments[2]
        return (x - x2, y - y2), (x1 - x, y1 - y)

    (ax, ay), (bx, by) = handles(soft)
    assert ax * by == pytest.approx(ay * bx)  # in line
    (ax, ay), (bx, by) = handles(sharp)
    assert ax * bx + ay * by == pytest.approx(0)  # at right angles, along the sides


def test_extent_and_moving_agree():
    assert extent(moved(rectangle(0, 0, 4, 2), 10, 20)) == (10, 20, 14, 22)
    assert extent(mapped(line((1, 1), (2, 3)), -1, 0, 0, 1, 0, 0)) == (-2, 1, -1, 3)


@given(st.floats(1, 50), st.floats(1, 50), st.floats(0, 60))
def test_a_rounded_box_keeps_its_sides_whatever_the_radius(width, height, radius):
    assert extent(rectangle(0, 0, width, height, radius)) == pytest.approx((0, 0, width, height))


def test_a_flattened_line_keeps_its_length():
    points = flattened(line((0, 0), (3, 4), (3, 10)))
    assert sum(dist(a, b) for a, b in itertools.pairwise(points)) == pytest.approx(11)
