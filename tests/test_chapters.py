"""Chapters alone: as they stand in the binder, though other protocols of the book are broken."""

from __future__ import annotations

import re
import shutil
from datetime import datetime
from pathlib import Path

import pypdfium2
import pytest

from generator import binding, flow, opening
from generator.opening import OpenBook
from generator.source.problem import Refusal
from tests.compose.plans import ROOT
from tests.compose.reading import body, with_class

ISSUED = datetime(2026, 11, 25, 9)
SLUG = "padded-limb-support"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    return tmp_path / "protocols"


def opened_after(folder: Path, file: str, old: str, new: str) -> OpenBook:
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    return opening.open_book(folder.parent.as_posix())


def chapter_texts(xhtml: str) -> dict[str, str]:
    """Each chapter's words, without its running foot, in the order of the document; ids that count are left out."""
    found = {}
    for node in with_class(body(xhtml), "chapter"):
        found[str(node.id)] = " ".join(
            child.plain() for child in node.elements() if child.tag not in ("footer", "header")
        )
    return found


def test_they_say_what_the_binder_says(folder: Path):
    opened = opening.open_book(folder.parent.as_posix())
    whole = chapter_texts(binding.binder(opened, ISSUED).xhtml)
    alone = chapter_texts(binding.chapters(opened, ["velpeau-sling", SLUG, SLUG], ISSUED).xhtml)
    # By number, each once, however they were named.
    assert list(alone) == [name for name in whole if name in ("sop.velpeau-sling", f"sop.{SLUG}")]
    assert alone == {name: whole[name] for name in alone}


def test_every_link_of_a_chapter_alone_leads_somewhere(folder: Path):
    opened = opening.open_book(folder.parent.as_posix())
    for slug in opened.book.protocols:
        page = body(binding.chapters(opened, [slug], ISSUED).xhtml)
        ids = {node.id for node in page.walk()}
        assert {node.get("href").removeprefix("#") for node in page.walk() if node.tag == "a"} <= ids


def test_pages_count_the_chapter_and_never_the_binder(folder: Path):
    opened = opening.open_book(folder.parent.as_posix())
    pdf = flow.press(binding.chapters(opened, [SLUG], ISSUED))
    with pypdfium2.PdfDocument(pdf) as document:
        pages = [page.get_textpage().get_text_bounded() for page in document]
    for number, text in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in re.sub(r"\s+", " ", text)
        assert "binder" not in text


def test_another_protocol_may_be_broken_and_this_one_may_not(folder: Path):
    opened = opened_after(folder, "velpeau-sling.yaml", "title:", "titel:")
    assert any(problem.severity == "error" for problem in opened.problems)
    assert "sop.padded-limb-support" in chapter_texts(binding.chapters(opened, [SLUG], ISSUED).xhtml)
    with pytest.raises(Refusal) as caught:
        binding.chapters(opened, [SLUG, "velpeau-sling"], ISSUED)
    assert {Path(problem.span.file).name for problem in caught.value.problems} == {"velpeau-sling.yaml"}


def test_a_broken_part_stops_the_blend_made_of_it(folder: Path):
    opened = opened_after(folder, "splinted-limb.yaml", "title:", "titel:")
    with pytest.raises(Refusal) as caught:
        binding.chapters(opened, ["open-fracture-before-fixation"], ISSUED)
    assert "splinted-limb.yaml" in {Path(problem.span.file).name for problem in caught.value.problems}


def test_an_error_in_the_settings_stops_all(folder: Path):
    opened = opened_after(folder, "stock.yaml", "cm", "cn")
    with pytest.raises(Refusal) as caught:
        binding.chapters(opened, [SLUG], ISSUED)
    assert {Path(problem.span.file).name for problem in caught.value.problems} == {"stock.yaml"}


@pytest.mark.parametrize("typed", ["padded-limb-suport", "clinic", "maple"])
def test_what_is_no_protocol_is_named_as_unknown(folder: Path, typed: str):
    opened = opening.open_book(folder.parent.as_posix(), patients=True)
    with pytest.raises(Refusal) as caught:
        binding.chapters(opened, [SLUG, typed], ISSUED)
    (problem,) = caught.value.problems
    assert (problem.name, f"`{typed}`" in problem.what) == ("protocol-unknown", True)
