"""Books to translate: the shipped one in a checkout of its own, and a clinic's."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator import shelf
from tests.conftest import ROOT


def checkout(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of what is shipped, which the program takes for its own: so that a test may write there."""
    for room in ("protocols", "templates", "locales"):
        shutil.copytree(ROOT / room, folder / room)
    monkeypatch.setattr(shelf, "shipped", lambda room: folder / room)
    return folder


def clinic_book(folder: Path) -> Path:
    """A clinic's own book: the demo's protocols, no words of its own yet."""
    shutil.copytree(ROOT / "protocols", folder / "protocols")
    for room in ("templates", "locales"):
        (folder / room).mkdir()
    return folder


def reword(folder: Path, old: str, new: str, file: str = "padded-limb-support.yaml") -> None:
    """Change one line of a protocol."""
    place = folder / "protocols" / file
    text = place.read_text(encoding="utf-8")
    assert text.count(old) == 1
    place.write_text(text.replace(old, new), encoding="utf-8")


def put(catalogue: Path, english: str, translation: str) -> None:
    """Write one translation, as a translator would."""
    text = catalogue.read_text(encoding="utf-8")
    start = text.index(f'msgid "{english}"\n')
    line = text.index("msgstr ", start)
    end = text.index("\n", line)
    catalogue.write_text(f'{text[:line]}msgstr "{translation}"{text[end:]}', encoding="utf-8")
