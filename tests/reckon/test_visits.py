"""No visit later than its limit, whatever the zone, the hours, the closed days and the re-applications.

House rules: `due` is when a thing must be done, in elapsed time; `slot` is a bookable start that ends by then; a closed day
moves a visit earlier; the end counts from the first application and never restarts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.protocol.model import CheckEvery, Clinic, Hours, Limits, Removal
from generator.protocol.quantity import Duration, Limit, Window, limit, window
from generator.reckon.clock import later, located
from generator.reckon.plan import Event
from generator.reckon.visits import Basis, Visits, plan_visits
from generator.source.problem import Refusal
from tests.conftest import ROOT, review
from tests.reckon.test_hours import stands_open, weeks
from tests.reckon.zones import zone

VISIT = 1800


@cache
def clinic() -> Clinic:
    book = review(ROOT / "tests" / "expected" / "book").book
    assert book is not None
    return book.clinic


def utc(moment: datetime) -> datetime:
    return moment.astimezone(UTC)


def elapsed(length: Limit) -> timedelta:
    """The longest a limit can last: each of its durations by the clock's hand alone."""
    return timedelta(seconds=min(one.seconds for one in length.durations))


def course(
    limits: Limits,
    hours: Hours,
    closed: frozenset[date],
    there: str,
    applied: datetime,
    began: datetime | None = None,
    goes_home: bool = True,
) -> Basis:
    house = replace(clinic(), hours=hours, closed=closed, visit=VISIT)
    return Basis(limits, house, zone(there), applied, began or applied, goes_home, {}, {})


HOURLY = st.integers(2, 14 * 24).map(lambda n: Duration(n * 3600))
DAILY = st.integers(1, 14).map(lambda n: Duration(n * 86400, True))
LENGTHS = st.one_of(HOURLY, DAILY)


@st.composite
def limits_of_a_bandage(draw: st.DrawFn) -> Limits:
    def some_window() -> Window:
        one, other = draw(LENGTHS), draw(LENGTHS)
        first, last = sorted((one, other), key=lambda d: d.seconds)
        return Window(Limit((first,)) if draw(st.booleans()) and first.seconds < last.seconds else None, Limit((last,)))

    def perhaps(make: Callable[[], Any]) -> Any:
        return make() if draw(st.booleans()) else None

    return Limits(
        first_check=perhaps(some_window),
        check_every=CheckEvery(Limit((draw(st.integers(4, 24).map(lambda n: Duration(n * 3600))),)), "owner", {}),
        change_every=some_window(),
        recheck_every=perhaps(some_window),
        remove_by=perhaps(lambda: Removal(Limit((draw(st.integers(3, 28).map(lambda n: Duration(n * 86400, True))),)))),
        go_home=True,
    )


ZONES = st.sampled_from(
    ["America/New_York", "Europe/London", "America/Santiago", "Africa/Cairo", "Australia/Lord_Howe", "Asia/Kathmandu"]
)
# Most of the moments lie round the changes of the clocks, where a day is not 24 h long.
_NEAR = [
    datetime(2027, m, d) for m, d in ((3, 13), (3, 27), (4, 3), (4, 29), (9, 4), (10, 2), (10, 28), (10, 30), (11, 6))
]
MOMENTS = st.one_of(
    st.datetimes(min_value=datetime(2027, 3, 1), max_value=datetime(2027, 11, 20)),
    st.builds(lambda day, minutes: day + timedelta(minutes=minutes), st.sampled_from(_NEAR), st.integers(-2880, 2880)),
).map(lambda m: m.replace(second=0, microsecond=0))
CLOSED = st.frozensets(st.dates(date(2027, 3, 1), date(2027, 12, 10)), max_size=25)


@dataclass(frozen=True)
class Case:
    limits: Limits
    hours: Hours
    closed: frozenset[date]
    zone: str
    typed: datetime

    @property
    def applied(self) -> datetime:
        return located(self.typed, zone(self.zone))

    def planned(self, *, applied: datetime | None = None, also_closed: frozenset[date] = frozenset()) -> Visits:
        on = applied or self.applied
        return plan_visits(course(self.limits, self.hours, self.closed | also_closed, self.zone, on, self.applied))


CASES = st.builds(Case, limits_of_a_bandage(), weeks(), CLOSED, ZONES, MOMENTS)


def over(event: Event) -> datetime:
    """When a visit has ended: half an hour after its slot; without one, when it is due."""
    return utc(event.slot) + timedelta(seconds=VISIT) if event.slot else utc(event.due)


def openings(visits: Visits) -> list[Event]:
    """Every time the bandage comes off, in order."""
    return [e for e in visits.events if e.kind in ("change", "removal")]


@given(CASES)
@settings(max_examples=150)
def test_no_visit_is_due_after_its_limit_in_elapsed_time(case: Case) -> None:
    visits = case.planned()
    limits, applied = case.limits, utc(case.applied)
    assert limits.change_every is not None
    base = applied
    for event in openings(visits):
        assert base < utc(event.due) <= base + elapsed(limits.change_every.upper)
        base = over(event)
    if limits.remove_by is not None:
        assert limits.remove_by.plain is not None
        assert visits.remove_by is not None
        assert utc(visits.remove_by.due) <= applied + elapsed(limits.remove_by.plain)
    for event in visits.events:
        if event.kind == "check":
            assert limits.first_check is not None
            assert utc(event.due) <= applied + elapsed(limits.first_check.upper)
        if event.slot is not None and event.kind != "watch":
            assert over(event) <= utc(event.due)
            assert utc(event.slot) >= (utc(event.opens) if event.opens else applied)
            assert stands_open(case.hours, case.closed, event.slot, VISIT, case.zone)
    if visits.remove_by is not None:
        assert all(utc(e.due) <= utc(visits.remove_by.due) for e in visits.events), "nothing is planned past the end"


@given(CASES)
def test_staff_see_the_bandage_within_every_recheck_interval(case: Case) -> None:
    visits = case.planned()
    every = case.limits.recheck_every
    if every is None or visits.deadline is None:
        return
    base = utc(case.applied)
    for event in visits.events:
        if event.kind in ("check", "change", "recheck", "removal") and utc(event.due) <= utc(visits.deadline.due):
            if event.kind == "recheck":
                assert utc(event.due) <= base + elapsed(every.upper)
            else:
                first_look = event.kind == "check"
                assert first_look or utc(event.due) <= base + elapsed(every.upper)
            base = max(base, over(event)) if event.kind != "check" else over(event)


@given(CASES)
def test_looks_at_home_are_never_further_apart_than_said(case: Case) -> None:
    visits = case.planned()
    assert case.limits.check_every is not None
    assert visits.deadline is not None
    gap = elapsed(case.limits.check_every.interval)
    moments = [utc(case.applied), *(utc(e.due) for e in visits.events if e.kind == "watch"), utc(visits.deadline.due)]
    assert all(timedelta(0) < b - a <= gap for a, b in pairwise(moments))


@given(CASES)
def test_wrapping_again_never_moves_the_end(case: Case) -> None:
    whole = case.planned()
    if case.limits.remove_by is None or whole.remove_by is None:
        return
    assert case.limits.remove_by.plain is not None
    end = utc(case.applied) + elapsed(case.limits.remove_by.plain)
    on = case.applied
    for _ in range(40):
        visits = case.planned(applied=on)
        assert visits.deadline is not None
        assert visits.remove_by is not None
        assert all(utc(e.due) <= end for e in visits.events)
        if visits.deadline.kind == "removal":
            break
        # The next bandage is on when the visit is over.
        on = later(over(visits.deadline), 0, zone(case.zone))
    else:
        pytest.fail("the course never ended")
    with pytest.raises(Refusal) as refusal:
        case.planned(applied=later(end, 0, zone(case.zone)))
    assert [p.name for p in refusal.value.problems] == ["course-over"]


@given(CASES, st.dates(date(2027, 3, 1), date(2027, 12, 10)), st.integers(0, 14))
@settings(max_examples=150)
def test_closing_one_more_day_never_moves_a_visit_or_the_deadline_later(case: Case, anywhere: date, ahead: int) -> None:
    for day in (anywhere, case.typed.date() + timedelta(days=ahead)):
        before, after = case.planned(), case.planned(also_closed=frozenset({day}))
        for one, other in zip(openings(before), openings(after), strict=False):
            assert utc(other.due) <= utc(one.due)
            if one.slot is not None and other.slot is not None:
                assert utc(other.slot) <= utc(one.slot)
            if one.slot is not None and other.slot is None:
                break  # that visit falls to the emergency place, at its due moment; later windows count from there
        assert (before.deadline is None) == (after.deadline is None)
        checks = [[e for e in v.events if e.kind == "check"] for v in (before, after)]
        for one, other in zip(*checks, strict=True):
            assert other.due == one.due
            assert other.slot is None or one.slot is None or other.slot <= one.slot


@pytest.mark.parametrize(
    ("began", "release", "off"),
    [
        pytest.param("2027-03-14T01:50", "2027-03-14T03:05-04:00", "2027-03-14T03:10-04:00", id="spring"),
        pytest.param("2027-11-07T01:50", "2027-11-07T01:05-05:00", "2027-11-07T01:10-05:00", id="autumn"),
    ],
)
def test_minutes_of_a_pressure_bandage_elapse_over_the_change(began: str, release: str, off: str) -> None:
    there = zone("America/New_York")
    on = located(datetime.fromisoformat(began), there)
    limits = Limits(
        check_every=CheckEvery(limit("5 min"), "technician", {}),
        release=limit("15 min"),
        remove_by=Removal(limit("20 min")),
        go_home=False,
    )
    visits = plan_visits(course(limits, {}, frozenset(), "America/New_York", on, goes_home=False))
    assert [(e.kind, e.due.isoformat(timespec="minutes")) for e in visits.events if e.kind != "watch"] == [
        ("release", release),
        ("removal", off),
    ]
    assert [(utc(e.due) - utc(on)).seconds // 60 for e in visits.events if e.kind == "watch"] == [5, 10, 15]
    again = plan_visits(course(limits, {}, frozenset(), "America/New_York", later(on, 600, there), on, goes_home=False))
    assert [e.due for e in again.events if e.kind != "watch"] == [e.due for e in visits.events if e.kind != "watch"]
    with pytest.raises(Refusal) as refusal:
        plan_visits(course(limits, {}, frozenset(), "America/New_York", later(on, 900, there), on, goes_home=False))
    assert [p.name for p in refusal.value.problems] == ["release-passed"]


def test_a_change_that_would_leave_less_than_its_own_minimum_is_the_removal() -> None:
    hours = clinic().hours
    on = located(datetime.fromisoformat("2027-06-07T10:00"), zone("America/New_York"))
    # Changes by day 4, not before day 3; the end on day 6: day 4 leaves two days, less than three.
    limits = Limits(change_every=window("3 d to 4 d"), remove_by=Removal(limit("6 d")), go_home=True)
    visits = plan_visits(course(limits, hours, frozenset(), "America/New_York", on))
    assert [e.kind for e in openings(visits)] == ["removal"]
    assert openings(visits)[0].due.date() == date(2027, 6, 11)
    # With the end on day 8 there is room for one.
    visits = plan_visits(
        course(replace(limits, remove_by=Removal(limit("8 d"))), hours, frozenset(), "America/New_York", on)
    )
    assert [e.kind for e in openings(visits)] == ["change", "removal"]


@pytest.mark.parametrize(
    ("change", "end", "kinds"),
    [
        # Nobody opens, so each window counts from the due moment of the one before.
        pytest.param("3 d", "6 d", ["change", "removal"], id="a change that falls on the end is the removal"),
        pytest.param("3 d to 4 d", "7 d", ["change", "removal"], id="exactly its minimum is left: the change stays"),
        pytest.param("3 d to 4 d", "6 d", ["removal"], id="less than its minimum is left"),
        pytest.param("3 d", "3 d", ["removal"], id="the first change falls on the end"),
    ],
)
def test_the_last_change_and_the_end(change: str, end: str, kinds: list[str]) -> None:
    on = located(datetime.fromisoformat("2027-06-07T10:00"), zone("America/New_York"))
    limits = Limits(change_every=window(change), remove_by=Removal(limit(end)), go_home=True)
    visits = plan_visits(course(limits, {}, frozenset(), "America/New_York", on))
    assert [e.kind for e in openings(visits)] == kinds
    assert {e.where for e in openings(visits)} == {"emergency place"}
