"""The strip shows every day to the deadline, and its boxes are the checks."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.page.day_strip import Day, DayStrip, draw_day_strip, rows
from generator.page.lettering import TooNarrow
from generator.page.marks import Visit, mark, tick_box
from generator.page.paths import Label, Path

WEEK = ("Sat", "Sun", "Mon", "Tue", "Wed", "Thu", "Fri")
BOX = tick_box(0, 0, 12)

VISITS = st.lists(
    st.builds(
        Visit,
        kind=st.sampled_from(("check", "change", "removal")),
        words=st.sampled_from(("First check", "Change", "Comes off", "Premier contrôle du pansement")),
        when=st.sampled_from(("", "10:00", "Sun 14 March, by 11:30, at Millrace. We are closed.")),
    ),
    max_size=2,
).map(tuple)


@st.composite
def strips(draw):
    count = draw(st.integers(1, 43))
    first = draw(st.integers(1, 31))
    days = []
    for index in range(count):
        number = (first + index - 1) % 31 + 1
        days.append(
            Day(
                weekday=WEEK[index % 7],
                number=str(number),
                month=draw(st.sampled_from(("March", "September"))) if index == 0 or number == 1 else "",
                boxes=draw(st.integers(0, 6)),
                visits=draw(VISITS) if index < 3 or index == count - 1 else (),
                clocks="Clocks go forward" if index == 1 else "",
            )
        )
    return DayStrip(
        days=tuple(days),
        title="This week",
        tick_words="Tick each toe check.",
        size=draw(st.sampled_from((12.0, 14.0))),
        from_right=draw(st.booleans()),
    )


def cells(picture):
    """The grounds of the days, in order of painting."""
    return [
        operation
        for operation in picture.operations
        if isinstance(operation, Path)
        and operation.fill in ("leaf", "leaf-soft", "leaf-pale")
        and operation.width == 0.8
    ]


def boxes_to_tick(picture):
    """White, edged, square and not one of the key's."""
    return [
        operation
        for operation in picture.operations
        if isinstance(operation, Path)
        and (operation.fill, operation.stroke, operation.width) == (BOX.fill, BOX.stroke, BOX.width)
    ]


@settings(max_examples=60, deadline=None)
@given(strips(), st.sampled_from((504.0, 420.0, 300.0)))
def test_boxes_are_the_checks_and_one_more_explains_them(measure, spec, width):
    picture = draw_day_strip(spec, width, measure)
    assert len(boxes_to_tick(picture)) == sum(day.boxes for day in spec.days) + 1
    assert len(cells(picture)) == len(spec.days)


@settings(max_examples=60, deadline=None)
@given(strips(), st.sampled_from((504.0, 420.0, 300.0)))
def test_no_label_runs_into_another_or_out_of_the_picture(measure, faults, spec, width):
    assert faults(draw_day_strip(spec, width, measure)) == []


@settings(max_examples=40, deadline=None)
@given(strips())
def test_only_the_last_day_is_dark_and_its_words_are_white(measure, box, spec):
    picture = draw_day_strip(spec, 504, measure)
    grounds = cells(picture)
    assert [ground.fill == "leaf" for ground in grounds] == [False] * (len(grounds) - 1) + [True]
    left, bottom, right, top = box(grounds[-1])
    inside = [
        operation
        for operation in picture.operations
        if isinstance(operation, Label) and left <= operation.x <= right and bottom <= operation.y <= top
    ]
    assert [label.text for label in inside] == [spec.days[-1].weekday, spec.days[-1].number]
    assert {label.colour for label in inside} == {"white"}


@settings(max_examples=40, deadline=None)
@given(strips(), st.sampled_from((504.0, 300.0)))
def test_every_box_lies_in_the_cell_of_its_day_clear_of_words(measure, box, spec, width):
    picture = draw_day_strip(spec, width, measure)
    grounds = [box(ground) for ground in cells(picture)]
    words = [box(label) for label in picture.operations if isinstance(label, Label)]
    counts = [0] * len(grounds)
    for tick in boxes_to_tick(picture):
        left, bottom, right, top = box(tick)
        for index, (l2, b2, r2, t2) in enumerate(grounds):
            if l2 <= left and right <= r2 and b2 <= bottom and top <= t2:
                counts[index] += 1
        for l2, b2, r2, t2 in words:
            assert min(right, r2) <= max(left, l2) or min(top, t2) <= max(bottom, b2)
    assert counts == [day.boxes for day in spec.days]


@settings(max_examples=40, deadline=None)
@given(strips(), st.sampled_from((504.0, 300.0)))
def test_cells_keep_apart(measure, box, spec, width):
    grounds = [box(ground) for ground in cells(draw_day_strip(spec, width, measure))]
    for one, other in combinations(grounds, 2):
        is_beside = one[2] <= other[0] + 1e-6 or other[2] <= one[0] + 1e-6
        assert is_beside or one[3] <= other[1] + 1e-6 or other[3] <= one[1] + 1e-6


def test_a_month_that_changes_on_the_second_day_stands_clear_of_the_first(measure, faults, box):
    days = (
        Day(weekday="Thu", number="30", month="September"),
        Day(weekday="Fri", number="1", month="October"),
        *(Day(weekday="Sat", number=str(number)) for number in range(2, 8)),
    )
    picture = draw_day_strip(DayStrip(days=days, title="x", size=14), 420, measure)
    assert faults(picture) == []
    first, second = (next(op for op in picture.operations if getattr(op, "text", "") == day.month) for day in days[:2])
    grounds = cells(picture)
    assert first.x == pytest.approx(box(grounds[0])[0], abs=2)
    assert second.x == pytest.approx(box(grounds[1])[0], abs=2)


def test_two_weeks_and_a_day_make_two_rows_not_three():
    # Put on and opened on the same weekday: the deadline must not stand alone.
    assert rows(15) == (8, 7)
    assert rows(22) == (8, 7, 7)


@given(st.integers(1, 60))
def test_rows_hold_every_day_and_never_more_than_eight(count):
    split = rows(count)
    assert sum(split) == count
    assert max(split) <= 8
    assert count == 1 or split[-1] > 1 or count % 7 == 1


def test_a_mark_is_told_by_its_shape_in_any_colour():
    kinds = ("on", "check", "change", "release", "removal", "clocks", "tick")
    shapes = {tuple(path.segments for path in mark(kind, 0, 0, 12)) for kind in kinds}
    assert len(shapes) == len(kinds)


def test_the_alternative_says_each_visit_and_the_deadline(measure):
    spec = DayStrip(
        days=(
            Day(weekday="Sat", number="13", month="March", visits=(Visit(kind="on", words="Bandage on", when="10:30"),)),
            Day(weekday="Sun", number="14", clocks="Clocks go forward"),
            Day(weekday="Mon", number="15", boxes=2),
            Day(weekday="Tue", number="16", visits=(Visit(kind="change", words="Change", when="10:00"),)),
        ),
        title="This week",
    )  # fmt: skip
    said = draw_day_strip(spec, 400, measure).alternative
    assert said == (
        "This week. Sat 13 March: Bandage on 10:30. Sun 14 March: Clocks go forward. Tue 16 March: Change 10:00"
    )


def test_from_the_right_the_first_day_stands_at_the_right(measure, box):
    days = tuple(Day(weekday=name, number=str(13 + i)) for i, name in enumerate(WEEK))
    first, *_, last = cells(draw_day_strip(DayStrip(days=days, title="x", from_right=True), 400, measure))
    assert box(first)[2] == pytest.approx(400, abs=1)
    assert box(last)[0] == pytest.approx(0, abs=1)


def test_clocks_and_what_goes_round_like_them_are_not_mirrored(measure):
    # Unicode Standard Annex 9 turns text, not pictures; a clock's hands in a mirror show another hour.
    def shape(kind, from_right):
        days = (Day(weekday="Sat", number="13", visits=(Visit(kind=kind, words="x"),)),)
        clocks = (replace(days[0], visits=(), clocks="x"),) if kind == "clocks" else days
        picture = draw_day_strip(DayStrip(days=clocks, title="x", from_right=from_right), 200, measure)
        paths = [op for op in picture.operations if isinstance(op, Path)][-2:]
        start = paths[0].segments[0][1]
        return [tuple(round(v - start, 6) for v in step[1::2]) for path in paths for step in path.segments]

    for kind in ("clocks", "change"):
        assert shape(kind, True) == shape(kind, False)
    assert shape("removal", True) != shape("removal", False)


def test_a_weekday_wider_than_the_strip_is_named(measure):
    with pytest.raises(TooNarrow) as caught:
        draw_day_strip(DayStrip(days=(Day(weekday="Donnerstag", number="1"),), title="x"), 40, measure)
    assert caught.value.text == "Donnerstag"


def test_a_strip_without_days_is_refused():
    with pytest.raises(ValueError, match="without days"):
        DayStrip(days=(), title="x")
