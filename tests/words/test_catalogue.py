"""The words of a language: signed, draft or missing, never half a sentence."""

from __future__ import annotations

from datetime import date

import pytest

from generator.words import po
from generator.words.catalogue import Words, load_words, plural_rule
from generator.words.signoff import NOBODY, Signature, digest, sign

HEAD = 'msgid ""\nmsgstr ""\n"Language: {0}\\n"\n"Plural-Forms: {1}\\n"\n'
SPANISH = (
    HEAD.format("es", "nplurals=2; plural=(n != 1);")
    + """
msgid "Never"
msgstr "Nunca"

msgctxt "verb"
msgid "Rest"
msgstr "Descanse"

msgid "Let {pet} out."
msgstr "Saque a {mascota}."

msgid "Keep it dry"
msgstr ""

#, fuzzy
msgid "Day and night"
msgstr "Noche"

msgid "{n} walk"
msgid_plural "{n} walks"
msgstr[0] "{n} paseo"
msgstr[1] "{n} paseos"
"""
)
SIGNATURE = Signature("A. One", "B. Two", "sworn translator", date(2027, 3, 1))


def spanish() -> Words:
    return load_words("es", SPANISH)


def test_english_is_the_source_and_needs_no_catalogue() -> None:
    for language in ("en", "en-GB"):
        said = load_words(language, "this is no catalogue").say("Never")
        assert (said.text, said.language, said.is_draft, said.is_missing, said.is_signed) == (
            "Never",
            language,
            False,
            False,
            True,
        )


def test_a_translation_nobody_signed_is_a_draft() -> None:
    said = spanish().say("Never")
    assert (said.text, said.language, said.source) == ("Nunca", "es", "Never")
    assert said.is_draft
    assert not said.is_signed


def test_a_signed_translation_stands_alone() -> None:
    entry = next(e for e in po.read(SPANISH, "").entries if e.source == "Never")
    said = load_words("es", SPANISH, sign(NOBODY, "es", entry, SIGNATURE)).say("Never")
    assert said.is_signed
    assert not spanish().say("Never").is_signed


@pytest.mark.parametrize(
    "message",
    ["Not in the catalogue.", "Keep it dry", "Day and night", "Let {pet} out.", "Rest"],
    ids=["absent", "empty", "fuzzy", "fields differ", "other context"],
)
def test_what_cannot_be_said_falls_back_to_english_as_a_whole(message: str) -> None:
    said = spanish().say(message)
    assert (said.text, said.language, said.is_missing, said.is_signed) == (message, "en", True, False)
    assert not spanish().has(message)


def test_a_context_parts_two_meanings_of_one_word() -> None:
    assert spanish().say("Rest", "verb").text == "Descanse"


def test_a_message_of_fields_alone_needs_no_translator() -> None:
    said = spanish().say("{moment}, {place}")
    assert (said.text, said.language, said.is_signed) == ("{moment}, {place}", "es", True)


@pytest.mark.parametrize(
    ("language", "header", "by_count"),
    # CLDR 47 plural rules for cardinals, asked by number (0 1 2 3 5 11 21 100 102).
    [
        ("es", "nplurals=2; plural=(n != 1);", "1 0 1 1 1 1 1 1 1"),
        ("fr", "nplurals=2; plural=(n > 1);", "0 0 1 1 1 1 1 1 1"),
        ("vi", "nplurals=1; plural=0;", "0 0 0 0 0 0 0 0 0"),
        (
            "pl",
            "nplurals=3; plural=(n==1 ? 0 : n%10>=2 && n%10<=4 && (n%100<12 || n%100>14) ? 1 : 2);",
            "2 0 1 1 2 2 2 2 1",
        ),
        (
            "ar",
            "nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 ? 4 : 5);",
            "0 1 2 3 3 4 4 5 5",
        ),
    ],
)
def test_plurals_are_chosen_by_number(language: str, header: str, by_count: str) -> None:
    rule = plural_rule(header)
    assert rule is not None
    forms = rule[0]
    text = HEAD.format(language, header) + '\nmsgid "{n} walk"\nmsgid_plural "{n} walks"\n'
    text += "".join(f'msgstr[{i}] "{{n}} form{i}"\n' for i in range(forms))
    words = load_words(language, text)
    said = [words.plural("{n} walk", "{n} walks", n).text for n in (0, 1, 2, 3, 5, 11, 21, 100, 102)]
    assert said == [f"{{n}} form{i}" for i in by_count.split()]


def test_english_says_one_for_one_only() -> None:
    words = load_words("en")
    assert [words.plural("{n} walk", "{n} walks", n).text for n in (0, 1, 2)] == ["{n} walks", "{n} walk", "{n} walks"]


def test_a_plural_that_cannot_be_said_falls_back_in_the_english_form() -> None:
    words = load_words("es", SPANISH.replace("paseos", "paseos {x}"))
    assert words.plural("{n} walk", "{n} walks", 1).text == "{n} walk"
    assert words.plural("{n} walk", "{n} walks", 1).is_missing
    no_rule = load_words("es", SPANISH.replace("nplurals=2; plural=(n != 1);", "by feeling"))
    assert no_rule.plural("{n} walk", "{n} walks", 2).is_missing


@pytest.mark.parametrize(
    "header",
    ["", "nplurals=2", "nplurals=2; plural=(n != 1", "nplurals=2; plural=__import__('os')", "nplurals=x; plural=0;"],
)
def test_a_plural_rule_is_arithmetic_or_nothing(header: str) -> None:
    assert plural_rule(header) is None


def test_a_language_without_a_catalogue_is_missing_and_not_wrong() -> None:
    assert load_words("vi").say("Never").is_missing


def test_a_message_of_a_broken_catalogue_is_told_and_left_out() -> None:
    words = load_words("es", SPANISH.replace('msgstr "Nunca"', "msgstr Nunca"), file="locales/es/owner.po")
    assert [p.name for p in words.problems] == ["catalogue-unreadable"]
    assert str(words.problems[0].span).startswith("locales/es/owner.po:7")
    assert words.say("Never").is_missing


def test_a_catalogue_serves_the_regions_of_its_language_with_its_signatures() -> None:
    entry = next(e for e in po.read(SPANISH, "").entries if e.source == "Never")
    said = load_words("es-MX", SPANISH, sign(NOBODY, "es", entry, SIGNATURE)).say("Never")
    assert (said.text, said.language, said.is_signed) == ("Nunca", "es-MX", True)


def test_rows_of_a_ledger_as_they_stand_sign_only_if_they_are_sound() -> None:
    entry = next(e for e in po.read(SPANISH, "").entries if e.source == "Never")
    row = {"translator": "A. One", "reviser": "B. Two", "qualification": "sworn translator", "date": "2027-03-01"}
    assert load_words("es", SPANISH, {digest("es", entry): row}).say("Never").is_signed
    alone = load_words("es", SPANISH, {digest("es", entry): {**row, "reviser": "A. One"}})
    assert alone.say("Never").is_draft
    assert [p.name for p in alone.problems] == ["signature-unsound"]


def test_a_clinics_own_words_stand_over_the_shipped_ones() -> None:
    own = load_words(
        "es", HEAD.format("es", "nplurals=2; plural=(n != 1);") + '\nmsgid "Our own line."\nmsgstr "Nuestra frase."\n'
    )
    both = own.over(spanish())
    assert both.say("Our own line.").text == "Nuestra frase."
    assert both.say("Never").text == "Nunca"
    assert both.plural("{n} walk", "{n} walks", 2).text == "{n} paseos"
    assert both.has("Never")
    assert both.say("Not in either.").is_missing
    with pytest.raises(ValueError, match="vi"):
        own.over(load_words("vi"))
