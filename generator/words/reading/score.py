"""Measure a text: how easily it reads, and which of its lines are the hardest.

Takes  the lines an owner reads, in one language.
Gives  `measure`, a `Reading`; `line_figure`; `summary`, one line for a table.
Knows  that a formula cannot see sense or layout: what it finds can fail a text and never passes one alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from generator.words.reading.counting import count_line
from generator.words.reading.counts import filled_up, total
from generator.words.reading.measures import PROXY, Measure, measures_of, unit_of

# Every formula was fitted to samples of a hundred words.
ENOUGH = 100
SHOWN = 5


@dataclass(frozen=True, slots=True)
class Score:
    """What a text reached by one measure."""

    measure: Measure
    value: float

    @property
    def passed(self) -> bool:
        """Whether the target is reached, to the tenth that is printed."""
        shown, m = round(self.value, 1), self.measure
        return (m.at_least is None or shown >= m.at_least) and (m.at_most is None or shown <= m.at_most)

    def __str__(self) -> str:
        """`Flesch-Kincaid grade 3.1 (6 at most)`; a proxy says that it is one."""
        m = self.measure
        bounds = ((m.at_least, "at least"), (m.at_most, "at most"))
        target = ", ".join(f"{bound:g} {word}" for bound, word in bounds if bound is not None)
        return f"{m.name} {self.value:.1f} ({target}{f'; {PROXY}' if m.is_proxy else ''})"


@dataclass(frozen=True, slots=True)
class LineFigure:
    """One line and its own figure by the leading measure. is_short: filled up to reckon it, so the figure is a floor."""

    text: str
    value: float
    too_hard: bool = False
    is_short: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """How a text reads. scores: the leading measure's first. worst: up to five lines, the hardest first.

    unit: what `amount` and `per_sentence` are counted in: words, or what stands for them in this language.
    """

    language: str
    scores: tuple[Score, ...]
    unit: str
    amount: int
    sentences: int
    worst: tuple[LineFigure, ...]
    too_hard: tuple[LineFigure, ...]

    @property
    def name(self) -> str:
        """The leading measure's name."""
        return self.scores[0].measure.name if self.scores else measures_of(self.language)[0].name

    @property
    def is_proxy(self) -> bool:
        """Whether no published formula stands behind it."""
        return measures_of(self.language)[0].is_proxy

    @property
    def per_sentence(self) -> float:
        """Units a sentence; 0 of an empty text."""
        return self.amount / self.sentences if self.sentences else 0.0

    @property
    def is_short(self) -> bool:
        """Fewer than a hundred units: the scores waver."""
        return self.amount < ENOUGH

    @property
    def passed(self) -> bool:
        """Whether every target is reached and no line is too hard; an empty text does not pass."""
        return bool(self.scores) and all(score.passed for score in self.scores) and not self.too_hard


def measure(lines: Iterable[str], language: str) -> Reading:
    """Measure the lines of one text.

    Args:
        lines: whole lines as authored or translated, fields in braces; each is at least one sentence.
        language: BCP 47; region and script do not change the measure.
    Returns:
        A `Reading` without scores where no line holds a word.
    """
    worded = [line for line in lines if count_line(line, language).units]
    whole = total(count_line(line, language) for line in worded)
    measures = measures_of(language)
    scores = tuple(Score(one, one.of(whole)) for one in measures) if worded else ()
    figures = [line_figure(line, language) for line in dict.fromkeys(worded)]
    # Of two alike the longer one is the harder.
    hardest = sorted(figures, key=lambda f: (-measures[0].hardness(f.value), -len(f.text)))
    return Reading(
        language,
        scores,
        unit_of(language),
        whole.units,
        whole.sentences,
        tuple(hardest[:SHOWN]),
        tuple(figure for figure in hardest if figure.too_hard),
    )


@lru_cache(maxsize=4096)
def line_figure(line: str, language: str) -> LineFigure:
    """The figure of one line alone, by the leading measure of its language.

    By a formula: of the line's own counts, filled up to six words where it has fewer. By a proxy: of its longest sentence.
    Raises:
        ValueError: the line holds no word.
    """
    counts = count_line(line, language)
    if not counts.units:
        raise ValueError(f"no word to measure: {line!r}")
    leading = measures_of(language)[0]
    if leading.is_proxy:
        return LineFigure(line, float(counts.longest))
    filled = filled_up(counts)
    value = leading.of(filled)
    return LineFigure(
        line,
        value,
        too_hard=leading.line_at_most is not None and round(value, 1) > leading.line_at_most,
        is_short=filled != counts,
    )


def summary(lines: Iterable[str], language: str) -> str:
    """One line for a table: the scores with their targets, whether all are reached, how much text that was."""
    reading = measure(lines, language)
    if not reading.scores:
        return "no text"
    verdict = "passes" if reading.passed else "fails"
    number = len(reading.too_hard)
    hard = f", {number} {'line' if number == 1 else 'lines'} too hard" if number else ""
    short = f"; under {ENOUGH} {reading.unit}, so the figures waver" if reading.is_short else ""
    return (
        f"{verdict}{hard}: {', '.join(map(str, reading.scores))}; "
        f"{reading.per_sentence:.1f} {reading.unit} a sentence, {reading.amount} in all{short}"
    )
