"""`gauzeleaf words status`: every language at a glance, and what unsigned words are."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from generator.words import po
from generator.words.signoff import digest
from tests.cli.running import run
from tests.translation.books import checkout, clinic_book, put

Capture = pytest.CaptureFixture[str]
NOW = ("--now", "2027-03-13T10:40")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A checkout in which one Spanish sentence has no words, one is signed and one was translated back."""
    folder = checkout(tmp_path, monkeypatch)
    place = folder / "locales" / "es"
    put(place / "owner.po", "Cat", "")
    entries = {e.source: e for e in po.read((place / "owner.po").read_text(encoding="utf-8"), "").entries}
    people = {"translator": "A. One", "reviser": "B. Two", "qualification": "sworn translator", "date": "2027-03-01"}
    (place / "signed.json").write_text(json.dumps({digest("es", entries["Dog"]): people}), encoding="utf-8")
    words = entries["Cannot come?"].translations[0]
    row = {"english": "Cannot come?", "translation": words, "back": "Can't come?", "verdict": "same", "by": "reader"}
    (place / "back-translation.yaml").write_text(json.dumps([row]), encoding="utf-8")
    return folder


def test_each_language_has_a_row_of_counts(folder: Path, capsys: Capture) -> None:
    ran = run(["words", "status", "--book", str(folder), *NOW], capsys)
    assert (ran.status, ran.err) == (0, "")
    heading, *rows = ran.out.split("\n\n")[0].split("\n")
    assert re.split(r" {2,}", heading) == [
        "tag", "language", "sentences", "translated", "missing", "drafts", "signed", "last signed", "translated back", "catalogue",
    ]  # fmt: skip
    spanish = re.split(r" {2,}", next(row for row in rows if row.startswith("es ")))
    number = int(spanish[2])
    assert spanish[:9] == ["es", "Español", str(number), str(number - 1), "1", str(number - 2), "1", "2027-03-01", spanish[8]]  # fmt: skip
    assert re.fullmatch(r"1 of \d\d", spanish[8])
    assert spanish[9].endswith("locales/es/owner.po")
    assert "Every sentence that is not signed prints as a draft" in ran.out


def test_the_same_as_data(folder: Path, capsys: Capture) -> None:
    ran = run(["words", "status", "--book", str(folder), "--format", "json", *NOW], capsys)
    found = {row["tag"]: row for row in json.loads(ran.out)["languages"]}
    spanish = found["es"]
    assert spanish["messages"] == spanish["missing"] + spanish["drafts"] + spanish["signed"]
    assert (spanish["missing"], spanish["signed"], spanish["last_signed"], spanish["back"]) == (1, 1, "2027-03-01", 1)
    assert spanish["name"] == "Español"
    assert spanish["problems"] == []


def test_a_clinic_sees_its_own_words_and_the_shipped_ones_below(tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    run(["words", "merge", "--book", str(book), "--language", "es", "--override", "Dog"], capsys)
    found = json.loads(run(["words", "status", "--book", str(book), "--format", "json"], capsys).out)["languages"]
    own, *shipped = [row for row in found if row["tag"] == "es"]
    assert (own["messages"], own["missing"]) == (1, 1)
    assert own["catalogue"] == (book / "locales" / "es" / "owner.po").as_posix()
    assert [row["signed"] for row in shipped] == [0]


def test_what_cannot_be_read_is_told_beside_the_table(folder: Path, capsys: Capture) -> None:
    (folder / "locales" / "es" / "signed.json").write_text("{", encoding="utf-8")
    ran = run(["words", "status", "--book", str(folder), *NOW], capsys)
    assert ran.status == 0
    assert "signature-unsound" in ran.err
    assert re.search(r"^es +Español ", ran.out, re.M)


def test_how_hard_a_language_reads_is_told_on_request(capsys: pytest.CaptureFixture[str]) -> None:
    plain, asked = run(["words", "status"], capsys), run(["words", "status", "--reading"], capsys)
    assert "Szigriszt-Pazos" not in plain.out
    rows = {row.split(":")[0].strip(): row for row in asked.out.split("\n") if row.startswith("  ")}
    assert "Szigriszt-Pazos" in rows["es"]
    assert "proxy, not a validated score" in rows["vi"]
    assert "proxy" not in rows["es"]
