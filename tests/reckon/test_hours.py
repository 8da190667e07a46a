"""The last bookable start: doors, closed days, the visit's own length."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.protocol.model import Hours, Opening
from generator.reckon.clock import later, located
from generator.reckon.hours import answers_in, is_open, last_slot
from tests.reckon.zones import zone

NEW_YORK = zone("America/New_York")
WEEK: Hours = {
    **{day: (Opening(time(8), time(12, 30)), Opening(time(14), time(18, 30))) for day in range(5)},
    5: (Opening(time(8, 30), time(13)),),
}
HALF_HOUR = 1800


def moment(text: str) -> datetime:
    return located(datetime.fromisoformat(text), NEW_YORK)


@pytest.mark.parametrize(
    ("opens", "due", "slot", "_why"),
    [
        ("2027-06-07T08:00", "2027-06-09T10:00", "2027-06-09T09:30", "ends as it is due"),
        ("2027-06-07T08:00", "2027-06-09T19:00", "2027-06-09T18:00", "ends as the door closes"),
        ("2027-06-07T08:00", "2027-06-09T13:15", "2027-06-09T12:00", "not over noon, when nobody is there"),
        ("2027-06-07T08:00", "2027-06-09T14:15", "2027-06-09T12:00", "fifteen minutes after noon are too few"),
        ("2027-06-07T08:00", "2027-06-09T08:20", "2027-06-08T18:00", "the evening before"),
        ("2027-06-11T08:00", "2027-06-13T20:00", "2027-06-12T12:30", "Sunday closed: Saturday"),
        ("2027-06-12T12:40", "2027-06-14T08:10", None, "from Saturday's last minutes to Monday's first: none"),
        ("2027-06-12T12:30", "2027-06-14T08:10", "2027-06-12T12:30", "the very last start"),
        ("2027-06-13T08:00", "2027-06-13T20:00", None, "all of it on a Sunday"),
        ("2027-05-28T18:01", "2027-05-31T18:30", "2027-05-29T12:30", "31 May closed: Saturday"),
    ],
)
def test_the_last_start(opens: str, due: str, slot: str | None, _why: str) -> None:
    got = last_slot(WEEK, frozenset({date(2027, 5, 31)}), HALF_HOUR, moment(opens), moment(due), NEW_YORK)
    assert got == (moment(slot) if slot else None)


def test_a_place_open_over_midnight_answers_on_both_sides() -> None:
    night: Hours = {day: (Opening(time(0), time(8)), Opening(time(18, 30), None)) for day in range(7)}
    assert answers_in(night, moment("2027-06-12T23:00"), moment("2027-06-13T01:00"), NEW_YORK)
    assert answers_in(night, moment("2027-06-12T07:59"), moment("2027-06-12T12:00"), NEW_YORK)
    assert not answers_in(night, moment("2027-06-12T08:00"), moment("2027-06-12T18:30"), NEW_YORK)
    assert answers_in(None, moment("2027-06-12T08:00"), moment("2027-06-12T08:01"), NEW_YORK)


CLOCKS = st.integers(6 * 4, 21 * 4).map(lambda quarter: time(quarter // 4, quarter % 4 * 15))


@st.composite
def weeks(draw: st.DrawFn) -> Hours:
    """Opening hours by day between six and ten at night; some days shut, some with a break."""
    week: dict[int, tuple[Opening, ...]] = {}
    for day in draw(st.sets(st.integers(0, 6), min_size=1)):
        ends = sorted(draw(st.sets(CLOCKS, min_size=2, max_size=4)))
        week[day] = tuple(Opening(a, b) for a, b in zip(ends[::2], ends[1::2], strict=False))
    return week


def stands_open(week: Hours, closed: frozenset[date], start: datetime, visit: int, there: str) -> bool:
    """By the clock on the wall, minute by minute: no function of the program is asked."""
    local = [(start.astimezone(UTC) + timedelta(minutes=n)).astimezone(zone(there)) for n in range(0, visit // 60 + 1)]
    day = local[0].date()
    if day in closed:
        return False
    return any(
        all(m.date() == day and o.opens <= m.time() <= (o.closes or time.max) for m in local)
        for o in week.get(day.weekday(), ())
    )


ZONES = st.sampled_from(
    ["America/New_York", "Europe/London", "America/Santiago", "Africa/Cairo", "Australia/Lord_Howe", "Asia/Kathmandu"]
)
MOMENTS = st.datetimes(min_value=datetime(2027, 3, 1), max_value=datetime(2027, 11, 20)).map(
    lambda m: m.replace(second=0, microsecond=0)
)


@given(
    weeks(),
    st.frozensets(st.dates(date(2027, 3, 1), date(2027, 11, 25)), max_size=6),
    ZONES,
    MOMENTS,
    st.integers(0, 60 * 72),
    st.integers(1, 16).map(lambda n: n * 300),
)
def test_a_slot_is_the_very_last_minute_that_will_do(
    week: Hours, closed: frozenset[date], there: str, typed: datetime, minutes: int, visit: int
) -> None:
    opens = located(typed, zone(there))
    due = later(opens, minutes * 60, zone(there))
    slot = last_slot(week, closed, visit, opens, due, zone(there))
    # Every fifth minute from the last possible one backwards, until one will do.
    trial = due.astimezone(UTC) - timedelta(seconds=visit)
    step = timedelta(minutes=5)
    while trial >= opens.astimezone(UTC) and not (
        stands_open(week, closed, trial, 0, there) and stands_open(week, closed, trial, visit, there)
    ):
        trial -= step
    found = trial if trial >= opens.astimezone(UTC) else None
    if slot is None:
        assert found is None
    else:
        assert slot >= opens
        assert later(slot, visit, zone(there)) <= due
        assert stands_open(week, closed, slot, visit, there)
        assert is_open(week, closed, slot, later(slot, visit, zone(there)), zone(there))
        assert found is None or slot.astimezone(UTC) >= found
        # And no later start fits, minute by minute over the next hour.
        for n in range(1, 61):
            at = slot.astimezone(UTC) + timedelta(minutes=n)
            assert at + timedelta(seconds=visit) > due.astimezone(UTC) or not stands_open(
                week, closed, at, visit, there
            )


@given(
    weeks(),
    st.frozensets(st.dates(date(2027, 3, 1), date(2027, 3, 20)), max_size=3),
    st.dates(date(2027, 3, 1), date(2027, 3, 20)),
    MOMENTS,
    st.integers(60, 60 * 96),
)
def test_closing_one_more_day_moves_a_slot_earlier_or_takes_it_away(
    week: Hours, closed: frozenset[date], day: date, typed: datetime, minutes: int
) -> None:
    opens = located(typed.replace(month=3, day=min(typed.day, 20)), NEW_YORK)
    due = later(opens, minutes * 60, NEW_YORK)
    before = last_slot(week, closed, HALF_HOUR, opens, due, NEW_YORK)
    after = last_slot(week, closed | {day}, HALF_HOUR, opens, due, NEW_YORK)
    assume(before is not None)
    assert before is not None
    assert after is None or after <= before
