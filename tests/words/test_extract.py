"""Every sentence an owner may read is found, with its place."""

from __future__ import annotations

import pytest

from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Node
from generator.words.extract import from_book, from_phrases, from_template

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
    assert {(m.source, str(m.places[0])) for m in messages} == {
        ("It gives the leg support.", "protocols/padded.yaml:6:17"),
        ("Look at the toes.", "protocols/padded.yaml:9:7"),
        ("Keep {pet} in.", "protocols/padded.yaml:10:7"),
        ("Do not cut it.", "protocols/padded.yaml:12:11"),
        ("Look for stains.", "protocols/padded.yaml:16:19"),
        ("The bandage is wet.", "protocols/signs.yaml:4:10"),
    }


def test_one_sentence_of_two_protocols_is_one_message_with_two_places() -> None:
    messages = from_book(trees(a=PROTOCOL, b=PROTOCOL.replace("Padded", "Foot")))
    toes = [m for m in messages if m.source == "Look at the toes."]
    assert [[span.file for span in m.places] for m in toes] == [["protocols/a.yaml", "protocols/b.yaml"]]
    assert toes[0].note == "Padded bandage: every day; Foot bandage: every day"


def test_patients_are_no_source_of_words() -> None:
    assert from_book(trees(maple="patient: {name: Maple}\nprotocol: padded\nowner: {name: T. Arkady}\n")) == ()


def test_phrases_of_a_module_are_found_without_running_it() -> None:
    module = 'raise SystemExit\nPHRASES: Mapping[str, str] = MappingProxyType({\n    "never": "Never",\n    "at": "{moment}",\n    "long": (\n        "One "\n        "line."\n    ),\n})\n'
    assert [(m.source, m.places[0].line, m.note) for m in from_phrases(module, "phrases.py")] == [
        ("Never", 3, "fixed phrase never"), ("One line.", 6, "fixed phrase long"),
    ]  # fmt: skip


@pytest.mark.parametrize("module", ["", "PHRASES = 3", 'PHRASES = {"a": f"{x}"}', "OTHER = {}"])
def test_a_module_without_plain_phrases_is_an_error(module: str) -> None:
    with pytest.raises(ValueError, match=r"phrases\.py"):
        from_phrases(module, "phrases.py")


def test_sentences_of_templates_are_found_with_context_and_plural() -> None:
    template = '<h2>{{ say("Never") }}</h2>\n{{ say(\'It\\\'s "wet"\', context="bandage") }}\n{{ plural("{n} walk", "{n} walks", n) }} {{ _("Rest") }} {{ essay("no") }}'
    found = from_template(template, "sheet.j2")
    assert [(m.source, m.context, m.plural, m.places) for m in found] == [
        ("Never", None, None, (Span("sheet.j2", 1, 8),)),
        ('It\'s "wet"', "bandage", None, (Span("sheet.j2", 2, 4),)),
        ("{n} walk", None, "{n} walks", (Span("sheet.j2", 3, 4),)),
        ("Rest", None, None, (Span("sheet.j2", 3, 45),)),
    ]
