"""How easily an owner's lines read, by counters of our own.

Takes  lines in one language.
Gives  `measure`: a `Reading` with scores, targets and the hardest lines; `line_figure`, `summary`.
Knows  English by formula, eight more languages by theirs, the rest by proxies that are called so.
"""

from generator.words.reading.score import LineFigure, Reading, Score, line_figure, measure, summary

__all__ = ["LineFigure", "Reading", "Score", "line_figure", "measure", "summary"]
