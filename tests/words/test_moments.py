"""Dates and times as owners and staff read them."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from generator.words.local import Local, UnknownLanguageError, territory_of
from generator.words.moments import clock, duration, long_date, moment, month_name, short_weekday, shown_day, weekday

DAY = date(2027, 11, 7)  # a Sunday: ISO week date 2027-W44-7
SIX = time(18, 0)
NB = "\u00a0"

# Unicode CLDR 47, full date of 7 November 2027 and short time of 18:00, as babel 2.18.0 formats them; the narrow
# no-break space (U+202F) made U+00A0. Korean: CLDR's wide day period instead of the English "PM".
CLDR = [
    ("en", "US", "Sunday, November 7, 2027", "6:00 PM"),
    ("en", "GB", "Sunday, 7 November 2027", "18:00"),
    ("es", "MX", "domingo, 7 de noviembre de 2027", "6:00 p.m."),
    ("es", "US", "domingo, 7 de noviembre de 2027", "6:00 p.m."),
    ("fr", "FR", "dimanche 7 novembre 2027", "18:00"),
    ("fr", "CA", "dimanche 7 novembre 2027", "18 h 00"),
    ("de", "DE", "Sonntag, 7. November 2027", "18:00"),
    ("it", "IT", "domenica 7 novembre 2027", "18:00"),
    ("pt-BR", "BR", "domingo, 7 de novembro de 2027", "18:00"),
    ("ru", "RU", "воскресенье, 7 ноября 2027 г.", "18:00"),
    ("pl", "PL", "niedziela, 7 listopada 2027", "18:00"),
    ("vi", "VN", "Chủ Nhật, 7 tháng 11, 2027", "18:00"),
    ("zh-Hans", "CN", "2027年11月7日星期日", "18:00"),
    ("zh-Hant", "TW", "2027年11月7日 星期日", "下午6:00"),
    ("ja", "JP", "2027年11月7日日曜日", "18:00"),
    ("ko", "KR", "2027년 11월 7일 일요일", "오후 6:00"),
    ("ar", "EG", "الأحد، 7 نوفمبر 2027", "6:00 م"),
    ("hi", "IN", "रविवार, 7 नवंबर 2027", "6:00 pm"),
    ("fil", "PH", "Linggo, Nobyembre 7, 2027", "6:00 PM"),
    ("so", "SO", "Axad, Noofeembar 7, 2027", "6:00 GD"),
    ("uk", "UA", "неділя, 7 листопада 2027 р.", "18:00"),
]
# The other languages an owner's sheet is made for, besides those of the table.
ALL = [
    *((language, territory) for language, territory, _, _ in CLDR),
    *((tongue, "US") for tongue in ("ht", "fa", "ur", "he", "pa", "th")),
]


@pytest.mark.parametrize("order", [1, -1], ids=["in order", "in reverse"])
def test_dates_and_times_are_those_of_cldr_whatever_was_printed_before(order: int) -> None:
    # Both orders: a library that shares what it has looked up gives one language's names to another.
    for language, territory, day, six in CLDR[::order]:
        local = Local(language, territory)
        assert long_date(DAY, local).replace(NB, " ") == day, language
        assert clock(SIX, local) == six.replace(" ", NB), language


@pytest.mark.parametrize(
    ("language", "territory", "day"),
    # CLDR 47's own skeleton MMMMEEEEd where it has one (th, en-GB; hu from ICU 78.2); else the full date without its year.
    [
        ("en", "US", "Sunday, November 7"), ("en", "GB", "Sunday, 7 November"), ("es", "US", "domingo, 7 de noviembre"),
        ("vi", "US", "Chủ Nhật, 7 tháng 11"), ("ru", "RU", "воскресенье, 7 ноября"), ("th", "TH", "วันอาทิตย์ที่ 7 พฤศจิกายน"),
        ("zh-Hans", "CN", "11月7日星期日"), ("ko", "KR", "11월 7일 일요일"), ("ar", "EG", "الأحد، 7 نوفمبر"), ("ur", "PK", "اتوار، 7 نومبر"),
        ("hu", "HU", "november 7., vasárnap"),
    ],
)  # fmt: skip
def test_the_year_can_be_left_out(language: str, territory: str, day: str) -> None:
    assert long_date(DAY, Local(language, territory), year=False) == day


@pytest.mark.parametrize(("territory", "name"), [("US", "en_US"), ("GB", "en_GB")])
def test_english_known_by_heart_is_that_of_cldr(territory: str, name: str) -> None:
    from babel.dates import format_date, format_skeleton, format_time

    local = Local("en", territory)
    for offset in range(0, 365, 9):
        day = DAY + timedelta(days=offset)
        assert long_date(day, local) == format_date(day, "full", name)
        assert short_weekday(day, local) == format_date(day, "E", name)
        assert month_name(day, local) == format_date(day, "MMMM", name)
        for hours in (12, 24):
            at = time(offset % 24, offset % 60 or 1)
            shown = clock(at, Local("en", territory, cycle=hours))
            theirs = format_skeleton("hm" if hours == 12 else "Hm", datetime.combine(day, at), locale=name)
            assert shown.split(NB) == re.split("[ \u202f]", theirs)
    assert re.sub("[ \u202f]", NB, format_time(SIX, "short", locale=name)) == clock(SIX, local)


def test_haitian_creole_never_prints_french() -> None:
    haitian, french = Local("ht", "US"), Local("fr", "US")
    # Names from memory: they await a native reader.
    assert long_date(date(2026, 11, 24), haitian) == "madi 24 novanm 2026"
    assert duration(2, "hour", haitian) == f"2{NB}èdtan"
    for offset in range(0, 365):
        day = DAY + timedelta(days=offset)
        assert long_date(day, haitian) != long_date(day, french)
        assert weekday(day, haitian) != weekday(day, french)
    for n in (1, 2):
        for unit in ("hour", "day", "week"):
            assert duration(n, unit, haitian) != duration(n, unit, french)


@pytest.mark.parametrize(("language", "territory"), ALL)
def test_no_date_is_in_bare_figures_and_every_day_says_its_weekday(language: str, territory: str) -> None:
    local = Local(language, territory)
    seen = set()
    for offset in range(0, 365, 5):
        day = DAY + timedelta(days=offset)
        shown = long_date(day, local)
        assert not re.search(r"\d+[/.\-]\d+[/.\-]\d+", shown)
        assert "\u202f" not in shown
        assert weekday(day, local) in shown
        assert month_name(day, local) in shown or str(day.month) in shown
        assert re.findall(r"\d+", shown)[-1] in (str(day.year), str(day.day))
        seen.add(shown)
    assert len(seen) == 73
    assert len({short_weekday(DAY + timedelta(days=n), local) for n in range(7)}) == 7


@pytest.mark.parametrize(("language", "territory"), ALL)
def test_noon_and_midnight_cannot_be_taken_for_each_other(language: str, territory: str) -> None:
    local = Local(language, territory)
    shown = [
        clock(time(12), local),
        clock(time(0), local),
        clock(time(12), local, "from"),
        clock(time(0), local, "from"),
    ]
    assert not any(re.search(r"12:00\s*(?:[AaPp]\.?[Mm])", text) for text in shown)
    assert "00:00" not in shown
    assert shown[0] not in (shown[1], shown[3])


def test_noon_is_said_in_words_where_the_word_is_known() -> None:
    assert clock(time(12), Local("en", "US")) == f"12:00{NB}noon"
    # CLDR 47, Spanish, day period "noon".
    assert clock(time(12), Local("es", "US")) == f"12:00{NB}del{NB}mediodía"
    # Elsewhere a minute before, never after: it may be a deadline.
    assert clock(time(12), Local("fil", "PH")) == f"11:59{NB}AM"
    assert clock(time(12), Local("fil", "PH"), "from") == f"12:01{NB}PM"
    assert clock(time(12), Local("fr", "FR")) == "12:00"


def test_a_midnight_belongs_to_the_day_it_ends() -> None:
    english = Local("en", "US")
    at = datetime(2027, 3, 14, 0, 0, tzinfo=ZoneInfo("America/New_York"))
    assert moment(at, english) == f"Saturday, March 13, 2027, 11:59{NB}PM"
    assert shown_day(at, english) == date(2027, 3, 13)
    assert moment(at, english, "from") == f"Sunday, March 14, 2027, 12:01{NB}AM"


def test_a_deadline_is_never_said_later_than_it_is() -> None:
    zone = ZoneInfo("America/New_York")
    at = datetime(2027, 3, 13, 10, 29, 59, tzinfo=zone)
    assert clock(at.timetz(), Local("en", "US")) == f"10:29{NB}AM"
    assert clock(at.timetz(), Local("en", "US"), "from") == f"10:30{NB}AM"


def test_staff_read_exact_24_hour_times() -> None:
    staff = Local("en", "US", is_staff=True)
    assert [clock(time(h, 5), staff) for h in (0, 9, 12, 18)] == ["00:05", "09:05", "12:05", "18:05"]
    assert [clock(time(h), staff) for h in (0, 12)] == ["00:00", "12:00"]


@pytest.mark.parametrize(
    ("language", "territory", "hours"),
    # The region decides (CLDR 47, short time formats): a Vietnamese or German owner in the United States reads 12-hour clocks.
    [
        ("es", "US", 12), ("es", "ES", 24), ("vi", "US", 12), ("vi", "VN", 24), ("de", "US", 12), ("ht", "US", 12), ("en", "GB", 24),
        ("es", "001", 24), ("es", "GB", 24), ("en", "AU", 12), ("ar", "EG", 12), ("ar", "DE", 24), ("fr", "CA", 24), ("en", "CA", 12), ("zh-Hans", "CN", 24),
    ],
)  # fmt: skip
def test_the_hour_cycle_is_that_of_the_region(language: str, territory: str, hours: int) -> None:
    assert Local(language, territory).hours == hours


def test_a_clinic_can_overrule_the_hour_cycle() -> None:
    assert clock(SIX, Local("en", "US", cycle=24)) == "18:00"
    assert clock(SIX, Local("de", "DE", cycle=12)) == f"6:00{NB}PM"


def test_lengths_of_time_agree_with_their_number() -> None:
    # CLDR 47, unit patterns, long. Russian: 1 час, 2 часа, 5 часов, 21 час.
    russian = Local("ru", "RU")
    assert [duration(n, "hour", russian) for n in (1, 2, 5, 11, 21)] == [
        f"{n}{NB}{w}" for n, w in ((1, "час"), (2, "часа"), (5, "часов"), (11, "часов"), (21, "час"))
    ]
    assert duration(24, "hour", Local("es", "US")) == f"24{NB}horas"
    assert duration(1, "day", Local("en", "US")) == f"1{NB}day"
    assert duration(3, "day", Local("vi", "US")) == f"3{NB}ngày"


@pytest.mark.parametrize(("language", "territory"), ALL)
def test_every_length_of_time_shows_its_figure_and_no_raw_name(language: str, territory: str) -> None:
    for unit in ("minute", "hour", "day", "week"):
        for n in (1, 2, 5, 24):
            shown = duration(n, unit, Local(language, territory))
            assert re.findall(r"\d+", shown) == [str(n)]
            assert unit not in shown or language in ("en", "fr")
            assert " " not in shown.split(str(n))[1][:1]


def test_a_language_nobody_knows_is_named() -> None:
    with pytest.raises(UnknownLanguageError, match="hmn"):
        long_date(DAY, Local("hmn", "US"))


@pytest.mark.parametrize(
    ("zone", "territory"),
    # IANA time zone database, zone.tab.
    [
        ("America/New_York", "US"), ("America/Indiana/Knox", "US"), ("Pacific/Honolulu", "US"), ("Europe/London", "GB"),
        ("America/Toronto", "CA"), ("Asia/Ho_Chi_Minh", "VN"), ("Asia/Calcutta", "IN"), ("America/Argentina/Salta", "AR"), ("UTC", "001"),
    ],
)  # fmt: skip
def test_a_zone_belongs_to_a_territory(zone: str, territory: str) -> None:
    assert territory_of(zone) == territory


def test_english_and_haitian_sheets_load_no_data_files() -> None:
    import subprocess
    import sys

    code = (
        "import sys; from datetime import date, time; from generator.words.local import Local, territory_of\n"
        "from generator.words import catalogue, check, extract, isolation, moments, numbers, signoff, telephone, update\n"
        "for l in (Local('en', territory_of('America/New_York')), Local('en', 'GB'), Local('ht', 'US')):\n"
        "    moments.long_date(date(2027, 11, 7), l); moments.clock(time(18), l); moments.duration(2, 'hour', l); numbers.length(14, 'both', l)\n"
        "assert catalogue.load_words('en').say('Never').is_signed\n"
        "print([name for name in sys.modules if name.split('.')[0] == 'babel'])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
