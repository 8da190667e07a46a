"""What a clinician approved is what is printed: any other word prints TRIAL, and goes to no owner.

ISO 9001:2015 7.5.2 c (review and approval) and 7.5.3.2 c (control of changes); ISO/IEC 17025:2017 8.3.2 a to c.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from datetime import UTC, date, datetime
from pathlib import Path

import pypdf
import pytest

from generator import binding, opening
from generator.page.document import Document
from generator.protocol.approval import Approval, Record, Withdrawal, read_record, standing_of, write_record
from generator.standing import changes_of, standing
from tests.cli.running import everything_in, run
from tests.conftest import ROOT

Capture = pytest.CaptureFixture[str]
NUMBER, FILE = "LB-SUP-002", "protocols/padded-limb-support.yaml"
AT = ("--now", "2027-03-13T10:40")
MAPLE = ("--protocol", "padded-limb-support", "--patient", "protocols/patients/maple.yaml")
BY = ("--by", "Dr M. Tamsin")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The demo clinic's book with its record, in a folder of its own."""
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    return tmp_path


def reword(book: Path, old: str, new: str) -> None:
    place = book / FILE
    text = place.read_text(encoding="utf-8")
    assert text.count(old) == 1
    place.write_text(text.replace(old, new), encoding="utf-8")


def record(book: Path) -> Record:
    place = book / "protocols" / "approved" / "record.json"
    found, problems = read_record(place.read_text(encoding="utf-8"), place.name)
    assert not problems
    return found


def pages(place: Path) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(place).pages]


# ---- the shipped book ------------------------------------------------------------------------------------------


def test_every_shipped_protocol_is_approved_as_it_stands() -> None:
    """The demo book is a clinic's book: whoever changes it raises the revision and approves it (see DEVELOPERS.md)."""
    opened = opening.open_book(str(ROOT / "protocols"))
    for protocol in opened.book.protocols.values():
        one = standing(opened, protocol)
        assert one.is_approved, f"{protocol.id}: {[change.path for change in changes_of(opened, one)]}"
        approved = protocol.approved_by
        assert one.approval is not None
        assert approved is not None
        assert (one.approval.approved_by, one.approval.approved_on) == (approved.name, approved.date)
        assert (one.approval.effective, one.approval.review_by) == (protocol.effective, protocol.review_by)


def test_what_is_kept_is_what_was_approved() -> None:
    from generator.standing import kept_tree

    opened = opening.open_book(str(ROOT / "protocols"))
    assert len(opened.record.of(NUMBER)) == 2
    for row in opened.record.approvals:
        kept_tree(opened, row)
    kept = {path.name for path in (ROOT / "protocols" / "approved").glob("*.yaml")}
    assert kept == {row.kept for row in opened.record.approvals}


# ---- a word changed under a signature --------------------------------------------------------------------------


def test_a_changed_word_stops_the_binder_with_the_line_that_changed(book: Path, capsys: Capture) -> None:
    reword(book, "    passes: 3\n", "    passes: 4\n")
    before = everything_in(book)
    ran = run(["binder", *AT], capsys, book)
    assert ran.status == 1
    assert "changed-under-revision" in ran.err
    assert re.search(rf"also {FILE}:\d+:13: layers 3, passes: was `3`", ran.err)
    assert f"gauzeleaf revise {NUMBER}" in ran.err
    assert everything_in(book) == before


def test_a_changed_word_refuses_the_sheet_and_marks_the_card_on_every_page(book: Path, capsys: Capture) -> None:
    reword(book, "Dry the limb fully", "Dry the whole limb")
    refused = run(["sheet", *MAPLE, *AT], capsys, book)
    assert refused.status == 1
    assert "--trial" in refused.err
    assert not (book / "output").exists()
    card = run(["card", *MAPLE, *AT], capsys, book)
    assert card.status == 0
    assert "TRIAL" in card.err
    for place in card.out.split():
        assert "TRIAL" in place
        assert all(text.count("TRIAL: not approved as it stands") == 1 for text in pages(book / place))


@pytest.mark.parametrize("command", ["sheet", "workings"])
def test_on_trial_each_page_says_so(command: str, book: Path, capsys: Capture) -> None:
    reword(book, "Dry the limb fully", "Dry the whole limb")
    trial = ("--trial", "--clinic-copy", "--also-html") if command == "sheet" else ()
    ran = run([command, *MAPLE, *AT, *trial], capsys, book)
    assert ran.status == 0
    places = [book / line for line in ran.out.splitlines()]
    for place in places:
        if place.suffix == ".html":
            assert place.read_text(encoding="utf-8").count("TRIAL: not approved as it stands") == 1
        else:
            assert all("TRIAL: not approved as it stands" in text for text in pages(place))
    assert len(places) == (3 if command == "sheet" else 1)


def test_no_calendar_goes_out_on_trial(book: Path, capsys: Capture) -> None:
    reword(book, "Dry the limb fully", "Dry the whole limb")
    ran = run(["visits", *MAPLE, *AT], capsys, book)
    assert (ran.status, ran.out) == (1, "")


def test_a_binder_on_trial_says_so_on_the_pages_of_that_chapter_only(book: Path, capsys: Capture) -> None:
    reword(book, "Dry the limb fully", "Dry the whole limb")
    assert run(["binder", "--trial", *AT], capsys, book).status == 0
    texts = pages(book / "output" / "binder.pdf")
    own = [text for text in texts if f"{NUMBER} revision" in text]
    assert len(own) > 3
    assert all("TRIAL: not approved" in text for text in own)
    assert sum("TRIAL: not approved" in text for text in texts) == len(own)


def test_comments_and_layout_are_no_change(book: Path, capsys: Capture) -> None:
    place = book / FILE
    text = place.read_text(encoding="utf-8")
    place.write_text(
        "# ours\n" + text.replace("function: Limits", "function:    Limits"), encoding="utf-8", newline="\r\n"
    )
    assert run(["sheet", *MAPLE, *AT], capsys, book).status == 0


def test_a_change_elsewhere_in_the_book_does_not_touch_this_sheet(book: Path, capsys: Capture) -> None:
    place = book / "protocols" / "hobbles.yaml"
    place.write_text(
        place.read_text(encoding="utf-8")
        .replace("revision: 2\n", "revision: 2 \n# x\n")
        .replace("title: Hind limb hobbles", "title: Hobbles"),
        encoding="utf-8",
    )
    assert run(["sheet", *MAPLE, *AT], capsys, book).status == 0
    assert "changed-under-revision" in run(["check", "protocols"], capsys, book).err


def test_a_part_of_a_blend_that_changed_puts_the_blend_on_trial(book: Path, capsys: Capture) -> None:
    place = book / "protocols" / "splinted-limb.yaml"
    text = place.read_text(encoding="utf-8")
    place.write_text(text.replace("title: Splinted limb bandage", "title: Limb in a splint"), encoding="utf-8")
    assert place.read_text(encoding="utf-8") != text
    blend = ("--protocol", "open-fracture-before-fixation", "--patient", "protocols/patients/brindle.yaml")
    ran = run(["card", *blend, "--now", "2027-03-13T12:30"], capsys, book)
    assert ran.status == 0
    assert "LB-SUP-003" in ran.err
    assert all("TRIAL" in text for text in pages(book / ran.out.split()[0]))


def test_the_plan_says_who_approved_what(book: Path, capsys: Capture) -> None:
    def plan() -> list[dict[str, object]]:
        ran = run(["plan", *MAPLE, *AT, "--format", "json"], capsys, book)
        return list(json.loads(ran.out)["approvals"])

    (own,) = plan()
    assert own == {
        "id": NUMBER, "revision": 4, "content": record(book).revision(NUMBER, 4).digest,  # type: ignore[union-attr]
        "approved_by": "Dr M. Tamsin", "approved_on": "2026-10-22",
    }  # fmt: skip
    reword(book, "Dry the limb fully", "Dry the whole limb")
    (changed,) = plan()
    assert (changed["approved_by"], changed["approved_on"]) == (None, None)
    assert changed["content"] != own["content"]


# ---- a new book ------------------------------------------------------------------------------------------------


def test_a_new_book_has_nobody_elses_approvals(tmp_path: Path, capsys: Capture) -> None:
    assert run(["new", str(tmp_path / "ours")], capsys).status == 0
    checked = run(["check", str(tmp_path / "ours")], capsys)
    assert checked.status == 0
    assert checked.err.count("nothing-approved") == 1
    refused = run(["binder", "--book", str(tmp_path / "ours"), *AT], capsys, tmp_path)
    assert refused.status == 1
    assert refused.err.count("not-approved") == 24


# ---- revise ----------------------------------------------------------------------------------------------------


def test_a_revision_is_raised_and_nothing_else_changes(book: Path, capsys: Capture) -> None:
    reword(book, "    passes: 3\n", "    passes: 4\n")
    before = (book / FILE).read_text(encoding="utf-8").splitlines()
    ran = run(["revise", NUMBER, "--why", "bandages slipped: twice", *AT], capsys, book)
    assert ran.status == 0
    assert "layers 3, passes" in ran.out
    after = (book / FILE).read_text(encoding="utf-8").splitlines()
    row = '  - {revision: 5, date: 2027-03-13, change: "layers 3, passes", why: "bandages slipped: twice", by: R. Osei-Lund}'
    assert [line for line in after if line not in before] == [
        "revision: 5", "effective: to decide", "review_by: to decide",
        "prepared_by: {name: R. Osei-Lund, role: head technician, date: 2027-03-13}", "approved_by: to decide", row,
    ]  # fmt: skip
    assert len(after) == len(before) + 1
    assert after[after.index(row) - 1].startswith("history:")


def test_raised_but_not_approved_it_prints_on_trial_and_the_words_that_count_are_named(
    book: Path, capsys: Capture
) -> None:
    run(["revise", NUMBER, "--why", "yearly review", "--change", "none", *AT], capsys, book)
    card = run(["card", *MAPLE, *AT], capsys, book)
    assert card.status == 0
    assert "nobody has approved LB-SUP-002 revision 5; the last approved one is revision 4" in card.err
    assert run(["sheet", *MAPLE, *AT], capsys, book).status == 1
    assert run(["sheet", "--trial", *MAPLE, *AT], capsys, book).status == 0
    assert run(["check", "protocols", "--no-fit"], capsys, book).status == 0


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        (["revise", "LB-SUP-020"], "protocol-unknown"),
        (["revise", "padded-limb-suport"], "protocol-unknown"),
        (["approve", NUMBER], "approved-already"),
        (["approve", NUMBER, "--by", "Dr Nobody"], "approver-unknown"),
        (["approve", NUMBER, "--on", "2027-02-30"], "no-such-date"),
        (["approve", NUMBER, "--on", "2027-03-14"], "approved-in-the-future"),
        (["approve", "--all", *BY], "nothing-awaits-approval"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused_and_nothing_written(
    typed: list[str], name: str, book: Path, capsys: Capture
) -> None:
    before = everything_in(book)
    ran = run([*typed, *AT], capsys, book)
    assert ran.status in (1, 2)
    assert f"error: {name}:" in ran.err
    assert everything_in(book) == before


def test_a_revision_is_not_raised_twice(book: Path, capsys: Capture) -> None:
    assert run(["revise", NUMBER, "--why", "x", *AT], capsys, book).status == 0
    again = run(["revise", NUMBER, "--why", "x", *AT], capsys, book)
    assert again.status == 1
    assert "revision-raised-already" in again.err


# ---- approve ---------------------------------------------------------------------------------------------------


def test_from_a_change_to_its_approval(book: Path, capsys: Capture) -> None:
    reword(book, "    passes: 3\n", "    passes: 4\n")
    run(["revise", NUMBER, "--why", "slipped", *AT], capsys, book)
    nobody = run(["approve", NUMBER, *AT], capsys, book)
    assert "approver-missing" in nobody.err
    ran = run(["approve", NUMBER, *BY, "--effective", "2027-03-20", *AT], capsys, book)
    assert ran.status == 0, ran.err
    own = record(book).revision(NUMBER, 5)
    assert own is not None
    assert (own.approved_by, own.approved_on, own.effective, own.review_by) == (
        "Dr M. Tamsin", date(2027, 3, 13), date(2027, 3, 20), date(2028, 3, 20),
    )  # fmt: skip
    assert (book / "protocols" / "approved" / own.kept).read_bytes() == (book / FILE).read_bytes()
    (page,) = (book / "output").glob("approval-*.pdf")
    text = " ".join(" ".join(pages(page)).split())
    for words in (
        NUMBER,
        "revision 5",
        own.digest[:8],
        "Changed since revision 4",
        "layers 3, passes",
        "Signature",
        "Dr M. Tamsin",
        "2027-03-20",
    ):
        assert words in text, words
    # In force: sheet and binder are printed again, and what changed has a bar beside it.
    assert run(["sheet", *MAPLE, "--now", "2027-03-20T10:40"], capsys, book).status == 0
    assert run(["binder", "--now", "2027-03-20T10:40"], capsys, book).status == 0


def barred(document: Document, slug: str) -> tuple[list[str], str]:
    """What has a bar beside it in a chapter, in words; and the rest of the document."""
    start = document.xhtml.index(f'id="sop.{slug}"')
    end = document.xhtml.index('<section class="chapter"', start)
    found = re.findall(
        r'<(\w+)((?: [^>]*)? class="[^"]*\bchanged\b[^"]*"[^>]*)>(.*?)</\1>', document.xhtml[start:end], re.S
    )
    said = [" ".join(re.sub(r"<[^>]+>", " ", inner).split()) for _, _, inner in found]
    return said, document.xhtml[:start] + document.xhtml[end:]


def test_what_changed_since_the_last_approved_revision_is_barred() -> None:
    """ISO 9001:2015 7.5.3.2 c: changed lines barred in margin. Revision 4 wrote two limits as windows, and nothing else."""
    said, others = barred(
        binding.binder(opening.open_book(str(ROOT / "protocols")), datetime(2027, 3, 15, 9)), "padded-limb-support"
    )
    assert [words.split()[0] for words in said] == ["First", "Changed"]
    # But for the page that says what a bar means.
    assert len(re.findall(r'class="[^"]*\bchanged\b', others)) == 1


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("    passes: 3\n", "    passes: 4\n", "C padding"),
        ("Dry the limb fully", "Dry the whole limb", "Dry the whole limb, also between the toes."),
        ("  - dry towel\n", "  - dry towel\n  - two dry towels\n", "two dry towels"),
        ("    - Smell the bandage at both ends.\n", "    - Smell the bandage from both ends.\n", "Smell the bandage from both ends."),
        ("a strain or sprain that needs comfort", "a sprain that needs comfort", "a sprain that needs comfort, not rigidity"),
        (", inset: 2 cm", "", "D conforming"),
        ("  check_every: {interval: 12 h, who: owner}", "  check_every: {interval: 8 h, who: owner}", "Looked at"),
        ('  - {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}\n', "", "Roll conforming gauze"),
    ],
)  # fmt: skip
def test_a_change_of_any_kind_has_its_bar(old: str, new: str, words: str, book: Path) -> None:
    reword(book, old, new)
    said, others = barred(
        binding.binder(opening.open_book(str(book)), datetime(2027, 3, 15, 9), trial=True), "padded-limb-support"
    )
    assert len(said) == 1, said
    assert said[0].startswith(words)
    # But for the page that says what a bar means.
    assert len(re.findall(r'class="[^"]*\bchanged\b', others)) == 1


def test_an_approver_is_another_person_than_the_author(book: Path, capsys: Capture) -> None:
    run(["revise", NUMBER, "--why", "x", "--change", "none", "--by", "Dr M. Tamsin", *AT], capsys, book)
    ran = run(["approve", NUMBER, *BY, *AT], capsys, book)
    assert ran.status == 1
    assert "approved-by-its-author" in ran.err
    assert record(book).revision(NUMBER, 5) is None


def test_an_approved_revision_that_was_tampered_with_is_found(book: Path, capsys: Capture) -> None:
    kept = book / "protocols" / "approved" / "LB-SUP-002-rev-4.yaml"
    kept.write_text(kept.read_text(encoding="utf-8").replace("passes: 3", "passes: 2"), encoding="utf-8")
    reword(book, "Dry the limb fully", "Dry the whole limb")
    ran = run(["binder", *AT], capsys, book)
    assert ran.status == 1
    assert "kept-revision-differs" in ran.err


@pytest.mark.parametrize("text", ["", "[]", "{", '{"approvals": [{}]}', '{"approvals": [1]}', "\x00"])
def test_a_damaged_record_is_named_and_approves_nothing(text: str, book: Path, capsys: Capture) -> None:
    (book / "protocols" / "approved" / "record.json").write_text(text, encoding="utf-8")
    for command in (["sheet", *MAPLE, *AT], ["binder", *AT]):
        ran = run(command, capsys, book)
        if text == "[]":
            assert "record-unsound" in ran.err
        assert ran.status == 1
        assert "record-unsound" in ran.err


# ---- the record ------------------------------------------------------------------------------------------------

ROW = Approval("A-1", 1, "a", "A", "0" * 64, "A-1-rev-1.yaml", "P", "Q", "clinician", date(2027, 1, 1), date(2027, 1, 2), date(2028, 1, 1), datetime(2027, 1, 1, 9, tzinfo=UTC))  # fmt: skip


def test_a_record_comes_back_as_it_was_written() -> None:
    gone = Withdrawal("A-1", date(2027, 5, 1), "no longer done", "P", datetime(2027, 5, 1, 9, tzinfo=UTC))
    whole = Record((ROW,), (gone,), "record.json")
    assert read_record(write_record(whole), "record.json") == (whole, ())
    assert whole.replaced_on(ROW) == date(2027, 5, 1)


@pytest.mark.parametrize("key", ["digest", "revision", "approved_on", "recorded"])
def test_a_row_with_a_value_spoilt_does_not_count(key: str) -> None:
    text = write_record(Record((ROW,)))
    spoilt = re.sub(rf'"{key}": ("[^"]*"|\d+)', f'"{key}": "nonsense"', text)
    found, problems = read_record(spoilt, "record.json")
    assert found.approvals == ()
    assert [problem.name for problem in problems] == ["record-unsound"]


def test_one_revision_is_approved_once() -> None:
    found, problems = read_record(write_record(Record((ROW, ROW))), "record.json")
    assert len(found.approvals) == 2
    assert problems


def test_a_standing_is_told_from_the_content_alone() -> None:
    protocol = opening.open_book(str(ROOT / "protocols")).book.protocols["hobbles"]
    assert standing_of(protocol, Record()).state == "open"


def test_the_record_is_read_by_any_json_reader() -> None:
    found = subprocess.run(
        ["python3", "-m", "json.tool", str(ROOT / "protocols/approved/record.json")], capture_output=True, check=True
    )
    assert len(json.loads(found.stdout)["approvals"]) == 25


@pytest.mark.parametrize(
    "key", ["id", "revision", "title", "effective", "approved_by", "history", "prepared_by", "steps"]
)
@pytest.mark.parametrize("command", ["check", "reviews", "binder", "revise"])
def test_a_misspelt_key_is_a_problem_of_the_file_and_never_a_fault_of_ours(
    key: str, command: str, book: Path, capsys: Capture
) -> None:
    reword(book, f"\n{key}:", f"\n{key[:-1]}:")
    typed = {
        "check": ["protocols", "--no-fit"],
        "reviews": [*AT],
        "binder": [*AT],
        "revise": ["padded-limb-support", *AT],
    }
    ran = run([command, *typed[command]], capsys, book)
    assert ran.status == (0 if command == "reviews" else 1), ran.err
    assert ("not listed: see gauzeleaf check" if command == "reviews" else "unknown-key") in ran.err
