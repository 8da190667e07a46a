"""Names of days and months, hour cycles, decimal signs and units, against an implementation that is not ours.

The tables were written out by ICU 78.2 (Unicode CLDR 48) on its own, which shares no code with what prints here; where node with
full ICU is on the machine, it is also asked for whole dates and times. Haitian Creole is in neither: its table is from memory
and awaits a native reader.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from datetime import date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from generator.words.heard import says_time
from generator.words.isolation import bare
from generator.words.local import Local, decimal_sign, territory_of
from generator.words.moments import clock, duration, long_date, moment, month_name, short_weekday, weekday
from generator.words.numbers import measure

ROOT = Path(__file__).parents[2]
LANGUAGES = ["en", *sorted(path.parent.name.replace("_", "-") for path in (ROOT / "locales").glob("*/owner.po"))]

# ICU 78.2, CLDR 48: days from Monday; months as they stand in a full date (`{weekday: "long"}`, `{dateStyle: "full"}`).
NAMES = {
    "en": ("Monday|Tuesday|Wednesday|Thursday|Friday|Saturday|Sunday",
        "January|February|March|April|May|June|July|August|September|October|November|December"),
    "ar": ("الاثنين|الثلاثاء|الأربعاء|الخميس|الجمعة|السبت|الأحد",
        "يناير|فبراير|مارس|أبريل|مايو|يونيو|يوليو|أغسطس|سبتمبر|أكتوبر|نوفمبر|ديسمبر"),
    "es": ("lunes|martes|miércoles|jueves|viernes|sábado|domingo",
        "enero|febrero|marzo|abril|mayo|junio|julio|agosto|septiembre|octubre|noviembre|diciembre"),
    "fil": ("Lunes|Martes|Miyerkules|Huwebes|Biyernes|Sabado|Linggo",
        "Enero|Pebrero|Marso|Abril|Mayo|Hunyo|Hulyo|Agosto|Setyembre|Oktubre|Nobyembre|Disyembre"),
    "fr": ("lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche",
        "janvier|février|mars|avril|mai|juin|juillet|août|septembre|octobre|novembre|décembre"),
    "hi": ("सोमवार|मंगलवार|बुधवार|गुरुवार|शुक्रवार|शनिवार|रविवार",
        "जनवरी|फ़रवरी|मार्च|अप्रैल|मई|जून|जुलाई|अगस्त|सितंबर|अक्टूबर|नवंबर|दिसंबर"),
    "ko": ("월요일|화요일|수요일|목요일|금요일|토요일|일요일",
        "1월|2월|3월|4월|5월|6월|7월|8월|9월|10월|11월|12월"),
    "pl": ("poniedziałek|wtorek|środa|czwartek|piątek|sobota|niedziela",
        "stycznia|lutego|marca|kwietnia|maja|czerwca|lipca|sierpnia|września|października|listopada|grudnia"),
    "pt-BR": ("segunda-feira|terça-feira|quarta-feira|quinta-feira|sexta-feira|sábado|domingo",
        "janeiro|fevereiro|março|abril|maio|junho|julho|agosto|setembro|outubro|novembro|dezembro"),
    "ru": ("понедельник|вторник|среда|четверг|пятница|суббота|воскресенье",
        "января|февраля|марта|апреля|мая|июня|июля|августа|сентября|октября|ноября|декабря"),
    "vi": ("Thứ Hai|Thứ Ba|Thứ Tư|Thứ Năm|Thứ Sáu|Thứ Bảy|Chủ Nhật",
        "tháng 1|tháng 2|tháng 3|tháng 4|tháng 5|tháng 6|tháng 7|tháng 8|tháng 9|tháng 10|tháng 11|tháng 12"),
    "zh-Hans": ("星期一|星期二|星期三|星期四|星期五|星期六|星期日", "1月|2月|3月|4月|5月|6月|7月|8月|9月|10月|11月|12月"),
    "zh-Hant": ("星期一|星期二|星期三|星期四|星期五|星期六|星期日", "1月|2月|3月|4月|5月|6月|7月|8月|9月|10月|11月|12月"),
    # From memory: no published table was at hand, and the one in common use holds French.
    "ht": ("lendi|madi|mèkredi|jedi|vandredi|samdi|dimanch",
        "janvye|fevriye|mas|avril|me|jen|jiyè|out|septanm|oktòb|novanm|desanm"),
}  # fmt: skip
# CLDR 48, supplementalData, timeData (`Intl.Locale("und-XX").getHourCycles()[0]`): what a territory prefers. fr_CA has an
# entry of its own there, 24 hours, beside CA's 12.
HOURS = dict.fromkeys(
    ("US", "KR", "PH", "IN", "EG", "CA", "MX", "TW", "HK", "SA", "AE", "DZ", "IQ", "SY", "PK", "BD", "MY", "SG", "AU", "NZ", "GR",
     "CO", "PE", "VE", "EC", "GT", "HN", "SV", "NI", "CR", "PA", "DO", "CU", "PR", "BO", "JM", "SO", "GH", "KH"), 12,
) | dict.fromkeys(
    ("GB", "FR", "HT", "ES", "DE", "CN", "JP", "BR", "RU", "VN", "MA", "TR", "IR", "TH", "ID", "ZA", "NG", "KE", "SN", "CM", "PT", "IT",
     "NL", "BE", "CH", "AT", "SE", "PL", "UA", "RO", "IE", "KZ", "AF", "MM", "NP", "LA"), 24,
)  # fmt: skip
# Zones of the regions that these tests print for. IANA time zone database, zone.tab.
REGIONS = {
    "US": "America/New_York", "FR": "Europe/Paris", "KR": "Asia/Seoul", "HT": "America/Port-au-Prince", "PH": "Asia/Manila",
    "IN": "Asia/Kolkata", "EG": "Africa/Cairo",
}  # fmt: skip
# CLDR 48, numbers, decimal, as ICU 78.2 gives it for the pair.
DECIMALS = {
    "US": {".": "en ar es fil hi ko zh-Hans zh-Hant ht", ",": "fr pl pt-BR ru vi"},
    "FR": {".": "ar fil hi ko zh-Hans zh-Hant", ",": "es fr pl pt-BR ru vi ht"},
    "MX": {".": "es", ",": "fr"},
    "ES": {",": "es"},
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_days_and_months_have_the_names_that_icu_gives_them(language: str) -> None:
    assert language in NAMES, "write its days and months here, from a source that is not what prints them"
    days, months = (names.split("|") for names in NAMES[language])
    assert (len(days), len(months)) == (7, 12)
    local = Local(language, "US")
    # A leap year, day by day: 1 January 2028 is a Saturday (ISO 8601: 2027-W52-6).
    day = date(2028, 1, 1)
    for number in range(366):
        shown = bare(long_date(day, local))
        named = days[(5 + number) % 7]
        assert weekday(day, local) == named
        rest = shown.replace(named, " ", 1)
        assert rest != shown
        left = rest.replace(months[day.month - 1], " ", 1)
        assert left != rest, shown
        assert sorted(re.findall(r"\d+", left)) == sorted([str(day.day), "2028"]), shown
        day += timedelta(days=1)
    assert day == date(2029, 1, 1)


def test_leap_day_and_ends_of_months_are_printed_whole() -> None:
    # Checked with ISO week dates: 2028-02-29 is 2028-W09-2, 2027-12-31 is 2027-W52-5, 2027-01-31 is 2027-W04-7.
    for iso, number in (("2028-02-29", 1), ("2027-12-31", 4), ("2027-01-31", 6)):
        day = date.fromisoformat(iso)
        for language in LANGUAGES:
            days, _ = NAMES[language]
            assert days.split("|")[number] in long_date(day, Local(language, "FR"))


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_clock_is_that_of_the_region_the_owner_lives_in(language: str) -> None:
    own = {territory: Local(language, territory).hours for territory in HOURS}
    wanted = HOURS | ({"CA": 24} if language == "fr" else {})
    assert own == wanted
    for territory, zone in REGIONS.items():
        assert territory_of(zone) == territory
        shown = clock(time(18, 5), Local(language, territory_of(zone)))
        assert ("18" in shown, re.search(r"(?<!\d)6(?!\d)", shown) is not None) == (
            (False, True) if HOURS[territory] == 12 else (True, False)
        )


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_owner_reads_a_twelve_that_could_be_noon_or_midnight(language: str) -> None:
    for territory in REGIONS:
        local = Local(language, territory)
        for edge in ("by", "from"):
            night, noon = clock(time(0), local, edge), clock(time(12), local, edge)
            for shown in (night, noon):
                assert not re.search(
                    r"12:00\s*([ap]\.?\s?m|SA|CH|ص|م)|(오전|오후|上午|下午)\s*12:00", shown, re.IGNORECASE
                )
            # A minute before what ends with the day, a minute after what begins with it: on a clock of 12 or 24 hours.
            assert [int(figure) for figure in re.findall(r"\d+", night)] == {
                (12, "by"): [11, 59], (12, "from"): [12, 1], (24, "by"): [23, 59], (24, "from"): [0, 1],
            }[local.hours, edge]  # fmt: skip
            assert night != noon


# IANA time zone database, 2026b and later: in 2027 clocks change on 14 March and 7 November in New York, 28 March and 31 October
# in Paris, and at midnight in Cairo, 30 April and 28 October. Then the edges of days, months and years.
TIMES = {
    "US": ("2027-03-14T01:59", "2027-03-14T03:00", "2027-11-07T00:59", "2027-11-07T02:00"),
    "FR": ("2027-03-28T01:59", "2027-03-28T03:00", "2027-10-31T01:59", "2027-10-31T03:00"),
    "EG": ("2027-04-29T23:59", "2027-04-30T01:00", "2027-10-28T22:59", "2027-10-29T00:00"),
}
EDGES = ("2027-06-01T00:00", "2027-06-01T00:01", "2027-05-31T12:00", "2028-02-29T23:59", "2028-03-01T00:00", "2027-12-31T18:30",
         "2028-01-01T00:00", "2027-01-31T09:05")  # fmt: skip


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_moment_is_read_back_as_it_was_and_as_no_other(language: str) -> None:
    for territory, zone in REGIONS.items():
        local = Local(language, territory)
        for text in (*EDGES, *TIMES.get(territory, ())):
            at = datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone))
            for edge in ("by", "from"):
                shown = bare(moment(at, local, edge))
                assert says_time(shown, at.isoformat(timespec="minutes"), local), shown
                # A year, in figures a month, a week, a day, half a day, an hour and seven minutes off.
                for minutes in (525600, 44640, 10080, 1440, 720, 60, 7):
                    other = (at + timedelta(minutes=minutes)).isoformat(timespec="minutes")
                    assert not says_time(shown, other, local), (shown, other)


@pytest.mark.parametrize("territory", DECIMALS)
def test_tenths_stand_behind_the_sign_that_icu_gives(territory: str) -> None:
    for sign, languages in DECIMALS[territory].items():
        for language in languages.split():
            assert decimal_sign(Local(language, territory)) == sign, (language, territory)


# ICU 78.2, CLDR 48: 2 metres and 6 feet (short), 5 minutes (long). The space before a unit is the house's in every language
# (SI Brochure, 9th edition, 5.4.3). Arabic: ICU has `متران`, two metres without a figure; ours keeps the figure.
UNITS = {
    "en": ("2 m", "6 ft", "5 minutes"), "ar": ("2 متر", "6 قدم", "5 دقائق"), "es": ("2 m", "6 ft", "5 minutos"),
    "fil": ("2 m", "6 ft", "5 minuto"), "fr": ("2 m", "6 pi", "5 minutes"), "hi": ("2 मी", "6 फ़ीट", "5 मिनट"),
    "ko": ("2 m", "6 ft", "5분"), "pl": ("2 m", "6 ft", "5 minut"), "pt-BR": ("2 m", "6 ft", "5 minutos"), "ru": ("2 м", "6 фт", "5 минут"),
    "vi": ("2 m", "6 ft", "5 phút"), "zh-Hans": ("2 米", "6 英尺", "5分钟"), "zh-Hant": ("2 公尺", "6 英尺", "5 分鐘"),
    # From memory.
    "ht": ("2 m", "6 ft", "5 minit"),
}  # fmt: skip


@pytest.mark.parametrize("language", LANGUAGES)
def test_units_are_those_that_icu_writes(language: str) -> None:
    local = Local(language, "US")
    metre, foot, minutes = UNITS[language]
    assert bare(measure(2, "m", local)) == metre
    assert bare(measure(6, "ft", local)) == foot
    assert bare(duration(5, "minute", local)) == minutes


def test_nothing_in_haitian_creole_is_french() -> None:
    haitian, french = Local("ht", "US"), Local("fr", "US")
    for number in range(366):
        day = date(2028, 1, 1) + timedelta(days=number)
        assert not re.search(r"(di|che) \d", long_date(day, french)) or long_date(day, haitian) != long_date(
            day, french
        )
        assert weekday(day, haitian) not in NAMES["fr"][0].split("|")
        # `avril` is spelt alike in both.
        assert month_name(day, haitian) not in NAMES["fr"][1].split("|") or day.month == 4
    for unit in ("minute", "hour", "day", "week"):
        for number in (1, 2, 24):
            assert duration(number, unit, haitian) != duration(number, unit, french)


# ---- where node is on the machine, it is asked -----------------------------------------------------------------

ASK = """
const asked = JSON.parse(require("fs").readFileSync(0));
const write = (tag, options, iso) => new Intl.DateTimeFormat(tag + "-u-nu-latn", {timeZone: "UTC", ...options}).format(new Date(iso));
console.log(JSON.stringify([process.versions.cldr, asked.map(([tag, options, iso]) => write(tag, options, iso))]));
"""


def ask_node(questions: list[tuple[str, dict[str, str], str]]) -> list[str]:
    node = shutil.which("node")
    if node is None:
        pytest.skip("no node on this machine to ask")
    run = subprocess.run([node, "-e", ASK], input=json.dumps(questions), capture_output=True, text=True, check=True)
    version, answers = json.loads(run.stdout)
    if float(version) < 47:
        pytest.skip(f"this node has CLDR {version}, older than what prints here")
    return [plain(answer) for answer in answers]


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub("[\u200e\u200f]", "", bare(text))).strip()


def tag_of(language: str, territory: str) -> str:
    return language if language == "pt-BR" else f"{language}-{territory}"


def test_whole_dates_are_those_of_another_implementation() -> None:
    questions, ours = [], []
    for language in LANGUAGES:
        if language == "ht":
            continue  # ICU has no Haitian Creole and answers in English
        for territory in REGIONS:
            for week in range(0, 366, 9):
                day = date(2028, 1, 1) + timedelta(days=week)
                questions.append((tag_of(language, territory), {"dateStyle": "full"}, f"{day}T12:00:00Z"))
                ours.append((language, territory, plain(long_date(day, Local(language, territory)))))
                if week < 63:
                    questions.append((tag_of(language, territory), {"weekday": "short"}, f"{day}T12:00:00Z"))
                    ours.append((language, territory, plain(short_weekday(day, Local(language, territory)))))
    theirs = ask_node(questions)
    assert [(o, a) for o, a in zip(ours, theirs, strict=True) if o[2] != a] == []


def test_whole_times_are_those_of_another_implementation() -> None:
    questions, ours = [], []
    for language in LANGUAGES:
        if language in ("ht", "ko"):
            continue  # Korean: CLDR's abbreviated form is the English AM; ours is its wide form, 오전
        for territory in REGIONS:
            # ICU's en-IN writes `am`, and ours is the American form known by heart.
            if (language, territory) == ("en", "IN"):
                continue
            for text in ("00:01", "06:05", "09:15", "11:59", "12:01", "18:30", "23:59"):
                hours = Local(language, territory).hours
                options = {"hour": "numeric", "minute": "2-digit", "hourCycle": "h12" if hours == 12 else "h23"}
                questions.append((tag_of(language, territory), options, f"2028-01-01T{text}:00Z"))
                shown = plain(clock(time.fromisoformat(text), Local(language, territory)))
                # Before ten a 24-hour clock has two figures in the short style that ours follows, and one in this skeleton.
                ours.append((language, territory, re.sub(r"^0(?=\d:)", "", shown)))
    theirs = [re.sub(r"^0(?=\d:)", "", answer) for answer in ask_node(questions)]
    assert [(o, a) for o, a in zip(ours, theirs, strict=True) if o[2] != a] == []
