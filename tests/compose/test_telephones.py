"""Every hour of the week has exactly one telephone."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.compose.telephones import WEEK, closed_days, lines
from generator.protocol.model import Clinic, Opening
from generator.source.problem import Refusal
from tests.compose.plans import book

MONDAY, SUNDAY = date(2027, 3, 8), date(2027, 3, 14)


def with_hours(hours: dict[int, tuple[Opening, ...]], answers: dict[int, tuple[Opening, ...]] | None = None) -> Clinic:
    clinic = book().clinic
    return replace(clinic, hours=hours, emergency_place=replace(clinic.emergency_place, answers=answers))


def test_each_of_168_hours_is_answered_once():
    found = lines(book().clinic, MONDAY, SUNDAY)
    for weekday in range(7):
        for hour in range(24):
            assert sum(line.answers(weekday, time(hour)) for line in found) == 1


@given(st.dictionaries(st.integers(0, 6), st.tuples(st.integers(0, 11), st.integers(12, 23)), max_size=7))
def test_no_minute_is_lost_or_doubled_whatever_the_hours(spans):
    hours = {day: (Opening(time(opens), time(closes, 30)),) for day, (opens, closes) in spans.items()}
    found = lines(with_hours(hours), MONDAY, SUNDAY)
    stretches = sorted(stretch for line in found for stretch in line.stretches)
    assert sum(end - start for start, end in stretches) == WEEK
    assert all(one[1] <= other[0] for one, other in itertools.pairwise(stretches))


def test_days_with_the_same_hours_stand_together():
    clinic = next(line for line in lines(book().clinic, MONDAY, SUNDAY) if line.is_clinic)
    assert [group.days for group in clinic.hours] == [(0, 1, 2, 3, 4), (5,)]


def test_an_hour_nobody_answers_is_refused():
    evening = {day: (Opening(time(18, 30), time(23, 0)),) for day in range(7)}
    office = {day: (Opening(time(8, 0), time(18, 30)),) for day in range(7)}
    with pytest.raises(Refusal) as stopped:
        lines(with_hours(office, evening), MONDAY, SUNDAY)
    (problem,) = stopped.value.problems
    assert problem.name == "hours-without-answer"
    assert "Monday at 00:00" in problem.what


def test_a_night_line_across_midnight_covers_the_night():
    office = {day: (Opening(time(8, 0), time(18, 30)),) for day in range(7)}
    night = {day: (Opening(time(18, 30), time(8, 0)),) for day in range(7)}
    assert len(lines(with_hours(office, night), MONDAY, SUNDAY)) == 2


def test_a_closed_day_on_the_sheet_needs_the_emergency_place_by_day_too():
    # 31 May 2027 is a Monday on which the demo clinic is closed.
    assert closed_days(book().clinic, date(2027, 5, 28), date(2027, 6, 1)) == (date(2027, 5, 31),)
    office = {day: (Opening(time(8, 0), time(18, 30)),) for day in range(7)}
    night = {day: (Opening(time(18, 30), time(8, 0)),) for day in range(7)}
    with pytest.raises(Refusal):
        lines(with_hours(office, night), date(2027, 5, 28), date(2027, 6, 1))
