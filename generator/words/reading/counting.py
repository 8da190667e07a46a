"""Count a line: its sentences, words, syllables, letters and written signs.

Takes  one line as authored or translated, with its {fields}, and its language.
Gives  `count_line`, `syllables`.
Knows  where sentences and words part, and which languages are written without spaces; no formula.

A line without a full stop is one sentence, a line with two is two, and none is too short to count. Left out: figures,
telephone numbers and whatever else holds no letter. A field is one word of one syllable (see `counts.FIELD_LETTERS`).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import lru_cache

from generator.words import fields
from generator.words.reading.counts import FIELD_LETTERS, Counts, total

# The end of a sentence: a stop before a space, a closing mark or the end; or a stop of a script that leaves no space. A stop
# inside `10.5` ends nothing.
_ENDS = re.compile("[.!?…؟۔।॥።։။។][\"'”’»)\\]]*(?=\\s|[.!?…]|$)|[。!?]")
# Whatever parts words besides a space, by a table: a pattern of as many signs takes longer to make than a book to read.
_BETWEEN = str.maketrans(dict.fromkeys('/\\,;:.!?()[]{}«»„“”"¿¡،؛؟۔।॥…·–—', " "))
_MARKS = "'’‘`-"
_HELD = "\x1a"  # no letter of any text, no space, and ASCII still
# Two signs: as many as most names and dates have at least.
_SIGNS_OF_A_FIELD = 2

WITHOUT_SPACES = frozenset({"zh", "yue", "ja", "th", "lo", "km", "my"})


@lru_cache(maxsize=4096)
def count_line(line: str, language: str) -> Counts:
    """Count one line.

    Args:
        line: as in a catalogue or a protocol, fields in braces.
        language: BCP 47.
    Returns:
        Counts of 1 sentence or more; of none where the line holds no word beside its fields.
    """
    if not fields.has_words(line):
        return Counts()
    base = language.split("-")[0]
    text = unicodedata.normalize("NFC", line)
    if "{" in text:
        text = "".join(part if isinstance(part, str) else _HELD for part in fields.parse(text))
    count = _signs if base in WITHOUT_SPACES else _words
    parts = [counts for part in _ENDS.split(text) if (counts := count(part, base)).units]
    return parts[0] if len(parts) == 1 else total(parts)


def _words(text: str, base: str) -> Counts:
    """A sentence of a script with spaces."""
    words = [word for part in text.translate(_BETWEEN).split() if (word := part.strip(_MARKS))]
    pairs = [pair for word in words if (pair := _word(word, base))[0]]
    letters, spoken = [pair[0] for pair in pairs], [pair[1] for pair in pairs]
    number = len(pairs)
    han, kana, hangul = (0, 0, 0) if text.isascii() else _scripts(text)
    return Counts(
        sentences=1,
        units=number,
        words=number,
        syllables=sum(spoken),
        letters=sum(letters),
        over_six=sum(many > 6 for many in letters),
        over_seven=sum(many > 7 for many in letters),
        one_syllable=spoken.count(1),
        three_syllables=sum(many >= 3 for many in spoken),
        four_syllables=sum(many >= 4 for many in spoken),
        han=han,
        kana=kana,
        hangul=hangul,
        longest=number,
    )


def _signs(text: str, base: str) -> Counts:
    """A sentence of a script without spaces: signs of Chinese and Japanese; letters of the others, without tone marks."""
    han, kana, _ = _scripts(text)
    letters = sum(map(_is_letter, text))
    signs = han if base in ("zh", "yue") else han + kana if base == "ja" else letters
    units = signs + _SIGNS_OF_A_FIELD * text.count(_HELD)
    return Counts(sentences=1, units=units, letters=letters, han=han, kana=kana, longest=units)


@lru_cache(maxsize=16384)
def _word(word: str, base: str) -> tuple[int, int]:
    """Letters and syllables; no letters where it is no word."""
    if _HELD in word:
        return FIELD_LETTERS, 1
    letters = sum(map(_is_letter, word))
    return letters, (syllables(word, base) or 0) if letters else 0


def _scripts(text: str) -> tuple[int, int, int]:
    """How many Han, Kana and Hangul signs a text has. Unicode Standard 15.0, chapter 18; the mark for a repeated sign is Han."""
    codes = [ord(sign) for sign in text]
    han = sum(
        0x4E00 <= code <= 0x9FFF or 0x3400 <= code <= 0x4DBF or 0x20000 <= code <= 0x323AF or 0x3005 <= code <= 0x3007
        for code in codes
    )
    kana = sum(0x3041 <= code <= 0x309F or (0x30A1 <= code <= 0x30FF and code != 0x30FB) for code in codes)
    return han, kana, sum(0xAC00 <= code <= 0xD7A3 for code in codes)


@lru_cache(maxsize=1024)
def _is_letter(sign: str) -> bool:
    """A letter, or a vowel sign, which is a letter to whoever reads it; no other mark."""
    if sign.isascii():
        return sign.isalpha()
    # By name: of the marks of Indic scripts and of Thai only those of vowels are called so.
    return sign.isalpha() or re.search("VOWEL SIGN|CHARACTER SARA|MAI HAN-AKAT", unicodedata.name(sign, "")) is not None


def syllables(word: str, language: str) -> int | None:
    """Syllables of a word: 0 for a preposition such as Russian `в`; None in a language that has no rule here."""
    base = language.split("-")[0]
    count = _rule(base)
    if count is None:
        return None
    plain = word.lower().replace("’", "'").replace("ʼ", "'")
    number = sum(count(part) for part in re.split("[-\u2010\u2011]", plain) if part)
    # An abbreviation without a vowel is still said; only Slavic prepositions have no syllable of their own.
    return number if base in ("ru", "uk", "pl") else max(1, number)


@lru_cache(maxsize=64)
def _rule(base: str) -> Callable[[str], int] | None:
    if base == "en":
        from generator.words.reading import english

        return english.syllables
    from generator.words.reading import vowels

    found = {
        "es": vowels.spanish, "it": vowels.italian, "pt": vowels.portuguese, "fr": vowels.french, "ht": vowels.haitian,
        "de": vowels.german, "nl": vowels.dutch, "pl": vowels.polish, "ru": vowels.russian, "uk": vowels.ukrainian,
    }.get(base)  # fmt: skip
    if found is None:
        return None
    # `l'eau`, `aujourd'hui`, `dell'acqua`: what stands before the apostrophe has its own vowels, or none.
    return lambda word: sum(found(part) for part in word.split("'") if part)
