"""Two limits join into the stricter: in any order, in any grouping, twice as once, and never looser than either."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.joins import STRICTER, WATCHERS, join_limits, stricter_check, stricter_removal
from generator.protocol.model import CheckEvery, Limits, Removal
from generator.protocol.quantity import Duration, Limit, Window, limit, window

DURATIONS = st.one_of(
    st.integers(1, 80).map(lambda n: Duration(n * 6 * 3600)),
    st.integers(1, 20).map(lambda n: Duration(n * 86400, True)),
    # Near a whole number of days, where the clocks decide which ends first.
    st.builds(lambda days, hours: Duration(days * 86400 + hours * 3600), st.integers(1, 8), st.integers(-3, 3)),
)
LIMITS_OF_TIME = st.lists(DURATIONS, min_size=1, max_size=3).map(lambda ds: _all([Limit((d,)) for d in ds]))
WINDOWS = st.builds(Window, st.one_of(st.none(), LIMITS_OF_TIME), LIMITS_OF_TIME)
CHECKS = st.builds(lambda interval, who: CheckEvery(interval, who, {}), LIMITS_OF_TIME, st.sampled_from(WATCHERS))
REASONS = st.dictionaries(st.sampled_from(["swelling", "incision", "fracture"]), LIMITS_OF_TIME, min_size=1, max_size=3)
# As authored: one plain time, or one for each reason; and what joins of these make.
_AUTHORED = st.one_of(LIMITS_OF_TIME.map(Removal), REASONS.map(lambda r: Removal(None, r)))
REMOVALS = st.lists(_AUTHORED, min_size=1, max_size=3).map(lambda rs: _all(rs, stricter_removal))
ENDS = st.sampled_from(["union on radiograph", "fixation of the fracture", "new skin covers the wound"])
SHAPES: dict[str, st.SearchStrategy[Any]] = {
    "first_check": WINDOWS, "check_every": CHECKS, "change_every": WINDOWS, "recheck_every": WINDOWS, "release": LIMITS_OF_TIME,
    "remove_by": REMOVALS, "remove_when": ENDS, "supervised": st.booleans(), "go_home": st.booleans(),
}  # fmt: skip
LIMITS = st.builds(Limits, **{key: st.one_of(st.none(), shape) for key, shape in SHAPES.items()})


def _all(values: list[Any], join: Callable[[Any, Any], Any] = Limit.join) -> Any:
    joined = values[0]
    for value in values[1:]:
        joined = join(joined, value)
    return joined


def plain(value: Any) -> Any:
    """What a limit says, without the place it was written at."""
    if isinstance(value, CheckEvery):
        return value.interval, value.who
    if isinstance(value, Limits):
        return {f.name: plain(getattr(value, f.name)) for f in fields(Limits) if f.name != "spans"}
    return value


@st.composite
def three_of_one_key(draw: st.DrawFn) -> tuple[str, Any, Any, Any]:
    key = draw(st.sampled_from(sorted(SHAPES)))
    return key, draw(SHAPES[key]), draw(SHAPES[key]), draw(SHAPES[key])


def test_every_limit_has_a_join() -> None:
    assert set(STRICTER) == set(SHAPES) == {f.name for f in fields(Limits) if f.name != "spans"}


@given(three_of_one_key())
def test_joins_commute_associate_and_repeat_without_effect(case: tuple[str, Any, Any, Any]) -> None:
    key, one, two, three = case
    join = STRICTER[key]
    assert plain(join(one, two)) == plain(join(two, one))
    assert plain(join(join(one, two), three)) == plain(join(one, join(two, three)))
    assert plain(join(one, one)) == plain(one)
    assert plain(join(join(one, two), two)) == plain(join(one, two)), "once joined, a limit adds nothing more"


@given(LIMITS, LIMITS, LIMITS)
def test_sets_of_limits_join_in_any_order_and_grouping(one: Limits, two: Limits, three: Limits) -> None:
    assert plain(join_limits(one, two)) == plain(join_limits(two, one))
    assert plain(join_limits(join_limits(one, two), three)) == plain(join_limits(one, join_limits(two, three)))
    assert plain(join_limits(one, one)) == plain(one)
    assert plain(join_limits(one, Limits())) == plain(one), "no limit is looser than any"


@given(LIMITS, LIMITS)
def test_no_join_is_looser_than_its_parts(one: Limits, other: Limits) -> None:
    joined = join_limits(one, other)
    for part in (one, other):
        for key in ("first_check", "change_every", "recheck_every"):
            own = getattr(part, key)
            if own is not None:
                assert shortest(getattr(joined, key).upper) <= shortest(own.upper)
        if part.check_every is not None:
            assert joined.check_every is not None
            assert shortest(joined.check_every.interval) <= shortest(part.check_every.interval)
            assert WATCHERS.index(joined.check_every.who) >= WATCHERS.index(part.check_every.who)
        if part.release is not None:
            assert joined.release is not None
            assert shortest(joined.release) <= shortest(part.release)
        if part.remove_by is not None:
            assert joined.remove_by is not None
            if part.remove_by.plain is not None:
                assert joined.remove_by.plain is not None
                assert shortest(joined.remove_by.plain) <= shortest(part.remove_by.plain)
            for reason, end in part.remove_by.by_reason.items():
                assert shortest(joined.remove_by.by_reason[reason]) <= shortest(end)
        if part.go_home is False:
            assert joined.go_home is False
        if part.supervised:
            assert joined.supervised


def shortest(limit: Limit) -> int:
    return min(one.seconds for one in limit.durations)


@given(LIMITS_OF_TIME, LIMITS_OF_TIME)
def test_a_join_drops_no_duration_that_could_end_first(one: Limit, other: Limit) -> None:
    # Days end at most 2 h sooner than their elapsed length: no zone of today moves its clocks further at once.
    earliest = [(d.seconds - 7200 if d.calendar else d.seconds) for d in (*one.durations, *other.durations)]
    joined = one.join(other)
    kept = {(d.seconds, d.calendar) for d in joined.durations}
    for possible, length in zip(earliest, (*one.durations, *other.durations), strict=True):
        if (length.seconds, length.calendar) not in kept:
            assert any(
                d.seconds <= possible or (d.calendar == length.calendar and d.seconds <= length.seconds)
                for d in joined.durations
            )


@pytest.mark.parametrize(
    ("one", "other", "joined"),
    [
        # Minimum of each end (house rule); a lone figure is an upper end and leaves the other's lower end alone.
        ("12 h to 24 h", "6 h to 48 h", "6 h to 24 h"),
        ("12 h to 24 h", "24 h to 48 h", "12 h to 24 h"),
        ("3 d to 7 d", "5 d", "3 d to 5 d"),
        ("48 h", "24 h", "24 h"),
        ("3 d to 7 d", "24 h to 48 h", "24 h to 48 h"),
    ],
)
def test_worked_joins_of_windows(one: str, other: str, joined: str) -> None:
    assert str(window(one).join(window(other))) == joined


def test_the_more_trained_watcher_wins_whoever_looks_sooner() -> None:
    joined = stricter_check(CheckEvery(limit("4 h"), "owner", {}), CheckEvery(limit("12 h"), "technician", {}))
    assert (str(joined.interval), joined.who) == ("4 h", "technician")


def test_a_plain_end_caps_every_reason() -> None:
    joined = stricter_removal(
        Removal(None, {"swelling": limit("3 d"), "incision": limit("14 d")}), Removal(limit("10 d"))
    )
    assert {reason: str(end) for reason, end in joined.by_reason.items()} == {"swelling": "3 d", "incision": "10 d"}
    assert str(joined.plain) == "10 d"


def test_two_clinical_ends_stand_side_by_side() -> None:
    joined = join_limits(Limits(remove_when="union on radiograph"), Limits(remove_when="fixation of the fracture"))
    assert joined.remove_when == "fixation of the fracture or union on radiograph"
