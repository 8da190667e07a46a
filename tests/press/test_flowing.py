"""A long document goes through the press part by part: nothing of a chapter is kept that has been painted, and nobody sees it.

Sources: ISO 32000-1, 14.7 and 14.8 (order of the structure tree), 7.7.3 (order of pages) and 12.3.3 (outline); that a tree is let go
without the collector is counted here, by weak references.
"""

from __future__ import annotations

import gc
import io
import re
from weakref import ref

import pikepdf
import pytest

from generator.page.document import Document
from generator.page.xhtml import OutsideVocabulary, read, read_parts
from generator.press import Pdf, TooLong, flowing, press
from generator.press.canvas import TagCanvas
from generator.press.pages import Lost, Page, place_scope
from generator.press.structure import Elem
from generator.source.span import Span
from tests.press.accessible import backwards, faults, reading_order
from tests.press.geometry import lines
from tests.press.papers import ISSUED, binder, document


def bound(body: str, **given: object) -> Document:
    xhtml = f'<html xmlns="http://www.w3.org/1999/xhtml" lang="en"><body class="binder">{body}</body></html>'
    return Document(xhtml, "Binder", "en", ISSUED, **given)  # type: ignore[arg-type]


def text(pdf: Pdf, page: int) -> str:
    return " ".join(line.text for line in lines(pdf.data) if line.page == page)


CHAPTERS = "".join(f'<section class="chapter" id="c{n}"><h1>Chapter {n}</h1><p>Words.</p></section>' for n in (1, 2, 3))
ALL = '<ol><li><a href="#c1">One</a></li><li><a href="#c3">Three</a></li></ol>'
CONTENTS = f'<section class="chapter" id="list"><h1>List</h1><nav class="contents">{ALL}</nav></section>'


# ---- read in parts ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("given", [binder(3, 30), document("<h1>x</h1><p>One</p>"), bound(CONTENTS + CHAPTERS)])
def test_parts_are_what_the_whole_has_in_its_body(given: Document) -> None:
    body = read(given.xhtml).elements("body")[0]
    for _ in ("judged", "known"):
        found = list(read_parts(given.xhtml))
        assert tuple(part for _, part in found) == body.elements()
        assert {html.elements("body")[0].attributes.get("class") for html, _ in found} == {body.get("class")}


@pytest.mark.parametrize(
    "content",
    [
        "<b>x</b>\n<p class='nope'>y</p>\n\n<h2>z</h2>", "words", "<p>x</div>", "<p>&nbsp;</p>", '<p><a href="#gone">x</a></p>',
        '<p id="a">x</p><p id="a">y</p>', "<?php 1 ?>", '<header class="running"><p>x</p></header>',
    ],
)  # fmt: skip
def test_faults_of_parts_are_those_of_the_whole(content: str) -> None:
    for xhtml in (
        bound(content).xhtml,
        document(content).xhtml,
        bound(f"{CHAPTERS}{content}{CHAPTERS}").xhtml,
        content,
        f"<!DOCTYPE html>{bound(content).xhtml}",
        f'<html lang="en">{content}</html>',
        "<html><body/></html>",
    ):
        told = []
        for reading in (read, lambda x: list(read_parts(x))):
            try:
                reading(xhtml)
            except OutsideVocabulary as found:
                told.append([str(fault) for fault in found.faults])
            else:
                told.append([])
        assert told[0] == told[1]


def test_furniture_of_the_whole_stands_before_its_first_page() -> None:
    late = bound(f'{CHAPTERS}<footer class="running"><p>x</p></footer>')
    with pytest.raises(OutsideVocabulary, match="misplaced-furniture"):
        read(late.xhtml)
    with pytest.raises(OutsideVocabulary, match="misplaced-furniture"):
        press(late)


# ---- what is kept -----------------------------------------------------------------------------------------------


def _kept(monkeypatch: pytest.MonkeyPatch, given: Document) -> list[int]:
    """How many blocks of the scopes before are alive when each scope is placed."""
    seen: list[ref[object]] = []
    alive: list[int] = []

    def watched(*args: object) -> list[Page]:
        alive.append(sum(one() is not None for one in seen))
        found = place_scope(*args)  # type: ignore[arg-type]
        seen.extend(ref(inner) for page in found for block, _ in page.blocks for inner in block.walk())
        return found

    monkeypatch.setattr(flowing, "place_scope", watched)
    gc.collect()
    press(given)
    assert len(seen) > 500
    return alive


def test_a_chapter_is_let_go_when_it_is_painted(monkeypatch: pytest.MonkeyPatch) -> None:
    # The contents wait for the pages of the chapters; no chapter waits for anything.
    alive = _kept(monkeypatch, binder(6, 20))
    assert len(alive) == 7
    contents = alive[1]
    assert 0 < contents < 100
    assert alive[1:] == [contents] * 6


def test_a_chapter_that_names_a_later_page_is_kept_and_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    given = binder(6, 20)
    forward = given.xhtml.replace(
        "<h1>Protocol 3</h1>", '<h1>Protocol 3</h1><p>See <a class="page-of" href="#LB-SUP-005"/>.</p>'
    )
    alive = _kept(monkeypatch, Document(forward, given.title, "en", ISSUED))
    assert alive[1] == alive[2] == alive[3]
    assert alive[4] == alive[5] == alive[6] > 200


def test_its_part_of_the_tree_is_written_and_let_go_too(monkeypatch: pytest.MonkeyPatch) -> None:
    noted: list[int] = []
    real = TagCanvas.let_go

    def watched(self: TagCanvas, part: Elem, parent: Elem) -> None:
        before = len(self.content)
        real(self, part, parent)
        noted.append(len(self.content))
        assert before > 50  # there was something to let go
        assert not part.kids

    monkeypatch.setattr(TagCanvas, "let_go", watched)
    pdf = press(binder(5, 20))
    assert noted == [0] * 5  # the contents are painted when all chapters are done
    with pikepdf.open(io.BytesIO(pdf.data)) as opened:
        assert faults(opened) == []


def test_every_object_that_a_file_announces_is_in_it() -> None:
    with pikepdf.open(io.BytesIO(press(binder(3, 20)).data)) as opened:
        assert opened.check_pdf_syntax() == []
        # Number 0 heads the free objects; every other one is something (ISO 32000-1, 7.5.4).
        for number in range(1, int(opened.trailer.Size)):
            assert opened.get_object(number, 0) is not None


# ---- nobody sees it ---------------------------------------------------------------------------------------------


def test_pages_outline_and_tree_have_the_order_of_the_document() -> None:
    pdf = press(bound(CONTENTS + CHAPTERS + CONTENTS.replace("list", "again").replace("List", "Again")))
    assert [text(pdf, page).split()[0] for page in range(1, 6)] == ["List", "Chapter", "Chapter", "Chapter", "Again"]
    assert pdf.page_of == {"list": 1, "c1": 2, "c2": 3, "c3": 4, "again": 5}
    with pikepdf.open(io.BytesIO(pdf.data)) as opened:
        assert faults(opened) == []
        order = reading_order(opened)
        assert backwards(order) == 0
        assert {page for page, _ in order} == set(range(5))
        with opened.open_outline() as outline:
            assert [item.title for item in outline.root] == ["List", "Chapter 1", "Chapter 2", "Chapter 3", "Again"]
        pages = [page.obj.objgen for page in opened.pages]
        for page in (0, 4):
            annotations: list[pikepdf.Object] = list(opened.pages[page].Annots)  # type: ignore[arg-type]
            assert {pages.index(link.Dest[0].objgen) for link in annotations} == {1, 3}


def test_every_page_is_told_how_many_there_are() -> None:
    foot = (
        '<footer class="running"><div class="columns"><p>Left</p><p class="end">page <span class="page-number"/> of '
        '<span class="page-count"/></p></div></footer>'
    )
    given = bound(foot + CONTENTS + CHAPTERS * 1)
    pdf = press(given)
    assert [re.findall(r"page (\d+) of (\d+)", text(pdf, page)) for page in range(1, 5)] == [
        [(str(page), "4")] for page in range(1, 5)
    ]
    feet = [line for line in lines(pdf.data) if line.text.startswith("page ")]
    assert all(line.furniture for line in feet)
    assert len({round(line.x1, 1) for line in feet}) == 2  # one edge for odd pages, one for even ones
    with pikepdf.open(io.BytesIO(pdf.data)) as opened:
        assert not [page for page in opened.pages if re.search(rb"^%", page.Contents.read_bytes(), re.M)]


def test_a_line_for_all_but_the_last_page_is_on_all_but_the_last() -> None:
    foot = '<footer class="running"><p class="if-more">Turn over</p></footer>'
    pdf = press(bound(foot + CHAPTERS))
    assert ["Turn over" in text(pdf, page) for page in (1, 2, 3)] == [True, True, False]


def test_how_many_pages_may_be_said_in_the_text_too() -> None:
    first = '<section class="chapter"><h1>Binder</h1><p>It has <span class="page-count"/> pages.</p></section>'
    pdf = press(bound(first + CHAPTERS))
    assert "It has 4 pages." in text(pdf, 1)
    with pikepdf.open(io.BytesIO(pdf.data)) as opened:
        assert faults(opened) == []


def test_a_band_of_the_whole_is_read_on_the_first_page_even_if_that_waits() -> None:
    band = '<aside class="band alarm"><p>WITHDRAWN</p></aside>'
    pdf = press(bound(band + CONTENTS + CHAPTERS))
    said = [(line.page, line.furniture) for line in lines(pdf.data) if "WITHDRAWN" in line.text]
    assert said == [(1, False), (2, True), (3, True), (4, True)]
    with pikepdf.open(io.BytesIO(pdf.data)) as opened:
        assert faults(opened) == []
        assert backwards(reading_order(opened)) == 0


def test_the_same_is_printed_as_where_pages_are_limited() -> None:
    given = binder(3, 30)
    limited = Document(given.xhtml, given.title, "en", ISSUED, max_pages=999)
    one, other = press(given), press(limited)
    assert (one.pages, one.size, one.page_of) == (other.pages, other.size, other.page_of)
    assert sorted(map(str, lines(one.data))) == sorted(map(str, lines(other.data)))


# ---- what is refused --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("link", ['<a href="#foot">x</a>', '<a class="page-of" href="#foot"/>'])
def test_a_link_into_what_has_no_page_is_refused(link: str) -> None:
    foot = '<footer class="running"><p id="foot">x</p></footer>'
    with pytest.raises(Lost, match="foot"):
        press(bound(f'{foot}<section class="chapter"><h1>T</h1><p>See {link}</p></section>{CHAPTERS}'))


def test_a_row_higher_than_a_page_is_named_by_its_line() -> None:
    row = f'<section class="chapter"><h1>T</h1><table><tbody><tr id="row"><td>{"Words and words. " * 900}</td></tr></tbody></table></section>'
    with pytest.raises(TooLong) as caught:
        press(bound(CHAPTERS + row, sources={"row": Span("a.yaml", 3)}))
    assert caught.value.span == Span("a.yaml", 3)
    assert caught.value.needed is None


@pytest.mark.parametrize("body", ["", "<main/>", '<section class="chapter"/>'])
def test_a_document_with_nothing_in_it_is_refused(body: str) -> None:
    with pytest.raises(ValueError, match="nothing to print"):
        press(bound(body))
