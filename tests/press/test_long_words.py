"""Words that are longer than their place, and lines that are longer than an eye can follow."""

from __future__ import annotations

import pytest

from generator.page.tokens import DISPLAY_FLOOR, PAPERS
from generator.press import press
from tests.press.geometry import assert_sound, lines
from tests.press.papers import document
from tests.press.readable import MOST_LETTERS

NARROW = '<div class="columns" data-widths="1 3"><div><h1 class="display">{}</h1></div><p>Dog</p></div>'
SENTENCE = "Keep the bandage dry and look at the toes twice a day, for cold and swelling show there first. "


def said(content: str, **given: str) -> list[str]:
    return [line.text.strip() for line in lines(press(document(content, **given)).data)]


def size_of(content: str, words: str) -> float:
    return next(line.size for line in lines(press(document(content)).data) if words in line.text)


@pytest.mark.parametrize("name", ["Wilhelmina", "Anneliese Marigold"])
def test_a_name_too_long_for_its_column_is_set_smaller_and_not_torn(name: str) -> None:
    short = size_of(NARROW.format("Bo"), "Bo")
    first = name.split()[0]
    assert any(line.endswith(first) for line in said(NARROW.format(name)))
    assert DISPLAY_FLOOR <= size_of(NARROW.format(name), first) < short


def test_a_name_that_fits_keeps_its_size() -> None:
    assert size_of('<h1 class="display">Wilhelmina</h1>', "Wilhelmina") == size_of(NARROW.format("Bo"), "Bo")


def test_a_name_of_forty_letters_keeps_to_its_column() -> None:
    assert_sound(press(document(NARROW.format("Maximilianwilhelminafeatherstonehaughson"))).data, margin_mm=15)


def test_lines_of_a_heading_are_evened_without_tearing_a_date() -> None:
    # "Sat 20 Mar 2027," is one word to the reader: only the time may go to the next line.
    date = "Sat\u00a020\u00a0Mar\u00a02027, 10:30"
    row = '<div class="columns" data-widths="1 1.9"><p class="lead">{}</p><p>Open by.</p></div>'
    assert "10:30" in said(row.format(date))


def test_a_notice_over_two_lines_leaves_no_word_alone_and_stays_in_the_middle() -> None:
    notice = "Draft, not checked by a qualified person. The words in English count, and nothing else."
    band = f'<aside class="band alarm"><p>{notice}</p></aside>'
    found = [
        line for line in lines(press(document("<h1>Maple</h1>", furniture=band)).data) if line.text.strip() in notice
    ]
    assert len(found) == 2
    one, other = (line.x1 - line.x0 for line in found)
    assert min(one, other) > 0.7 * max(one, other)
    middle = PAPERS["a4"][0] / 2
    assert [(line.x0 + line.x1) / 2 for line in found] == pytest.approx([middle, middle], abs=3)


def test_a_telephone_number_stays_on_one_line_where_its_neighbour_has_room() -> None:
    number = "(802)\u00a0555\u2060-\u20600142"
    row = '<div class="columns" data-widths="1 9"><p class="lead">{}</p><p>Day and night</p></div>'
    assert "(802)\u00a0555-0142" in said(row.format(number))


def test_a_drawing_lends_no_width() -> None:
    def toes(width: str) -> float:
        row = (
            f'<div class="columns" data-widths="1 9"><p>{width}</p><figure data-drawing="toes" data-alt="Toes"/></div>'
        )
        return next(line.x0 for line in lines(press(document(row)).data) if line.text == "Together")

    assert toes("Donaudampfschifffahrtsgesellschaft") == pytest.approx(toes("Bo"))


def test_no_line_of_a_sheet_has_more_letters_than_an_eye_can_follow() -> None:
    paragraph = f"<p>{SENTENCE * 4}</p>"
    sheet = said(paragraph, kind="sheet")
    assert max(map(len, sheet)) <= MOST_LETTERS
    assert max(map(len, sheet)) > MOST_LETTERS - 15
    # A binder is looked things up in, in small type.
    assert (
        max(map(len, said(f'<section class="chapter"><h1>One</h1>{paragraph}</section>', kind="binder"))) > MOST_LETTERS
    )


@pytest.mark.parametrize("language", ["ar", "he", "ur"])
def test_an_english_sentence_in_a_line_from_the_right_keeps_its_full_stop_behind_it(language: str) -> None:
    # Unicode Standard Annex 9, 2.7: text in another language is set off by an isolate, or its stop takes the outer direction.
    found = press(document('<ul><li><span lang="en">Blood drips out.</span></li></ul>', language=language))
    assert "Blood drips out." in [line.text.strip() for line in lines(found.data)]
    placed = {c["text"]: c["x0"] for c in _letters(found.data)}
    assert placed["."] > placed["B"]


def _letters(data: bytes) -> list[dict[str, float]]:
    import io

    import pdfplumber

    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return [dict(c) for c in pdf.pages[0].chars]
