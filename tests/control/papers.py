"""A book of one's own to replace pages in, and what its papers say."""

from __future__ import annotations

import shutil
from pathlib import Path

import pypdf
import pytest

from generator.protocol.approval import Record, read_record
from tests.cli.running import Ran, run
from tests.conftest import ROOT

Capture = pytest.CaptureFixture[str]
NUMBER, FILE = "LB-SUP-002", "protocols/padded-limb-support.yaml"
AT = ("--now", "2027-03-13T10:40")


def own_book(folder: Path) -> Path:
    """The demo clinic's book with its record, in a folder of its own."""
    shutil.copytree(ROOT / "protocols", folder / "protocols")
    return folder


def reword(book: Path, old: str, new: str, file: str = FILE) -> None:
    place = book / file
    text = place.read_text(encoding="utf-8")
    assert text.count(old) == 1
    place.write_text(text.replace(old, new), encoding="utf-8")


def raised_and_approved(book: Path, capsys: Capture, number: str = NUMBER, *, now: str = AT[1]) -> Ran:
    """Raise a protocol and have it approved, in force at once."""
    assert (
        run(["revise", number, "--why", "yearly review", "--change", "reworded", "--now", now], capsys, book).status
        == 0
    )
    ran = run(["approve", number, "--by", "Dr M. Tamsin", "--now", now], capsys, book)
    assert ran.status == 0, ran.err
    return ran


def record_of(book: Path) -> Record:
    place = book / "protocols" / "approved" / "record.json"
    found, problems = read_record(place.read_text(encoding="utf-8"), place.name)
    assert not problems
    return found


def pages(place: Path) -> list[str]:
    """The text of each page, spaces made one; what only holds a number in one piece is left out."""
    return [
        " ".join(page.extract_text().replace("\N{WORD JOINER}", "").split()) for page in pypdf.PdfReader(place).pages
    ]
