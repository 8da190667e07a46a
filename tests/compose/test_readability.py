"""An owner's sheet reads at US grade 6 or below (goal of the health literacy literature; AMA and NIH advise 4 to 6)."""

from __future__ import annotations

import re

import pytest

from generator.compose import owner_sheet
from generator.compose.phrases import PHRASES
from tests.compose.plans import templates
from tests.compose.reading import DEMO, ENGLISH, GOES_HOME, main, reckoned, said


def syllables(word: str) -> int:
    """Vowel groups, less a silent e at the end; a rule of thumb that errs by counting too many more often than too few."""
    lower = re.sub(r"(?<=[^aeiouyl])e$|(?<=[^aeiouytd])es$|(?<=[^aeiouytd])ed$", "", word.lower())
    return max(1, len(re.findall(r"[aeiouy]+", lower)))


def grade(words: int, sentences: int, count: int) -> float:
    """Flesch-Kincaid. Kincaid JP et al. Navy Research Branch Report 8-75, 1975."""
    return 0.39 * words / sentences + 11.8 * count / words - 15.59


def of_lines(lines: list[str]) -> float:
    sentences = [s for line in lines for s in re.split(r"[.?!]", line) if re.search(r"[A-Za-z]", s)]
    words = [w for s in sentences for w in re.findall(r"[A-Za-z']+", s)]
    return grade(len(words), len(sentences), sum(map(syllables, words)))


def test_the_formula_gives_its_hand_worked_value():
    # 100 words in 10 sentences with 140 syllables.
    assert grade(100, 10, 140) == pytest.approx(4.83, abs=0.005)


@pytest.mark.parametrize(
    ("word", "count"), [("bandage", 2), ("toes", 1), ("medicine", 3), ("wet", 1), ("evening", 3), ("together", 3)]
)
def test_syllables(word, count):
    assert abs(syllables(word) - count) <= (word == "evening")


@pytest.mark.parametrize("who", GOES_HOME)
def test_a_whole_sheet_is_grade_six_or_below(who):
    lines = [
        said(node)
        for node in main(owner_sheet(reckoned(who, *DEMO[who]), ENGLISH, ENGLISH, templates()).xhtml).walk()
        if node.tag in ("p", "li", "h2")
    ]
    assert of_lines(lines) <= 6.0


def test_no_fixed_line_an_owner_acts_on_is_above_grade_eight():
    acts = [
        text
        for key, text in PHRASES.items()
        if not key.startswith(("picture-", "draft-", "sign-", "own-", "plan-", "owner", "issued", "revision"))
    ]
    hard = {
        text: round(of_lines([text]), 1)
        for text in acts
        if len(re.findall(r"[A-Za-z']+", text)) >= 5 and of_lines([text]) > 8
    }
    assert not hard
