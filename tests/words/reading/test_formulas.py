"""Each formula gives its value worked by hand from the published coefficients."""

from __future__ import annotations

import pytest

from generator.words.reading import formulas
from generator.words.reading.counts import Counts


def text(syllables: int = 0, letters: int = 0, **more: int) -> Counts:
    """A hundred words in ten sentences."""
    return Counts(sentences=10, words=100, syllables=syllables, letters=letters, **more)


# Worked by hand: ASL = 100 / 10 = 10; ASW = syllables / 100. Sources of the coefficients stand in each docstring.
VALUES = [
    (formulas.flesch_ease, text(140), 78.245),  # 206.835 - 10.15 - 118.44
    (formulas.flesch_kincaid, text(140), 4.83),  # 3.9 + 16.52 - 15.59
    (formulas.smog, Counts(sentences=30, words=300, three_syllables=16), 7.3011),  # 3.1291 + 1.043 x 4
    (formulas.coleman_liau, text(letters=430), 6.524),  # 25.284 - 2.96 - 15.8
    (formulas.automated_index, text(letters=430), 3.823),  # 20.253 + 5 - 21.43
    (formulas.fernandez_huerta, text(200), 76.64),  # 206.84 - 120 - 10.2
    (formulas.szigriszt_pazos, text(200), 72.235),  # 206.835 - 124.6 - 10
    (formulas.kandel_moles, text(150), 86.45),  # 207 - 10.15 - 110.4
    (formulas.amstad, text(160), 76.4),  # 180 - 10 - 93.6
    (formulas.gulpease, text(letters=460), 73.0),  # 89 + (3000 - 4600) / 100
    (formulas.flesch_vacca, text(200), 84.0),  # 217 - 13 - 120
    (formulas.martins, text(200), 69.485),  # 248.835 - 10.15 - 169.2
    (formulas.oborneva, text(220), 61.615),  # 206.835 - 13 - 132.22
    (formulas.pisarek, text(four_syllables=8), 7.0),  # (10 + 8) / 3 + 1
    (formulas.pisarek_nonlinear, text(four_syllables=8), 6.4031),  # sqrt(164) / 2
    (formulas.polish_fog, text(four_syllables=8), 7.2),  # 0.4 x 18
    (formulas.flesch_douma, text(150), 82.035),  # 206.835 - 9.3 - 115.5
    (formulas.lix, text(over_six=12), 22.0),  # 10 + 12
    (formulas.rix, text(over_six=12), 1.2),  # 12 / 10
    (formulas.sentences_per_hundred, text(), 10.0),
]


@pytest.mark.parametrize(("formula", "counts", "value"), VALUES, ids=lambda x: getattr(x, "__name__", ""))
def test_a_formula_gives_its_hand_worked_value(formula, counts, value):
    assert formula(counts) == pytest.approx(value, abs=0.00005)


@pytest.mark.parametrize(("variant", "value"), [(1, 1.2908), (2, 1.7548), (3, 2.5684), (4, 2.6094)])
def test_the_four_formulas_of_vienna(variant, value):
    # 6 % of three syllables, 12 % over six letters, 68 % of one syllable. First: 1.161 + 1.672 + 1.5564 - 2.2236 - 0.875.
    counts = text(three_syllables=6, over_six=12, one_syllable=68)
    assert formulas.wiener(counts, variant) == pytest.approx(value, abs=0.00005)


def test_formulas_that_want_more_than_is_counted_here():
    # 11.724 - 0.056 x 20 - 0.126 x 30 - 0.042 x 40 - 0.145 x 15 - 0.044 x 10
    assert formulas.lee_hasebe(20, 30, 40, 15, 10) == pytest.approx(2.529)
    # 200.791 - 10.15 - 24.181 x (10 + 250 + 5 + 20) / 100
    assert formulas.osman(text(), 10, 250, 5, 20) == pytest.approx(121.72515)


def test_the_martins_formula_is_that_of_flesch_and_42():
    # Martins et al. 1996 found by how much Brazilian texts of the same school year score lower.
    assert formulas.martins(text(190)) - formulas.flesch_ease(text(190)) == pytest.approx(42)


def test_longer_sentences_read_harder_by_every_formula():
    # Where a copy of Fernández Huerta's formula counts sentences instead of words a sentence, it fails this.
    def of(sentences: int) -> Counts:
        return Counts(sentences, words=100, syllables=180, letters=450, over_six=15, three_syllables=20, four_syllables=5, one_syllable=40)  # fmt: skip

    easier_up = (
        formulas.flesch_ease, formulas.fernandez_huerta, formulas.szigriszt_pazos, formulas.kandel_moles, formulas.gulpease,
        formulas.flesch_vacca, formulas.martins, formulas.amstad, formulas.flesch_douma, formulas.oborneva,
    )  # fmt: skip
    harder_up = (
        formulas.flesch_kincaid, formulas.smog, formulas.coleman_liau, formulas.automated_index, formulas.wiener, formulas.pisarek,
        formulas.pisarek_nonlinear, formulas.polish_fog, formulas.lix, formulas.rix,
    )  # fmt: skip
    assert all(formula(of(5)) < formula(of(10)) for formula in easier_up)
    assert all(formula(of(5)) > formula(of(10)) for formula in harder_up)


def test_a_text_without_words_has_no_value():
    with pytest.raises(ZeroDivisionError):
        formulas.flesch_ease(Counts())
