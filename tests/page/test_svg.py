"""A browser gets the same drawing, in well-formed markup."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.page.animal import Animal, draw_animal
from generator.page.paths import Label, Path, Picture
from generator.page.pictograms import PICTOGRAMS, draw_pictogram
from generator.page.shapes import line
from generator.page.svg import as_svg
from generator.page.tokens import COLOURS

SVG = "{http://www.w3.org/2000/svg}"


def one(operation, alternative="x", height=10):
    return ET.fromstring(as_svg(Picture(20, height, (operation,), alternative), COLOURS))


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=40), st.text(max_size=40))
def test_any_words_give_well_formed_markup_and_come_back(words, alternative):
    root = one(Label(words, 1, 2, 12), alternative)
    assert (root.find(f"{SVG}text").text or "") == readable(words)
    if readable(alternative):
        assert root.find(f"{SVG}title").text == readable(alternative)


def test_a_character_that_xml_cannot_carry_is_left_out():
    assert one(Label("a\x00b\x0bc\ufffed\uffff", 1, 2, 12)).find(f"{SVG}text").text == "abcd"


def readable(text):
    """What XML 1.0 can carry (production 2, Char), line ends as a parser gives them back (section 2.11)."""
    kept = "".join(
        c for c in text
        if c in "\t\n\r" or " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c >= "\U00010000"
    )  # fmt: skip
    return kept.replace("\r\n", "\n").replace("\r", "\n")


def test_up_in_the_picture_is_up_in_the_browser():
    root = one(Path(line((1, 2), (3, 9)), stroke="ink"))
    assert root.find(f"{SVG}path").get("d") == "M1 8L3 1"
    assert one(Label("a", 1, 2, 12)).find(f"{SVG}text").get("y") == "8"


def test_colours_are_looked_up_and_a_missing_one_is_an_error():
    path = one(Path(line((0, 0), (1, 1)), fill="leaf", stroke="ink", dash=(3, 2))).find(f"{SVG}path")
    assert (path.get("fill"), path.get("stroke")) == (COLOURS["leaf"], COLOURS["ink"])
    assert path.get("stroke-dasharray") == "3 2"
    with pytest.raises(KeyError):
        as_svg(Picture(1, 1, (Path(line((0, 0), (1, 1)), fill="mauve"),), "x"), COLOURS)


@pytest.mark.parametrize(
    ("language", "anchor", "expected", "direction"),
    [
        ("en", "start", "start", "ltr"),
        (None, "end", "end", "ltr"),
        # In SVG `start` follows the direction of the text: the left end of Arabic is its `end`.
        ("ar", "start", "end", "rtl"),
        ("he-IL", "end", "start", "rtl"),
        ("ur", "middle", "middle", "rtl"),
    ],
)
def test_an_anchor_is_a_place_on_paper_whatever_the_script(language, anchor, expected, direction):
    text = one(Label("a", 1, 2, 12, anchor=anchor, language=language)).find(f"{SVG}text")
    assert (text.get("text-anchor"), text.get("direction")) == (expected, direction)
    assert text.get("lang") == language


def test_a_sign_beside_its_words_is_hidden_from_a_reader_of_the_page():
    root = one(Path(line((0, 0), (1, 1)), stroke="ink"), "")
    assert root.get("aria-hidden") == "true"
    assert root.find(f"{SVG}title") is None
    assert one(Path(line((0, 0), (1, 1)), stroke="ink"), "A leg").get("role") == "img"


def test_every_drawing_is_written_with_the_house_colours(measure):
    pictures = [draw_pictogram(name, 30) for name in PICTOGRAMS]
    pictures.append(
        draw_animal(
            Animal(species="cat", site="left hind", caption="Left <hind> & foot", alternative="x"), 150, measure
        )
    )
    for picture in pictures:
        root = ET.fromstring(as_svg(picture, COLOURS))
        assert root.get("viewBox") == f"0 0 {picture.width:g} {float(root.get('height')[:-2]):g}"
        assert len(root.findall(f"{SVG}path")) == sum(isinstance(op, Path) for op in picture.operations)


def test_words_keep_to_the_width_they_were_measured_at_whatever_font_the_browser_has(measure):
    label = Label("Ring now", 1, 2, 12, True)
    root = ET.fromstring(as_svg(Picture(100, 10, (label,), "x"), COLOURS, measure))
    text = root.find(f"{SVG}text")
    assert float(text.get("textLength")) == pytest.approx(measure("Ring now", 12, True), abs=0.001)
    assert text.get("lengthAdjust") == "spacingAndGlyphs"
    assert one(label).find(f"{SVG}text").get("textLength") is None


def test_a_drawing_is_named_for_readers_that_know_titles_and_for_those_that_know_labels():
    root = one(Path(line((0, 0), (1, 1)), stroke="ink"), 'A "leg" & <foot>')
    assert root.get("aria-label") == root.find(f"{SVG}title").text == 'A "leg" & <foot>'
