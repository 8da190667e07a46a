"""A tab stands at the outer edge of every page of its part, at its own place, and in nobody's way.

Sources: the paper's sizes are ISO 216's and ANSI Y14.1's; what an office printer cannot print along an edge, at most 5 mm, and
that a filled block may run over it, is common practice; 4.5:1 is WCAG 2.2, 1.4.3; artifacts are ISO 32000-1, 14.8.2.2.
"""

from __future__ import annotations

import io
import re
from typing import Any

import pikepdf
import pytest

from generator.page.document import Document
from generator.page.tokens import COLOURS, MARGINS, contrast
from generator.press import press
from generator.press.tabs import Crowded
from tests.press.accessible import faults, reading_order
from tests.press.geometry import POINTS_PER_MM, PRINTABLE_MM, assert_sound, lines, sheets
from tests.press.papers import ISSUED, STEPS

PAPERS = {"a4": (210 * POINTS_PER_MM, 297 * POINTS_PER_MM), "letter": (8.5 * 72, 11 * 72)}
# The longest words of a binder's tabs take two lines.
WORDS = ("1 Support", "2 Wounds", "3 Bleeding", "4 Slings", "5 Covers", "6 Blends", "7 Appendices and forms")
EDGE = 12.2 * POINTS_PER_MM  # change bars and the white beside the text have the rest of the 16 mm


def chapter(number: int, paragraphs: int = 40) -> str:
    words = WORDS[number - 1]
    text = "".join(f'<p class="changed">{STEPS[at % len(STEPS)] * 3}</p>' for at in range(paragraphs))
    tab = f'<aside class="tab" data-place="{number}/{len(WORDS)}"><p>{words}</p></aside>'
    return f'<section class="chapter">{tab}<h1>Part {number}</h1>{text}</section>'


def bound(paper: str, body: str = "", kind: str = "binder") -> bytes:
    chapters = body or "".join(map(chapter, range(1, len(WORDS) + 1)))
    foot = '<footer class="running"><p>Binder <span class="page-number"/></p></footer>'
    xhtml = f'<html lang="en"><body class="{kind}">{foot}{chapters}</body></html>'
    return press(Document(xhtml, "Tabs", "en", ISSUED, paper=paper)).data


@pytest.fixture(scope="module", params=PAPERS)
def paper(request: Any) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def data(paper: str) -> bytes:
    return bound(paper)


def blocks(data: bytes) -> list[tuple[int, dict[str, Any]]]:
    """Page and shape of each filled block in the colour of tabs."""
    leaf = tuple(int(COLOURS["leaf"][at : at + 2], 16) / 255 for at in (1, 3, 5))
    return [
        (number, shape)
        for number, sheet in enumerate(sheets(data), 1)
        for shape in sheet.shapes
        if shape["fill"] and shape["non_stroking_color"] == pytest.approx(leaf, abs=0.001)
    ]


def test_every_page_has_one_and_it_reaches_the_outer_edge(data: bytes, paper: str) -> None:
    found = blocks(data)
    assert len(found) >= 14
    assert [number for number, _ in found] == list(range(1, len(sheets(data)) + 1))
    width = PAPERS[paper][0]
    for number, shape in found:
        if number % 2:
            assert shape["x1"] == pytest.approx(width, abs=0.01)
            assert shape["x0"] >= width - EDGE
        else:
            assert shape["x0"] == pytest.approx(0, abs=0.01)
            assert shape["x1"] <= EDGE


def test_places_share_the_height_equally_and_do_not_touch(data: bytes, paper: str) -> None:
    height, margins = PAPERS[paper][1], MARGINS["binder"]
    step = (height - margins.top - margins.bottom) / len(WORDS)
    said = {line.page: line.text for line in lines(data) if line.text.startswith("Part ")}
    at = 0
    for number, shape in blocks(data):
        at = int(said[number].split()[1]) if number in said else at
        upper = height - margins.top - (at - 1) * step
        assert upper - step < shape["y0"] < shape["y1"] < upper
        assert shape["y1"] - shape["y0"] > 0.9 * step


def test_its_words_can_be_printed_and_read(data: bytes, paper: str) -> None:
    assert contrast("white", "leaf") >= 4.5
    # Inside its block, where a printer can print, clear of all other text, and 9 points or more.
    assert_sound(data, margin_mm=15, binding_mm=20, smallest=9)
    on = dict(blocks(data))
    turned = [line for line in lines(data) if line.upright]
    assert {line.page for line in turned} == set(on)
    for line in turned:
        block = on[line.page]
        assert line.furniture
        assert line.size >= 9 - 0.01
        assert block["x0"] <= line.x0 < line.x1 <= block["x1"]
        assert line.upright is not None
        assert block["y0"] < line.upright[0] < line.upright[1] < block["y1"]
        away = PAPERS[paper][0] - line.x1 if line.page % 2 else line.x0
        assert away >= PRINTABLE_MM * POINTS_PER_MM - 0.01


def test_its_words_are_all_there_and_have_their_feet_to_the_edge(data: bytes) -> None:
    said: dict[int, str] = {}
    for line in lines(data):
        if line.upright:
            said[line.page] = said.get(line.page, "") + line.text
    assert [" ".join(words.split()) for words in dict.fromkeys(said.values())] == list(WORDS)
    for sheet in (sheets(data)[0], sheets(data)[1]):
        first = next(char for char in sheet.chars if char["matrix"][0] == 0)
        # Up the page on odd pages, down on even ones: who stands at the outer edge reads them upright.
        assert first["matrix"][1] == pytest.approx(1 if sheet is sheets(data)[0] else -1)


def test_it_leaves_the_change_bars_alone(data: bytes) -> None:
    on = dict(blocks(data))
    bars = 0
    for number, sheet in enumerate(sheets(data), 1):
        for shape in sheet.shapes:
            if shape["fill"] and shape is not on[number] and shape["x1"] - shape["x0"] < 3:
                bars += 1
                gap = on[number]["x0"] - shape["x1"] if number % 2 else shape["x0"] - on[number]["x1"]
                assert gap >= 1.0
    assert bars > 100


def test_it_is_passed_over_by_whoever_reads_aloud(data: bytes) -> None:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert faults(pdf) == []
    tabbed = "".join(map(chapter, (1, 2)))
    bare = re.sub(r"<aside.*?</aside>", "", tabbed)
    heard = []
    for body in (tabbed, bare):
        with pikepdf.open(io.BytesIO(bound("a4", body))) as pdf:
            heard.append(reading_order(pdf))
    assert heard[0] == heard[1]


def test_a_tab_of_the_body_stands_wherever_a_chapter_has_none() -> None:
    tab = '<aside class="tab" data-place="1/7"><p>1 Support</p></aside>'
    body = f'{tab}<section class="chapter"><h1>Part 1</h1></section>{chapter(2, 1)}'
    assert [line.text for line in lines(bound("a4", body)) if line.upright] == ["1 Support", "2 Wounds"]


@pytest.mark.parametrize(
    "words", ["7 Appendices, forms, logs and all that nobody could find elsewhere", "Otorhinolaryngologicalmatters"]
)
def test_words_that_do_not_fit_are_refused(words: str) -> None:
    body = f'<section class="chapter"><aside class="tab" data-place="7/7"><p>{words}</p></aside><h1>Part</h1></section>'
    with pytest.raises(Crowded, match="tab"):
        bound("letter", body)


@pytest.mark.parametrize("kind", ["sheet", "card"])
def test_it_has_room_in_the_margins_of_every_kind_of_page(kind: str) -> None:
    assert_sound(bound("a4", chapter(2), kind), margin_mm=12, smallest=9)
