"""A printed document can be read aloud in order, and our own check notices when it cannot.

Source: ISO 14289-1 (PDF/UA-1) and ISO 32000-1, 14.6 to 14.9; the requirements are listed in `accessible.py`.
"""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest

from generator.press import Pdf, press
from tests.press.accessible import backwards, faults, reading_order
from tests.press.break_moves import elements
from tests.press.breaks import BREAKS, broken
from tests.press.outside import by_pdfua
from tests.press.papers import binder, document, sheet


@pytest.fixture(scope="module")
def printed() -> Pdf:
    return press(sheet(fit=(14, 13, 12), max_pages=2))


@pytest.fixture(scope="module")
def bound() -> Pdf:
    return press(binder())


def opened(pdf: Pdf) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(pdf.data))


def test_a_sheet_has_no_fault(printed: Pdf) -> None:
    assert faults(opened(printed)) == []


def test_a_binder_has_no_fault(bound: Pdf) -> None:
    assert faults(opened(bound)) == []


def test_the_tree_is_read_in_the_order_of_painting(printed: Pdf, bound: Pdf) -> None:
    for pdf in (printed, bound):
        order = reading_order(opened(pdf))
        assert len(order) >= 30
        assert backwards(order) == 0


def test_languages_are_told_where_they_change(printed: Pdf) -> None:
    pdf = opened(printed)
    assert str(pdf.Root.Lang) == "en"
    spanish = [p for p in elements(pdf, "/P") if str(p.get("/Lang", "")) == "es"]
    assert len(spanish) == 1
    spans = elements(pdf, "/Span")
    assert [str(s.Lang) for s in spans] == ["en"]


def test_a_telephone_number_is_a_link_that_says_what_it_does(printed: Pdf) -> None:
    pdf = opened(printed)
    links = [a for page in pdf.pages for a in page.get("/Annots", []) if "/A" in a]
    assert [(str(a.A.URI), str(a.Contents)) for a in links] == [("tel:+18025550142", "Ring the clinic: 802-555-0142")]


def test_an_internal_link_goes_to_the_page_of_its_target(bound: Pdf) -> None:
    pdf = opened(bound)
    pages = [page.obj.objgen for page in pdf.pages]
    links = [a for a in pdf.pages[0].Annots if str(a.Contents) == "Protocol 2"]
    assert links
    assert {pages.index(a.Dest[0].objgen) + 1 for a in links} == {bound.page_of["LB-SUP-002"]}


def test_header_cells_say_which_cells_they_head(printed: Pdf) -> None:
    pdf = opened(printed)
    scopes = [str(th.A[0].Scope) for th in elements(pdf, "/TH")]
    # Three columns and two rows of the table of visits; two labels of the list of definitions.
    assert scopes == ["/Column"] * 3 + ["/Row"] * 2 + ["/Row"] * 2


def test_a_repeated_table_head_is_read_once(bound: Pdf) -> None:
    pdf = opened(bound)
    heads = [th for th in elements(pdf, "/TH") if str(th.A[0].Scope) == "/Column"]
    assert len(heads) == 3 * 3
    assert not any(isinstance(th.K, pikepdf.Array) for th in heads)


def test_outline_follows_the_headings(bound: Pdf) -> None:
    with opened(bound).open_outline() as outline:
        top = [item.title for item in outline.root]
        below = [item.title for item in outline.root[1].children]
    assert top == ["Binder", "Protocol 1", "Protocol 2", "Protocol 3"]
    assert below == ["Steps", "Watch log"]


def test_the_title_of_the_file_is_the_title_of_the_document(printed: Pdf) -> None:
    pdf = opened(printed)
    with pdf.open_metadata(set_pikepdf_as_editor=False) as meta:
        assert meta["dc:title"] == "Maple: going home"
    assert str(pdf.docinfo["/Title"]) == "Maple: going home"
    assert str(pdf.docinfo["/CreationDate"]).startswith("D:20270313101200")


def test_no_font_but_the_embedded_ones_is_named(printed: Pdf) -> None:
    assert b"Helvetica" not in printed.data
    assert b"ZapfDingbats" not in printed.data


# ---- a good file broken on purpose: each must be noticed, by the fault it is ------------------------------------


@pytest.mark.parametrize("name", BREAKS)
def test_a_broken_file_is_noticed(printed: Pdf, name: str, tmp_path: Path) -> None:
    rule, words = BREAKS[name].pdfua, BREAKS[name].own
    data = broken(printed.data, name)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        found = faults(pdf)
    assert any(words in fault for fault in found), found
    seen = by_pdfua(tmp_path, data)
    assert rule in seen if rule else seen == []


def test_what_is_noticed_in_broken_files_is_not_noticed_in_good_ones(printed: Pdf, bound: Pdf, tmp_path: Path) -> None:
    for pdf in (printed, bound):
        assert faults(opened(pdf)) == []
        assert by_pdfua(tmp_path, pdf.data) == []


def test_each_way_of_breaking_is_another_one(printed: Pdf) -> None:
    assert len(BREAKS) >= 50
    assert len({broken(printed.data, name) for name in BREAKS} | {printed.data}) == len(BREAKS) + 1


def test_a_link_to_a_drawing_or_heading_can_be_found() -> None:
    pdf = press(
        document(
            '<h1 id="top">Top</h1><p><a href="#top">Up</a> <a href="#pic">Picture</a></p>'
            '<figure id="pic" data-drawing="toes" data-alt="Two toes"/>'
        )
    )
    assert faults(opened(pdf)) == []
    assert pdf.page_of == {"top": 1, "pic": 1}
