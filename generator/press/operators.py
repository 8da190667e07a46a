"""Write numbers and outlines as a page's stream has them.

Takes  numbers in points, and outlines as `page/paths.py` has them.
Gives  `number` and `outline`, the same text that ReportLab would write, sooner.
Knows  PDF's operators for outlines (ISO 32000-1, table 59); nothing of canvases.
"""

from __future__ import annotations

from functools import lru_cache

from reportlab.lib.rl_accel import fp_str

from generator.page.paths import Segment

# The operator for a step of an outline and how long the step is.
_OPERATORS = {("M", 3): "m", ("L", 3): "l", ("C", 7): "c", ("Z", 1): "h"}


@lru_cache(maxsize=1024)  # signs and marks come again from sheet to sheet
def outline(segments: tuple[Segment, ...]) -> str:
    """The operators of an outline, not yet stroked or filled.

    ReportLab's path object writes numbers in a loop over their letters, which takes longer than all the rest of painting a
    drawing; the numbers here are the same.

    Raises:
        ValueError: an unknown step.
    """
    code = ["n"]
    for segment in segments:
        operator = _OPERATORS.get((segment[0], len(segment)))
        if operator is None:
            raise ValueError(f"an outline has no step {segment!r}")
        code += [*map(number, segment[1:]), operator]
    return " ".join(code)


@lru_cache(maxsize=8192)  # the squares of a code stand on the same few coordinates
def number(value: float) -> str:
    """A number as ReportLab writes it: six significant decimals or less, no zeros that say nothing."""
    size = abs(value)
    if size <= 1e-7:
        return "0"
    text = f"{value:.6f}" if size < 10 else f"{value:.5f}" if size < 100 else f"{value:.4f}" if size < 1000 else ""
    if not text:
        return str(fp_str(value))
    text = text.rstrip("0").rstrip(".")
    return text[1:] if text.startswith("0.") else text
