"""A text is judged by its language's measure, and the hardest lines are named."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.words import po
from generator.words.reading import Reading, Score, line_figure, measure, summary
from generator.words.reading.measures import PROXY, measures_of

ROOT = Path(__file__).parents[3]
PLAIN = ("Look at the toes once for each box.", "Feel the toes. Warm and soft is right.", "Do not cut it.", "Ring us.")
HARD = "Administer exclusively the pharmaceutical preparations dispensed."
FORMULA = ("en", "es", "fr", "de", "it", "pt-BR", "ru", "pl", "nl")
BY_PROXY = ("vi", "zh-Hans", "zh-Hant", "ja", "ko", "ar", "fa", "ur", "hi", "th", "so", "fil", "ht", "uk", "am")


def test_what_a_reading_holds():
    # By hand: 8, 8, 4 and 2 words in 5 sentences; 8 + 8 + 4 + 2 syllables, since only words of one stand there.
    reading = measure(PLAIN, "en")
    assert (reading.language, reading.name, reading.unit, reading.amount, reading.sentences) == (
        "en", "Flesch-Kincaid grade", "words", 22, 5,
    )  # fmt: skip
    assert reading.per_sentence == pytest.approx(4.4)
    grade, ease = reading.scores
    assert grade.value == pytest.approx(0.39 * 4.4 + 11.8 - 15.59)
    assert ease.value == pytest.approx(206.835 - 1.015 * 4.4 - 84.6)
    assert reading.passed
    assert reading.is_short
    assert not reading.is_proxy


def test_a_line_that_is_too_hard_fails_a_text_that_passes_as_a_whole():
    reading = measure([*PLAIN * 8, HARD], "en")
    assert all(score.passed for score in reading.scores)
    assert not reading.is_short
    assert [line.text for line in reading.too_hard] == [HARD]
    assert reading.worst[0].text == HARD
    assert not reading.passed


def test_the_five_worst_lines_come_hardest_first_and_once():
    reading = measure(["Ring us now.", *PLAIN, *PLAIN, HARD, "Breathing is hard, fast or noisy.", "Emergency"], "en")
    assert [line.text for line in reading.worst[:3]] == [HARD, "Emergency", "Breathing is hard, fast or noisy."]
    assert len(reading.worst) == len({line.text for line in reading.worst}) == 5
    # In a language where more points are easier, the fewest come first.
    spanish = measure(["Mire los dedos.", "Inmovilización extraordinariamente prolongada.", "No lo corte."], "es")
    assert spanish.worst[0].text.startswith("Inmovilización")


@pytest.mark.parametrize(
    ("line", "too_hard"),
    [
        # One word cannot condemn a short line; by the bare formula these are at grades 32, 9 and 44.
        ("Emergency", False),
        ("Emergency call now", False),
        ("Refrigerated", False),
        # Two can, and so can one of six syllables, or a longer line.
        ("Immobilisation", True),
        ("Immobilise extremity immediately", True),
        ("An unusually swollen extremity.", True),
        ("Administer exclusively the medicine that we prescribed.", True),
        ("Keep {pet} in a crate when alone.", False),
    ],
)
def test_a_short_line_is_not_condemned_by_one_word(line, too_hard):
    assert line_figure(line, "en").too_hard is too_hard


def test_the_figure_of_a_short_line_by_hand():
    # Emergency: 4 syllables, and five words of one: 0.39 x 6 + 11.8 x 9 / 6 - 15.59.
    figure = line_figure("Emergency", "en")
    assert figure.value == pytest.approx(4.45)
    assert figure.is_short
    assert not line_figure("Smell the bandage at both ends.", "en").is_short


def test_a_line_without_words_has_no_figure():
    with pytest.raises(ValueError, match="no word"):
        line_figure("{moment}", "en")


@pytest.mark.parametrize("language", FORMULA)
def test_a_formula_is_called_by_its_name(language):
    assert not measure(["Kato, mato."], language).is_proxy
    assert PROXY not in summary(["Kato, mato."], language)


@pytest.mark.parametrize("language", BY_PROXY)
def test_a_proxy_is_called_a_proxy_wherever_it_is_printed(language):
    line = {"zh-Hans": "请勿剪开绷带。", "zh-Hant": "請勿剪開繃帶。", "ja": "包帯を切らない。", "th": "อย่าตัดผ้า"}.get(
        language, "na na na"
    )
    reading = measure([line], language)
    assert reading.is_proxy
    assert all(PROXY in str(score) for score in reading.scores)
    assert PROXY in summary([line], language)
    # And so it says nothing of school grades.
    assert "grade" not in summary([line], language)


@pytest.mark.parametrize(
    ("language", "line", "figure", "passed"),
    [
        # Targets of the house, counted by hand: the mean and the longest sentence.
        ("vi", "ba " * 12 + ".", 12, True),
        ("vi", "ba " * 13 + ".", 13, False),
        ("zh-Hant", "請" * 18 + "。", 18, True),
        ("zh-Hans", "请" * 19 + "。", 19, False),
        ("ko", "가 " * 8 + ".", 8, True),
        ("ko", "가 " * 9 + ".", 9, False),
        ("ar", "با " * 10 + ".", 10, True),
        ("hi", "हम " * 11 + "।", 11, False),
        ("ja", "包帯包帯包" + "を" * 20 + "。", 25, True),
        ("ja", "包帯包帯包" + "を" * 21 + "。", 26, False),
        ("ja", "包" + "を" * 20 + "。", 21, False),  # 5 % of kanji
    ],
)
def test_targets_of_the_proxies(language, line, figure, passed):
    reading = measure([line], language)
    assert reading.scores[0].value == pytest.approx(figure)
    assert reading.passed is passed


def test_one_sentence_beyond_the_longest_fails_a_text_of_short_ones():
    lines = ["ba ba ba.", "ba ba.", "ba " * 21 + "."]
    mean, longest = measure(lines, "vi").scores
    assert mean.passed
    assert not longest.passed
    assert longest.value == 21


def test_a_target_is_met_as_it_is_printed():
    # 6.04 is printed as 6.0, and nobody would understand why `6.0 (6 at most)` fails.
    grade, ease = measures_of("en")
    assert [Score(grade, value).passed for value in (6.0, 6.04, 6.06)] == [True, True, False]
    assert [Score(ease, value).passed for value in (80.0, 79.96, 79.94)] == [True, True, False]
    assert str(Score(grade, 6.04)) == "Flesch-Kincaid grade 6.0 (6 at most)"


def test_a_text_without_words():
    reading = measure(["{moment}", ""], "es")
    assert (reading.scores, reading.worst, reading.amount, reading.per_sentence) == ((), (), 0, 0.0)
    assert not reading.passed
    assert reading.name
    assert summary(["{moment}"], "es") == "no text"


def test_the_row_of_a_table():
    assert summary(PLAIN, "en") == (
        "passes: Flesch-Kincaid grade -2.1 (6 at most), Flesch ease 117.8 (80 at least); "
        "4.4 words a sentence, 22 in all; under 100 words, so the figures waver"
    )
    assert summary([HARD], "en").startswith("fails, 1 line too hard: ")
    assert "passes" in summary(PLAIN * 5, "en")
    assert "waver" not in summary(PLAIN * 5, "en")


def test_region_and_script_do_not_change_the_measure():
    def values(reading: Reading) -> list[float]:
        return [score.value for score in reading.scores]

    assert values(measure(["Olhe os dedos."], "pt-BR")) == values(measure(["Olhe os dedos."], "pt"))
    assert values(measure(["請勿剪開。"], "zh-Hant")) == values(measure(["請勿剪開。"], "zh"))


@pytest.mark.parametrize("file", sorted((ROOT / "locales").glob("*/owner.po")), ids=lambda path: path.parent.name)
def test_every_shipped_catalogue_can_be_measured(file):
    language = file.parent.name.replace("_", "-")
    entries = po.read(file.read_text(encoding="utf-8"), file.name).entries
    reading = measure([text for entry in entries for text in entry.translations if text], language)
    assert reading.amount > 100
    assert len(reading.worst) == 5
    assert all(score.value == score.value for score in reading.scores)
