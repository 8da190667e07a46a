"""`gauzeleaf words check` notices each of twelve faults: the shipped Spanish, spoilt in one place at a time.

C1 to C12 are the checks of a catalogue that DEVELOPERS.md lists.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.words import po
from generator.words.signoff import digest
from tests.cli.running import everything_in, run
from tests.translation.books import checkout, clinic_book, put, reword

Capture = pytest.CaptureFixture[str]
SIGNED = {"translator": "A. One", "reviser": "B. Two", "qualification": "sworn translator", "date": "2027-03-01"}
NOW = ("--now", "2027-03-13T10:40")


@pytest.fixture
def spanish(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    return checkout(tmp_path, monkeypatch) / "locales" / "es"


def check(spanish: Path, capsys: Capture) -> tuple[int, list[dict[str, object]], dict[str, object]]:
    folder = str(spanish.parent.parent)
    ran = run(["words", "check", "--book", folder, "--language", "es", "--format", "json", *NOW], capsys)
    found = json.loads(ran.out)
    return ran.status, found["problems"], found["languages"]["es"]


def replaced(old: str, new: str, name: str = "owner.po") -> Callable[[Path], None]:
    def spoil(spanish: Path) -> None:
        text = (spanish / name).read_text(encoding="utf-8")
        assert old in text
        (spanish / name).write_text(text.replace(old, new, 1), encoding="utf-8")

    return spoil


def signed(**changes: str) -> Callable[[Path], None]:
    """Sign the word for dog."""

    def spoil(spanish: Path) -> None:
        catalogue = po.read((spanish / "owner.po").read_text(encoding="utf-8"), "owner.po")
        (dog,) = (entry for entry in catalogue.entries if entry.source == "Dog")
        (spanish / "signed.json").write_text(json.dumps({digest("es", dog): SIGNED | changes}), encoding="utf-8")

    return spoil


def both(*steps: Callable[[Path], None]) -> Callable[[Path], None]:
    def spoil(spanish: Path) -> None:
        for step in steps:
            step(spanish)

    return spoil


def back(**changes: str) -> Callable[[Path], None]:
    def spoil(spanish: Path) -> None:
        text = (spanish / "owner.po").read_text(encoding="utf-8")
        found = re.search(r'msgid "Cannot come\?"\nmsgstr "(.*)"', text)
        assert found
        row = {"english": "Cannot come?", "translation": found[1], "back": "x", "verdict": "same", "by": "clinician"}
        (spanish / "back-translation.yaml").write_text(json.dumps([row | changes]), encoding="utf-8")

    return spoil


def words(english: str, translation: str) -> Callable[[Path], None]:
    return lambda spanish: put(spanish / "owner.po", english, translation)


def removed(name: str) -> Callable[[Path], None]:
    return lambda spanish: (spanish / name).unlink()


def test_the_shipped_catalogue_has_no_error(spanish: Path, capsys: Capture) -> None:
    status, problems, counts = check(spanish, capsys)
    assert status == 0
    assert problems == []
    assert counts["messages"] == counts["translated"]
    assert counts["signed"] == 0


@pytest.mark.parametrize(
    ("spoil", "name", "file", "severity"),
    [
        pytest.param(words("Keep {pet} indoors.", "Mantenga en casa."), "placeholder-differs", "owner.po", "error", id="C1 field"),
        pytest.param(words("Take care", "Tenga cuidado {"), "brace-unbalanced", "owner.po", "error", id="C1 brace"),
        pytest.param(words("Take care", "Cuidado 2 veces"), "digits-in-catalogue", "owner.po", "error", id="C2 digit"),
        pytest.param(words("Take care", "Cuidado ② veces"), "digits-in-catalogue", "owner.po", "error", id="C3 a figure that the plan does not hold"),
        pytest.param(words("Bandage on the head", "Venda en la cabeza"), "term-differs", "owner.po", "error", id="C4 locked word"),
        pytest.param(replaced("  toes: [dedos, dedo]\n", "", "glossary.yaml"), "glossary-term-missing", "glossary.yaml", "error", id="C4 term left out"),
        pytest.param(replaced("toes: [dedos, dedo]", "toes: []", "glossary.yaml"), "glossary-unsound", "glossary.yaml", "error", id="C4 term without word"),
        pytest.param(removed("glossary.yaml"), "glossary-missing", "owner.po", "error", id="C4 no glossary"),
        pytest.param(words("Do not let {pet} jump or run.", "Deje que {pet} salte o corra."), "negation-differs", "owner.po", "error", id="C5 negation"),
        pytest.param(words("Left front leg", "Pata delantera derecha"), "side-differs", "owner.po", "error", id="C5 side"),
        pytest.param(words("Dog", ""), "translation-missing", "owner.po", "warning", id="C6 no words"),
        pytest.param(replaced('msgid "Dog"', 'msgid "Hound"'), "message-unused", "owner.po", "warning", id="C7 changed source"),
        pytest.param(both(signed(), words("Dog", "Can")), "signature-stale", "owner.po", "warning", id="C7 changed words"),
        pytest.param(replaced("plural=(n != 1)", "plural=(n > 1)"), "plural-rule", "owner.po", "error", id="C8 plural rule"),
        pytest.param(words("Dog", "Perro, es decir, un animal que ladra mucho"), "translation-long", "owner.po", "warning", id="C9 length"),
        pytest.param(words("Dog", "Собака"), "script-differs", "owner.po", "error", id="C10 script"),
        pytest.param(words("Dog", "P\u0435rro"), "script-mixed", "owner.po", "error", id="C10 letters that look alike"),
        pytest.param(words("Dog", "Pen\u0303a"), "not-composed", "owner.po", "error", id="C10 not NFC"),
        pytest.param(words("Dog", "Perro \U0001f43e"), "letter-without-glyph", "owner.po", "error", id="no font has it"),
        pytest.param(signed(reviser="a one"), "signature-unsound", "signed.json", "error", id="C11 one person twice"),
        pytest.param(signed(date="2027-03-14"), "signature-unsound", "signed.json", "error", id="C11 tomorrow"),
        pytest.param(signed(qualification=" "), "signature-unsound", "signed.json", "error", id="C11 no qualification"),
        pytest.param(back(english="Cannot stay?"), "back-translation-unused", "back-translation.yaml", "warning", id="C12 line gone"),
        pytest.param(back(translation="¿No quiere venir?"), "back-translation-stale", "back-translation.yaml", "warning", id="C12 words changed"),
        pytest.param(back(verdict="differs"), "back-translation-differs", "back-translation.yaml", "error", id="C12 another meaning"),
        pytest.param(back(verdict="good"), "back-translation-unsound", "back-translation.yaml", "error", id="C12 no verdict"),
        pytest.param(back(), "back-translation-missing", "owner.po", "warning", id="C12 the others"),
        pytest.param(lambda spanish: (spanish / "owner.po").write_bytes(b'msgid "a"\nmsgstr "\xf1"\n'), "not-utf-8", "owner.po", "error", id="not UTF-8"),
    ],
)  # fmt: skip
def test_each_fault_is_named_at_its_place(
    spoil: Callable[[Path], None], name: str, file: str, severity: str, spanish: Path, capsys: Capture
) -> None:
    spoil(spanish)
    before = everything_in(spanish)
    status, problems, _ = check(spanish, capsys)
    found = [problem for problem in problems if problem["name"] == name]
    assert found, [(problem["name"], problem["what"]) for problem in problems]
    assert {(Path(str(problem["file"])).name, problem["severity"]) for problem in found} == {(file, severity)}
    assert all(problem["line"] and problem["why"] and problem["fix"] for problem in found)
    errors = [problem for problem in problems if problem["severity"] == "error"]
    assert status == (1 if errors else 0)
    if severity == "error":
        assert errors
    assert everything_in(spanish) == before, "a check writes nothing"


def test_coverage_is_one_line_a_language(spanish: Path, capsys: Capture) -> None:
    put(spanish / "owner.po", "Dog", "")
    signed()(spanish)
    ran = run(["words", "check", "--book", str(spanish.parent.parent), "--language", "es", *NOW], capsys)
    (line,) = ran.out.strip().split("\n")
    messages = len(po.read((spanish / "owner.po").read_text(encoding="utf-8"), "").entries)
    assert f"{messages - 1} of {messages} sentences translated, 0 signed, {messages - 1} drafts; " in line
    assert re.search(r"; (\d+) of \1 STOP lines translated back", line)


def test_signed_stop_lines_that_no_clinician_judged_are_told(spanish: Path, capsys: Capture) -> None:
    text = (spanish / "owner.po").read_text(encoding="utf-8")
    (entry,) = (e for e in po.read(text, "").entries if e.source == "Cannot come?")
    (spanish / "signed.json").write_text(json.dumps({digest("es", entry): SIGNED}), encoding="utf-8")
    back(by="unqualified reader, blind")(spanish)
    _, problems, counts = check(spanish, capsys)
    assert "back-translation-not-judged" in [problem["name"] for problem in problems]
    assert (counts["signed"], counts["last_signed"], counts["back"]) == (1, "2027-03-01", 1)
    back()(spanish)
    assert "back-translation-not-judged" not in [problem["name"] for problem in check(spanish, capsys)[1]]


def test_a_clinic_is_told_which_languages_lack_its_own_sentences(tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    assert run(["words", "check", "--book", str(book)], capsys).err == ""
    reword(book, "Feel the toes. Warm and soft is right.", "Feel the toes. Warm is right.")
    ran = run(["words", "check", "--book", str(book)], capsys)
    assert ran.status == 0
    assert "`Feel the toes. Warm is right.` has no words in `es`" in ran.err
    assert f"{book.as_posix()}/protocols/padded-limb-support.yaml:" in ran.err
    run(["words", "merge", "--book", str(book), "--language", "es"], capsys)
    put(book / "locales" / "es" / "owner.po", "Feel the toes. Warm is right.", "Toque los dedos. Tibio está bien.")
    assert run(["words", "check", "--book", str(book), "--language", "es"], capsys).err == ""


def test_a_language_without_catalogue_is_refused(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["words", "check", "--book", str(clinic_book(tmp_path)), "--language", "fr"], capsys)
    assert ran.status == 2
    assert "gauzeleaf words merge --language fr" in ran.err
