"""Close is close, spread is spread, and grey tells them apart."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.page.lettering import TooNarrow
from generator.page.paths import Label, Path
from generator.page.toe_check import ToeCheck, draw_toe_check

CAPTIONS = st.sampled_from((
    "Right: together", "Wrong: apart", "Bien : les deux griffes du milieu se touchent", "Falsch: gespreizt",
))  # fmt: skip


def nails(picture):
    """Centres of the four nails, from left to right."""
    dark = [op for op in picture.operations if isinstance(op, Path) and op.fill == "ink"]
    centres = []
    for path in dark:
        tip = min(path.segments[:-1], key=lambda segment: segment[-1])
        centres.append((tip[-2], tip[-1]))
    return sorted(centres)


def test_wrong_nails_stand_three_times_as_far_apart_as_right_ones(measure):
    picture = draw_toe_check(ToeCheck(close="a", spread="b", alternative="x"), 300, measure)
    a, b, c, d = nails(picture)
    assert a[0] < b[0] < 150 < c[0] < d[0]
    assert d[0] - c[0] > 2.5 * (b[0] - a[0])


def test_the_wrong_way_is_told_without_colour(measure):
    # By more strokes (arrows, a cross of two strokes where the tick is one) and wider toes.
    picture = draw_toe_check(ToeCheck(close="a", spread="b", alternative="x"), 300, measure)
    halves = {False: 0, True: 0}
    for op in picture.operations:
        if isinstance(op, Path) and op.stroke and not op.fill:
            halves[op.segments[0][1] > 150] += 1
    assert halves[True] == halves[False] + 5


def test_from_the_right_the_right_way_stands_at_the_right(measure):
    picture = draw_toe_check(ToeCheck(close="good", spread="bad", alternative="x", from_right=True), 300, measure)
    good, bad = (
        next(op for op in picture.operations if isinstance(op, Label) and op.text == t) for t in ("good", "bad")
    )
    a, b, c, d = nails(picture)
    assert good.x > 150 > bad.x
    assert b[0] - a[0] > 2.5 * (d[0] - c[0])


@settings(max_examples=60, deadline=None)
@given(CAPTIONS, CAPTIONS, st.sampled_from((200.0, 260.0, 420.0)), st.sampled_from((12.0, 14.0)), st.booleans())
def test_captions_keep_apart_and_inside(measure, faults, close, spread, width, size, from_right):
    spec = ToeCheck(close=close, spread=spread, alternative="x", size=size, from_right=from_right)
    picture = draw_toe_check(spec, width, measure)
    assert faults(picture) == []
    words = " ".join(op.text for op in picture.operations if isinstance(op, Label))
    assert sorted(words.split()) == sorted(f"{close} {spread}".split())


def test_a_caption_wider_than_its_half_is_named(measure):
    with pytest.raises(TooNarrow) as caught:
        draw_toe_check(ToeCheck(close="Zusammenliegend", spread="b", alternative="x"), 100, measure)
    assert caught.value.text == "Zusammenliegend"


@pytest.mark.parametrize("from_right", [False, True])
def test_a_word_too_long_to_stand_beside_the_other_is_set_below_it(measure, faults, from_right):
    long = "Zusammenliegendekrallen: gut"
    spec = ToeCheck(close=long, spread="Falsch: auseinander", alternative="x", unit=20, from_right=from_right)
    picture = draw_toe_check(spec, 260, measure)
    assert faults(picture) == []
    labels = [op for op in picture.operations if isinstance(op, Label)]
    assert [op.text for op in labels] == ["Zusammenliegendekrallen:", "gut", "Falsch: auseinander"]
    assert [op.y for op in labels] == sorted((op.y for op in labels), reverse=True)
    with pytest.raises(TooNarrow):
        draw_toe_check(spec, 150, measure)


def test_a_tick_is_written_the_same_way_for_every_reader(measure):
    def tick(from_right):
        spec = ToeCheck(close="good", spread="bad", alternative="x", from_right=from_right)
        strokes = [
            op for op in draw_toe_check(spec, 300, measure).operations if isinstance(op, Path) and op.stroke == "white"
        ]
        (short, corner, long) = next(op.segments for op in strokes if len(op.segments) == 3)
        return [round(point[1] - corner[1], 6) for point in (short, long)]

    left, right = tick(False)
    assert left < 0 < right
    assert tick(True) == [left, right]
