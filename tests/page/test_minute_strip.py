"""The minutes of a pressure bandage stand in order and end in the dark cell."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.page.lettering import TooNarrow
from generator.page.minute_strip import MinuteStrip, Moment, draw_minute_strip
from generator.page.paths import Label, Path

MOMENTS = st.lists(
    st.builds(
        Moment,
        clock=st.sampled_from(("14:05", "2:05 p.m.")),
        words=st.sampled_from(("On", "Toes", "Release and look", "Zehen ansehen, Verband lockern")),
        after=st.sampled_from(("", "5 min", "15 min")),
        kind=st.sampled_from((None, "on", "release", "removal")),
        boxes=st.integers(0, 2),
    ),
    min_size=2,
    max_size=14,
).map(tuple)


def strip(moments, **rest):
    return MinuteStrip(moments=moments, title="Minutes", **rest)


@settings(max_examples=60, deadline=None)
@given(MOMENTS, st.sampled_from((504.0, 300.0, 160.0)), st.sampled_from((12.0, 14.0)), st.booleans())
def test_labels_keep_apart_and_inside(measure, faults, moments, width, size, from_right):
    spec = strip(moments, size=size, from_right=from_right)
    assert faults(draw_minute_strip(spec, width, measure)) == []


@settings(max_examples=40, deadline=None)
@given(MOMENTS)
def test_one_cell_a_moment_the_last_one_dark_and_a_box_for_each_act(measure, moments):
    picture = draw_minute_strip(strip(moments), 504, measure)
    paths = [operation for operation in picture.operations if isinstance(operation, Path)]
    grounds = [path.fill for path in paths if path.width == 0.8]
    assert [fill == "leaf" for fill in grounds] == [False] * (len(moments) - 1) + [True]
    ticks = [path for path in paths if (path.fill, path.width) == ("white", 1.1)]
    assert len(ticks) == sum(moment.boxes for moment in moments)
    clocks = [op.text for op in picture.operations if isinstance(op, Label) and op.size == 12 * 1.3]
    assert clocks == [moment.clock for moment in moments]


def test_the_alternative_reads_as_a_list_of_times(measure):
    moments = (
        Moment(clock="14:00", words="On"),
        Moment(clock="14:15", words="Release", after="15 min"),
        Moment(clock="14:20", words="Off"),
    )
    said = draw_minute_strip(strip(moments), 400, measure).alternative
    assert said == "Minutes. 14:00 On; 14:15 Release (15 min); 14:20 Off"


def test_one_moment_is_no_strip():
    with pytest.raises(ValueError, match="a start and an end"):
        strip((Moment(clock="14:00", words="On"),))


def test_a_word_wider_than_the_strip_is_named(measure):
    moments = (Moment(clock="14:00", words="On"), Moment(clock="14:20", words="Bandagenabnahme"))
    with pytest.raises(TooNarrow) as caught:
        draw_minute_strip(strip(moments), 60, measure)
    assert caught.value.text == "Bandagenabnahme"
