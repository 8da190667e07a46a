"""A document out of use is out of the book, its number never comes back, and every copy of it is called in.

ISO 9001:2015 7.5.3.2 (obsolete documents) and ISO/IEC 17025:2017 8.3.2 f (unintended use of obsolete documents is
prevented, and those that are retained are identified).
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from generator import opening, shelf
from generator.source.problem import Refusal
from tests.cli.running import everything_in, run
from tests.control.papers import AT, Capture, own_book, pages, record_of, reword

NUMBER, FILE = "LB-CVR-005", "protocols/tail-bandage.yaml"
WITHDRAW = ("withdraw", NUMBER, "--why", "no longer done here", "--by", "Dr M. Tamsin")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return own_book(tmp_path)


def test_it_leaves_the_book_and_stays_on_record(book: Path, capsys: Capture) -> None:
    before = everything_in(book)
    ran = run([*WITHDRAW, *AT], capsys, book)
    assert (ran.status, ran.err) == (0, "")
    after = everything_in(book)
    assert set(before) - set(after) == {FILE}
    assert set(after) - set(before) == {"output/withdrawal-LB-CVR-005-2027-03-13.pdf"}
    assert {name for name in before if after.get(name, before[name]) != before[name]} == {
        "protocols/approved/record.json"
    }
    gone = record_of(book).withdrawn(NUMBER)
    assert gone is not None
    assert (gone.on, gone.by, gone.why) == (date(2027, 3, 13), "Dr M. Tamsin", "no longer done here")
    assert record_of(book).of(NUMBER), "its approvals are never taken from the record"
    opened = opening.open_book(str(book))
    assert not [problem for problem in opened.problems if problem.severity == "error"]
    assert not any(one.id == NUMBER for one in opened.book.protocols.values())


def test_the_sheet_calls_in_every_copy(book: Path, capsys: Capture) -> None:
    """remove and destroy revision n of copies 1 to 4, tick and initial."""
    run([*WITHDRAW, *AT], capsys, book)
    (place,) = (book / "output").glob("withdrawal-*.pdf")
    text = " ".join(pages(place))
    assert f"Remove and destroy {NUMBER} revision 1 of copies 1 to 4" in text
    for copy in opening.open_book(str(book)).book.clinic.copies:
        assert f"{copy.number} {copy.place} {copy.holder}" in text
    for words in ("Initials", "Destroyed", "no longer done here", "Dr M. Tamsin", "2027-03-13", "takes no bandage off"):
        assert words in text


def test_a_number_out_of_use_never_comes_back(book: Path, capsys: Capture) -> None:
    """never reused."""
    text = (book / FILE).read_text(encoding="utf-8")
    run([*WITHDRAW, *AT], capsys, book)
    for name in (NUMBER, "tail-bandage"):
        again = run(["withdraw", name, "--why", "x", "--by", "Dr M. Tamsin", *AT], capsys, book)
        assert again.status == 1
        assert "withdrawn-already" in again.err
    (book / FILE).write_text(text, encoding="utf-8")
    assert "number-withdrawn" in run(["check", "protocols", "--no-fit"], capsys, book).err
    assert "take protocols/tail-bandage.yaml out of the book" in run([*WITHDRAW, *AT], capsys, book).err


def test_words_that_nobody_approved_are_kept_too(book: Path, capsys: Capture) -> None:
    reword(book, "title: Tail bandage", "title: Bandage of the tail", FILE)
    text = (book / FILE).read_bytes()
    ran = run([*WITHDRAW, *AT], capsys, book)
    assert ran.status == 0
    assert (book / "protocols/approved/LB-CVR-005-rev-1-withdrawn.yaml").read_bytes() == text
    assert "LB-CVR-005-rev-1-withdrawn.yaml" in ran.out


def test_what_others_lean_on_stays_and_each_place_is_named(book: Path, capsys: Capture) -> None:
    before = everything_in(book)
    ran = run(["withdraw", "LB-SUP-003", "--why", "x", "--by", "Dr M. Tamsin", *AT], capsys, book)
    assert ran.status == 1
    # Two stored blends have it as a part, five protocols send to it: counted in the files themselves.
    naming = [name for name, data in before.items() if name.startswith("protocols/") and name.count("/") == 1
              and (b"instead: splinted-limb}" in data or b"blend: [splinted-limb" in data)]  # fmt: skip
    assert len(naming) > 3
    assert ran.err.count("error: still-needed") == len(naming)
    for name in naming:
        assert f"{name}:" in ran.err
    assert everything_in(book) == before


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        (["--why", "x", "--by", "R. Nobody"], "withdrawer-unknown"),
        (["--why", " ", "--by", "Dr M. Tamsin"], "reason-missing"),
        (["--why", "x", "--by", "Dr M. Tamsin", "--on", "2027-03-14"], "withdrawn-in-the-future"),
        (["--why", "x", "--by", "Dr M. Tamsin", "--on", "2026-12-03"], "withdrawn-before-approval"),
        (["--why", "x", "--by", "Dr M. Tamsin", "--on", "2027-02-30"], "no-such-date"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused_and_nothing_written(
    typed: list[str], name: str, book: Path, capsys: Capture
) -> None:
    before = everything_in(book)
    ran = run(["withdraw", NUMBER, *typed, *AT], capsys, book)
    assert ran.status in (1, 2)
    assert f"error: {name}:" in ran.err
    assert everything_in(book) == before


def test_a_document_that_never_was_is_not_withdrawn(book: Path, capsys: Capture) -> None:
    ran = run(["withdraw", "LB-CVR-009", "--why", "x", "--by", "Dr M. Tamsin", *AT], capsys, book)
    assert ran.status == 1
    assert "protocol-unknown" in ran.err


# ---- all or nothing --------------------------------------------------------------------------------------------


def test_files_are_written_first_and_taken_away_last(tmp_path: Path) -> None:
    old, new = tmp_path / "old.yaml", tmp_path / "new" / "new.yaml"
    old.write_bytes(b"old")
    shelf.write_whole({new: b"new"}, gone=[old])
    assert everything_in(tmp_path) == {"new/new.yaml": b"new"}


def test_what_cannot_be_taken_away_leaves_all_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old, changed, new = (tmp_path / name for name in ("old.yaml", "changed.json", "new.pdf"))
    old.write_bytes(b"old")
    changed.write_bytes(b"before")
    unlink = Path.unlink

    def held(path: Path, missing_ok: bool = False) -> None:
        if path == old:
            raise PermissionError(13, "Permission denied", str(path))
        unlink(path, missing_ok)

    monkeypatch.setattr(Path, "unlink", held)
    with pytest.raises(Refusal) as refused:
        shelf.write_whole({changed: b"after", new: b"new"}, gone=[old])
    assert refused.value.problems[0].name == "cannot-write"
    assert everything_in(tmp_path) == {"old.yaml": b"old", "changed.json": b"before"}


def test_a_link_is_not_taken_away(tmp_path: Path) -> None:
    real, link = tmp_path / "real.yaml", tmp_path / "link.yaml"
    real.write_bytes(b"real")
    link.symlink_to(real)
    with pytest.raises(Refusal):
        shelf.write_whole({tmp_path / "new": b"new"}, gone=[link])
    assert set(everything_in(tmp_path)) == {"real.yaml", "link.yaml"}
