"""Clocks: changes of 2027, elapsed against wall time, gap and fold, whole days.

Instants of change: IANA tz database, release 2026f, scanned with `zdump -v -c 2027,2028` and a bisecting search; the two agree.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from importlib.metadata import version

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.quantity import Duration, Limit, limit, window
from generator.reckon.clock import at, end_of, fixed, later, located, months_later, opening_of, same_clock_time
from tests.reckon.zones import zone

CHANGES = [
    # zone, instant, last second before, first second after
    ("America/New_York", "2027-03-14T07:00:00Z", "2027-03-14T01:59:59-05:00", "2027-03-14T03:00:00-04:00"),
    ("America/New_York", "2027-11-07T06:00:00Z", "2027-11-07T01:59:59-04:00", "2027-11-07T01:00:00-05:00"),
    ("Europe/London", "2027-03-28T01:00:00Z", "2027-03-28T00:59:59+00:00", "2027-03-28T02:00:00+01:00"),
    ("Europe/London", "2027-10-31T01:00:00Z", "2027-10-31T01:59:59+01:00", "2027-10-31T01:00:00+00:00"),
    ("Europe/Paris", "2027-03-28T01:00:00Z", "2027-03-28T01:59:59+01:00", "2027-03-28T03:00:00+02:00"),
    ("Europe/Paris", "2027-10-31T01:00:00Z", "2027-10-31T02:59:59+02:00", "2027-10-31T02:00:00+01:00"),
    ("Australia/Sydney", "2027-04-03T16:00:00Z", "2027-04-04T02:59:59+11:00", "2027-04-04T02:00:00+10:00"),
    ("Australia/Sydney", "2027-10-02T16:00:00Z", "2027-10-03T01:59:59+10:00", "2027-10-03T03:00:00+11:00"),
    ("Australia/Lord_Howe", "2027-04-03T15:00:00Z", "2027-04-04T01:59:59+11:00", "2027-04-04T01:30:00+10:30"),
    ("Australia/Lord_Howe", "2027-10-02T15:30:00Z", "2027-10-03T01:59:59+10:30", "2027-10-03T02:30:00+11:00"),
    ("America/Santiago", "2027-04-04T03:00:00Z", "2027-04-03T23:59:59-03:00", "2027-04-03T23:00:00-04:00"),
    ("America/Santiago", "2027-09-05T04:00:00Z", "2027-09-04T23:59:59-04:00", "2027-09-05T01:00:00-03:00"),
    ("Africa/Cairo", "2027-04-29T22:00:00Z", "2027-04-29T23:59:59+02:00", "2027-04-30T01:00:00+03:00"),
    ("Africa/Cairo", "2027-10-28T21:00:00Z", "2027-10-28T23:59:59+03:00", "2027-10-28T23:00:00+02:00"),
]
STEADY = {
    "America/Phoenix": -420, "Asia/Tokyo": 540, "Asia/Kolkata": 330, "Asia/Kathmandu": 345, "America/Sao_Paulo": -180, "Europe/Moscow": 180,
    "Asia/Tehran": 210, "America/Mexico_City": -360, "America/Asuncion": -180, "Pacific/Apia": 780, "America/Vancouver": -420, "Africa/Casablanca": 0,
}  # fmt: skip


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


@pytest.mark.parametrize(
    ("name", "instant", "before", "after"), CHANGES, ids=[f"{row[0]} {row[1][:10]}" for row in CHANGES]
)
def test_the_clocks_change_at_the_instant_of_the_tz_database(name: str, instant: str, before: str, after: str) -> None:
    there = zone(name)
    last, first = moment(instant) - timedelta(seconds=1), moment(instant)
    assert fixed(last, there).isoformat() == before
    assert fixed(first, there).isoformat() == after
    assert later(fixed(last, there), 1, there).isoformat() == after, "a second later is a second later"


@pytest.mark.parametrize(("name", "minutes"), STEADY.items())
def test_zones_without_a_change_in_2027_keep_their_offset(name: str, minutes: int) -> None:
    # Vancouver and Casablanca: new law, in tz release 2026b and later; an older copy still changes them.
    assert version("tzdata") >= "2026.2"
    for month in range(1, 13):
        assert fixed(datetime(2027, month, 15, tzinfo=UTC), zone(name)).utcoffset() == timedelta(minutes=minutes)


ELAPSED = [
    # zone, start by the clock, hours, end by the clock, and in UTC
    ("America/New_York", "2027-03-13T18:00", 12, "2027-03-14T07:00", "2027-03-14T11:00Z"),
    ("America/New_York", "2027-03-13T18:00", 24, "2027-03-14T19:00", "2027-03-14T23:00Z"),
    ("America/New_York", "2027-11-06T18:00", 12, "2027-11-07T05:00", "2027-11-07T10:00Z"),
    ("America/New_York", "2027-11-06T18:00", 24, "2027-11-07T17:00", "2027-11-07T22:00Z"),
    ("Europe/London", "2027-03-27T18:00", 24, "2027-03-28T19:00", "2027-03-28T18:00Z"),
    ("Europe/London", "2027-10-30T18:00", 24, "2027-10-31T17:00", "2027-10-31T17:00Z"),
]


@pytest.mark.parametrize(
    ("name", "start", "hours", "clock", "utc"), ELAPSED, ids=[f"{r[1]} + {r[2]} h" for r in ELAPSED]
)
def test_hours_elapse_across_a_change(name: str, start: str, hours: int, clock: str, utc: str) -> None:
    there = zone(name)
    began = located(moment(start), there)
    for end in (
        later(began, hours * 3600, there),
        end_of(began, limit(f"{hours} h"), there),
        opening_of(began, limit(f"{hours} h"), there),
    ):
        assert end == moment(utc)
        assert end.replace(tzinfo=None) == moment(clock)
    wrong = datetime(began.year, began.month, began.day, began.hour, tzinfo=there) + timedelta(hours=hours)
    assert wrong.astimezone(UTC) != moment(utc), "Python's own sum moves the hands of the clock"


GAPS_AND_FOLDS = [
    # RFC 5545, 3.3.5, with its own two examples of 2007; the others by the same rule
    ("America/New_York", "2007-11-04T01:30", "2007-11-04T05:30Z", "2007-11-04T01:30-04:00"),
    ("America/New_York", "2007-03-11T02:30", "2007-03-11T07:30Z", "2007-03-11T03:30-04:00"),
    ("America/New_York", "2027-03-14T02:30", "2027-03-14T07:30Z", "2027-03-14T03:30-04:00"),
    ("America/New_York", "2027-11-07T01:30", "2027-11-07T05:30Z", "2027-11-07T01:30-04:00"),
    ("Europe/London", "2027-03-28T01:30", "2027-03-28T01:30Z", "2027-03-28T02:30+01:00"),
    ("Europe/London", "2027-10-31T01:30", "2027-10-31T00:30Z", "2027-10-31T01:30+01:00"),
    ("America/Santiago", "2027-09-05T00:30", "2027-09-05T04:30Z", "2027-09-05T01:30-03:00"),
    ("America/Santiago", "2027-04-03T23:30", "2027-04-04T02:30Z", "2027-04-03T23:30-03:00"),
    ("Australia/Lord_Howe", "2027-10-03T02:15", "2027-10-02T15:45Z", "2027-10-03T02:45+11:00"),
]


@pytest.mark.parametrize(
    ("name", "typed", "utc", "shown"), GAPS_AND_FOLDS, ids=[f"{r[0]} {r[1]}" for r in GAPS_AND_FOLDS]
)
def test_a_skipped_time_is_read_by_the_offset_before_and_a_repeated_one_is_its_first(
    name: str, typed: str, utc: str, shown: str
) -> None:
    got = located(moment(typed), zone(name))
    assert got == moment(utc)
    assert got.isoformat() == moment(shown).isoformat(), "a skipped time is printed as the time the clock really showed"


def test_two_moments_of_the_repeated_hour_are_told_apart() -> None:
    there = zone("America/New_York")
    first = located(moment("2027-11-07T01:50"), there)
    second = later(first, 15 * 60, there)
    assert second.isoformat(timespec="minutes") == "2027-11-07T01:05-05:00"
    assert second > first, "the clock shows an earlier time, and it is later"


WHOLE_DAYS = [
    # House rule: a whole day ends at the same clock time or after the same elapsed time, whichever is sooner.
    ("2027-03-13T10:30", "1 d", "2027-03-14T10:30-04:00", "spring: the clock is sooner, 23 h"),
    ("2027-11-06T10:30", "1 d", "2027-11-07T09:30-05:00", "autumn: 24 h are sooner than the clock"),
    ("2027-03-13T10:30", "7 d", "2027-03-20T10:30-04:00", "a week over the spring change"),
    ("2027-03-13T10:30", "2 wk", "2027-03-27T10:30-04:00", "two weeks over it"),
    ("2027-11-07T01:30", "7 d", "2027-11-14T00:30-05:00", "from the first of the repeated times"),
    ("2027-03-07T02:30", "7 d", "2027-03-14T03:30-04:00", "ends at a skipped clock time: shown as it really was"),
    ("2027-06-01T08:00", "3 d", "2027-06-04T08:00-04:00", "no change: both are the same"),
]


@pytest.mark.parametrize(("start", "length", "end", "_why"), WHOLE_DAYS, ids=[r[3] for r in WHOLE_DAYS])
def test_whole_days_end_at_the_clock_or_elapsed_whichever_is_sooner(
    start: str, length: str, end: str, _why: str
) -> None:
    there = zone("America/New_York")
    assert end_of(located(moment(start), there), limit(length), there).isoformat(timespec="minutes") == end


def test_the_start_of_a_window_of_days_is_the_same_clock_time() -> None:
    there = zone("America/New_York")
    lower = window("1 d to 7 d").lower
    assert lower is not None
    opens = opening_of(located(moment("2027-11-06T10:30"), there), lower, there)
    assert opens.isoformat(timespec="minutes") == "2027-11-07T10:30-05:00"


def test_seven_days_and_167_hours_end_by_whichever_is_first_on_the_day() -> None:
    there = zone("America/New_York")
    both = limit("7 d").join(limit("167 h"))
    # Spring: seven days are 167 h by the clock. Without a change 167 h are an hour sooner.
    for start, end in (("2027-03-13T10:30", "2027-03-20T10:30-04:00"), ("2027-06-01T10:30", "2027-06-08T09:30-04:00")):
        assert end_of(located(moment(start), there), both, there).isoformat(timespec="minutes") == end


@pytest.mark.parametrize(
    ("born", "months", "day"),
    [
        (date(2026, 8, 31), 6, date(2027, 2, 28)), (date(2027, 8, 31), 6, date(2028, 2, 29)), (date(2027, 1, 31), 1, date(2027, 2, 28)),
        (date(2026, 11, 15), 2, date(2027, 1, 15)), (date(2026, 12, 31), 12, date(2027, 12, 31)), (date(2028, 2, 29), 12, date(2029, 2, 28)),
        (date(2099, 8, 30), 6, date(2100, 2, 28)),  # 2100 is no leap year
    ],
)  # fmt: skip
def test_months_end_on_the_same_day_or_the_last_of_the_month(born: date, months: int, day: date) -> None:
    assert months_later(born, months) == day


def test_midnight_that_ends_a_day_is_the_next_days_first_moment() -> None:
    assert (
        at(date(2027, 3, 13), None, zone("America/New_York")).isoformat(timespec="minutes") == "2027-03-14T00:00-05:00"
    )
    # Santiago's 5 September has no midnight: the clocks jump from 23:59:59 to 01:00.
    assert at(date(2027, 9, 4), None, zone("America/Santiago")) == moment("2027-09-05T04:00Z")
    assert at(date(2027, 9, 4), time(22), zone("America/Santiago")) == moment("2027-09-05T02:00Z")


ZONES = st.sampled_from([*sorted({row[0] for row in CHANGES}), "Asia/Kathmandu", "Pacific/Apia"])
MOMENTS = st.datetimes(min_value=datetime(2027, 1, 1), max_value=datetime(2028, 2, 1)).map(
    lambda m: m.replace(second=0, microsecond=0)
)
DURATIONS = st.one_of(
    st.integers(1, 60 * 24 * 20).map(lambda n: Duration(n * 60)),
    st.integers(1, 30).map(lambda n: Duration(n * 86400, True)),
)


@given(ZONES, MOMENTS, DURATIONS)
def test_no_limit_ends_after_its_elapsed_time_or_its_clock_time(name: str, typed: datetime, length: Duration) -> None:
    there = zone(name)
    start = located(typed, there)
    end = end_of(start, Limit((length,)), there)
    assert start.astimezone(UTC) < end.astimezone(UTC) <= start.astimezone(UTC) + timedelta(seconds=length.seconds)
    if length.calendar:
        assert end <= same_clock_time(start, length.seconds // 86400, there)
        assert timedelta(seconds=length.seconds) - (end.astimezone(UTC) - start.astimezone(UTC)) <= timedelta(hours=1)
    else:
        assert end.astimezone(UTC) - start.astimezone(UTC) == timedelta(seconds=length.seconds)


@given(ZONES, MOMENTS, DURATIONS, DURATIONS)
def test_a_join_ends_when_the_first_of_its_two_limits_ends(
    name: str, typed: datetime, one: Duration, other: Duration
) -> None:
    there = zone(name)
    start = located(typed, there)
    joined = Limit((one,)).join(Limit((other,)))
    assert end_of(start, joined, there) == min(end_of(start, Limit((length,)), there) for length in (one, other))
