"""Amounts as authored: units exact by definition, numbers in one spelling only."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.quantity import UNITS, Duration, Unreadable, amount, band, duration, limit, plain_number, window

F = Fraction
MARK = st.sampled_from


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        # international yard and pound agreement, 1959: exact
        ("1 in", "length", F("2.54")), ("1 yd", "length", F("91.44")), ("4 yd", "length", F("365.76")), ("5 yd", "length", F("457.2")),
        ("2 in", "length", F("5.08")), ("3 in", "length", F("7.62")), ("4 in", "length", F("10.16")), ("6 in", "length", F("15.24")),
        ("1 lb", "mass", F("0.45359237")), ("40 lb", "mass", F("18.1436948")),
        # standard gravity, 3rd CGPM 1901: exact
        ("9.80665 N", "tension", F(1)), ("0.18 kgf", "tension", F("0.18")),
        ("7.5 cm", "length", F("7.5")), ("2 mm", "length", F("0.2")), ("3.66 m", "length", F(366)), ("18.4 kg", "mass", F("18.4")), ("850 g", "mass", F("0.85")),
        ("50 %", "share", F(1, 2)), ("33.3 %", "share", F("0.333")), ("0 %", "share", F(0)),
        ("7.5cm", "length", F("7.5")), ("7.5\u00a0cm", "length", F("7.5")), ("  7.5 cm ", "length", F("7.5")),
    ],
)  # fmt: skip
def test_amounts_are_exact(text: str, dimension: str, value: F) -> None:
    assert amount(text, dimension) == value


def test_the_inch_sizes_of_the_trade_are_one_and_a_half_percent_off() -> None:
    # 2, 3, 4, 6 in are called 5, 7.5, 10, 15 cm: −1.6 % throughout
    for inches, trade in ((2, F(5)), (3, F("7.5")), (4, F(10)), (6, F(15))):
        assert float(trade / amount(f"{inches} in", "length") - 1) == pytest.approx(-0.016, abs=0.0005)


def test_a_tenth_is_a_tenth() -> None:
    assert 3 * amount("0.1 kgf", "tension") == amount("0.3 kgf", "tension")
    assert amount("100 cm", "length") * (1 + amount("10 %", "share")) == amount("110 cm", "length")


@given(st.integers(0, 99999), st.integers(0, 999), MARK([(d, u) for d, units in UNITS.items() for u in units]))
def test_what_is_typed_is_what_is_reckoned_with(whole: int, part: int, unit: tuple[str, str]) -> None:
    assert amount(f"{whole}.{part:03d} {unit[1]}", unit[0]) == (whole + F(part, 1000)) * UNITS[unit[0]][unit[1]]


WRONG = [
    ("24", "length", "number-without-unit"), ("7.5", "mass", "number-without-unit"), ("0", "share", "number-without-unit"), ("-3", "length", "number-without-unit"),
    ("7,5 cm", "length", "decimal-comma"), ("1.000,5 cm", "length", "not-a-number"), ("1 000 cm", "length", "not-an-amount"),
    ("٧ cm", "length", "foreign-digits"), ("７.５ cm", "length", "foreign-digits"), ("৭,৫ cm", "length", "foreign-digits"),
    ("½ cm", "length", "not-a-number"), ("1/2 cm", "length", "not-a-number"), ("x cm", "length", "not-an-amount"), ("-3 cm", "length", "not-a-number"), ("+3 cm", "length", "not-a-number"),
    ("1e3 cm", "length", "not-a-number"), (".5 cm", "length", "not-a-number"), ("5. cm", "length", "not-a-number"), ("1_000 cm", "length", "not-a-number"),
    ("nan cm", "length", "not-an-amount"), ("inf cm", "length", "not-an-amount"), (".nan cm", "length", "not-an-amount"), ("0x10 cm", "length", "not-a-number"),
    ("010 cm", "length", "leading-zero"), ("00.5 cm", "length", "leading-zero"),
    ("1234567890123 cm", "length", "number-out-of-range"), ("0.1234567890123 cm", "length", "number-out-of-range"),
    ("5 kg", "length", "unknown-unit"), ("5 cm", "mass", "unknown-unit"), ("5 inch", "length", "unknown-unit"), ("5 CM", "length", "unknown-unit"), ("5 сm", "length", "unknown-unit"),
    ('5 "', "length", "unknown-unit"), ("50 pct", "share", "unknown-unit"), ("cm", "length", "not-an-amount"), ("", "length", "not-an-amount"), ("about 5 cm", "length", "not-an-amount"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "dimension", "name"), WRONG)
def test_any_other_spelling_is_refused_by_its_name(text: str, dimension: str, name: str) -> None:
    with pytest.raises(Unreadable) as refused:
        amount(text, dimension)
    assert refused.value.name == name
    assert refused.value.what
    assert refused.value.why
    assert refused.value.fix
    assert "one of ``" not in refused.value.fix


@pytest.mark.parametrize(
    ("text", "fix"),
    [
        ("7,5 cm", "`7.5`"),
        ("010 cm", "`10`"),
        ("00 cm", "`0`"),
        ("00.5 cm", "`0.5`"),
        ("24", "`24 mm` or `24 cm` or `24 m`"),
    ],
)
def test_the_fix_is_the_very_text_to_type(text: str, fix: str) -> None:
    with pytest.raises(Unreadable) as refused:
        amount(text, "length")
    assert fix in refused.value.fix


@given(st.text(max_size=30), MARK(sorted(UNITS)))
def test_any_text_is_read_or_refused(text: str, dimension: str) -> None:
    for read in (
        lambda t: amount(t, dimension),
        duration,
        window,
        limit,
        lambda t: band(t, "mass"),
        lambda t: plain_number(t, "write a number"),
    ):
        try:
            read(text)
        except Unreadable as refused:
            assert refused.fix  # noqa: PT017  both outcomes are allowed; a refusal says what to write
            assert "``" not in refused.fix.replace("```", "")  # noqa: PT017


@pytest.mark.parametrize(
    ("text", "seconds", "calendar"),
    [
        ("15 min", 900, False),
        ("24 h", 86400, False),
        ("1.5 h", 5400, False),
        ("7 d", 604800, True),
        ("2 wk", 1209600, True),
        ("366 d", 31622400, True),
    ],
)
def test_times(text: str, seconds: int, calendar: bool) -> None:
    assert duration(text) == Duration(seconds, calendar)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("24", "number-without-unit"), ("24 hours", "unknown-unit"), ("24h30", "unknown-unit"), ("1.5 d", "part-of-a-day"), ("0.5 wk", "part-of-a-day"), ("0.3 min", "part-of-a-day"),
        ("0 h", "number-out-of-range"), ("367 d", "number-out-of-range"), ("9000 h", "number-out-of-range"), ("-1 h", "not-a-number"), ("3 months", "unknown-unit"), ("3 m", "unknown-unit"),
    ],
)  # fmt: skip
def test_times_that_nobody_could_keep_are_refused(text: str, name: str) -> None:
    with pytest.raises(Unreadable) as refused:
        duration(text)
    assert refused.value.name == name


def test_a_day_is_not_24_hours() -> None:
    # Across a change of the clocks they end at different moments; they must stay apart until then.
    assert duration("1 d") != duration("24 h")
    assert {str(d) for d in limit("1 d").join(limit("24 h")).durations} == {"1 d", "24 h"}


def test_a_window_has_two_ends_or_only_the_later() -> None:
    assert str(window("12 h to 24 h")) == "12 h to 24 h"
    assert window("24 h").lower is None
    assert str(window("3 d  to  7 d").upper) == "7 d"


@pytest.mark.parametrize(
    ("text", "name", "fix"),
    [
        ("24 h to 12 h", "window-reversed", "`12 h to 24 h`"), ("24 h to 24 h", "window-reversed", "`24 h`"), ("12 to 24 h", "number-without-unit", "`12 min` or `12 h` or `12 d`"),
        ("12 h to 24", "number-without-unit", "`24 h`"), ("12 h to 24 h to 36 h", "not-a-window", "`12 h to 24 h`"), ("12-24 h", "not-a-number", "24 h"), ("12 h - 24 h", "not-an-amount", "24 h"),
        ("1 d to 24 h", "window-reversed", "`1 d` alone"),
    ],
)  # fmt: skip
def test_windows_that_no_visit_could_keep_are_refused(text: str, name: str, fix: str) -> None:
    with pytest.raises(Unreadable) as refused:
        window(text)
    assert refused.value.name == name
    assert fix in refused.value.fix


def test_bands_hold_their_lower_end_and_not_their_upper() -> None:
    mid, top, low = band("5 kg to 10 kg", "mass"), band("10 kg and over", "mass"), band("under 5 kg", "mass")
    for kilos, holder in ((F("4.999"), low), (F(5), mid), (F("9.999"), mid), (F(10), top), (F(90), top)):
        assert [b.holds(kilos) for b in (low, mid, top)] == [b is holder for b in (low, mid, top)]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("5 to 10 kg", "number-without-unit"),
        ("10 kg to 5 kg", "band-reversed"),
        ("5 kg", "not-a-band"),
        ("5 kg to 5 kg", "band-reversed"),
        ("5-10 kg", "not-a-band"),
        ("10 kg or more", "not-a-band"),
    ],
)
def test_bands_that_hold_nothing_are_refused(text: str, name: str) -> None:
    with pytest.raises(Unreadable) as refused:
        band(text, "mass")
    assert refused.value.name == name
