"""The colours and sizes keep to what readers need.

Source: WCAG 2.2 success criteria 1.4.3 (4.5:1), 1.4.6 (7:1) and 1.4.11 (3:1 for marks); RNIB clear print (12 pt).
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from generator.page.tokens import COLOURS, MARGINS, SMALL_FLOOR, TEXT_PAIRS, contrast, luminance


def test_contrast_of_black_on_white_is_twenty_one() -> None:
    # WCAG 2.2 defines the scale from 1 to 21.
    assert contrast("black", "white") == pytest.approx(21.0)
    assert contrast("ink", "ink") == 1.0


def test_luminance_of_white_is_one_and_of_black_nought() -> None:
    assert luminance("white") == pytest.approx(1.0)
    assert luminance("black") == 0.0


@pytest.mark.parametrize(("text", "ground"), TEXT_PAIRS)
def test_every_pair_that_is_printed_can_be_read(text: str, ground: str) -> None:
    assert contrast(text, ground) >= 4.5


@pytest.mark.parametrize("ground", ["white", "leaf-pale", "leaf-soft", "alarm-pale", "cream", "sand"])
def test_body_text_has_seven_to_one(ground: str) -> None:
    assert contrast("ink", ground) >= 7.0


def test_white_text_in_the_deadline_box_has_seven_to_one() -> None:
    assert contrast("white", "leaf") >= 7.0


@pytest.mark.parametrize("mark", ["leaf", "alarm", "moss", "slate", "ink"])
def test_marks_stand_out_from_paper(mark: str) -> None:
    assert contrast(mark, "white") >= 3.0


def test_grounds_step_apart_in_grey() -> None:
    # Where colours meet in a drawing, a photocopy must still part them: each a tenth lighter or more than the last.
    steps = sorted(luminance(name) for name in ("ink", "leaf", "moss", "alarm-soft", "leaf-soft", "white"))
    assert all(b / max(a, 0.001) > 1.1 for a, b in pairwise(steps))


def test_colours_are_six_digits() -> None:
    assert all(len(value) == 7 and int(value[1:], 16) >= 0 for value in COLOURS.values())


def test_an_owner_is_never_asked_to_read_less_than_twelve_points() -> None:
    assert SMALL_FLOOR["sheet"] == 12.0


def test_a_binder_keeps_twenty_millimetres_for_its_holes() -> None:
    assert MARGINS["binder"].binding == pytest.approx(56.69, abs=0.01)  # 20 mm in points
    assert MARGINS["binder"].mirrored
