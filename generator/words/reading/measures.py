"""Which measure a language is judged by, and what it has to reach.

Takes  the tag of a language.
Gives  `measures_of`: one or more `Measure`s, the leading one first.
Knows  where a published formula ends and a proxy begins. A proxy counts what is known to make reading hard; nobody has tried
       it on readers, and wherever it is printed it says so. Any measure can fail a text; none can pass one alone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from generator.words.reading import formulas
from generator.words.reading.counts import Counts

PROXY = "proxy, not a validated score"


@dataclass(frozen=True, slots=True)
class Measure:
    """A figure that a text must reach. of: reckons it from the text's counts. at_least, at_most: the target, or no bound.

    basis: where the target is from. line_at_most: what no single line may exceed.
    """

    name: str
    of: Callable[[Counts], float]
    at_least: float | None
    at_most: float | None
    basis: str
    is_proxy: bool = False
    line_at_most: float | None = None

    def hardness(self, value: float) -> float:
        """The figure turned so that more is harder to read; for putting lines in order, never for print."""
        return -value if self.at_most is None else value


def measures_of(language: str) -> tuple[Measure, ...]:
    """The measures of a language, 1 or more, the leading one first; where no formula is known, proxies."""
    return _MEASURES.get(language.split("-")[0], _OTHERS)


def unit_of(language: str) -> str:
    """What the length of a sentence is told in."""
    return _UNITS.get(language.split("-")[0], "words")


def _mean(c: Counts) -> float:
    return c.units / c.sentences


def _longest(c: Counts) -> float:
    return float(c.longest)


def _long_words(c: Counts) -> float:
    return formulas.share(c.over_seven, c.words)


def _kanji(c: Counts) -> float:
    return formulas.share(c.han, c.han + c.kana) if c.han + c.kana else 0.0


_HOUSE = "house rule"
_UNITS = {
    "vi": "syllables", "ko": "eojeol", "zh": "characters", "yue": "characters", "ja": "characters", "th": "letters", "lo": "letters", "km": "letters", "my": "letters",
}  # fmt: skip


def _lengths(unit: str, mean: int, longest: int) -> tuple[Measure, Measure]:
    return (
        Measure(f"{unit} a sentence", _mean, None, mean, _HOUSE, is_proxy=True),
        Measure(f"{unit} of the longest sentence", _longest, None, longest, _HOUSE, is_proxy=True),
    )


# Arabic, Persian, Urdu, Hindi, Somali, Filipino, Haitian Creole and whatever else has no formula with a target of its own.
_OTHERS = (
    *_lengths("words", 10, 16),
    Measure("% of words over seven letters", _long_words, None, 15, _HOUSE, is_proxy=True),
)
# Ten words of some four letters each (from memory): without a dictionary nobody can tell where a word ends.
_UNPARTED = _lengths("letters", 40, 64)

_MEASURES: dict[str, tuple[Measure, ...]] = {
    "en": (
        # AMA and NIH: grade 4 to 6; the Joint Commission: 5 or below. No line above 8: house rule.
        Measure("Flesch-Kincaid grade", formulas.flesch_kincaid, None, 6, "AMA and NIH", line_at_most=8),
        Measure("Flesch ease", formulas.flesch_ease, 80, None, "Flesch 1948: easy from 80"),
    ),
    "es": (
        Measure("Szigriszt-Pazos (INFLESZ)", formulas.szigriszt_pazos, 65, None, "INFLESZ scale: fairly easy from 65"),
        Measure("Fernández Huerta", formulas.fernandez_huerta, 80, None, "80 to 90: fifth grade"),
    ),
    # French, Dutch and Russian borrow the scale of Flesch.
    "fr": (Measure("Kandel-Moles", formulas.kandel_moles, 80, None, _HOUSE),),
    "nl": (Measure("Flesch-Douma", formulas.flesch_douma, 80, None, _HOUSE),),
    "ru": (Measure("Oborneva", formulas.oborneva, 70, None, _HOUSE),),
    "de": (
        Measure("Amstad", formulas.amstad, 70, None, _HOUSE),
        Measure("Wiener Sachtextformel 1", partial(formulas.wiener, variant=1), None, 5, _HOUSE),
    ),
    # Below 80 a text is hard for readers with primary schooling (Lucisano and Piemontese 1988).
    "it": (Measure("Gulpease", formulas.gulpease, 80, None, "Lucisano and Piemontese 1988"),),
    "pt": (Measure("Martins", formulas.martins, 75, None, "75 to 100: first school years"),),
    "pl": (
        Measure("Pisarek", formulas.pisarek, None, 6, _HOUSE),
        Measure("Fog, four syllables", formulas.polish_fog, None, 6, _HOUSE),
    ),
    "vi": _lengths("syllables", 12, 20),
    "ko": _lengths("eojeol", 8, 14),
    "zh": _lengths("characters", 18, 30),
    "yue": _lengths("characters", 18, 30),
    "ja": (
        *_lengths("characters", 25, 40),
        # Children's and plain prose, as a public style guide puts it (common practice).
        Measure("% of kanji", _kanji, 20, 30, "common practice", is_proxy=True),
    ),
    **dict.fromkeys(("th", "lo", "km", "my"), _UNPARTED),
}
