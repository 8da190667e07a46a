"""Any revision that was approved can be printed again, and one that counts no more says so on each page.

The archive print contains WITHDRAWN, the live binder contains none; ISO/IEC 17025:2017 8.3.2 f (obsolete documents
that are retained are identified); OECD GLP series, historical file of procedures.
"""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest
import yaml

from tests.cli.running import everything_in, run
from tests.conftest import ROOT
from tests.control.papers import AT, NUMBER, Capture, own_book, pages, reword

KEPT = ROOT / "protocols" / "approved" / "LB-SUP-002-rev-3.yaml"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return own_book(tmp_path)


def printed(book: Path, capsys: Capture, revision: str, now: str = AT[1]) -> Path:
    ran = run(["chapter", revision, "--now", now], capsys, book)
    assert ran.status == 0, ran.err
    return book / ran.out.split()[0]


def test_a_revision_that_was_replaced_says_so_on_each_page(book: Path, capsys: Capture) -> None:
    place = printed(book, capsys, f"{NUMBER}@3")
    texts = pages(place)
    assert len(texts) > 3
    for text in texts:
        # Revision 4 came into force on that day (the demo clinic's record).
        assert "WITHDRAWN 2026-11-02" in text
        assert f"{NUMBER} revision 3 · content 6d6f56d9" in text
        assert "signs, stock, size bands and house limits as they are today" in text
    assert "WITHDRAWN" in (pypdf.PdfReader(place).metadata or {}).get("/Title", "")
    assert "WITHDRAWN" in place.name


def test_it_says_what_was_approved_and_not_what_came_after(book: Path, capsys: Capture) -> None:
    old, new = (" ".join(pages(printed(book, capsys, f"{NUMBER}@{n}"))) for n in (3, 4))
    assert "WITHDRAWN" not in new
    assert "Archive print" not in new
    for data, text in ((KEPT, old), (ROOT / "protocols" / "padded-limb-support.yaml", new)):
        said = yaml.safe_load(data.read_text(encoding="utf-8"))
        for row in said["history"]:
            assert row["change"] in text
        assert str(said["prepared_by"]["date"]) in text
    assert "limits written as windows" not in old


def test_until_its_successor_is_in_force_the_old_revision_counts(book: Path, capsys: Capture) -> None:
    before = pages(printed(book, capsys, f"{NUMBER}@3", "2026-10-25T10:00"))
    assert not any("WITHDRAWN" in text for text in before)
    after = pages(printed(book, capsys, f"{NUMBER}@4", "2026-10-25T10:00"))
    assert all("NOT YET IN FORCE" in text for text in after)


def test_the_live_binder_says_it_nowhere(book: Path, capsys: Capture) -> None:
    assert run(["binder", *AT], capsys, book).status == 0
    use = [text for text in pages(book / "output" / "binder.pdf") if "WITHDRAWN" in text]
    # One page explains what each band means.
    assert all("What a band across the page means" in text for text in use)
    assert len(use) <= 1


def test_a_withdrawn_document_is_still_printed(book: Path, capsys: Capture) -> None:
    run(["withdraw", "LB-CVR-005", "--why", "no longer done", "--by", "Dr M. Tamsin", *AT], capsys, book)
    for name in ("LB-CVR-005@1", "tail-bandage@1"):
        assert all("WITHDRAWN 2027-03-13" in text for text in pages(printed(book, capsys, name)))


def test_where_settings_lack_a_sign_every_kept_value_is_printed(book: Path, capsys: Capture) -> None:
    reword(book, "\nstrike-through:", "\nwet-from-inside:", "protocols/signs.yaml")
    ran = run(["chapter", f"{NUMBER}@3", *AT], capsys, book)
    assert ran.status == 0
    assert "value by value" in ran.err
    assert "strike-through" in ran.err
    texts = pages(book / ran.out.split()[0])
    assert all("WITHDRAWN 2026-11-02" in text for text in texts)
    assert all("Not to be worked from" in text for text in texts)
    whole = "".join("".join(texts).replace("\N{NO-BREAK SPACE}", " ").split())
    # Read by another library: each value of the file stands on the paper.
    for value in values(yaml.load(KEPT.read_text(encoding="utf-8"), yaml.BaseLoader)):
        assert "".join(value.split()) in whole, value


def values(node: object) -> list[str]:
    if isinstance(node, dict):
        return [text for child in node.values() for text in values(child)]
    if isinstance(node, list):
        return [text for child in node for text in values(child)]
    return [str(node)]


@pytest.mark.parametrize(
    ("typed", "name"),
    [(f"{NUMBER}@7", "revision-not-kept"), (NUMBER, "revision-missing"), ("LB-SUP-020@1", "document-unknown")],
)  # fmt: skip
def test_what_is_not_kept_is_refused_with_what_is(typed: str, name: str, book: Path, capsys: Capture) -> None:
    before = everything_in(book)
    ran = run(["chapter", typed, *AT], capsys, book)
    assert ran.status == 1
    assert f"error: {name}:" in ran.err
    assert everything_in(book) == before


def test_a_kept_file_that_was_touched_is_not_printed(book: Path, capsys: Capture) -> None:
    reword(book, "    passes: 3\n", "    passes: 2\n", "protocols/approved/LB-SUP-002-rev-3.yaml")
    ran = run(["chapter", f"{NUMBER}@3", *AT], capsys, book)
    assert ran.status == 1
    assert "kept-revision-differs" in ran.err
