"""`sheet --also-html` writes the owner's sheet for a phone beside the paper, whole or not at all.

Source of what a telephone link is: RFC 3966.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from tests.cli.running import everything_in, run

X = "{http://www.w3.org/1999/xhtml}"
ROOT = Path(__file__).parents[2]
MAPLE = [
    "--protocol", "padded-limb-support", "--patient", str(ROOT / "protocols/patients/maple.yaml"), "--now",
    "2027-03-13T10:40", "--book", str(ROOT / "protocols"),
]  # fmt: skip


def test_paper_and_page_have_one_name_and_a_draft_says_so_in_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ran = run(["sheet", *MAPLE, "--also-html", "--output", str(tmp_path)], capsys)
    assert ran.status == 0, ran.err
    made = sorted(everything_in(tmp_path))
    assert [Path(name).suffix for name in made] == [".html", ".pdf"]
    assert {Path(name).stem for name in made} == {"Maple-padded-limb-support-2027-03-13-sheet-es-DRAFT"}
    assert [Path(line).name for line in ran.out.splitlines()] == [Path(name).name for name in reversed(made)]
    page = ET.parse(tmp_path / next(name for name in made if name.endswith(".html"))).getroot()
    assert (page.get("lang"), page.get("dir")) == ("es", "ltr")
    assert (page.findtext(f"{X}head/{X}title") or "").startswith("DRAFT")
    assert "band" in (page.find(f"{X}body")[0].get("class") or "").split()  # type: ignore[index]
    # The clinic's number and the night's can be rung from the page.
    links = {link.get("href") for link in page.iter(f"{X}a")}
    assert {"tel:+18025550142", "tel:+18025550178"} <= links


def test_the_clinics_copy_is_paper_only(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ran = run(["sheet", *MAPLE, "--language", "en", "--clinic-copy", "--also-html", "--output", str(tmp_path)], capsys)
    assert ran.status == 0, ran.err
    pages = [name for name in everything_in(tmp_path) if name.endswith(".html")]
    assert len(pages) == 1
    assert "clinic-copy" not in pages[0]


def test_without_the_option_there_is_paper_only(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["sheet", *MAPLE, "--output", str(tmp_path)], capsys).status == 0
    assert [Path(name).suffix for name in everything_in(tmp_path)] == [".pdf"]


def test_the_same_moment_gives_the_same_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for folder in ("one", "two"):
        assert run(["sheet", *MAPLE, "--also-html", "--output", str(tmp_path / folder)], capsys).status == 0
    assert everything_in(tmp_path / "one") == everything_in(tmp_path / "two")


def test_a_page_that_cannot_be_written_leaves_no_paper_either(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "Maple-padded-limb-support-2027-03-13-sheet-en.html").mkdir()
    ran = run(["sheet", *MAPLE, "--language", "en", "--also-html", "--output", str(tmp_path)], capsys)
    assert ran.status == 1
    assert "place-taken" in ran.err
    assert everything_in(tmp_path) == {}
