"""Outlines are written as ReportLab writes them, only sooner; its own functions are asked beside ours."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.lib.rl_accel import fp_str
from reportlab.pdfgen.pathobject import PDFPathObject

from generator.page.paths import Picture
from generator.press.figures import Drawing, Made
from generator.press.look import first_look
from generator.press.operators import number, outline
from generator.press.structure import LAYOUT


@given(st.floats(-2000, 2000) | st.integers(-2000, 2000) | st.decimals(-99, 99, places=4).map(float))
def test_a_number_is_written_as_reportlab_writes_it(value):
    assert number(value) == fp_str(value)


@pytest.mark.parametrize(
    "value", [0, -0.0, 1e-7, -1e-8, 4e-7, -4e-7, 0.5, -0.5, 1, 9.9999996, 10, 99.999996, 100, 999.99996, 1000]
)
def test_so_are_numbers_where_the_count_of_decimals_changes(value):
    assert number(value) == fp_str(value)


def test_an_outline_is_the_path_that_reportlab_would_make():
    theirs = PDFPathObject()
    theirs.moveTo(1, 2.5)
    theirs.lineTo(0.25, -3)
    theirs.curveTo(1, 2, 3, 4, 5, 6.125)
    theirs.close()
    ours = outline((("M", 1, 2.5), ("L", 0.25, -3), ("C", 1, 2, 3, 4, 5, 6.125), ("Z",)))
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
