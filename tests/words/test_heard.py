"""What is printed is read back by rules that the formatters do not know, from strings that they did not make."""

from __future__ import annotations

import pytest

from generator.words.heard import says_number, says_telephone, says_time, says_weekday, western
from generator.words.local import Local

# Unicode CLDR 47: full date and short time of 7 November 2027, 18:00, spaces made plain. Korean with its own day period.
CLDR = [
    ("en", "US", "Sunday, November 7, 2027", "6:00 PM"), ("es", "US", "domingo, 7 de noviembre de 2027", "6:00 p.m."),
    ("fr", "FR", "dimanche 7 novembre 2027", "18:00"), ("fr", "CA", "dimanche 7 novembre 2027", "18 h 00"),
    ("de", "DE", "Sonntag, 7. November 2027", "18:00"), ("ru", "RU", "воскресенье, 7 ноября 2027 г.", "18:00"),
    ("vi", "VN", "Chủ Nhật, 7 tháng 11, 2027", "18:00"), ("zh-Hans", "CN", "2027年11月7日星期日", "18:00"),
    ("zh-Hant", "TW", "2027年11月7日 星期日", "下午6:00"), ("ko", "KR", "2027년 11월 7일 일요일", "오후 6:00"),
    ("ar", "EG", "الأحد، 7 نوفمبر 2027", "6:00 م"), ("hi", "IN", "रविवार, 7 नवंबर 2027", "6:00 pm"),
    ("fil", "PH", "Linggo, Nobyembre 7, 2027", "6:00 PM"), ("pt-BR", "BR", "domingo, 7 de novembro de 2027", "18:00"),
]  # fmt: skip
SUNDAY = "2027-11-07T18:00-05:00"
OTHERS = [
    "2027-11-14T18:00-05:00",  # another Sunday
    "2027-11-08T18:00-05:00",
    "2027-01-07T18:00-05:00",
    "2028-11-07T18:00-05:00",
]


@pytest.mark.parametrize(("language", "territory", "day", "six"), CLDR)
def test_a_date_and_a_time_are_read_in_every_language(language: str, territory: str, day: str, six: str) -> None:
    local = Local(language, territory)
    assert says_time(day, "2027-11-07", local)
    assert says_time(day, SUNDAY, local)
    assert says_time(six, "18:00", local)
    assert says_time(f"{day}, {six}", SUNDAY, local)
    assert not says_time(day, "2027-11-08", local)
    for other in OTHERS:
        assert not says_time(day, other, local)
    for clock in ("06:00", "17:00", "19:00", "18:01", "17:59", "00:00"):
        assert not says_time(six, clock, local)
        assert not says_time(f"{day}, {six}", f"2027-11-07T{clock}-05:00", local)


@pytest.mark.parametrize(
    ("shown", "value"),
    [
        ("Monday, November 7, 2027", "2027-11-07"),  # another weekday
        ("Sunday, October 7, 2027", "2027-11-07"),
        ("November 7, 2027", "2027-11-07"),  # a date without its weekday
        ("11/7/2027", "2027-11-07"),
        ("6:00 AM", "18:00"),
        ("6:00", "18:00"),
        ("Sunday, November 7", "18:00"),
        ("6:00 PM", "2027-11-07"),
        ("10:40 AM UTC-04:00", "2027-03-13T10:40-05:00"),
        ("soon", SUNDAY),
        ("", SUNDAY),
    ],
)
def test_what_says_something_else_is_seen(shown: str, value: str) -> None:
    assert not says_time(shown, value, Local("en", "US"))


def test_only_midnight_and_noon_may_be_a_minute_off() -> None:
    english, filipino = Local("en", "US"), Local("fil", "PH")
    assert says_time("Saturday, March 13, 2027, 11:59 PM", "2027-03-14T00:00-05:00", english)
    assert says_time("Saturday, March 13, 2027", "2027-03-14T00:00-05:00", english)
    assert says_time("12:01 AM", "00:00", english)
    assert says_time("12:00 noon", "12:00", english)
    assert says_time("11:59 AM", "12:00", filipino)
    assert not says_time("12:00 noon", "00:00", english)
    assert not says_time("11:59 PM", "12:00", english)
    assert not says_time("5:59 PM", "18:00", english)
    assert not says_time("Saturday, March 13, 2027", "2027-03-14T00:01-05:00", english)


def test_a_word_for_noon_belongs_to_twelve_alone() -> None:
    # CLDR 47, es, day period "noon".
    assert says_time("12:00 del mediodía", "12:00", Local("es", "US"))
    assert not says_time("11:00 del mediodía", "11:00", Local("es", "US"))


def test_days_and_months_with_figures_in_their_names_are_read() -> None:
    # CLDR 47, vi: months are numbered, and so is Monday in its short form; ko: 월 is Monday and stands in every month.
    vietnamese = Local("vi", "VN")
    assert says_time("Thứ Năm, 7 tháng 1, 2027", "2027-01-07", vietnamese)
    assert not says_time("Thứ Năm, 7 tháng 11, 2027", "2027-01-07", vietnamese)
    assert says_weekday("Thứ 2", "1", vietnamese)
    assert not says_weekday("Thứ 2", "2", vietnamese)
    assert not says_time("2027년 3월 1일 화요일", "2027-03-01", Local("ko", "KR"))
    # Month and day of a date in figures are told apart by their places.
    assert says_time("2027年11月7日星期日", "2027-11-07", Local("zh-Hans", "CN"))
    assert not says_time("2027年7月11日星期日", "2027-11-07", Local("zh-Hans", "CN"))


def test_digits_of_other_scripts_are_digits() -> None:
    # The Unicode Standard: Arabic-Indic U+0660, extended U+06F0, Devanagari U+0966.
    assert western("٠١٢ ۳۴ ५६") == "012 34 56"
    assert western("x²") == "x²"  # no decimal digit


@pytest.mark.parametrize(
    ("shown", "value", "local", "says"),
    [
        ("5 minutes", "5", Local("en", "US"), True), ("15 minutes", "5", Local("en", "US"), False), ("minutes", "5", Local("en", "US"), False),
        # CLDR 47: tenths after a comma in Spain, after a point in the United States.
        ("7,5 cm", "7.5", Local("es", "ES"), True), ("7.5 cm", "7.5", Local("es", "ES"), False),
        ("7.5 cm", "7.5", Local("es", "US"), True), ("7,5 cm", "7.5", Local("es", "US"), False),
        ("75 cm", "7.5", Local("es", "US"), False), ("2.3", "2.25", Local("en", "US"), True), ("2", "2.25", Local("en", "US"), False),
        ("\u22122", "-2", Local("en", "US"), True), ("2", "-2", Local("en", "US"), False),
        ("FKHN-K8", "FKHN-K8", Local("en", "US"), True), ("FKHN-K3", "FKHN-K8", Local("en", "US"), False),
        ("12 h to 24 h", "12 h to 24 h", Local("en", "US"), True),
    ],
)  # fmt: skip
def test_a_number_is_its_value_in_the_readers_own_signs(shown: str, value: str, local: Local, says: bool) -> None:
    assert says_number(shown, value, local) is says


@pytest.mark.parametrize(
    ("shown", "units", "says"),
    # 1 ft = 30.48 cm exactly (1959): 200 cm are 6.56 ft, and a lead is never said longer than it may be.
    [
        ("2 m", "metric", True), ("6 ft", "us", True), ("6 ft (2 m)", "both", True), ("7 ft (2 m)", "both", False), ("2 m (6 ft)", "both", False), ("3 m", "metric", False),
        ("2 m", "both", False), ("2 ft", "us", False), ("20 m", "metric", False),
    ],
)  # fmt: skip
def test_a_lead_is_said_in_the_clinics_units_and_never_longer(shown: str, units: str, says: bool) -> None:
    assert says_number(shown, "200", Local("en", "US"), units) is says


@pytest.mark.parametrize(
    ("shown", "uri", "says"),
    # Numbers kept for fiction: 555-01xx, Ofcom's for drama.
    [
        ("(802) 555-0142", "tel:+18025550142", True), ("+1 802-555-0142", "tel:+18025550142", True),
        ("(802) 555-142", "tel:+18025550142", False), ("(802) 555-0124", "tel:+18025550142", False), ("555-0142", "tel:+18025550142", False),
        ("020 7946 0958", "tel:+442079460958", True), ("+44 20 7946 0958", "tel:+442079460958", True), ("20 7946 095", "tel:+442079460958", False),
        ("+44 020 7946 0958", "tel:+442079460958", False), ("", "tel:+18025550142", False),
    ],
)  # fmt: skip
def test_a_telephone_number_is_the_one_that_is_dialled(shown: str, uri: str, says: bool) -> None:
    assert says_telephone(shown, uri) is says
