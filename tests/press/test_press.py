"""The press prints the same bytes every time, fits what it is told to fit, and counts its pages.

Sizes and floors: RNIB clear print (12 pt); page numbers counted here from the text of the finished file.
"""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from generator.page.document import Document
from generator.press import Pdf, TooLong, press
from generator.press.text import MissingGlyph
from generator.source.span import Span
from tests.press.geometry import POINTS_PER_MM, Line, assert_sound, lines
from tests.press.papers import FOOT, HEAD, ISSUED, binder, document, sheet

ROOT = Path(__file__).parents[2]
LONG = "Look at the toes every morning and every evening, and write down what you see. "


def texts(data: bytes, page: int) -> str:
    return "\n".join(line.text for line in lines(data) if line.page == page)


def find(found: list[Line], text: str) -> Line:
    return next(line for line in found if text in line.text)


# ---- the same bytes -------------------------------------------------------------------------------------------


def test_the_same_document_gives_the_same_bytes() -> None:
    assert press(sheet()).data == press(sheet()).data


def test_other_processes_with_other_hash_seeds_give_the_same_bytes() -> None:
    code = (
        "import hashlib; from generator.press import press; from tests.press.papers import sheet, binder;"
        "print(hashlib.sha256(press(sheet()).data + press(binder(2, 8)).data).hexdigest())"
    )
    told = set()
    for seed, zone in (("1", "UTC"), ("77", "Asia/Kolkata")):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": str(ROOT)}
        run = subprocess.run(
            [sys.executable, "-c", code], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
        )
        told.add(run.stdout.strip())
    here = hashlib.sha256(press(sheet()).data + press(binder(2, 8)).data).hexdigest()
    assert told == {here}


def test_other_content_or_moment_gives_another_file_identity() -> None:
    def identity(data: bytes) -> bytes:
        found = re.search(rb"/ID\s*\[\s*<([0-9a-f]{32})>", data)
        assert found
        return found[1]

    plain = press(document("<h1>Maple</h1>"))
    assert identity(plain.data) == identity(press(document("<h1>Maple</h1>")).data)
    assert identity(plain.data) != identity(press(document("<h1>Hazel</h1>")).data)
    later = datetime(2027, 3, 13, 10, 13, tzinfo=timezone(timedelta(hours=-5)))
    moved = press(document("<h1>Maple</h1>", issued=later)).data
    assert identity(plain.data) != identity(moved)
    assert b"D:20270313101300-05'00'" in moved


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        press(document("<h1>Maple</h1>", issued=datetime(2027, 3, 13, 10, 12)))


# ---- fit ------------------------------------------------------------------------------------------------------


def paragraphs(count: int) -> str:
    return "<h1>Maple</h1>" + "".join(f'<p id="p{n}">{LONG * 3}</p>' for n in range(count))


def test_the_largest_size_that_keeps_to_one_page_is_taken() -> None:
    sizes = (14.0, 13.0, 12.0)
    short = press(document(paragraphs(4), fit=sizes, max_pages=2))
    assert (short.pages, short.size) == (1, 14.0)
    fuller = press(document(paragraphs(11), fit=sizes, max_pages=2))
    assert (fuller.pages, fuller.size) == (1, 12.0)
    with_the_next = press(document(paragraphs(11), fit=(13.0,), max_pages=2))
    assert with_the_next.pages == 2  # so 12 was needed


def test_what_needs_two_pages_anyway_is_set_as_large_as_may_be() -> None:
    two = press(document(paragraphs(17), fit=(14.0, 13.0, 12.0), max_pages=2))
    assert (two.pages, two.size) == (2, 14.0)


def test_of_the_sizes_that_need_as_many_pages_the_first_that_keeps_the_urgent_on_page_one_is_taken() -> None:
    sizes = (14.0, 13.0, 12.0)
    # Nine paragraphs fill a page at 14 points, eleven at 12: see above.
    urgent = press(document(paragraphs(17), fit=sizes, max_pages=2, first_page=("p0", "p9")))
    assert (urgent.pages, urgent.size, urgent.page_of["p9"]) == (2, 13.0, 1)
    # What no size can do is no reason to set everything small; what stands before it in the list still counts.
    late = press(document(paragraphs(17), fit=sizes, max_pages=2, first_page=("p16",)))
    assert (late.pages, late.size, late.page_of["p16"]) == (2, 14.0, 2)
    both = press(document(paragraphs(17), fit=sizes, max_pages=2, first_page=("p9", "p16")))
    assert (both.pages, both.size, both.page_of["p9"]) == (2, 13.0, 1)


def test_chapters_that_each_fit_a_page_are_set_so_that_they_do() -> None:
    def chapters(*counts: int) -> str:
        one = ("".join(f"<p>{LONG * 3}</p>" for _ in range(count)) for count in counts)
        return "".join(f'<section class="chapter"><h1>Maple</h1>{said}</section>' for said in one)

    # Eleven paragraphs fill a page at 12 points, and no page at 13: see above. However many pages may be.
    both = press(document(chapters(11, 4), fit=(14.0, 13.0, 12.0), max_pages=6))
    assert (both.pages, both.size) == (2, 12.0)
    # A second chapter that needs two pages leaves the first its one.
    three = press(document(chapters(11, 17), fit=(14.0, 13.0, 12.0), max_pages=6))
    assert (three.pages, three.size) == (3, 12.0)


def test_too_long_names_the_longest_block_and_its_line() -> None:
    body = paragraphs(40) + f'<p id="worst">{LONG * 9}</p><p id="unknown">{LONG * 12}</p>'
    sources = {"p3": Span("protocols/maple.yaml", 12), "worst": Span("protocols/maple.yaml", 88, 5)}
    with pytest.raises(TooLong) as caught:
        press(document(body, fit=(14.0, 12.0), max_pages=2, sources=sources))
    found = caught.value
    assert (found.block, found.span) == ("worst", Span("protocols/maple.yaml", 88, 5))
    assert (found.size, found.allowed) == (12.0, 2)
    assert found.needed is not None
    assert found.needed > 2
    assert "protocols/maple.yaml:88:5" in str(found)


def test_too_long_points_into_a_list_item_and_an_inline_span() -> None:
    items = "".join(f"<li>{LONG}</li>" for _ in range(80))
    body = f'<h1>Maple</h1><ul>{items}<li><span id="said">{LONG * 4}</span></li></ul>'
    with pytest.raises(TooLong) as caught:
        press(document(body, fit=(12.0,), max_pages=1, sources={"said": Span("signs.yaml", 7)}))
    assert caught.value.span == Span("signs.yaml", 7)


def test_a_row_higher_than_a_page_is_too_long_and_never_clipped() -> None:
    row = f'<h1>T</h1><table><tbody><tr id="row"><td>{LONG * 120}</td></tr></tbody></table>'
    with pytest.raises(TooLong) as caught:
        press(document(row, fit=(12.0,), max_pages=9, sources={"row": Span("a.yaml", 3)}))
    assert caught.value.needed is None
    assert caught.value.span == Span("a.yaml", 3)


def test_small_notes_stay_at_twelve_points_on_a_sheet() -> None:
    note = '<h1>Maple</h1><p class="small">A small note</p><p>Body</p>'
    found = lines(press(document(note, fit=(12.0,))).data)
    assert find(found, "small note").size == pytest.approx(12.0)
    found = lines(press(document(note, fit=(14.0,))).data)
    assert find(found, "small note").size == pytest.approx(12.0)
    assert find(found, "Body").size == pytest.approx(14.0)


def test_a_sheet_is_sound_at_every_size() -> None:
    for size in (14.0, 13.0, 12.0):
        assert_sound(press(sheet(fit=(size,), max_pages=2)).data, margin_mm=15)


def test_letter_paper_is_letter_paper() -> None:
    import io

    import pikepdf

    pdf = press(sheet(paper="letter"))
    assert_sound(pdf.data, margin_mm=15)
    with pikepdf.open(io.BytesIO(pdf.data)) as opened:
        assert [float(v) for v in opened.pages[0].MediaBox] == [0, 0, 612, 792]


# ---- furniture and page numbers ---------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def bound() -> Pdf:
    return press(binder(3, 30))


def test_page_x_of_y_counts_the_whole_and_each_chapter(bound: Pdf) -> None:
    starts = [bound.page_of[f"LB-SUP-00{n}"] for n in (1, 2, 3)] + [bound.pages + 1]
    assert starts[0] == 2
    for number in (1, 2, 3):
        first, after = starts[number - 1], starts[number]
        assert after - first >= 3  # thirty steps with cautions do not fit on two pages
        for page in range(first, after):
            foot = re.sub(r"\s+", " ", texts(bound.data, page))
            assert f"Page {page - first + 1} of {after - first}, binder {page} of {bound.pages}" in foot
            assert f"LB-SUP-00{number} revision {number}" in foot


def test_furniture_of_the_body_stands_where_no_chapter_has_its_own(bound: Pdf) -> None:
    assert "Binder 1" in texts(bound.data, 1)
    assert "Binder 2" not in texts(bound.data, 2)


def test_contents_give_the_page_on_which_each_chapter_starts(bound: Pdf) -> None:
    found = [line for line in lines(bound.data) if line.page == 1]
    for number in (1, 2, 3):
        entry = find(found, f"Protocol {number}")
        beside = [
            line.text.strip() for line in found if abs(line.baseline - entry.baseline) < 0.5 and line is not entry
        ]
        start = next(
            line.page
            for line in lines(bound.data)
            if line.page > 1 and line.text == f"Protocol {number}" and line.size > 15
        )
        assert beside == [str(start)]


def test_a_page_reference_prints_the_page_of_its_target(bound: Pdf) -> None:
    start = bound.page_of["LB-SUP-003"]
    assert "Protocol 1 on page 2." in texts(bound.data, start).replace("\n", "")


def test_margins_change_sides_on_even_pages(bound: Pdf) -> None:
    assert_sound(bound.data, margin_mm=15, binding_mm=20, smallest=9)
    found = lines(bound.data)
    left = {page: min(line.x0 for line in found if line.page == page) / POINTS_PER_MM for page in (2, 3)}
    assert left[2] == pytest.approx(16, abs=0.5)  # an even page: the outer margin is left
    assert left[3] == pytest.approx(20, abs=0.5)


def test_a_band_stands_on_every_page_and_is_read_once() -> None:
    body = '<aside class="band alarm"><p>WITHDRAWN 1 March 2027</p></aside>'
    pdf = press(document(paragraphs(40), furniture=body + HEAD + FOOT, kind="binder"))
    assert pdf.pages >= 3
    bands = [line for line in lines(pdf.data) if "WITHDRAWN" in line.text]
    assert [(line.page, line.furniture) for line in bands] == [(n, n > 1) for n in range(1, pdf.pages + 1)]
    assert_sound(pdf.data, margin_mm=15, smallest=9)


def test_bands_of_body_and_chapter_stand_one_under_the_other() -> None:
    xhtml = (
        '<html lang="en"><body class="binder"><aside class="band"><p>DRAFT</p></aside>'
        '<section class="chapter"><aside class="band alarm"><p>REVIEW OVERDUE</p></aside><h1>One</h1></section>'
        '<section class="chapter"><h1>Two</h1></section></body></html>'
    )
    data = press(Document(xhtml, "Bands", "en", ISSUED)).data
    first, second = texts(data, 1), texts(data, 2)
    assert "DRAFT" in first
    assert "REVIEW OVERDUE" in first
    assert "DRAFT" in second
    assert "OVERDUE" not in second
    assert_sound(data, margin_mm=15, smallest=9)


def test_a_chapter_for_the_right_hand_starts_on_an_odd_page() -> None:
    chapters = "".join(
        f'<section class="chapter right-hand" id="c{n}"><h1>Chapter {n}</h1></section>' for n in (1, 2, 3)
    )
    pdf = press(document(chapters, kind="binder"))
    assert [pdf.page_of[f"c{n}"] for n in (1, 2, 3)] == [1, 3, 5]
    assert pdf.pages == 5


def test_page_numbers_cost_no_more_than_the_pages_they_number() -> None:
    # Twice the chapters give twice the pages: nothing is laid out anew because a number was not yet known.
    small, large = press(binder(2, 20)), press(binder(4, 20))
    assert large.pages - 1 == 2 * (small.pages - 1)


# ---- text is text ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["<b>Rex", '<img src="file:///etc/passwd"/>', "<font size='40'>", "&lt;para&gt;", "{{ name }}", "%s {0}"]
)
def test_a_hostile_name_is_printed_as_it_is_typed(name: str) -> None:
    from xml.sax.saxutils import escape

    data = press(document(f"<h1>{escape(name)}</h1>")).data
    assert texts(data, 1) == name


def test_a_character_no_font_has_is_refused_and_named() -> None:
    with pytest.raises(MissingGlyph, match=r"U\+1F43E|PAW"):
        press(document("<h1>Maple \N{PAW PRINTS}</h1>"))


def test_a_drawing_that_the_document_does_not_carry_is_refused() -> None:
    with pytest.raises(KeyError, match=r"line 3.*'toes'"):
        press(document('<h1>x</h1><figure data-drawing="toes" data-alt="Toes"/>', drawings={}))


def test_the_press_loads_its_libraries_on_the_first_call_only() -> None:
    code = "import sys, generator.press; print([m for m in ('reportlab', 'uharfbuzz') if m in sys.modules])"
    run = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_a_document_without_title_or_in_another_language_than_it_says_is_refused() -> None:
    with pytest.raises(ValueError, match="title"):
        press(document("<h1>T</h1>", title=" "))
    with pytest.raises(ValueError, match="'es'"):
        press(Document(document("<h1>T</h1>").xhtml, "T", "es", ISSUED))


def test_many_boxes_to_tick_stay_inside_the_margins() -> None:
    import io

    import pdfplumber

    data = press(document('<h1>T</h1><p data-ticks="60">Sixty</p>')).data
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        boxes = [c for c in pdf.pages[0].curves if c["x1"] - c["x0"] < 20]
    assert len(boxes) == 60
    assert max(c["x1"] for c in boxes) <= 595.28 - 15 * POINTS_PER_MM + 0.5
