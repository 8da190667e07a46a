"""The helper that looks at pages notices what is wrong with them, and nothing else."""

from __future__ import annotations

import pytest

from generator.page.paths import Label
from generator.press.canvas import TagCanvas
from generator.press.structure import Artifact, Elem
from generator.press.text import draw_label
from tests.press.geometry import assert_sound, lines
from tests.press.papers import ISSUED

MM = 72 / 25.4


def page(*labels: Label, furniture: Label | None = None) -> bytes:
    canvas = TagCanvas(Elem("Document", language="en"), (300, 300), title="T", author="", issued=ISSUED)
    for label in labels:
        with canvas.scope(Elem("P", canvas.root)):
            draw_label(canvas, label, "en")
    if furniture is not None:
        with canvas.scope(Artifact("Pagination", "Footer")):
            draw_label(canvas, furniture, "en")
    return canvas.finish()


GOOD = (Label("First line", 60, 200, 14), Label("Second line", 60, 182, 14))


def test_a_good_page_is_sound() -> None:
    assert_sound(page(*GOOD, furniture=Label("foot", 60, 60, 9)))


def test_size_and_place_are_those_that_were_painted() -> None:
    found = lines(page(*GOOD))
    assert [(x.text, round(x.baseline, 1), round(x.size, 2)) for x in found] == [
        ("First line", 200.0, 14.0),
        ("Second line", 182.0, 14.0),
    ]
    assert [x.x0 for x in found] == pytest.approx([60, 60], abs=1.5)  # a letter's own side bearing


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (Label("left", 12 * MM - 4, 100, 14), "outside the margins"),
        (Label("right", 300 - 12 * MM + 4, 100, 14, anchor="end"), "outside the margins"),
        (Label("below", 60, 12 * MM - 4, 14), "outside the margins"),
        (Label("above", 60, 300 - 12 * MM, 14), "outside the margins"),
        (Label("tiny", 60, 100, 11.5), "too small"),
        (Label("over the first", 70, 200, 14), "collide"),
        (Label("under the first", 70, 194, 14), "collide"),
    ],
)
def test_what_is_wrong_is_said(wrong: Label, said: str) -> None:
    with pytest.raises(AssertionError, match=said):
        assert_sound(page(*GOOD, wrong))


def test_furniture_may_be_smaller_but_not_any_size() -> None:
    with pytest.raises(AssertionError, match="too small"):
        assert_sound(page(*GOOD, furniture=Label("foot", 60, 60, 8)))


def test_a_page_without_text_is_not_sound() -> None:
    with pytest.raises(AssertionError, match="no text"):
        assert_sound(page())
