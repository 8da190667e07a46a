"""A glossary locks words, and counts what must not get lost: not, left and right."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.words.glossary import (
    LOCKED,
    SIGNALS,
    Glossary,
    empty_glossary,
    english_count,
    english_says,
    lacking,
    read_glossary,
)

LOCALES = Path(__file__).parents[2] / "locales"


def one(language: str) -> Glossary:
    file = LOCALES / language.replace("-", "_") / "glossary.yaml"
    found, problems = read_glossary(file.read_text(encoding="utf-8"), file.name, language)
    assert problems == ()
    return found


def test_a_form_is_a_whole_word_unless_a_star_says_otherwise() -> None:
    found, _ = read_glossary(
        "signals: {not: ['no'], left: [lew*], right: [prawy]}\nterms: {toes: [dedos, los dedos]}", "g", "pl"
    )
    assert found.count("not", "Nota. No, nowy no.") == 2
    assert found.count("left", "lewa lewej ale nie zlew") == 2
    assert found.says("toes", "Mire los  dedos.")
    assert not found.says("toes", "dedoso")


def test_a_script_without_spaces_is_searched_anywhere() -> None:
    found, _ = read_glossary("signals: {not: [不, 勿], left: [左], right: [右]}", "g", "zh-Hans")
    assert found.count("not", "请勿剪开,也不要取下。") == 2
    assert found.count("left", "左前腿") == 1


def test_a_vowel_sign_does_not_end_a_word() -> None:
    # Devanagari vowel signs are marks, which a regular expression does not count as letters.
    found, _ = read_glossary("signals: {not: [न], left: [बा*], right: [दा*]}", "g", "hi")
    assert found.count("not", "नाखून") == 0
    assert found.count("not", "न काटें") == 1
    # The danda is a full stop, though it stands among the letters.
    assert found.count("not", "खोलें न।") == 1


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("terms: {toes: []}\nsignals: {not: [a], left: [b], right: [c]}", 1, "has no word"),
        ("words: {toes: [x]}\nsignals: {not: [a], left: [b], right: [c]}", 1, "no part"),
        ("signals:\n  not: [a]\n  left: [b]\n  right: [c]\n  up: [d]", 5, "no signal"),
        ("signals:\n  not: [a]\n  left: [b]", 1, "`right` are not given"),
        ("- a", 1, "no parts"),
    ],
)
def test_what_is_wrong_is_said_at_its_place(text: str, line: int, what: str) -> None:
    _, problems = read_glossary(text, "glossary.yaml", "es")
    assert [(p.span.line, p.name) for p in problems if what in p.what] == [(line, "glossary-unsound")], problems


def test_english_left_and_right_are_sides_only_before_a_part_of_the_body() -> None:
    assert english_count("right", "Bandage on the right front leg") == 1
    assert english_count("left", "Left back leg") == 1
    assert english_count("right", "Right: together") == 0
    assert english_count("left", "what is left of the bandage") == 0
    assert english_count("not", "Don't wait. It cannot.") == 2
    assert english_says("at once", "Ring us at once.")
    assert not english_says("toe", "The toes.")


# A sentence with a negation, and one without that has its letters inside other words.
@pytest.mark.parametrize(("language", "plain", "negated"), [("es", "Noche y día, nota.", "No lo quite.")])
def test_words_for_not_are_whole_words(language: str, plain: str, negated: str) -> None:
    found = one(language)
    assert found.count("not", plain) == 0
    assert found.count("not", negated) == 1


def test_a_new_glossary_names_every_word_that_is_still_to_be_found() -> None:
    text = empty_glossary("Somali")
    found, problems = read_glossary(text, "glossary.yaml", "so")
    rows = text.split("\n")
    told = {rows[p.span.line - 1].strip().partition(":")[0] for p in problems}
    assert told == {*LOCKED, *SIGNALS}
    assert {p.name for p in problems} == {"glossary-unsound"}
    assert len(problems) == len(told), "one problem for one word"
    # Empty is not missing: each is told once.
    assert lacking(found, "glossary.yaml") == ()


def test_a_locked_term_that_is_left_out_is_named() -> None:
    found, _ = read_glossary("terms: {toes: [dedos]}\nsignals: {not: [a], left: [b], right: [c]}", "g.yaml", "es")
    told = [p.what.split("`")[1] for p in lacking(found, "g.yaml")]
    assert told == [term for term in LOCKED if term != "toes"]


def test_spanish_locks_what_every_language_locks() -> None:
    assert set(one("es").terms) >= set(LOCKED)
