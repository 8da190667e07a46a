"""A line of ours and the same line set by another engine (raqm: FriBidi and HarfBuzz) leave the same ink on paper."""

from __future__ import annotations

import unicodedata
from functools import cache

import pytest
from PIL import Image

from .lines import CJK, LINES, PHONE, RTL
from .second_engine import IS_HERE, WHY_NOT, lost, ours, theirs

pytestmark = pytest.mark.skipif(not IS_HERE, reason=WHY_NOT)

LANGUAGES = [language for language in LINES if language not in CJK]
JOINED = ("ar", "fa", "ur", "hi", "pa")  # scripts that are not themselves without shaping
# A speck where two rasterisers round otherwise; the least mark of any line here, a Hebrew point, leaves 9 when it is lost.
SPECK = 4


def text_of(language: str) -> str:
    return unicodedata.normalize("NFC", LINES[language])


@cache
def printed(language: str) -> Image.Image:
    return ours(text_of(language), language)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_line_leaves_the_ink_of_the_other_engine(language: str) -> None:
    assert lost(printed(language), theirs(text_of(language), language)) <= SPECK


@pytest.mark.parametrize("language", ["vi", "ru", "ar", "he", "hi"])
def test_bold_lines_too(language: str) -> None:
    text = text_of(language)
    assert lost(ours(text, language, True), theirs(text, language, True)) <= SPECK
    assert lost(printed(language), theirs(text, language, True)) > SPECK


# ---- the comparison fails where it should: the other engine is given what would be wrong on paper ------------------


@pytest.mark.parametrize("language", LANGUAGES)
def test_letters_in_the_wrong_order_are_seen(language: str) -> None:
    assert lost(printed(language), theirs(text_of(language)[::-1], language)) > SPECK


@pytest.mark.parametrize("language", JOINED)
def test_letters_that_do_not_join_are_seen(language: str) -> None:
    assert lost(printed(language), theirs(text_of(language), language, shaped=False)) > SPECK


# The Urdu line ends in a stop that is itself of the script, so that it lies the same either way (UAX 9, N1).
@pytest.mark.parametrize("language", [language for language in RTL if language != "ur"])
def test_a_paragraph_that_runs_the_wrong_way_is_seen(language: str) -> None:
    assert lost(printed(language), theirs(text_of(language), language, rtl=False)) > SPECK


@pytest.mark.parametrize("language", LANGUAGES)
def test_two_figures_of_a_telephone_number_that_change_places_are_seen(language: str) -> None:
    text = text_of(language)
    assert text.count("0142") == 1
    assert lost(printed(language), theirs(text.replace("0142", "0124"), language)) > SPECK


@pytest.mark.parametrize("language", RTL)
def test_a_telephone_number_without_its_isolate_is_seen(language: str) -> None:
    text = text_of(language)
    bare = text[: text.index("\u2066")] + PHONE + text[text.index("\u2069") + 1 :]
    assert lost(printed(language), theirs(bare, language)) > SPECK


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_lost_mark_or_figure_is_seen(language: str) -> None:
    apart = unicodedata.normalize("NFD", text_of(language))
    marks = [place for place, letter in enumerate(apart) if unicodedata.category(letter) in ("Mn", "Mc")]
    figures = [place for place, letter in enumerate(apart) if letter.isdigit()]
    assert figures
    for place in (*marks[:: max(1, len(marks) // 4)], figures[0], figures[-1]):
        without = unicodedata.normalize("NFC", apart[:place] + apart[place + 1 :])
        assert lost(printed(language), theirs(without, language)) > SPECK, unicodedata.name(apart[place])
