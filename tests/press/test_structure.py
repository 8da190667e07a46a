"""A printed document can be read aloud in order, and our own check notices when it cannot.

Source: ISO 14289-1 (PDF/UA-1) and ISO 32000-1, 14.6 to 14.9; the requirements are listed in `accessible.py`.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import pikepdf
import pytest

from generator.press import Pdf, press
from tests.press.accessible import backwards, faults, reading_order
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


def elements(pdf: pikepdf.Pdf, role: str) -> list[pikepdf.Dictionary]:
    found: list[pikepdf.Dictionary] = []

    def walk(item: object) -> None:
        if isinstance(item, pikepdf.Array):
            for kid in item:
                walk(kid)
        elif isinstance(item, pikepdf.Dictionary):
            if str(item.get("/S", "")) == role:
                found.append(item)
            if "/K" in item:
                walk(item.K)

    walk(pdf.Root.StructTreeRoot.K)
    return found


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


def _first(pdf: pikepdf.Pdf, role: str) -> pikepdf.Dictionary:
    return elements(pdf, role)[0]


def _unmark(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/MarkInfo"]


def _no_language(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/Lang"]


def _no_identification(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/Metadata"]


def _no_scope(pdf: pikepdf.Pdf) -> None:
    del _first(pdf, "/TH")["/A"]


def _no_alternative(pdf: pikepdf.Pdf) -> None:
    del _first(pdf, "/Figure")["/Alt"]


def _no_box(pdf: pikepdf.Pdf) -> None:
    del _first(pdf, "/Figure")["/A"]


def _skipped_heading(pdf: pikepdf.Pdf) -> None:
    _first(pdf, "/H2").S = pikepdf.Name("/H3")


def _silent_link(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0].Annots[0]["/Contents"]


def _loose_link(pdf: pikepdf.Pdf) -> None:
    link = _first(pdf, "/Link")
    link.K = pikepdf.Array([k for k in link.K if not isinstance(k, pikepdf.Dictionary)])


def _no_parent_tree(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.StructTreeRoot["/ParentTree"]


def _no_place(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0]["/StructParents"]


def _loose_paint(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[0]
    page.contents_add(pdf.make_stream(b"0 0 10 10 re f"), prepend=False)


def _hidden_paragraph(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[0]
    page.contents_coalesce()
    code = page.Contents.read_bytes()
    page.Contents = pdf.make_stream(re.sub(rb"/P <<\s*/MCID \d+\s*>> BDC", b"/Artifact BMC", code, count=1))


def _plain_font(pdf: pikepdf.Pdf) -> None:
    fonts = pdf.pages[0].Resources.Font
    fonts["/F1"] = pdf.make_indirect(
        pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name("/Helvetica"))
    )


def _row_outside_its_table(pdf: pikepdf.Pdf) -> None:
    _first(pdf, "/TBody").S = pikepdf.Name("/Div")


def _no_title_shown(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/ViewerPreferences"]


BREAKS: list[tuple[Callable[[pikepdf.Pdf], None], str]] = [
    (_unmark, "not marked as tagged"),
    (_no_language, "no language"),
    (_no_identification, "does not say that it is PDF/UA-1"),
    (_no_title_shown, "the title is not displayed"),
    (_no_scope, "TH without Scope"),
    (_no_alternative, "Figure without Alt"),
    (_no_box, "Figure without BBox"),
    (_skipped_heading, "heading level skips from 1 to 3"),
    (_silent_link, "page 1: a link that says nothing"),
    (_loose_link, "page 1: a link outside every Link element"),
    (_no_parent_tree, "no parent tree"),
    (_no_place, "page 1 has no place in the parent tree"),
    (_loose_paint, "page 1: f outside every tag"),
    (_hidden_paragraph, "is in the tree and not on the page"),
    (_plain_font, "font /F1 (/Helvetica) is not embedded"),
    (_row_outside_its_table, "/TR inside /Div"),
]


@pytest.mark.parametrize(("break_it", "noticed"), BREAKS, ids=[b.__name__.strip("_") for b, _ in BREAKS])
def test_a_broken_file_is_noticed(printed: Pdf, break_it: Callable[[pikepdf.Pdf], None], noticed: str) -> None:
    pdf = opened(printed)
    break_it(pdf)
    assert any(noticed in fault for fault in faults(pdf)), faults(pdf)


def test_sections_out_of_order_are_noticed(printed: Pdf) -> None:
    pdf = opened(printed)
    first = elements(pdf, "/Document")[0]
    part = first.K if not isinstance(first.K, pikepdf.Array) else first.K[0]
    part.K = pikepdf.Array(reversed(list(part.K)))
    assert backwards(reading_order(pdf)) > 0


def test_a_link_to_a_drawing_or_heading_can_be_found() -> None:
    pdf = press(
        document(
            '<h1 id="top">Top</h1><p><a href="#top">Up</a> <a href="#pic">Picture</a></p>'
            '<figure id="pic" data-drawing="toes" data-alt="Two toes"/>'
        )
    )
    assert faults(opened(pdf)) == []
    assert pdf.page_of == {"top": 1, "pic": 1}
