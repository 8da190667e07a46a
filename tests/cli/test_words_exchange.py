"""`gauzeleaf words export` and `import`: out to a spreadsheet and back, or not at all."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from generator.words import po
from generator.words.signoff import digest
from tests.cli.running import Ran, everything_in, run
from tests.translation.books import checkout

NOW = ("--now", "2027-03-13T10:40")
Capture = pytest.CaptureFixture[str]


@pytest.fixture
def spanish(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    return checkout(tmp_path / "here", monkeypatch) / "locales" / "es"


@pytest.fixture
def sheet(spanish: Path, tmp_path: Path, capsys: Capture) -> Path:
    file = tmp_path / "es.csv"
    ran = run(["words", "export", "es", "-o", str(file), "--book", book(spanish)], capsys)
    assert (ran.status, ran.out.strip()) == (0, file.as_posix())
    return file


def book(spanish: Path) -> str:
    return str(spanish.parent.parent)


def take(sheet: Path, spanish: Path, capsys: Capture, *more: str) -> Ran:
    return run(["words", "import", str(sheet), *more, "--book", book(spanish)], capsys)


def change(sheet: Path, old: str, new: str) -> None:
    text = sheet.read_bytes().decode("utf-8")
    assert text.count(old) == 1, old
    sheet.write_bytes(text.replace(old, new).encode("utf-8"))


def test_out_and_back_changes_no_byte(spanish: Path, sheet: Path, tmp_path: Path, capsys: Capture) -> None:
    before = everything_in(spanish)
    ran = take(sheet, spanish, capsys)
    assert (ran.status, ran.err) == (0, "")
    assert re.search(r"es/owner\.po: \d\d+ rows; changed: 0$", ran.out.strip())
    assert everything_in(spanish) == before
    again = tmp_path / "again.csv"
    run(["words", "export", "es", "-o", str(again), "--book", book(spanish)], capsys)
    assert again.read_bytes() == sheet.read_bytes()


def test_changed_words_are_taken_in_and_are_drafts_again(spanish: Path, sheet: Path, capsys: Capture) -> None:
    text = (spanish / "owner.po").read_text(encoding="utf-8")
    signature = {"translator": "A. One", "reviser": "B. Two", "qualification": "sworn", "date": "2027-03-01"}
    rows = {digest("es", e): signature for e in po.read(text, "").entries if e.source in ("Dog", "Cat")}
    (spanish / "signed.json").write_text(json.dumps(rows), encoding="utf-8")
    change(sheet, "\r\nDog,Perro,", "\r\nDog,Perra o perro,")
    ran = take(sheet, spanish, capsys)
    assert ran.status == 0
    assert "  Dog -> Perra o perro\n" in ran.out
    assert "rows; changed: 1; signed before and drafts again: 1" in ran.out
    after = (spanish / "owner.po").read_text(encoding="utf-8")
    assert after == text.replace('msgstr "Perro"', 'msgstr "Perra o perro"')
    ran = run(["words", "check", "--book", book(spanish), "--language", "es", "--format", "json", *NOW], capsys)
    assert json.loads(ran.out)["languages"]["es"]["signed"] == 1


@pytest.mark.parametrize(
    ("old", "new", "name", "column"),
    [
        ("\r\nDog,", "\r\nDogg,", "english-unknown", 1),
        ("\r\nDog,Perro,", "\r\nCat,Perro,", "english-twice", 1),
        ("Owner: {owner},Dueño o dueña: {owner}", "Owner: {owner},Dueño o dueña:", "placeholder-differs", 2),
        ("\r\nDog,Perro,", "\r\nDog,Perro 2,", "digits-in-catalogue", 2),
        ("\r\nDog,Perro,", "\r\nDog,#NAME?,", "cell-spoilt", 2),
        ("\r\nDog,Perro,", "\r\nDog,PeÃ±a,", "cell-spoilt", 2),
        ("\r\nLeft front leg,Pata delantera izquierda", "\r\nLeft front leg,Pata delantera derecha", "side-differs", 2),
    ],
)
def test_one_error_keeps_the_table_out(
    old: str, new: str, name: str, column: int, spanish: Path, sheet: Path, capsys: Capture
) -> None:
    change(sheet, old, new)
    rows = sheet.read_bytes().decode("utf-8").split("\r\n")
    row = 1 + max(number for number, line in enumerate(rows) if new.strip().split("\r\n")[0] in line)
    before = everything_in(spanish)
    ran = take(sheet, spanish, capsys)
    assert ran.status == 1
    told = re.findall(rf"^{re.escape(sheet.as_posix())}:(\d+):(\d+): error: ([\w-]+):", ran.err, re.M)
    assert (name, column) in [(found, int(at)) for _, at, found in told], ran.err
    if name != "english-twice":  # the other row may stand below
        assert (str(row), str(column), name) in told
    assert "^" not in ran.err, "no caret under a letter that is meant as a column"
    assert "Nothing was written." in ran.err
    assert everything_in(spanish) == before


def test_all_errors_come_at_once(spanish: Path, sheet: Path, capsys: Capture) -> None:
    change(sheet, "\r\nDog,Perro,", "\r\nDog,Perro 2,")
    change(sheet, "\r\nCat,Gato,", "\r\nCatt,Gato,")
    ran = take(sheet, spanish, capsys)
    assert "digits-in-catalogue" in ran.err
    assert "english-unknown" in ran.err
    assert "the nearest is `Cat`" in ran.err


def test_a_row_left_out_or_emptied_leaves_the_words_as_they_are(spanish: Path, sheet: Path, capsys: Capture) -> None:
    before = everything_in(spanish)
    change(sheet, "\r\nDog,Perro,", "\r\nDog,,")
    rows = sheet.read_bytes().split(b"\r\n")
    sheet.write_bytes(b"\r\n".join(row for row in rows if not row.startswith(b"Cat,")))
    ran = take(sheet, spanish, capsys)
    assert ran.status == 0
    assert "warning: cell-empty" in ran.err
    assert everything_in(spanish) == before


def test_the_heading_says_the_language(spanish: Path, sheet: Path, capsys: Capture) -> None:
    assert take(sheet, spanish, capsys, "es").status == 0
    run(["words", "merge", "--book", book(spanish), "--language", "pl"], capsys)
    ran = take(sheet, spanish, capsys, "pl")
    assert (ran.status, "language-differs" in ran.err) == (1, True)
    change(sheet, "English,Español,", "English,Castilian,")
    ran = take(sheet, spanish, capsys)
    assert (ran.status, "language-not-told" in ran.err) == (1, True)
    assert take(sheet, spanish, capsys, "es").status == 0


def test_two_languages_of_one_name_are_told_apart_by_their_tag(spanish: Path, tmp_path: Path, capsys: Capture) -> None:
    # CLDR has no name of its own for the Spanish of Guatemala.
    run(["words", "merge", "--book", book(spanish), "--language", "es-GT"], capsys)
    file = tmp_path / "guatemala.csv"
    run(["words", "export", "es-GT", "-o", str(file), "--book", book(spanish)], capsys)
    change(file, "\r\nDog,,", "\r\nDog,Chucho,")
    ran = take(file, spanish, capsys)
    assert (ran.status, "language-not-told" in ran.err, "one of es, es-GT" in ran.err) == (1, True, True)
    ran = take(file, spanish, capsys, "es-GT")
    assert (ran.status, "changed: 1" in ran.out) == (0, True)


def test_a_new_language_is_filled_in_from_a_table(spanish: Path, tmp_path: Path, capsys: Capture) -> None:
    run(["words", "merge", "--book", book(spanish), "--language", "nl"], capsys)
    file = tmp_path / "nl.csv"
    assert run(["words", "export", "nl", "-o", str(file), "--book", book(spanish)], capsys).status == 0
    change(file, "\r\nDog,,", "\r\nDog,Hond,")
    assert take(file, spanish, capsys).status == 0
    text = (spanish.parent / "nl" / "owner.po").read_text(encoding="utf-8")
    assert 'msgid "Dog"\nmsgstr "Hond"\n' in text


def test_a_translator_s_work_is_never_written_over(spanish: Path, sheet: Path, capsys: Capture) -> None:
    change(sheet, "\r\nDog,Perro,", "\r\nDog,Can,")
    before = sheet.read_bytes()
    ran = run(["words", "export", "es", "-o", str(sheet), "--book", book(spanish)], capsys)
    assert (ran.status, "place-taken" in ran.err) == (1, True)
    assert sheet.read_bytes() == before
