"""The helper that reads pages notices what a reader would stumble over, and nothing else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.page.document import Document
from generator.page.paths import Label, Measure, Picture
from generator.press import press
from tests.press.papers import FOOT, HEAD, document
from tests.press.readable import faults

GOOD = """<h1>Maple</h1><p>By <time datetime="2027-03-20T10:00">Saturday 20 March, 10:00</time>.</p>
<p><a href="tel:+18025550142">(802)\u00a0555\u2060-\u20600142</a></p>
<ul class="mark-triangle"><li>Toes cold</li><li>Blood drips</li></ul>
<div class="columns"><div><h2>Every day</h2><p>Look.</p></div><div><h2>Never</h2><p>Cut.</p></div></div>"""


def found(content: str, **given: str) -> list[str]:
    one = document(content, **given)
    return faults(one, press(one).data)


@pytest.mark.parametrize("language", ["en", "ar"])
def test_a_good_page_has_no_faults(language: str) -> None:
    numbers = (
        GOOD.replace("10:00<", "\u206610:00\u2069<").replace("(802)", "\u2066(802)").replace("0142<", "0142\u2069<")
    )
    assert found(numbers, language=language, furniture=HEAD + FOOT) == []


def test_digits_that_paper_lacks_or_has_too_many_of_are_counted() -> None:
    one = document(GOOD)
    other = press(document(GOOD.replace("10:00<", "11:00<"))).data
    assert {"digits lost: {'0': 1}", "digits too many: {'1': 1}"} <= set(faults(one, other))


def test_a_number_printed_from_right_to_left_is_named() -> None:
    # As the Unicode algorithm turns a bare number in an Arabic line.
    wrong = found('<p>كلب <a href="tel:+18025550142">(802) 555-0142</a> كلب</p>', language="ar")
    assert [fault for fault in wrong if "(802) 555-0142" in fault]


def test_a_line_of_more_than_seventy_letters_is_named() -> None:
    assert any("letters in a line" in fault for fault in found(f"<p>{'word ' * 40}</p>", kind="card"))


def test_a_heading_with_nothing_under_it_is_named() -> None:
    assert any("last on its page" in fault for fault in found("<h1>Maple</h1><p>Look.</p><h2>Never</h2>"))


def test_marks_and_columns_that_run_the_wrong_way_are_named() -> None:
    one = document(GOOD)
    wrong = faults(replace(one, language="ar"), press(one).data)
    assert any("has no line on its left" in fault for fault in wrong)
    assert any("columns run the wrong way" in fault for fault in wrong)


def test_days_that_run_the_wrong_way_are_named() -> None:
    def days(width: float, measure: Measure) -> Picture:
        labels = tuple(Label(str(13 + n), 20 + 40 * n, 10, 15, True) for n in range(5))
        return Picture(width, 30, labels, "Days")

    one = Document(
        **{
            **_fields(document('<h1>Maple</h1><figure data-drawing="days" data-alt="Days"/>')),
            "drawings": {"days": days},
        }
    )
    data = press(one).data
    assert faults(one, data) == []
    assert any("days run the wrong way" in fault for fault in faults(replace(one, language="he"), data))


def _fields(one: Document) -> dict[str, object]:
    return {name: getattr(one, name) for name in Document.__slots__}
