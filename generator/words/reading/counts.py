"""What is counted in a text, and nothing about any language.

Takes  numbers.
Gives  `Counts`: of a sentence, of a line, of a whole text; they add up.
Knows  how a line too short for a formula is filled up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Counts:
    """Counts of a stretch of text; every formula is a function of these.

    units: what the length of a sentence is told in: words; in Chinese, Japanese and Thai, which part no words, written
    signs. words: between spaces (in Korean these are eojeol, in Vietnamese syllables); 0 where no spaces part them.
    over_six, over_seven: words of more than 6 and 7 letters. one_syllable, three_syllables, four_syllables: words of
    exactly 1, of 3 or more, of 4 or more syllables. syllables: 0 in a language that they are not counted in. han, kana,
    hangul: written signs of these scripts. longest: units of the longest sentence.
    """

    sentences: int = 0
    units: int = 0
    words: int = 0
    syllables: int = 0
    letters: int = 0
    over_six: int = 0
    over_seven: int = 0
    one_syllable: int = 0
    three_syllables: int = 0
    four_syllables: int = 0
    han: int = 0
    kana: int = 0
    hangul: int = 0
    longest: int = 0


def total(parts: Iterable[Counts]) -> Counts:
    """The counts of several stretches taken together."""
    rows = tuple(parts)
    return Counts(
        sum(c.sentences for c in rows),
        sum(c.units for c in rows),
        sum(c.words for c in rows),
        sum(c.syllables for c in rows),
        sum(c.letters for c in rows),
        sum(c.over_six for c in rows),
        sum(c.over_seven for c in rows),
        sum(c.one_syllable for c in rows),
        sum(c.three_syllables for c in rows),
        sum(c.four_syllables for c in rows),
        sum(c.han for c in rows),
        sum(c.kana for c in rows),
        sum(c.hangul for c in rows),
        max((c.longest for c in rows), default=0),
    )


# A field stands for a name, a date, a time: a word of the sentence that nobody could choose better. It counts as one word
# of one syllable and four letters. Left out, it would make sentences look shorter than they are read.
FIELD_LETTERS = 4

# In a line of three words one long word decides its grade: the formulas were made for 100 words. One syllable more moves
# the Flesch-Kincaid grade of a line of six words by 11.8 / 6, two grades, which is the room between what a whole English
# text may have (6) and what a line may have (8); in a shorter line one syllable alone would condemn it.
FEWEST_WORDS = 6


def filled_up(line: Counts) -> Counts:
    """A line of fewer than six words, filled up to six with words of one syllable.

    By the English formula one word of up to five syllables does not condemn such a line, two long ones do.
    """
    lacking = FEWEST_WORDS - line.words
    if lacking <= 0 or not line.words:
        return line
    return replace(
        line,
        words=line.words + lacking,
        units=line.units + lacking,
        syllables=line.syllables + lacking,
        letters=line.letters + lacking * FIELD_LETTERS,
        one_syllable=line.one_syllable + lacking,
    )
