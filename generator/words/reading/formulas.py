"""The published formulas, each a function of counts.

Takes  `Counts` of a text; where a formula asks for more than is counted here, the shares it asks for.
Gives  a number: points of ease (more is easier) or years of schooling (less is easier), as each says.
Knows  coefficients and their sources; no language, no target. All were fitted to samples of 100 words or more.

Each raises ZeroDivisionError for a text without words or without sentences.
"""

from __future__ import annotations

from math import sqrt

from generator.words.reading.counts import Counts


def sentence_words(c: Counts) -> float:
    """Words a sentence."""
    return c.words / c.sentences


def word_syllables(c: Counts) -> float:
    """Syllables a word."""
    return c.syllables / c.words


def share(part: int, whole: int) -> float:
    """Per cent."""
    return 100 * part / whole


# ---- English ---------------------------------------------------------------------------------------------------


def flesch_ease(c: Counts) -> float:
    """Points of ease, some 0 to 100 and above. Flesch R. A new readability yardstick. J Appl Psychol 1948;32:221-233."""
    return 206.835 - 1.015 * sentence_words(c) - 84.6 * word_syllables(c)


def flesch_kincaid(c: Counts) -> float:
    """US school grade. Kincaid JP et al. Navy Research Branch Report 8-75, 1975."""
    return 0.39 * sentence_words(c) + 11.8 * word_syllables(c) - 15.59


def smog(c: Counts) -> float:
    """US school grade; wants 30 sentences, and wavers on fewer. McLaughlin GH. J Reading 1969;12:639-646."""
    return 3.1291 + 1.0430 * sqrt(c.three_syllables * 30 / c.sentences)


def coleman_liau(c: Counts) -> float:
    """US school grade, from letters alone. Coleman M, Liau TL. J Appl Psychol 1975;60:283-284 (citation from memory)."""
    return 0.0588 * share(c.letters, c.words) - 0.296 * share(c.sentences, c.words) - 15.8


def automated_index(c: Counts) -> float:
    """US school grade, from letters alone. Smith EA, Senter RJ. AMRL-TR-66-220, 1967 (citation from memory)."""
    return 4.71 * c.letters / c.words + 0.5 * sentence_words(c) - 21.43


# ---- Romance languages -----------------------------------------------------------------------------------------


def fernandez_huerta(c: Counts) -> float:
    """Spanish, points of ease. Fernández Huerta J. Consigna 1959;214:29-32.

    Many copies print 1.02 times the sentences of 100 words, by which longer sentences would read more easily: an error.
    """
    return 206.84 - 60 * word_syllables(c) - 1.02 * sentence_words(c)


def szigriszt_pazos(c: Counts) -> float:
    """Spanish, points of perspicuity, read on the INFLESZ scale. Szigriszt Pazos F. Thesis, Madrid 1993."""
    return 206.835 - 62.3 * word_syllables(c) - sentence_words(c)


def kandel_moles(c: Counts) -> float:
    """French, points of ease. Kandel L, Moles A. Cahiers d'études de radio-télévision 1958;19:253-274."""
    return 207 - 1.015 * sentence_words(c) - 73.6 * word_syllables(c)


def gulpease(c: Counts) -> float:
    """Italian, points of ease, 0 to 100 on a text of usual length. Lucisano P, Piemontese ME. Scuola e città 1988;39:110-124."""
    return 89 + (300 * c.sentences - 10 * c.letters) / c.words


def flesch_vacca(c: Counts) -> float:
    """Italian, points of ease. Franchina V, Vacca R, 1986 (as cited in later papers)."""
    return 217 - 1.3 * sentence_words(c) - 60 * word_syllables(c)


def martins(c: Counts) -> float:
    """Brazilian Portuguese, points of ease: Flesch's formula and 42. Martins TBF et al. Notas do ICMSC 28, São Carlos 1996."""
    return 248.835 - 1.015 * sentence_words(c) - 84.6 * word_syllables(c)


# ---- Germanic languages ----------------------------------------------------------------------------------------


def amstad(c: Counts) -> float:
    """German, points of ease. Amstad T. Wie verständlich sind unsere Zeitungen? Thesis, Zürich 1978."""
    return 180 - sentence_words(c) - 58.5 * word_syllables(c)


def wiener(c: Counts, variant: int = 1) -> float:
    """German, school year, meant for 4 to 15. Bamberger R, Vanecek E. Lesen, Verstehen, Lernen, Schreiben. Wien 1984.

    Args:
        variant: 1 to 4, of the four formulas published together.
    Raises:
        KeyError: there is no such variant.
    """
    long_sounding, long_written, short = (
        share(part, c.words) for part in (c.three_syllables, c.over_six, c.one_syllable)
    )
    sounding, sentence, written, one, constant = {
        1: (0.1935, 0.1672, 0.1297, -0.0327, -0.875),
        2: (0.2007, 0.1682, 0.1373, 0.0, -2.779),
        3: (0.2963, 0.1905, 0.0, 0.0, -1.1144),
        4: (0.2744, 0.2656, 0.0, 0.0, -1.693),
    }[variant]
    return sounding * long_sounding + sentence * sentence_words(c) + written * long_written + one * short + constant


def flesch_douma(c: Counts) -> float:
    """Dutch, points of ease. Douma WH. De leesbaarheid van landbouwbladen. Wageningen 1960 (citation from memory)."""
    return 206.835 - 0.93 * sentence_words(c) - 77 * word_syllables(c)


# ---- Slavic languages ------------------------------------------------------------------------------------------


def oborneva(c: Counts) -> float:
    """Russian, points of ease. Oborneva IV. Thesis, Moscow 2006; some papers print 1.52 and 65.14 instead."""
    return 206.835 - 1.3 * sentence_words(c) - 60.1 * word_syllables(c)


def pisarek(c: Counts) -> float:
    """Polish, years of schooling, the linear form. Pisarek W. Jak mierzyć zrozumiałość tekstu? Zeszyty Prasoznawcze 1969;4."""
    return (sentence_words(c) + share(c.four_syllables, c.words)) / 3 + 1


def pisarek_nonlinear(c: Counts) -> float:
    """Polish, years of schooling, the non-linear form of the same paper."""
    return sqrt(sentence_words(c) ** 2 + share(c.four_syllables, c.words) ** 2) / 2


def polish_fog(c: Counts) -> float:
    """Polish, years of schooling: Gunning's formula, where a hard word has four syllables, not three."""
    return 0.4 * (sentence_words(c) + share(c.four_syllables, c.words))


# ---- any alphabet: compares two drafts in one language, never two languages --------------------------------------


def lix(c: Counts) -> float:
    """Points, less is easier. Björnsson CH. Läsbarhet. Stockholm 1968."""
    return sentence_words(c) + share(c.over_six, c.words)


def rix(c: Counts) -> float:
    """Long words a sentence, less is easier. Anderson J. J Reading 1983;26:490-496."""
    return c.over_six / c.sentences


# ---- formulas that want more than this package counts ------------------------------------------------------------


def lee_hasebe(sentence: float, sino_japanese: float, native: float, verbs: float, auxiliaries: float) -> float:
    """Japanese, for learners: 5.5 to 6.4 lower elementary, 4.5 to 5.4 upper. Lee J, Hasebe Y; words need a tokenizer.

    Args:
        sentence: words a sentence. sino_japanese, native, verbs, auxiliaries: per cent of all words.
    """
    return 11.724 - 0.056 * sentence - 0.126 * sino_japanese - 0.042 * native - 0.145 * verbs - 0.044 * auxiliaries


def osman(c: Counts, hard: int, syllables: int, formal: int, long: int) -> float:
    """Arabic, points of ease, to compare drafts only: without vowel marks nobody can count its syllables. El-Haj M, Rayson P. LREC 2016:250-255.

    Args:
        hard: words of more than five syllables. syllables: long and stressed ones counted twice. formal: hard words that
        hold one of the paper's letters of formal Arabic. long: words of more than five letters, vowel marks apart.
    """
    return 200.791 - 1.015 * sentence_words(c) - 24.181 * (hard + syllables + formal + long) / c.words


def sentences_per_hundred(c: Counts) -> float:
    """Chinese, once a tokenizer has counted words: above 10 is simple, below 6 harder, as leaflet studies have it."""
    return share(c.sentences, c.words)
