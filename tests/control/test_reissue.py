"""Replacement pages: what comes out of each numbered copy, what goes in, and no running page that is wrong.

The page count (page x of y, restarting in each procedure), the number (the copy's number on each page), what goes out (withdrawal with each reissue);
ISO 9001:2015 7.5.3.2 a, c; ISO/IEC 17025:2017 8.3.2 d (available where used, distribution controlled) and f.
"""

from __future__ import annotations

import re
from pathlib import Path

import pypdf
import pytest

from generator import opening
from tests.cli.running import everything_in, run
from tests.control.papers import AT, FILE, NUMBER, Capture, own_book, pages, raised_and_approved, reword


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return own_book(tmp_path)


def printed(book: Path, capsys: Capture, *typed: str) -> dict[str, list[str]]:
    ran = run(["reissue", *typed, *AT], capsys, book)
    assert ran.status == 0, ran.err
    places = [book / line for line in ran.out.split("\n") if line.endswith(".pdf")]
    return {place.name: pages(place) for place in places}


def test_every_page_says_which_copy_it_belongs_to(book: Path, capsys: Capture) -> None:
    """ "Controlled copy 2 of 4, prep room" on each page of it."""
    found = printed(book, capsys, NUMBER, "--copy", "all")
    copies = opening.open_book(str(book)).book.clinic.copies
    assert len(found) == len(copies) == 4
    for copy in copies:
        texts = found[f"reissue-{NUMBER}-copy-{copy.number}.pdf"]
        assert all(f"Controlled copy {copy.number} of 4, {copy.place}" in text for text in texts)
        assert f"Insert list: copy {copy.number}, {copy.place}" in texts[0]


def test_what_comes_out_is_the_approved_revision_before(book: Path, capsys: Capture) -> None:
    """ISO 9001:2015 7.5.3.2 e: obsolete pages out of use."""
    (texts,) = printed(book, capsys, NUMBER, "--copy", "2").values()
    assert f"{NUMBER} Padded limb bandage rev 3 rev 4 tab 1, first at once" in texts[0]
    assert f"Remove and destroy {NUMBER} rev 3 and older: copy 2, ward" in texts[0]
    assert "2 ward charge technician" in texts[0]
    assert "Return this sheet" in texts[0]
    # In this order: list, chapter, control page, contents.
    kinds = ["list" if "Insert list:" in t else "chapter" if f"{NUMBER} revision 4" in t else "front" for t in texts]
    assert kinds == sorted(kinds, key=["list", "chapter", "front"].index)
    assert set(kinds) == {"list", "chapter", "front"}
    assert "Control page" in texts[kinds.index("front")]


def test_pages_count_within_each_procedure_and_nowhere_else(book: Path, capsys: Capture) -> None:
    """no gaps; a running page would be that of a binder that nobody holds."""
    (texts,) = printed(book, capsys, "hobbles", "LB-SUP-002", "--copy", "1").values()
    assert not any(re.search(r"binder \d+ of \d+", text) for text in texts)
    for number in ("LB-SUP-002", "LB-SLG-004"):
        own = [text for text in texts if f"{number} revision" in text]
        assert [re.search(r"page (\d+) of (\d+)", text).groups() for text in own] == [  # type: ignore[union-attr]
            (str(n), str(len(own))) for n in range(1, len(own) + 1)
        ]


def test_contents_and_control_page_hold_every_procedure_of_the_book(book: Path, capsys: Capture) -> None:
    """ISO 9001:2015 7.5.3: the index equals the data."""
    (texts,) = printed(book, capsys, NUMBER).values()
    front = [text for text in texts if "Front pages, content" in text]
    for protocol in opening.open_book(str(book)).book.protocols.values():
        assert " ".join(front).count(f"{protocol.id} ") >= 2, protocol.id


def test_a_first_issue_says_behind_which_chapter_it_stands(book: Path, capsys: Capture) -> None:
    (texts,) = printed(book, capsys, "LB-SUP-005", "--copy", "1").values()
    assert "LB-SUP-005 Limb cast, adult animal nothing rev 1 tab 1, after LB-SUP-004 at once" in texts[0]
    assert "No procedure comes out" in texts[0]


def test_what_was_in_copies_before_the_record_began_comes_out_too(book: Path, capsys: Capture) -> None:
    # The demo record has no approval of LB-SLG-001 before revision 4, whose history says that there was one.
    (texts,) = printed(book, capsys, "LB-SLG-001", "--copy", "1").values()
    assert "LB-SLG-001 Velpeau sling any older rev 4 tab 4, first" in texts[0]
    assert "Remove and destroy every older revision of LB-SLG-001: copy 1, prep room" in texts[0]


def test_a_withdrawn_document_comes_out_and_nothing_goes_in(book: Path, capsys: Capture) -> None:
    run(["withdraw", "LB-CVR-005", "--why", "no longer done", "--by", "Dr M. Tamsin", *AT], capsys, book)
    (texts,) = printed(book, capsys, "LB-CVR-005").values()
    assert "LB-CVR-005 Tail bandage rev 1 nothing at once" in texts[0]
    assert "Remove and destroy LB-CVR-005 rev 1 and older: copies 1 to 4" in texts[0]
    assert not any("LB-CVR-005" in text for text in texts[1:])
    (since,) = printed(book, capsys, "--since", "2027-03-13").values()
    assert since == texts


def test_what_is_not_yet_in_force_goes_in_and_the_old_pages_wait(book: Path, capsys: Capture) -> None:
    run(["revise", NUMBER, "--why", "yearly review", "--change", "none", *AT], capsys, book)
    run(["approve", NUMBER, "--by", "Dr M. Tamsin", "--effective", "2027-04-01", *AT], capsys, book)
    (texts,) = printed(book, capsys, NUMBER, "--copy", "1").values()
    assert "rev 4 rev 5 tab 1, first on 2027-04-01" in texts[0]
    assert "The old ones count until that day" in texts[0]
    assert "on that day and not before" in texts[0]
    assert all("NOT YET IN FORCE" in text for text in texts if f"{NUMBER} revision 5" in text)


def test_since_a_day_takes_what_was_approved_from_it_on_against_what_the_copies_held(
    book: Path, capsys: Capture
) -> None:
    raised_and_approved(book, capsys, now="2027-02-01T09:00")
    raised_and_approved(book, capsys, now="2027-02-20T09:00")
    ((name, texts),) = printed(book, capsys, "--since", "2027-02-01").items()
    assert NUMBER in name
    assert "rev 4 rev 6" in texts[0]
    ((_, later),) = printed(book, capsys, "--since", "2027-02-02").items()
    assert "rev 5 rev 6" in later[0]


def test_what_awaits_approval_is_in_no_copy_and_on_no_control_page(book: Path, capsys: Capture) -> None:
    reword(book, "Dry the limb fully", "Dry the whole limb")
    run(["revise", NUMBER, "--why", "slipped", *AT], capsys, book)
    refused = run(["reissue", NUMBER, *AT], capsys, book)
    assert refused.status == 1
    assert "not-approved" in refused.err
    assert "--trial" in refused.err
    assert not (book / "output").exists()
    (texts,) = printed(book, capsys, "LB-SLG-004").values()
    own = [re.search(rf"{NUMBER} Padded limb bandage (\d)", text) for text in texts]
    assert {found[1] for found in own if found} == {"4"}
    (trial,) = printed(book, capsys, NUMBER, "--trial").values()
    assert "rev 4 rev 5" in trial[0]
    assert all("TRIAL: not approved" in text for text in (trial[0], *(t for t in trial if f"{NUMBER} revision 5" in t)))


def test_links_and_bookmarks_lead_to_pages_that_are_there(book: Path, capsys: Capture) -> None:
    printed(book, capsys, NUMBER, "--copy", "2")
    reader = pypdf.PdfReader(book / "output" / f"reissue-{NUMBER}-copy-2.pdf")
    titles = [str(entry.title) for entry in reader.outline if not isinstance(entry, list)]  # type: ignore[union-attr]
    assert titles[0].startswith("Insert list")
    assert "Padded limb bandage" in titles
    assert titles[-1] == "Contents"


@pytest.mark.parametrize(
    ("typed", "status", "name"),
    [
        ([NUMBER, "--copy", "9"], 1, "copy-unknown"),
        (["LB-SUP-020"], 1, "document-unknown"),
        (["--since", "2027-03-01"], 2, "nothing-since"),
        ([NUMBER, "--since", "2027-03-01"], 2, "Usage"),
        ([], 2, "Usage"),
    ],
)  # fmt: skip
def test_what_makes_no_sense_is_refused_and_nothing_written(
    typed: list[str], status: int, name: str, book: Path, capsys: Capture
) -> None:
    before = everything_in(book)
    ran = run(["reissue", *typed, *AT], capsys, book)
    assert ran.status == status
    assert name in ran.err
    assert everything_in(book) == before


def test_a_file_that_was_lost_is_not_taken_for_withdrawn(book: Path, capsys: Capture) -> None:
    (book / "protocols" / "tail-bandage.yaml").unlink()
    ran = run(["reissue", "LB-CVR-005", *AT], capsys, book)
    assert ran.status == 1
    assert "protocol-missing" in ran.err
    assert (book / FILE).is_file()
