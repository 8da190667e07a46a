"""Every sentence an owner may read is found, with its place."""

from __future__ import annotations

from datetime import date, datetime, time

import pytest

from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Node
from generator.words import moments, numbers
from generator.words.extract import Message, from_book, from_phrases, from_template, merged
from generator.words.fields import names
from generator.words.languages import language_name
from generator.words.local import Local
from generator.words.notes import FIELDS, HINTS
from tests.conftest import ROOT

PROTOCOL = """\
protocol: padded
title: Padded bandage
steps:
  - {do: Dry the limb., because: staff words stay English}
owner:
  what_it_does: It gives the leg
    support.
  every_day:
    - Look at the toes.
    - "Keep {pet} in."
  exercise: {walks: 4 a day}
  never: [Do not cut it.]
stages:
  inflammatory:
    owner:
      every_day: [Look for stains.]
"""
SIGNS = """\
wet:
  urgency: urgent
  staff: Wet. Change it.
  owner: The bandage is wet.
"""


def trees(**texts: str) -> dict[str, Node]:
    found = {}
    for stem, text in texts.items():
        tree = read_tree(text.encode(), f"protocols/{stem}.yaml").tree
        assert tree is not None
        found[f"protocols/{stem}.yaml"] = tree
    return found


def test_owners_words_of_a_book_are_found_and_staff_words_are_not() -> None:
    messages = from_book(trees(padded=PROTOCOL, signs=SIGNS, clinic="clinic: {name: X}\n"))
    assert {(m.source, str(m.places[0].span), m.places[0].path) for m in messages} == {
        ("It gives the leg support.", "protocols/padded.yaml:6:17", "padded:owner.what_it_does"),
        ("Look at the toes.", "protocols/padded.yaml:9:7", "padded:owner.every_day[1]"),
        ("Keep {pet} in.", "protocols/padded.yaml:10:7", "padded:owner.every_day[2]"),
        ("Do not cut it.", "protocols/padded.yaml:12:11", "padded:owner.never[1]"),
        ("Look for stains.", "protocols/padded.yaml:16:19", "padded:stages.inflammatory.owner.every_day[1]"),
        ("The bandage is wet.", "protocols/signs.yaml:4:10", "signs:wet.owner"),
    }


def test_one_sentence_of_two_protocols_is_one_message_with_two_places() -> None:
    messages = from_book(trees(a=PROTOCOL, b=PROTOCOL.replace("Padded", "Foot")))
    toes = [m for m in messages if m.source == "Look at the toes."]
    assert [[place.span.file for place in m.places] for m in toes] == [["protocols/a.yaml", "protocols/b.yaml"]]
    assert toes[0].notes == ("Every day: what the owner does at home (Padded bandage; Foot bandage)",)


def test_a_sentence_of_many_protocols_has_a_short_note() -> None:
    many = {f"p{number}": PROTOCOL.replace("Padded", f"Padded {number}") for number in range(17)}
    found = {m.source: m for m in from_book(trees(**many))}
    assert found["Look at the toes."].notes == ("Every day: what the owner does at home (17 protocols)",)
    assert len(found["Look at the toes."].places) == 17
    one = from_book(trees(padded=PROTOCOL))
    assert {m.source: m.notes for m in one}["Look for stains."] == (
        "Every day: what the owner does at home (Padded bandage, inflammatory stage)",
    )


@pytest.mark.parametrize(
    ("urgency", "part"),
    [
        ("emergency", "Warning sign, under “Go now”"), ("urgent", "Warning sign, under “Ring now”"),
        ("same day", "Warning sign, under “Ring now”"), ("next visit", "Warning sign, under “Tell us at the next visit”"),
        ("some day", "Warning sign"),
    ],
)  # fmt: skip
def test_a_translator_is_told_how_urgent_a_sign_is(urgency: str, part: str) -> None:
    (message,) = from_book(trees(signs=SIGNS.replace("urgent", urgency)))
    assert message.notes == (part,)


def test_a_translator_is_told_what_each_field_holds_once() -> None:
    (message,) = merged([Message("{pet} and {pet} by {moment}", (), "A hint.")])
    assert message.notes == (
        "A hint.",
        "{pet}: the animal's name: any name, any sex, never inflected",
        "{moment}: weekday, date and clock time, e.g. Saturday, March 20, 2027, 10:00 AM; sometimes without the year",
    )


def test_the_examples_are_what_the_program_prints() -> None:
    reader, at = Local("en", "US"), datetime(2027, 3, 20, 10, 0)
    printed = {
        "moment": moments.moment(at, reader), "date": moments.long_date(at.date(), reader), "minutes": moments.duration(5, "minute", reader),
        "dates": moments.long_date(at.date(), reader, year=False), "time": moments.clock(at.time(), reader), "length": numbers.length(200, "metric", reader, "m"),
        "first": moments.short_weekday(date(2027, 3, 15), reader), "last": moments.short_weekday(date(2027, 3, 19), reader),
        "opens": moments.clock(time(8), reader), "closes": moments.clock(time(18), reader), "language": language_name("en", reader),
    }  # fmt: skip
    for name, value in printed.items():
        assert f"e.g. {value}".replace("\u00a0", " ") in FIELDS[name], name


def test_every_phrase_has_a_heading_and_every_field_a_note() -> None:
    file = ROOT / "generator" / "compose" / "phrases.py"
    phrases = from_phrases(file.read_text(encoding="utf-8"), "phrases.py")
    assert [m.source for m in phrases if not all(place.part for place in m.places)] == []
    used = {name for m in phrases for name in names(m.source)}
    assert used - set(FIELDS) == set()
    ids = {place.path.removeprefix("phrase:") for m in phrases for place in m.places}
    assert set(HINTS) - ids == set(), "a hint for a phrase that is gone"


def test_patients_are_no_source_of_words() -> None:
    assert from_book(trees(maple="patient: {name: Maple}\nprotocol: padded\nowner: {name: T. Arkady}\n")) == ()


def test_phrases_of_a_module_are_found_without_running_it() -> None:
    module = """raise SystemExit
# a comment of the module
PHRASES: Mapping[str, str] = MappingProxyType({
    # take care: what
    # never to do
    "never": "Never",
    "at": "{moment}",  # a remark
    "long": (
        "One "
        "line."
    ),
    # foot: small print
    "turn": "Turn it",
})
"""
    assert [(m.source, m.places[0].span.line, m.places[0].path, m.places[0].part) for m in from_phrases(module, "phrases.py")] == [
        ("Never", 6, "phrase:never", "take care: what never to do"), ("One line.", 9, "phrase:long", "take care: what never to do"),
        ("Turn it", 13, "phrase:turn", "foot: small print"),
    ]  # fmt: skip


@pytest.mark.parametrize("module", ["", "PHRASES = 3", 'PHRASES = {"a": f"{x}"}', "OTHER = {}"])
def test_a_module_without_plain_phrases_is_an_error(module: str) -> None:
    with pytest.raises(ValueError, match=r"phrases\.py"):
        from_phrases(module, "phrases.py")


def test_sentences_of_templates_are_found_with_context_and_plural() -> None:
    template = '<h2>{{ say("Never") }}</h2>\n{{ say(\'It\\\'s "wet"\', context="bandage") }}\n{{ plural("{n} walk", "{n} walks", n) }} {{ _("Rest") }} {{ essay("no") }}'
    found = from_template(template, "sheet.j2")
    assert [(m.source, m.context, m.plural, tuple(place.span for place in m.places)) for m in found] == [
        ("Never", None, None, (Span("sheet.j2", 1, 8),)),
        ('It\'s "wet"', "bandage", None, (Span("sheet.j2", 2, 4),)),
        ("{n} walk", None, "{n} walks", (Span("sheet.j2", 3, 4),)),
        ("Rest", None, None, (Span("sheet.j2", 3, 45),)),
    ]
