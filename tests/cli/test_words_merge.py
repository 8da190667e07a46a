"""`gauzeleaf words merge` and `extract`: catalogues that hold exactly what is said, and never an old meaning for new words."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator import shelf
from generator.cli.words import COMMANDS
from generator.words import po
from tests.cli.running import everything_in, run
from tests.conftest import ROOT
from tests.translation.books import checkout, clinic_book, put, reword

Capture = pytest.CaptureFixture[str]
OLD, NEW = "Feel the toes. Warm and soft is right.", "Feel the toes. Warm is right."


def entries(file: Path) -> dict[str, po.Entry]:
    return {entry.source: entry for entry in po.read(file.read_text(encoding="utf-8"), file.name).entries}


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_every_command_of_the_group_has_help_and_an_example(command: str, capsys: Capture) -> None:
    ran = run(["words", command, "--help"], capsys)
    assert ran.status == 0
    assert f"Example: gauzeleaf words {command}" in ran.out


def test_a_command_mistyped_is_told_the_nearest(capsys: Capture) -> None:
    ran = run(["words", "merg"], capsys)
    assert ran.status == 2
    assert "The nearest is 'merge'." in ran.err


def test_the_shipped_catalogues_are_up_to_date(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = checkout(tmp_path, monkeypatch)
    before = everything_in(folder)
    ran = run(["words", "merge", "--book", str(folder)], capsys)
    assert ran.status == 0, ran.err
    assert everything_in(folder) == before, "run `gauzeleaf words merge`"


def test_the_list_of_sentences_has_places_paths_and_notes_and_never_a_date(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = checkout(tmp_path, monkeypatch)
    assert run(["words", "extract", "--book", str(folder)], capsys).status == 0
    first = (folder / "locales" / "owner.pot").read_bytes()
    assert run(["words", "extract", "--book", str(folder)], capsys).status == 0
    assert (folder / "locales" / "owner.pot").read_bytes() == first
    found = entries(folder / "locales" / "owner.pot")
    toes = found[OLD]
    line = (
        (ROOT / "protocols" / "padded-limb-support.yaml").read_text(encoding="utf-8").split("\n").index(f"    - {OLD}")
    )
    assert f"protocols/padded-limb-support.yaml:{line + 1} padded-limb-support:owner.every_day[2]" in toes.places
    files = [p for p in (ROOT / "protocols").glob("*.yaml") if p.stem != "pictures"]
    said_by = [p for p in files if f"- {OLD}\n" in p.read_text(encoding="utf-8")]
    assert toes.notes == (f"Every day: what the owner does at home ({len(said_by)} protocols)",)
    wet = found["The bandage is wet, for any reason."]
    assert [place.split()[-1] for place in wet.places] == ["signs:wet.owner"]
    assert wet.notes == ("Warning sign, under “Ring now”",)
    assert not [source for source, entry in found.items() if not entry.notes or not entry.places]
    assert b"-Date:" not in first


def test_a_clinic_s_catalogue_holds_only_what_the_shipped_one_lacks(tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    assert run(["words", "merge", "--book", str(book), "--language", "es"], capsys).status == 0
    file = book / "locales" / "es" / "owner.po"
    assert entries(file) == {}
    reword(book, OLD, NEW)
    ran = run(["words", "merge", "--book", str(book)], capsys)
    assert "1 to translate" in ran.out
    (entry,) = entries(file).values()
    assert (entry.source, entry.translations) == (NEW, ("",))
    shipped = entries(ROOT / "locales" / "es" / "owner.po")[OLD].translations[0]
    assert entry.comments == (f"before: {OLD}", f"before, translated: {shipped}")
    assert entry.places[0].startswith("protocols/padded-limb-support.yaml:")


def test_an_old_meaning_never_stands_for_new_words(tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    reword(book, OLD, NEW)
    run(["words", "merge", "--book", str(book), "--language", "es"], capsys)
    file = book / "locales" / "es" / "owner.po"
    put(file, NEW, "Toque los dedos. Tibios está bien.")
    reword(book, NEW, "Feel the toes at both feet.")
    ran = run(["words", "merge", "--book", str(book)], capsys)
    assert "1 changed, 1 gone; 1 to translate" in ran.out
    (entry,) = entries(file).values()
    assert entry.translations == ("",)
    assert entry.comments == (f"before: {NEW}", "before, translated: Toque los dedos. Tibios está bien.")
    put(file, "Feel the toes at both feet.", "Toque los dedos de las dos patas.")
    run(["words", "merge", "--book", str(book)], capsys)
    (entry,) = entries(file).values()
    assert entry.comments == ()
    assert "#~" not in file.read_text(encoding="utf-8")


def test_a_clinic_says_a_shipped_sentence_otherwise(tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    file = book / "locales" / "es" / "owner.po"
    merge = ["words", "merge", "--book", str(book)]
    assert run([*merge, "--language", "es", "--override", "Take care", "--override", "Dog"], capsys).status == 0
    shipped = entries(ROOT / "locales" / "es" / "owner.po")
    assert {source: entry.comments for source, entry in entries(file).items()} == {
        "Dog": ("instead of: Perro",),
        "Take care": (f"instead of: {shipped['Take care'].translations[0]}",),
    }
    before = file.read_bytes()
    assert run(merge, capsys).status == 0
    assert file.read_bytes() == before, "what was asked for once is kept"
    put(file, "Dog", "Perra o perro")
    assert run([*merge, "--all"], capsys).status == 0
    assert (entries(file)["Dog"].translations, entries(file)["Dog"].comments) == (
        ("Perra o perro",),
        ("instead of: Perro",),
    )
    own = entries(file)
    assert len(own) == len(shipped)
    # What is to be revised and signed by the clinic's own people starts from the shipped words.
    assert own["Cat"].translations == shipped["Cat"].translations
    assert own["Cat"].comments == ()


def test_a_sentence_that_is_not_said_cannot_be_overridden(tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    before = everything_in(book)
    ran = run(["words", "merge", "--book", str(book), "--language", "es", "--override", "Take car"], capsys)
    assert ran.status == 2
    assert "sentence-unknown" in ran.err
    assert 'the nearest is "Take care"' in ran.err
    assert everything_in(book) == before


def test_a_new_language_starts_with_its_own_plurals_an_empty_glossary_and_no_signature(
    tmp_path: Path, capsys: Capture
) -> None:
    book = clinic_book(tmp_path)
    ran = run(["words", "merge", "--book", str(book), "--language", "pt_pt"], capsys)
    assert ran.status == 0, ran.err
    place = book / "locales" / "pt_PT"
    assert sorted(path.name for path in place.iterdir()) == ["glossary.yaml", "owner.po", "signed.json"]
    catalogue = po.read((place / "owner.po").read_text(encoding="utf-8"), "owner.po")
    assert catalogue.header["Language"] == "pt-PT"
    assert catalogue.header["Plural-Forms"].startswith("nplurals=2;")
    assert len(catalogue.entries) > 150
    assert not any(entry.is_translated for entry in catalogue.entries)
    assert json.loads((place / "signed.json").read_text(encoding="utf-8")) == {}
    assert "  toes: []" in (place / "glossary.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("typed", "name"), [("en-GB", "language-is-source"), ("klingon", "language-unknown"), ("../x", "language-unknown")]
)
def test_a_language_that_no_sheet_can_be_printed_in_is_refused(
    typed: str, name: str, tmp_path: Path, capsys: Capture
) -> None:
    book = clinic_book(tmp_path)
    before = everything_in(book)
    ran = run(["words", "merge", "--book", str(book), "--language", typed], capsys)
    assert ran.status == 2
    assert f"--language {typed}: error: {name}" in ran.err
    assert everything_in(book) == before


def test_a_protocol_that_cannot_be_read_does_not_take_its_words_away(tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    reword(book, OLD, NEW)
    run(["words", "merge", "--book", str(book), "--language", "es"], capsys)
    file = book / "protocols" / "padded-limb-support.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "\n  broken: [", encoding="utf-8")
    before = everything_in(book)
    ran = run(["words", "merge", "--book", str(book)], capsys)
    assert ran.status == 1
    assert file.as_posix() in ran.err
    assert everything_in(book) == before


@pytest.mark.parametrize("spoilt", [b'msgid "Dog\n', 'msgstr "mu\u00f1eca"\n'.encode("latin-1")])
def test_a_catalogue_that_cannot_be_read_is_never_written_over(spoilt: bytes, tmp_path: Path, capsys: Capture) -> None:
    book = clinic_book(tmp_path)
    run(["words", "merge", "--book", str(book), "--language", "es", "--override", "Dog"], capsys)
    file = book / "locales" / "es" / "owner.po"
    file.write_bytes(file.read_bytes() + b"\n" + spoilt)
    before = everything_in(book)
    ran = run(["words", "merge", "--book", str(book)], capsys)
    assert ran.status == 1
    assert f"{file.as_posix()}:" in ran.err
    assert everything_in(book) == before


def test_words_of_an_installed_tool_are_not_changed(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = checkout(tmp_path, monkeypatch)
    monkeypatch.setattr(shelf, "is_installed", lambda: True)
    before = everything_in(folder)
    for command in ("merge", "extract"):
        ran = run(["words", command, "--book", str(folder)], capsys)
        assert ran.status == 1
        assert "room-of-the-tool" in ran.err
    assert everything_in(folder) == before


def test_a_book_beside_which_no_room_can_lie_is_refused(tmp_path: Path, capsys: Capture) -> None:
    clinic_book(tmp_path)
    (tmp_path / "protocols").rename(tmp_path / "flat")
    ran = run(["words", "merge", "--book", str(tmp_path / "flat"), "--language", "es"], capsys)
    assert ran.status == 1
    assert "book-without-room" in ran.err
