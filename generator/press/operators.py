"""Write numbers and outlines as a page's stream has them.

Takes  numbers in points, and outlines as `page/paths.py` has them.
Gives  `number` and `outline`, as text.
Knows  PDF's operators for outlines (ISO 32000-1, table 59); nothing of canvases.
"""

from __future__ import annotations

from functools import lru_cache

from generator.page.paths import Segment

# The operator for a step of an outline and how long the step is.
_OPERATORS = {("M", 3): "m", ("L", 3): "l", ("C", 7): "c", ("Z", 1): "h"}


class Construction(str):
    """Operators that build an outline and paint nothing: the audit of a page need not read them."""

    __slots__ = ()


@lru_cache(maxsize=1024)  # signs and marks come again from sheet to sheet
def outline(segments: tuple[Segment, ...]) -> Construction:
    """The operators of an outline, not yet stroked or filled.

    ReportLab's path object writes six decimals, in a loop over their letters, which takes longer than all the rest of
    painting a drawing; pages of drawings are half as long with three.

    Raises:
        ValueError: an unknown step.
    """
    code = ["n"]
    for segment in segments:
        operator = _OPERATORS.get((segment[0], len(segment)))
        if operator is None:
            raise ValueError(f"an outline has no step {segment!r}")
        code += [*map(number, segment[1:]), operator]
    return Construction(" ".join(code))


@lru_cache(maxsize=8192)  # the squares of a code stand on the same few coordinates
def number(value: float) -> str:
    """A number of points to the nearest thousandth, which no printer shows; no zeros that say nothing."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
