"""The owner's sheet and the floor card, judged on the printed page by what is published of paper that people act on.

Sources beside each check: RNIB clear print; ISMP, List of Error-Prone Abbreviations; CDC Clear Communication Index; PEMAT-P
(AHRQ 2013); RFC 3966; ISO/IEC 18004; NASA CR-177605; ISO 8601. House rules say so.
"""

from __future__ import annotations

import io
import random
import re
from datetime import datetime
from functools import cache

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from generator.compose import floor_card, owner_sheet
from generator.page.document import Document
from generator.page.tokens import COLOURS, MARGINS, PAPERS
from generator.page.xhtml import Node, read
from generator.press import Pdf, press
from generator.words.isolation import bare
from tests.compose.plans import templates
from tests.compose.reading import DEMO, ENGLISH, GOES_HOME, reckoned, spanish
from tests.press.geometry import lines

SHEETS = [(who, paper) for who in GOES_HOME for paper in PAPERS]


@cache
def document(who: str, language: str = "en") -> Document:
    words = ENGLISH if language == "en" else spanish()
    return owner_sheet(reckoned(who, *DEMO[who]), words, ENGLISH, templates())


@cache
def printed(who: str, paper: str, language: str = "en") -> Pdf:
    from dataclasses import replace

    return press(replace(document(who, language), paper=paper))


def said(who: str) -> str:
    return bare(read(document(who).xhtml).elements("body")[0].plain())


def nodes(who: str) -> list[Node]:
    return list(read(document(who).xhtml).walk())


@pytest.mark.parametrize(("who", "paper"), SHEETS)
def test_the_deadline_is_the_largest_line_but_the_name_and_stands_in_the_top_third(who: str, paper: str) -> None:
    """CDC Clear Communication Index, items 1 and 2: one main message, at the top."""
    height = PAPERS[paper][1]
    first = [line for line in lines(printed(who, paper).data) if line.page == 1 and not line.furniture]
    sizes = sorted({round(line.size, 1) for line in first}, reverse=True)
    name = document(who).title.split(",")[0]
    day = next(node for node in nodes(who) if node.tag == "time" and node.id == "deadline")
    words = bare(day.plain()).split(",")[0]
    [found] = [line for line in first if words in bare(line.text) and line.size > 18]
    assert found.baseline > height * 2 / 3
    assert round(found.size, 1) in sizes[:2]
    assert [line for line in first if line.size > found.size + 0.1 and name not in line.text] == []


@pytest.mark.parametrize(("who", "paper"), SHEETS)
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_page_says_whose_it_is_and_which_of_how_many(who: str, paper: str, language: str) -> None:
    pdf = printed(who, paper, language)
    animal = reckoned(who, *DEMO[who]).patient
    for page in range(1, pdf.pages + 1):
        text = " ".join(bare(line.text) for line in lines(pdf.data) if line.page == page)
        assert animal.name in text
        assert animal.owner_name in text
        assert re.search(rf"\b{page}\s+(of|de)\s+{pdf.pages}\b", text)


@pytest.mark.parametrize("who", GOES_HOME)
def test_no_box_of_danger_signs_is_longer_than_can_be_kept_in_mind(who: str) -> None:
    """At most seven signs that mean go now (CDC index, item 9: chunks; the number is a house rule)."""
    lists = [node for node in nodes(who) if node.tag == "ol" and node.get("start") == "1"]
    assert [1 <= len(one.elements("li")) <= 7 for one in lists] == [True]


ERROR_PRONE = {
    "a trailing zero": r"\d\.0\b",
    "a naked decimal": r"(?<![\d:])\.\d",
    "a slash for per, or a fraction": r"\d\s*/\s*\d|/(day|d|h)\b",
    "an abbreviation of times a day": r"\b(q\.?\d+h?|[bt]\.?i\.?d|qd|qod|prn|po)\b",
    "a percentage": r"%",
    "figures only for a date": r"\b\d{1,2}[/.-]\d{1,2}[/.-]\d{2,4}\b|\b\d{4}-\d\d-\d\d\b",
    "noon or midnight in figures": r"\b12:00\b",
    "a sum for the reader": r"\b(days? from (now|today)|in \d+ (days?|hours?)|tomorrow|until day|starting at|every \d+ (h|hours))\b",
}


@pytest.mark.parametrize("who", GOES_HOME)
@pytest.mark.parametrize("name", ERROR_PRONE)
def test_nothing_error_prone_is_printed_for_an_owner(who: str, name: str) -> None:
    """ISMP list; PEMAT-P items 6 and 7: no sums. The document's number and revision are no message to an owner."""
    text = re.sub(r"LB-[A-Z]+-\d+|LB-\d+|sheet \S+|UTC[-+]\d\d:\d\d", "", said(who))
    assert re.findall(ERROR_PRONE[name], text, re.IGNORECASE) == []


def test_what_is_error_prone_would_be_found() -> None:
    for name, text in zip(ERROR_PRONE, ["5.0 cm", "take .5", "1/2 tablet", "give BID", "50 %", "3/4/2027", "at 12:00", "3 days from today"], strict=True):  # fmt: skip
        assert re.search(ERROR_PRONE[name], text, re.IGNORECASE), name


@pytest.mark.parametrize("who", GOES_HOME)
def test_every_date_has_its_weekday_in_words_and_it_is_the_right_one(who: str) -> None:
    months = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ]
    found = re.findall(rf"(\w+), ({'|'.join(months)}) (\d+)(?:, (\d{{4}}))?", said(who))
    assert found
    for weekday, month, day, year in found:
        date = datetime(int(year or 2027), months.index(month) + 1, int(day))
        assert date.strftime("%A") == weekday


@pytest.mark.parametrize(("who", "paper"), SHEETS)
def test_words_leave_nearly_half_of_the_live_area_empty(who: str, paper: str) -> None:
    """At most 55 % under boxes of text (house rule after CMS Toolkit, part 5: leave white space), margins of 15 mm."""
    data, margins = printed(who, paper).data, MARGINS["sheet"]
    width, height = PAPERS[paper]
    live = (width - margins.binding - margins.outer) * (height - margins.top - margins.bottom)
    for page in range(1, printed(who, paper).pages + 1):
        own = [line for line in lines(data) if line.page == page]
        assert sum((line.x1 - line.x0) * (line.top - line.bottom) for line in own) <= 0.55 * live
    assert min(margins.binding, margins.outer, margins.top, margins.bottom) >= 15 * 72 / 25.4 - 0.01


@pytest.mark.parametrize(("who", "paper"), SHEETS)
def test_a_telephone_link_lies_over_the_digits_that_it_rings(who: str, paper: str) -> None:
    """RFC 3966: the URI holds the printed digits, with the country's code before them."""
    with pikepdf.open(io.BytesIO(printed(who, paper).data)) as pdf:
        links = [note for page in pdf.pages for note in page.get("/Annots", []) if note.get("/Subtype") == "/Link"]
        rung = [(str(note.A.URI), [float(v) for v in note.Rect]) for note in links]
    assert len(rung) >= 2
    shown = [line for line in lines(printed(who, paper).data) if line.size > 18]
    for uri, (x0, y0, x1, y1) in rung:
        assert uri.startswith("tel:+1")
        under = [line for line in shown if x0 - 1 <= line.x0 and line.x1 <= x1 + 1 and y0 - 1 <= line.baseline <= y1]
        digits = {re.sub(r"\D", "", line.text) for line in under}
        assert re.sub(r"\D", "", uri).removeprefix("1") in digits


@pytest.mark.parametrize("who", GOES_HOME)
def test_the_code_on_the_page_is_read_from_a_grey_copy_also_with_mud_on_it(who: str) -> None:
    """ISO/IEC 18004; 150 dpi, grey; a tenth of the code covered clear of the corners is still read (level H)."""
    page = pypdfium2.PdfDocument(printed(who, "letter").data)[0]
    raster = page.render(scale=150 / 72, grayscale=True).to_pil()
    [code] = zxingcpp.read_barcodes(raster)
    assert (
        code.text == "tel:+18025550142"
    )  # the digits alone: a shorter text makes larger modules (RFC 3966 lets hyphens be left out)
    corners = (code.position.top_left, code.position.top_right, code.position.bottom_right, code.position.bottom_left)
    left, right = min(p.x for p in corners), max(p.x for p in corners)
    top, bottom = min(p.y for p in corners), max(p.y for p in corners)
    draw, side, read_again = random.Random(1), (0.1**0.5) * (right - left), 0
    for _ in range(20):
        muddy = raster.copy()
        x, y = (
            draw.uniform(left + 0.35 * (right - left), right - side),
            draw.uniform(top + 0.35 * (bottom - top), bottom - side),
        )
        muddy.paste(110, tuple(map(round, (x, y, x + side, y + side))))
        read_again += [found.text for found in zxingcpp.read_barcodes(muddy)] == [code.text]
    assert read_again >= 18
    # Each module is 0.4 mm and more (house rule): three finder patterns of seven modules in 29.
    assert (right - left) / 150 * 25.4 / 29 >= 0.4


@pytest.mark.parametrize(("who", "paper"), SHEETS)
def test_what_is_alarming_is_still_set_apart_in_grey(who: str, paper: str) -> None:
    """WCAG 2.2, 1.4.1: the ground, frame and marks of the red box differ from the page in grey too."""
    grey = pypdfium2.PdfDocument(printed(who, paper).data)[0].render(scale=1, grayscale=True).to_pil()
    assert isinstance(grey, Image.Image)
    count = {value: number for number, value in grey.getcolors(256) or []}
    frame = round(sum(c * w for c, w in zip(_rgb("alarm"), (0.299, 0.587, 0.114), strict=True)))
    assert sum(number for value, number in count.items() if abs(value - frame) < 24) > 300
    ground = round(sum(c * w for c, w in zip(_rgb("alarm-pale"), (0.299, 0.587, 0.114), strict=True)))
    assert sum(number for value, number in count.items() if abs(value - ground) <= 3) > 0.1 * grey.width * grey.height


def _rgb(name: str) -> tuple[int, ...]:
    return tuple(int(COLOURS[name][at : at + 2], 16) for at in (1, 3, 5))


# ---- the floor card --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("who", DEMO)
def test_a_card_is_one_side_in_black_green_and_one_red_with_steps_of_twelve_points(who: str) -> None:
    """One side, one stream (King et al., eye tracking, Korean J Anesthesiol 2018). Sizes after NASA CR-177605; at least 12 and 18 points are house rules."""
    pdf = press(floor_card(reckoned(who, *DEMO[who]), templates()))
    assert pdf.pages == 1
    found = lines(pdf.data)
    assert max(line.size for line in found) >= 18
    with pikepdf.open(io.BytesIO(pdf.data)) as file:
        page = file.pages[0]
        painted = {
            tuple(round(float(v), 2) for v in operands)
            for operands, operator in pikepdf.parse_content_stream(page)
            if str(operator) == "rg"
        }
    known = {tuple(round(v / 255, 2) for v in _rgb(name)): name for name in COLOURS}
    assert {known[colour] for colour in painted} <= {"ink", "leaf", "alarm", "slate", "moss", "hairline", "white", "black", "leaf-soft", "leaf-pale", "alarm-pale", "sand", "cream"}  # fmt: skip
    main = read(floor_card(reckoned(who, *DEMO[who]), templates()).xhtml)
    steps = [
        item for node in main.walk() if node.tag == "ol" and "mark-disc" in node.classes for item in node.elements("li")
    ]
    assert len(steps) >= 5
    first = bare(steps[1].plain()).split()[:2]
    large = [line for line in found if line.size >= 12 - 0.01]
    assert any(" ".join(first) in bare(line.text) for line in large)


@pytest.mark.parametrize("who", DEMO)
def test_a_card_leaves_nobody_a_sum_to_do(who: str) -> None:
    """Even simple sums are harmful on an aid for the table (redesign of cognitive aids, BMJ STEL 2017;4(1):4-12: absolute amounts help)."""
    text = bare(read(floor_card(reckoned(who, *DEMO[who]), templates()).xhtml).plain())
    assert re.findall(r"\bper (kg|kilo|pass|turn)\b|[=√]|\bx \d|\d\s*[+*]\s*\d|\bdivide|\bmultiply", text) == []
