"""Outlines are written as ReportLab writes them, only shorter; its own functions are asked beside ours."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_EVEN, Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from reportlab.pdfgen.pathobject import PDFPathObject

from generator.page.paths import Picture
from generator.press.figures import Drawing, Made
from generator.press.look import first_look
from generator.press.operators import number, outline
from generator.press.structure import LAYOUT


@given(st.floats(-20000, 20000) | st.integers(-2000, 2000) | st.decimals(-99, 99, places=4).map(float))
@example(-0.0)
@example(-0.0004)
@example(9.9996)
@example(1000.0)
def test_a_number_is_right_to_a_thousandth_and_has_no_zeros_that_say_nothing(value):
    text = number(value)
    assert Decimal(text) == Decimal(value).quantize(Decimal("0.001"), ROUND_HALF_EVEN)
    assert re.fullmatch(r"-?(0|[1-9]\d*)(\.\d*[1-9])?", text)
    assert text != "-0"


def test_an_outline_is_the_path_that_reportlab_would_make():
    theirs = PDFPathObject()
    theirs.moveTo(1, 2.5)
    theirs.lineTo(8.25, -3)
    theirs.curveTo(1, 2, 3, 4, 5, 6.125)
    theirs.close()
    ours = outline((("M", 1, 2.5), ("L", 8.25, -3), ("C", 1, 2, 3, 4, 5, 6.125), ("Z",)))
    assert ours == theirs.getCode()


@pytest.mark.parametrize("step", [("Q", 1.0, 2.0), ("M", 1.0), ("Z", 1.0, 2.0)])
def test_a_step_that_no_outline_has_is_refused(step):
    with pytest.raises(ValueError, match="no step"):
        outline((step,))


def test_a_drawing_is_made_once_for_a_width_however_many_sizes_are_tried():
    made: Made = {}
    widths: list[float] = []

    def draw(width, measure):
        widths.append(width)
        return Picture(width, 10.0, (), "a drawing")

    for size in (14.0, 12.0):
        drawing = Drawing("limb", draw, LAYOUT, first_look("sheet", size, "en"), made=made)
        assert drawing.picture(100.0).width == 100.0
    assert widths == [100.0]
    drawing.picture(90.0)
    Drawing("limb", draw, LAYOUT, first_look("sheet", 12.0, "es"), made=made).picture(100.0)
    assert widths == [100.0, 90.0, 100.0]  # in another language its words are of other widths
