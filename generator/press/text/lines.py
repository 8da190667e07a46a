"""Break a paragraph into lines no wider than a measure.

Takes  a prepared `Paragraph` and a measure in thousandths of an em.
Gives  `Line` stretches, in order, that together hold every character.
Knows  the two ways to estimate and to shape a width; nothing of points, fonts' names or pages.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import NamedTuple

from generator.press.text import breaks
from generator.press.text.paragraph import Paragraph
from generator.press.text.script import CONTROLS

_ROUNDING = 0.01  # thousandths of an em: sums of floats, nothing to see
# How far, in thousandths of an em, a line's sum of advances may differ from the line shaped alone (kerning at
# its ends, Arabic forms): the longest candidate is looked for this much beyond the measure, then shaped and
# judged.
_SLACK = 200.0


class Line(NamedTuple):
    """Characters [start, stop) are printed, [stop, after) are the white space the line ends in.

    spaced: a space stood at the break, so one is written there for readers and copying.
    """

    start: int
    stop: int
    after: int
    spaced: bool


def break_lines(
    paragraph: Paragraph, measure: float, start: int = 0, stop: int | None = None, most: int | None = None
) -> list[Line]:
    """Fill lines one after the other, each as full as it will go.

    A word wider than the measure is broken after one of its joints (`@`, `.`, `-`), else between letters,
    rather than left to stick out; only a single letter wider than the measure is wider than the measure.

    Args:
        measure: in thousandths of an em, above 0.
        start, stop: the part of the paragraph to set; all of it by default.
        most: characters in a line, however wide the measure; one word may be longer.
    """
    stop = len(paragraph.text) if stop is None else stop
    out = []
    while start < stop:
        line = _next_line(paragraph, measure, start, stop, most)
        out.append(line)
        start = line.after
    return out


def _letters(text: str, start: int, stop: int) -> int:
    """How many characters are seen: no isolates or joiners, no space at the end."""
    return sum(character not in CONTROLS for character in text[start : _trimmed(text, start, stop)])


def _next_line(paragraph: Paragraph, measure: float, start: int, stop: int, most: int | None) -> Line:
    feed = paragraph.text.find("\n", start, stop)
    end = stop if feed < 0 else feed + 1
    first = bisect_right(paragraph.breaks, start)
    last = bisect_left(paragraph.breaks, end)
    places = [*paragraph.breaks[first:last], end]
    if most is not None and end - start > most:
        near = [place for place in places if _letters(paragraph.text, start, place) <= most]
        places = near or places[:1]
    found = _longest(paragraph, measure, start, places)
    if found is None:
        word = places[0]
        for finer in (breaks.joints, breaks.cluster_starts):
            inside = finer(paragraph.text, start, word)
            found = _longest(paragraph, measure, start, inside)
            if found is not None:
                break
        else:
            found = inside[0] if inside else word
    return _line(paragraph, start, found, stop)


def _longest(paragraph: Paragraph, measure: float, start: int, places: list[int]) -> int | None:
    """The last of these places at which the line still fits; None if even the first does not."""
    for place in reversed(places[: bisect_right(places, paragraph.reach(start, measure + _SLACK))]):
        if paragraph.width(start, _trimmed(paragraph.text, start, place)) <= measure + _ROUNDING:
            return place
    return None


def _line(paragraph: Paragraph, start: int, after: int, stop: int) -> Line:
    end = _trimmed(paragraph.text, start, after)
    whole = stop == len(paragraph.text) and after == stop
    spaced = not whole and any(character.isspace() for character in paragraph.text[end:after])
    return Line(start, end, after, spaced)


def _trimmed(text: str, start: int, stop: int) -> int:
    while stop > start and (text[stop - 1].isspace() or text[stop - 1] in CONTROLS):
        stop -= 1
    return stop
