"""Sign-off: two people, these very words, and nothing else."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date

import pytest

from generator.source.span import Span
from generator.words.po import Entry
from generator.words.signoff import NOBODY, Signature, digest, read_ledger, sign, signature_of, write_ledger

ENTRY = Entry("Keep it dry", ("Manténgalo seco",), Span("es.po", 7))
OTHER = Entry("Never", ("Nunca",), Span("es.po", 10))
SIGNATURE = Signature("A. One", "B. Two", "sworn translator", date(2027, 3, 1))


@pytest.mark.parametrize(
    "changed",
    [
        replace(ENTRY, translations=("Manténgalo seco.",)),
        replace(ENTRY, source="Keep it dry at all times"),
        replace(ENTRY, context="bandage"),
        replace(ENTRY, plural="Keep them dry"),
        replace(ENTRY, translations=("Manténgalo seco", "")),
    ],
    ids=["translation", "source", "context", "plural", "forms"],
)
def test_any_change_of_words_unsigns_just_that_message(changed: Entry) -> None:
    ledger = sign(sign(NOBODY, "es", ENTRY, SIGNATURE), "es", OTHER, SIGNATURE)
    assert signature_of(ledger, "es", ENTRY) == SIGNATURE
    assert signature_of(ledger, "es", changed) is None
    assert signature_of(ledger, "es", OTHER) == SIGNATURE


def test_places_comments_and_lines_may_move() -> None:
    ledger = sign(NOBODY, "es", ENTRY, SIGNATURE)
    moved = replace(ENTRY, span=Span("es.po", 99), places=("a:1",), notes=("x",), comments=("y",))
    assert signature_of(ledger, "es", moved) == SIGNATURE


def test_a_signature_does_not_hold_for_another_language() -> None:
    assert signature_of(sign(NOBODY, "es", ENTRY, SIGNATURE), "pt", ENTRY) is None


def test_words_cannot_be_shifted_between_the_parts_of_a_message() -> None:
    assert digest("es", Entry("ab", ("c",), Span(""))) != digest("es", Entry("a", ("bc",), Span("")))


@pytest.mark.parametrize(
    ("translator", "reviser"),
    [
        ("A. One", "A. One"),
        ("A. One", "a  one"),
        ("José Peña", "jose pena"),
        ("J. Roe", "Roe, J."),
        ("J. Roe", "JRoe"),
        ("", "B. Two"),
        ("A. One", " "),
    ],
)
def test_one_person_cannot_sign_twice(translator: str, reviser: str) -> None:
    # ISO 17100:2015: revision is done by a person other than the translator.
    with pytest.raises(ValueError, match=r"two people|must all be named"):
        Signature(translator, reviser, "sworn translator", date(2027, 3, 1))


def test_a_ledger_is_written_and_read_the_same() -> None:
    ledger = sign(sign(NOBODY, "es", ENTRY, SIGNATURE), "es", OTHER, SIGNATURE)
    back, problems = read_ledger(write_ledger(ledger), "signed.json")
    assert problems == ()
    assert back == ledger
    assert read_ledger("{}", "signed.json") == (NOBODY, ())


def row(**changes: str) -> str:
    values = {
        "translator": "A. One",
        "reviser": "B. Two",
        "qualification": "sworn translator",
        "date": "2027-03-01",
        **changes,
    }
    return json.dumps({digest("es", ENTRY): values}, indent=1)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (row(reviser="A. One"), "two people"),
        (row(date="1 March 2027"), "not sound"),
        (row(date="2027-03-09"), "not come yet"),
        (row(extra="x"), "exactly"),
        (row(qualification=""), "named"),
        ('{"es": {}}', "digest"),
        ("[]", "table"),
        ("{", "cannot be read"),
    ],
)
def test_an_unsound_signature_signs_nothing_and_says_why(text: str, said: str) -> None:
    ledger, problems = read_ledger(text, "locales/es/signed.json", today=date(2027, 3, 2))
    assert ledger == {}
    assert [p.name for p in problems] == ["signature-unsound"]
    assert said in problems[0].what
    assert problems[0].span.line >= 1
