"""A change sheet tells what changed between two revisions, and who has read it.

ISO 9001:2015 7.5.3.2 c (control of changes) and ISO/IEC 17025:2017 8.3.2 c (changes and current revision identified); that staff
sign what they read: common practice.
"""

from __future__ import annotations

import difflib
import re
from pathlib import Path

import pytest

from tests.cli.running import everything_in, run
from tests.conftest import ROOT
from tests.control.papers import AT, FILE, NUMBER, Capture, own_book, pages, raised_and_approved, record_of, reword

APPROVED = ROOT / "protocols" / "approved"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return own_book(tmp_path)


def sheet(ran_out: str, book: Path) -> str:
    return " ".join(pages(book / ran_out.split(": ")[0]))


def test_the_sheet_names_both_revisions_and_what_differs_in_their_files(book: Path, capsys: Capture) -> None:
    """ISO/IEC 17025:2017 8.3.2 c: changes and the current revision status are identified."""
    ran = run(["compare", f"{NUMBER}@3", f"{NUMBER}@4", *AT], capsys, book)
    assert (ran.status, ran.err) == (0, "")
    text = sheet(ran.out, book)
    record = record_of(book)
    for row in record.of(NUMBER):
        assert row.digest[:8] in text
        assert f"Revision {row.revision}" in text
    for words in ("R. Osei-Lund", "Dr M. Tamsin", "a closed Sunday left no check", "Padded limb bandage", "Signature"):
        assert words in text
    assert "TRIAL" not in text
    # What another tool finds between the two files: each value that is not the document's own data stands on the sheet.
    old, new = ((APPROVED / f"{NUMBER}-rev-{n}.yaml").read_text(encoding="utf-8").splitlines() for n in (3, 4))
    told = [
        line
        for line in difflib.ndiff(old, new)
        if line[:2] in ("- ", "+ ") and line[2:4] == "  " and "revision:" not in line
    ]
    assert len(told) == 4
    for line in told:
        value = re.sub(r"\s+#.*", "", line).split(": ", 1)[1].strip()
        assert value in text.replace("\N{NO-BREAK SPACE}", " "), value


def test_limits_cautions_steps_and_signs_are_read_first(book: Path, capsys: Capture) -> None:
    reword(book, "    passes: 3\n", "    passes: 4\n")
    reword(book, "  - dry towel\n", "")
    reword(book, "Dry the limb fully", "Dry the whole limb")
    reword(book, "  first_check: 12 h to 24 h", "  first_check: 8 h to 12 h")
    ran = run(["compare", f"{NUMBER}@4", "--format", "text"], capsys, book)
    first, rest = ran.out.split("Also changed:")
    assert first.index("limits, first check") < first.index("steps 2, do")
    for words in ("was 12 h to 24 h", "is  8 h to 12 h", "Dry the whole limb"):
        assert words in first
    assert "layers 3, passes (changed)" in rest
    assert "supplies 1 (taken out)" in rest
    assert not (book / "output").exists()


def test_against_what_nobody_approved_each_page_says_trial(book: Path, capsys: Capture) -> None:
    reword(book, "Dry the limb fully", "Dry the whole limb")
    ran = run(["compare", f"{NUMBER}@4", *AT], capsys, book)
    assert ran.status == 0
    place = book / ran.out.split(": ")[0]
    assert "TRIAL" in place.name
    assert all("TRIAL: not approved" in text for text in pages(place))


def test_it_runs_from_the_older_to_the_newer_in_whichever_order_they_are_typed(book: Path, capsys: Capture) -> None:
    one, other = (
        run(["compare", *pair, "--format", "text"], capsys, book).out
        for pair in ((f"{NUMBER}@3", f"{NUMBER}@4"), ("padded-limb-support@4", "lb-sup-002@3"))
    )
    assert one == other
    assert "revision 3 to revision 4" in one


def test_rows_of_every_revision_between_are_told(book: Path, capsys: Capture) -> None:
    raised_and_approved(book, capsys)
    out = run(["compare", f"{NUMBER}@3", "--format", "text"], capsys, book).out
    assert "a closed Sunday left no check" in out
    assert "yearly review" in out
    assert "two slipped bandages" not in out


def test_who_must_read_has_a_row_for_everybody_of_the_roster_who_has_not_left(book: Path, capsys: Capture) -> None:
    text = sheet(run(["compare", f"{NUMBER}@3", f"{NUMBER}@4", *AT], capsys, book).out, book)
    after = text.split("Who must read it")[1]
    for name in ("R. Osei-Lund", "Dr M. Tamsin", "Dr J. Ferrow", "J. Adeyemi", "L. Marchetti", "S. Yilmaz", "P. Nakoa"):
        assert after.count(name) == 1, name
    # Left on 2026-11-20 (clinic.yaml of the demo clinic), before the sheet was printed.
    assert "C. Brandvold" not in after


@pytest.mark.parametrize(
    ("typed", "name", "says"),
    [
        ([f"{NUMBER}@3", "LB-SLG-001@4"], "two-documents", "LB-SLG-001 (Velpeau sling)"),
        ([f"{NUMBER}@7"], "revision-not-kept", f"`{NUMBER}@3` (approved 2025-09-08), `{NUMBER}@4`"),
        ([f"{NUMBER}@x"], "revision-not-kept", f"`{NUMBER}@3`"),
        ([NUMBER], "revision-missing", f"`{NUMBER}@3`"),
        (["LB-SUP-02@3"], "document-unknown", "the nearest is `LB-SUP-002`"),
        ([f"{NUMBER}@4"], "nothing-to-compare", "the book says what was approved as revision 4"),
        ([f"{NUMBER}@4", "padded-limb-support@4"], "nothing-to-compare", "named twice"),
        (["@"], "document-unknown", ""),
    ],
)  # fmt: skip
def test_what_cannot_be_compared_is_refused_with_what_can(
    typed: list[str], name: str, says: str, book: Path, capsys: Capture
) -> None:
    before = everything_in(book)
    ran = run(["compare", *typed, *AT], capsys, book)
    assert ran.status == 1
    assert f"error: {name}:" in ran.err
    assert says in ran.err
    assert everything_in(book) == before


def test_a_kept_revision_that_was_touched_is_not_compared(book: Path, capsys: Capture) -> None:
    kept = book / "protocols" / "approved" / f"{NUMBER}-rev-3.yaml"
    kept.write_text(kept.read_text(encoding="utf-8").replace("passes: 3", "passes: 2"), encoding="utf-8")
    ran = run(["compare", f"{NUMBER}@3", f"{NUMBER}@4", *AT], capsys, book)
    assert ran.status == 1
    assert "kept-revision-differs" in ran.err


def test_a_book_that_holds_an_older_revision_than_the_one_named_is_told_so(book: Path, capsys: Capture) -> None:
    (book / FILE).write_bytes((APPROVED / f"{NUMBER}-rev-3.yaml").read_bytes())
    ran = run(["compare", f"{NUMBER}@4", *AT], capsys, book)
    assert ran.status == 1
    assert "revision-behind" in ran.err
