"""`gauzeleaf words sign`: two people, sound words, STOP lines translated back, and never for anybody else's book."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.translation.room import held, open_room
from generator.words.back_translation import BackTranslation
from tests.cli.running import Ran, everything_in, run
from tests.conftest import ROOT
from tests.translation.books import checkout, clinic_book, put, reword

Capture = pytest.CaptureFixture[str]
NOW = ("--now", "2027-03-13T10:40")
# Invented names.
PEOPLE = {"--translator": "R. Osei-Lund", "--reviser": "M. Tamsin", "--qualification": "certified translator"}
OLD, NEW = "Feel the toes. Warm and soft is right.", "Feel the toes. Warm is right."


@pytest.fixture
def spanish(tmp_path: Path, capsys: Capture) -> Path:
    """A clinic's own Spanish: the shipped drafts, taken over to be revised."""
    book = clinic_book(tmp_path)
    assert run(["words", "merge", "--book", str(book), "--language", "es", "--all"], capsys).status == 0
    return book / "locales" / "es"


def book(spanish: Path) -> str:
    return str(spanish.parent.parent)


def sign(spanish: Path, capsys: Capture, *more: str, **changes: str) -> Ran:
    people = PEOPLE | {f"--{name}": text for name, text in changes.items()}
    typed = [word for pair in people.items() for word in pair]
    return run(["words", "sign", "es", *typed, *more, "--book", book(spanish), *NOW], capsys)


def translate_back(spanish: Path, by: str = "clinician") -> None:
    """A row for each STOP line, as the clinic's people would write them."""
    one = held(open_room(book(spanish)), "es")
    rows = [
        dict(zip(("english", "translation", "back", "verdict", "by"), row, strict=True))
        for message in one.stops
        if (entry := one.by_key[message.key]).is_translated
        for row in [(entry.source, entry.translations[0], entry.source, "same", by)]
    ]
    assert len(rows) > 40
    (spanish / "back-translation.yaml").write_text(json.dumps(rows, indent=1, ensure_ascii=False), encoding="utf-8")
    assert all(isinstance(row, BackTranslation) for row in held(open_room(book(spanish)), "es").back)


def test_one_sentence_is_signed_and_told(spanish: Path, capsys: Capture) -> None:
    ran = sign(spanish, capsys, "--message", "Dog")
    assert (ran.status, ran.err) == (0, "")
    assert "  Dog -> Perro\n" in ran.out
    others = len(held(open_room(book(spanish)), "es").wanted) - 1
    assert f"signed now: 1; before: 0; still drafts: {others}" in ran.out
    (row,) = json.loads((spanish / "signed.json").read_text(encoding="utf-8")).values()
    assert row == {
        "translator": "R. Osei-Lund", "reviser": "M. Tamsin", "qualification": "certified translator", "date": "2027-03-13",
    }  # fmt: skip
    ran = sign(spanish, capsys, "--message", "Cat", "--date", "2027-03-01")
    assert "signed now: 1; before: 1" in ran.out


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"reviser": "R. Osei-Lund"}, "signed-by-one-person"),
        ({"reviser": "r osei lund"}, "signed-by-one-person"),
        ({"reviser": "Osei-Lund, R."}, "signed-by-one-person"),
        ({"reviser": " "}, "signature-empty"),
        ({"qualification": ""}, "signature-empty"),
        ({"date": "2027-03-14"}, "date-to-come"),
        ({"date": "14 March"}, "date-unreadable"),
        ({"message": "Hound"}, "sentence-unknown"),
    ],
)
def test_what_makes_no_approval_is_refused(changes: dict[str, str], name: str, spanish: Path, capsys: Capture) -> None:
    before = everything_in(spanish)
    ran = sign(spanish, capsys, *(() if "message" in changes else ("--message", "Dog")), **changes)
    assert ran.status == 2
    assert f": error: {name}: " in ran.err
    assert everything_in(spanish) == before


@pytest.mark.parametrize("what", [(), ("--all", "--message", "Dog")])
def test_what_is_signed_must_be_said_once(what: tuple[str, ...], spanish: Path, capsys: Capture) -> None:
    ran = sign(spanish, capsys, *what)
    assert ran.status == 2
    assert "either --all" in ran.err


@pytest.mark.parametrize(
    ("english", "words", "name"),
    [
        ("Dog", "", "translation-missing"),
        ("Dog", "Perro 2", "digits-in-catalogue"),
        ("Left front leg", "Pata delantera derecha", "side-differs"),
        ("Dog", "Perro \U0001f43e", "letter-without-glyph"),
    ],
)
def test_words_with_an_error_cannot_be_signed(
    english: str, words: str, name: str, spanish: Path, capsys: Capture
) -> None:
    put(spanish / "owner.po", english, words)
    before = everything_in(spanish)
    ran = sign(spanish, capsys, "--message", english, "--message", "Cat")
    assert ran.status == 1
    assert f"error: {name}" in ran.err
    assert everything_in(spanish) == before
    # The others are not held back by it.
    ran = sign(spanish, capsys, "--all")
    assert ran.status == 1
    assert f"error: {name}" in ran.err
    assert "  Cat -> Gato\n" in ran.out
    assert f"  {english} ->" not in ran.out


def test_a_stop_line_is_signed_only_when_it_was_translated_back_as_it_stands(spanish: Path, capsys: Capture) -> None:
    ran = sign(spanish, capsys, "--message", "Cannot come?")
    assert ran.status == 1
    assert "the STOP line `Cannot come?` has not been translated back" in ran.err
    ran = sign(spanish, capsys, "--all")
    assert ran.status == 1
    assert "the STOP line `Cannot come?`" in ran.err
    assert "  Cannot come? ->" not in ran.out
    translate_back(spanish)
    ran = sign(spanish, capsys, "--all")
    assert (ran.status, ran.err) == (0, "")
    assert "still drafts: 0" in ran.out
    put(spanish / "owner.po", "Cannot come?", "¿No puede llegar?")
    assert sign(spanish, capsys, "--message", "Cannot come?").status == 1


def test_a_meaning_that_differs_is_not_signed(spanish: Path, capsys: Capture) -> None:
    translate_back(spanish)
    file = spanish / "back-translation.yaml"
    rows = json.loads(file.read_text(encoding="utf-8"))
    row = next(row for row in rows if row["english"] == "Cannot come?")
    row["verdict"] = "differs"
    file.write_text(json.dumps(rows, ensure_ascii=False), encoding="utf-8")
    ran = sign(spanish, capsys, "--message", "Cannot come?")
    assert (ran.status, "back-translation-differs" in ran.err) == (1, True)
    assert sign(spanish, capsys, "--message", "Dog").status == 0


def test_a_catalogue_that_nobody_can_judge_is_not_signed_at_all(spanish: Path, capsys: Capture) -> None:
    (spanish / "signed.json").write_text('{"x": {}}', encoding="utf-8")
    before = everything_in(spanish)
    ran = sign(spanish, capsys, "--all")
    assert (ran.status, "signature-unsound" in ran.err) == (1, True)
    assert everything_in(spanish) == before


def sheet(spanish: Path, capsys: Capture, output: Path) -> str:
    arguments = [
        "sheet", "--protocol", "padded-limb-support", "--patient", str(ROOT / "protocols" / "patients" / "maple.yaml"),
        "--language", "es", "--book", book(spanish), "--output", str(output), *NOW,
        "--trial",  # a reworded protocol awaits its own approval, which is no matter of words
    ]  # fmt: skip
    ran = run(arguments, capsys)
    assert ran.status == 0, ran.err
    return ran.out.strip()


def test_signed_words_print_alone_until_a_letter_changes_here_or_in_english(
    spanish: Path, tmp_path: Path, capsys: Capture
) -> None:
    assert "DRAFT" in sheet(spanish, capsys, tmp_path / "out")
    translate_back(spanish)
    assert sign(spanish, capsys, "--all").status == 0
    assert "DRAFT" not in sheet(spanish, capsys, tmp_path / "out")
    catalogue = spanish / "owner.po"
    signed = catalogue.read_bytes()
    put(catalogue, "Every day", "Todos los días:")
    assert "DRAFT" in sheet(spanish, capsys, tmp_path / "out")
    catalogue.write_bytes(signed)
    assert "DRAFT" not in sheet(spanish, capsys, tmp_path / "out")
    reword(spanish.parent.parent, OLD, NEW)
    run(["words", "merge", "--book", book(spanish)], capsys)
    put(catalogue, NEW, "Toque los dedos. Tibio está bien.")
    assert "DRAFT" in sheet(spanish, capsys, tmp_path / "out")
    ran = sign(spanish, capsys, "--message", NEW)
    assert ran.status == 0
    assert "DRAFT" not in sheet(spanish, capsys, tmp_path / "out")


def test_signatures_of_words_that_are_gone_are_taken_out_by_the_next(spanish: Path, capsys: Capture) -> None:
    sign(spanish, capsys, "--message", "Dog")
    put(spanish / "owner.po", "Dog", "Can")
    ran = sign(spanish, capsys, "--message", "Dog")
    assert "old signatures taken out: 1" in ran.out
    assert len(json.loads((spanish / "signed.json").read_text(encoding="utf-8"))) == 1


def test_words_that_come_with_the_tool_are_never_signed(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = checkout(tmp_path, monkeypatch)
    before = everything_in(folder)
    ran = sign(folder / "locales" / "es", capsys, "--message", "Dog")
    assert ran.status == 1
    assert "room-of-the-tool" in ran.err
    assert everything_in(folder) == before
