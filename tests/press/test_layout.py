"""What belongs together stays together, nothing is clipped, and right-to-left pages are mirrored.

Rules: a caution stands before the step it guards, on its page (DOE-STD-1029); house rules for the rest.
"""

from __future__ import annotations

import pytest

from generator.page.paths import Label, Measure, Picture
from generator.press import press
from generator.press.figures import TooWide
from tests.press.geometry import Line, assert_sound, collisions, gaps, lines
from tests.press.papers import binder, document

SENTENCE = "Look at the toes every morning and every evening and write it down. "


def stretches(content: str, **given: object) -> list[Line]:
    data = press(document(content, **given)).data  # type: ignore[arg-type]
    assert_sound(data, smallest=9)
    return lines(data)


def find(found: list[Line], text: str) -> Line:
    return next(line for line in found if text in line.text)


def filler(count: int) -> str:
    return "".join(f"<p>Line {n}.</p>" for n in range(count))


@pytest.mark.parametrize("before", range(24, 40))
def test_a_heading_is_never_last_on_a_page(before: int) -> None:
    found = stretches(f"<h1>T</h1>{filler(before)}<h2>Heading</h2><p>{SENTENCE * 4}</p>")
    heading, text = find(found, "Heading"), find(found, "Look at")
    assert heading.page == text.page
    assert heading.baseline > text.baseline


@pytest.mark.parametrize("before", range(24, 40, 2))
def test_a_heading_stays_with_the_first_row_and_the_head_of_its_table(before: int) -> None:
    rows = "".join(f"<tr><td>Row {n}</td></tr>" for n in range(30))
    table = f'<table><thead><tr><th scope="col">Head</th></tr></thead><tbody>{rows}</tbody></table>'
    found = stretches(f"<h1>T</h1>{filler(before)}<h2>Log</h2>{table}")
    assert find(found, "Log").page == find(found, "Row 0").page
    # The head is printed again on each page that has rows.
    assert {x.page for x in found if x.text == "Head"} == {x.page for x in found if x.text.startswith("Row")}


@pytest.mark.parametrize("before", range(24, 40))
def test_a_caution_stays_before_its_step(before: int) -> None:
    step = f'<p class="caution">Mind the toes</p><p>Step proper. {SENTENCE * 2}</p>'
    for content in (f'<ol class="mark-disc"><li>{step}</li></ol>', step):
        found = stretches(f"<h1>T</h1>{filler(before)}{content}")
        caution, proper = find(found, "Mind"), find(found, "Step proper")
        assert caution.page == proper.page
        assert caution.baseline > proper.baseline


def test_cautions_of_a_long_binder_stand_on_the_page_of_their_steps() -> None:
    found = lines(press(binder(2, 40)).data)
    cautions = {x.text.split(":")[0].removeprefix("Caution "): x for x in found if x.text.startswith("Caution")}
    steps = {x.text.split(":")[0].removeprefix("Step "): x for x in found if x.text.startswith("Step ")}
    assert len(cautions) == 80
    assert cautions.keys() == steps.keys()
    assert all(cautions[key].page == steps[key].page for key in cautions)


def test_a_paragraph_leaves_no_line_alone() -> None:
    for before in range(26, 38):
        found = stretches(f"<h1>T</h1>{filler(before)}<p>{SENTENCE * 12}</p>")
        per_page = [
            sum(1 for x in found if x.page == page and round(x.size, 1) == 14 and "Line" not in x.text)
            for page in (1, 2)
        ]
        assert 1 not in per_page


def test_a_box_that_is_kept_moves_whole() -> None:
    box = f'<div class="box alarm keep"><h2>Stop</h2><p>{SENTENCE * 6}</p><p>Last words.</p></div>'
    found = stretches(f"<h1>T</h1>{filler(30)}{box}")
    assert find(found, "Stop").page == find(found, "Last words").page == 2


def test_a_kept_box_higher_than_a_page_is_divided_after_all() -> None:
    box = f'<div class="box tint keep"><h2>Notes</h2>{"".join(f"<p>{SENTENCE * 5}</p>" for _ in range(30))}</div>'
    found = stretches(f"<h1>T</h1>{box}")
    assert max(x.page for x in found) >= 2


def test_columns_run_on_over_pages_and_stay_columns() -> None:
    left = "".join(f"<p>Left {n}. {SENTENCE}</p>" for n in range(20))
    right = "".join(f"<p>Right {n}. {SENTENCE}</p>" for n in range(20))
    found = stretches(f'<h1>T</h1><div class="columns"><div>{left}</div><div>{right}</div></div>')
    lefts = {x.x0 for x in found if x.text.startswith("Left")}
    rights = {x.x0 for x in found if x.text.startswith("Right")}
    assert len({round(x) for x in lefts}) == 1
    assert len({round(x) for x in rights}) == 1
    assert {x.page for x in found if x.text.startswith("Right")} == {1, 2}


def test_columns_keep_their_relative_widths() -> None:
    found = stretches('<h1>T</h1><div class="columns" data-widths="1 3" data-gap="0"><p>Narrow</p><p>Wide</p></div>')
    left = min(x.x0 for x in found)
    live = 595.28 - 2 * left
    assert find(found, "Wide").x0 - left == pytest.approx(live / 4, abs=1.5)


def test_figures_in_a_table_end_at_one_edge() -> None:
    rows = "".join(f'<tr><td>Row</td><td class="number">{n}</td></tr>' for n in (7, 120, 4500))
    found = stretches(f"<h1>T</h1><table><tbody>{rows}</tbody></table>")
    ends = [find(found, str(n)).x1 for n in (7, 120, 4500)]
    assert max(ends) - min(ends) < 0.8


def test_rows_to_write_in_are_at_least_eight_millimetres_apart() -> None:
    rows = "".join(f"<tr><td>Row {n}</td><td/></tr>" for n in range(5))
    found = [x for x in stretches(f'<h1>T</h1><table class="grid"><tbody>{rows}</tbody></table>') if "Row" in x.text]
    assert min(gaps(found)) >= 8 * 72 / 25.4 - 0.1


def test_line_pitch_is_at_least_a_fifth_more_than_the_size() -> None:
    found = [x for x in stretches(f"<h1>T</h1><p>{SENTENCE * 6}</p>") if round(x.size, 1) == 14]
    assert min(gaps(found)) >= 1.2 * 14


def test_a_drawing_wider_than_its_place_is_refused() -> None:
    def wide(width: float, measure: Measure) -> Picture:
        return Picture(width + 20, 10, (), "wide")

    def wordy(width: float, measure: Measure) -> Picture:
        return Picture(width, 10, (Label("a long label at the edge", width - 10, 0, 12),), "wordy")

    for draw in (wide, wordy):
        with pytest.raises(TooWide):
            press(document('<h1>T</h1><figure data-drawing="d" data-alt="d"/>', drawings={"d": draw}))


def test_words_beside_a_pictogram_do_not_touch_it() -> None:
    items = (
        '<li data-drawing="toes" data-alt="">Look at the toes</li><li data-drawing="toes" data-alt="Toes">Again</li>'
    )

    def icon(width: float, measure: Measure) -> Picture:
        return Picture(width, width, (Label("x", 0, 0, 12),), "icon")

    found = stretches(f'<h1>T</h1><ul class="mark-drawing">{items}</ul>', drawings={"toes": icon})
    assert find(found, "Look").x0 - min(x.x0 for x in found if x.text == "x") >= 10 * 72 / 25.4
    assert collisions(found) == []


# ---- right to left --------------------------------------------------------------------------------------------

ARABIC = (
    '<h1>تعليمات</h1><div class="columns"><p>الأول</p><p>الثاني</p></div>'
    '<ol class="mark-disc"><li>انظر إلى الأصابع</li></ol>'
    '<table data-widths="1 1"><tbody><tr><td>اليوم</td><td>الساعة</td></tr></tbody></table>'
    '<p lang="en">Larkspur</p><div lang="en"><p>English part</p></div>'
    '<p><span dir="ltr">802-555-0142</span></p>'
)


def test_a_right_to_left_page_is_mirrored() -> None:
    found = stretches(ARABIC, language="ar")
    middle = 595.28 / 2
    # Presentation order of extracted Arabic differs between programs: look for single letters' neighbours by place.
    columns = [x for x in found if round(x.size, 1) == 14 and abs(x.baseline - found[1].baseline) < 1]
    assert len(columns) == 2
    assert columns[0].x0 > middle > columns[1].x0  # the first column, painted first, is on the right
    number = find(found, "1")
    item = next(
        x for x in found if abs(x.baseline - number.baseline) < 3 and x is not number and round(x.size, 1) == 14
    )
    assert number.x0 > item.x1  # the mark stands to the right of its words


def test_a_line_in_another_language_starts_where_its_neighbours_start() -> None:
    found = stretches(ARABIC, language="ar")
    right = max(x.x1 for x in found)
    assert find(found, "Larkspur").x1 == pytest.approx(right, abs=1.5)
    assert find(found, "English part").x0 < 60  # a whole part in English is laid out from the left


def test_a_telephone_number_in_arabic_reads_left_to_right() -> None:
    found = stretches(ARABIC, language="ar")
    assert find(found, "802-555-0142")


def test_no_word_breaks_in_a_column_that_was_given_too_little() -> None:
    table = (
        '<table class="grid" data-widths="9 1 1"><thead><tr><th scope="col">Due</th><th scope="col">Temperature</th>'
        '<th scope="col">Initials</th></tr></thead><tbody><tr><td>Sat</td><td/><td/></tr></tbody></table>'
    )
    found = stretches(f"<h1>T</h1>{table}")
    assert find(found, "Temperature").text == "Temperature"
    assert find(found, "Initials").x0 > find(found, "Temperature").x1


def test_first_lines_of_a_row_share_a_baseline_whatever_their_sizes() -> None:
    found = stretches('<h1>T</h1><dl><dt>Phone</dt><dd class="lead">802-555-0142</dd></dl>')
    assert find(found, "Phone").baseline == pytest.approx(find(found, "802").baseline, abs=0.1)


def test_marks_on_vietnamese_capitals_keep_clear_of_the_line_above() -> None:
    # Outlines of Noto Sans Bold, in sizes: \u1eaa reaches 1.054 above the baseline, g 0.24 below.
    name = '<div class="columns" data-widths="1 4"><h1 class="display">Ngg \u1eaam</h1><p>Ch\u00f3</p></div>'
    first, second = (
        x for x in lines(press(document(name, language="vi")).data) if x.text.strip() in ("Ngg", "\u1eaam")
    )
    assert first.baseline - second.baseline >= (1.054 + 0.24) * second.size
