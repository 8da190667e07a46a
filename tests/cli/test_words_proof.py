"""Sheets for a reviser and for a translator: every bandage, every line in its place, nothing taken for signed."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from generator import opening
from generator.translation.exchange import table_lines
from generator.translation.room import held, open_room
from generator.translation.sheets import place_sheets, proof_sheets
from generator.words.exchange import mark
from tests.cli.running import run

ROOT = Path(__file__).parents[2]
Capture = pytest.CaptureFixture[str]


def test_every_bandage_that_goes_home_has_its_sheet() -> None:
    opened = opening.open_book(str(ROOT / "protocols"))
    made = proof_sheets(opened, "es", held(open_room(str(ROOT / "protocols")), "es").catalogue.entries)
    home = {
        one.protocol
        for protocol in opened.book.protocols.values()
        if not protocol.blend
        for one in (tuple(protocol.stages.values()) or (protocol,))
        if one.limits.go_home
    }
    assert len(home) > 12
    assert all(any(name.startswith(slug) for name in made.documents) for slug in home)
    assert all(document.is_draft and document.title.startswith("DRAFT") for document in made.documents.values())
    # The rest is named, so that nobody takes all for read.
    seen = {entry.source for entry in held(open_room(str(ROOT / "protocols")), "es").catalogue.entries}
    assert 0 < len(made.unseen) < len(seen) / 4


def test_the_letters_of_a_table_stand_behind_the_lines(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["words", "export", "fr", "-o", str(tmp_path / "fr.csv"), "--where", str(tmp_path / "where")], capsys)
    assert ran.status == 0, ran.err
    rows = list(csv.DictReader(io.StringIO((tmp_path / "fr.csv").read_text(encoding="utf-8-sig"))))
    letters = {row["English"]: row["Line"] for row in rows}
    text = "".join(
        page.extract_text() for file in (tmp_path / "where").glob("*.pdf") for page in PdfReader(file).pages
    ).replace("\n", " ")
    for line in ("The bandage is wet, for any reason.", "Go now, day or night", "Give only the medicine we gave you."):
        assert f"{line} [{letters[line]}]" in " ".join(text.split()), line


def test_what_no_sheet_shows_is_counted() -> None:
    opened = opening.open_book(str(ROOT / "protocols"))
    one = held(open_room(str(ROOT / "protocols")), "es")
    made = place_sheets(opened, table_lines(one))
    assert 0 < len(made.unseen) < 30
    assert {"This sheet replaces the earlier one."} <= {entry.source for entry in made.unseen}


def test_marks_are_letters_and_all_different() -> None:
    marks = [mark(number) for number in range(1, 2000)]
    assert marks[:3] == ["AA", "AB", "AC"]
    assert marks[26] == "BA"
    assert len(set(marks)) == len(marks)
    assert all(letters.isalpha() and letters.isascii() for letters in marks)


@pytest.mark.parametrize("language", ["xx", "en"])
def test_a_language_without_words_has_no_proof(language: str, tmp_path: Path, capsys: Capture) -> None:
    ran = run(["words", "proof", language, "--output", str(tmp_path)], capsys)
    assert ran.status != 0
    assert list(tmp_path.iterdir()) == []


def test_a_proof_of_what_nobody_approved_says_so(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    file = tmp_path / "protocols" / "hobbles.yaml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("title: Hind limb hobbles", "title: Hobbles"), encoding="utf-8"
    )
    found = proof_sheets(opening.open_book(str(tmp_path)), "es", ()).documents
    assert [name for name, document in found.items() if "TRIAL: not approved" in document.xhtml] == ["hobbles"]
