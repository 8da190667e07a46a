"""What is printed says what it stands for, in every language, or there is no sheet."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, time, timedelta

import pytest
from markupsafe import Markup

from generator.compose import owner_sheet
from generator.compose.echo import AlteredFigureError, echo, facts, in_order, same_facts
from generator.page.xhtml import read
from generator.source.problem import Refusal
from generator.source.span import Span
from generator.words import moments
from generator.words.catalogue import Said, Words, load_words
from generator.words.local import Local
from generator.words.telephone import Telephone, telephone
from tests.compose.plans import ROOT, book, maple, templates
from tests.compose.reading import ENGLISH, spanish

FILE = "locales/es/owner.po"


def spanish_with(before: str, after: str) -> Words:
    """The shipped Spanish words with a line of the catalogue changed."""
    text = (ROOT / FILE).read_text(encoding="utf-8")
    assert text.count(before) == 1, before
    return load_words("es", text.replace(before, after), file=FILE)


def sheet(words: Words = ENGLISH, more: dict[str, str] | None = None) -> str:
    return owner_sheet(maple(), words, ENGLISH, templates() | (more or {})).xhtml


def test_sheets_as_shipped_say_what_they_stand_for() -> None:
    assert sheet()
    assert sheet(spanish())


def _hours(hours: int):  # type: ignore[no-untyped-def]
    real = moments._clock

    def off(at, is_noon, local):  # type: ignore[no-untyped-def]
        return real(at + timedelta(hours=hours), is_noon, local)

    return off


@pytest.mark.parametrize("hours", [1, -1, 12])
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_formatter_that_prints_another_hour_is_stopped(
    hours: int, language: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(moments, "_clock", _hours(hours))
    with pytest.raises(AlteredFigureError) as stopped:
        sheet(ENGLISH if language == "en" else spanish())
    # All of them at once, each by name.
    assert {"come", "latest", "hours", "look0", "issued"} <= {
        re.sub(r"\.\d+$", "", n) for n, _, _ in stopped.value.found
    }
    assert "come: '" in str(stopped.value)
    assert "2027-03-20T10:00-04:00" in str(stopped.value)


@pytest.mark.parametrize("days", [1, 7, 31, 365])
def test_a_formatter_that_prints_another_day_is_stopped(days: int, monkeypatch: pytest.MonkeyPatch) -> None:
    real = moments.long_date

    def off(day: date, local: Local, year: bool = True) -> str:
        return real(day + timedelta(days=days), local, year)

    monkeypatch.setattr(moments, "long_date", off)
    with pytest.raises(AlteredFigureError, match=r"deadline: .* stands for 2027-03-20"):
        sheet()


def test_a_formatter_that_errs_in_one_language_alone_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    real = moments.clock

    def off(at: time, local: Local, edge: moments.Edge = "by") -> str:
        return real(at if local.language == "en" else at.replace(minute=(at.minute + 15) % 60), local, edge)

    monkeypatch.setattr(moments, "clock", off)
    assert sheet()
    with pytest.raises(AlteredFigureError, match="10:15"):
        sheet(spanish())


def test_a_telephone_number_with_a_digit_lost_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    def short(number: str, home: str) -> Telephone:
        whole = telephone(number, home)
        return replace(whole, shown=whole.shown[:-1])

    monkeypatch.setattr("generator.compose.voice.telephone", short)
    with pytest.raises(AlteredFigureError, match=re.escape("tel:+18025550142")):
        sheet()


def test_a_template_that_prints_one_figure_under_another_is_stopped() -> None:
    name = "owner-sheet.xhtml.j2"
    before = '<p class="lead tight">{{ deadline.date }}</p>'
    assert before in templates()[name]
    wrong = before.replace(
        "{{ deadline.date }}",
        '<time datetime="2027-03-21T10:00-04:00">{{ deadline.date.striptags() }}</time>',
    )
    with pytest.raises(AlteredFigureError, match="2027-03-21"):
        sheet(more={name: templates()[name].replace(before, wrong)})


def test_a_figure_is_read_in_the_language_it_stands_in() -> None:
    page = '<html xmlns="http://www.w3.org/1999/xhtml" lang="en"><body class="sheet"><main><p{}><time datetime="18:00">6:00 {}</time></p></main></body></html>'

    def local_in(language: str) -> Local:
        return Local(language, "US")

    echo(read(page.format("", "PM")), local_in, "metric")
    # CLDR 47, es-US: p.m.
    echo(read(page.format(' lang="es"', "p.m.")), local_in, "metric")
    with pytest.raises(AlteredFigureError):
        echo(read(page.format("", "p.m.")), local_in, "metric")


# ---- a catalogue that turns figures round -----------------------------------------------------------------------


def test_hours_turned_round_by_a_translation_name_the_line_of_the_catalogue() -> None:
    words = spanish_with("{opens} a {closes}", "{closes} a {opens}")
    line = (ROOT / FILE).read_text(encoding="utf-8").split('msgid "{opens} to {closes}"')[0].count("\n") + 1
    with pytest.raises(Refusal) as stopped:
        sheet(words)
    (problem,) = stopped.value.problems
    assert problem.name == "figures-turned-round"
    assert problem.span.file == FILE
    assert abs(problem.span.line - line) <= 1
    assert "{closes} a {opens}" in problem.what


def test_days_turned_round_by_a_translation_are_stopped() -> None:
    text = (ROOT / FILE).read_text(encoding="utf-8")
    shipped = re.search(r'msgid "\{first\} to \{last\}"\nmsgstr "(.*)"', text)
    assert shipped is not None
    turned = shipped[1].replace("{first}", "{x}").replace("{last}", "{first}").replace("{x}", "{last}")
    with pytest.raises(Refusal, match="figures-turned-round"):
        sheet(spanish_with(shipped[1], turned))


FIELDS = {
    "opens": Markup('<time id="a" datetime="08:00">8:00</time>'), "closes": Markup('<time id="b" datetime="18:30">18:30</time>'),
    "walks": Markup('<data id="c" value="4">4</data>'), "pet": Markup('<span id="d">Maple</span>'),
}  # fmt: skip


def test_a_signed_line_is_held_against_the_english_one_as_well() -> None:
    turned = Said("{closes} / {opens}", "es", "{opens} to {closes}", span=Span(FILE, 3, 1))
    with pytest.raises(Refusal):
        in_order(turned, Markup("{closes} / {opens}"), FIELDS)


@pytest.mark.parametrize(
    ("source", "text"),
    [
        ("{opens}: {walks} times", "{walks} veces: {opens}"),  # a number and a time: each still reads as what it is
        ("{pet} stays until {opens}", "Hasta {opens}: {pet}"),
        ("{opens} to {closes}", "de {opens} a {closes}"),
    ],
)
def test_other_words_may_stand_in_another_order(source: str, text: str) -> None:
    from generator.compose.writer import filled

    out = filled(text, FIELDS)
    assert in_order(Said(text, "es", source), out, FIELDS) is out


def test_a_value_that_differs_between_two_languages_is_a_fault_of_ours() -> None:
    same_facts('a <data id="a" value="4">4</data>', '<data id="b" value="4">4</data> b')
    for other in ('<data id="b" value="5">5</data>', "none", '<time id="b" datetime="04:00">4</time>'):
        with pytest.raises(AlteredFigureError):
            same_facts('<data id="a" value="4">4</data>', other)


def test_facts_of_a_line_are_moments_numbers_and_telephones() -> None:
    phone = '<a href="tel:+18025550142"><span id="p">(802) 555-0142</span></a>'
    line = f'<time id="a" datetime="08:00">8</time> {FIELDS["walks"]} {FIELDS["pet"]} {phone}'
    assert facts(line) == {"time": ["08:00"], "data": ["4"], "a": ["tel:+18025550142"]}


def test_a_clinic_that_says_feet_is_read_in_feet() -> None:
    plan = maple()
    for units, shown in (("both", "6 ft (2 m)"), ("us", "6 ft")):
        own = replace(book(), clinic=replace(book().clinic, units=units))
        document = owner_sheet(replace(plan, book=own), ENGLISH, ENGLISH, templates())
        assert shown in document.xhtml.replace("\u00a0", " ")
