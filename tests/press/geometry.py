"""Look at a printed page as a stranger would: where its text stands, how large it is, whether anything collides.

Takes  the bytes of a PDF.
Gives  `lines`, its stretches of text with their boxes, and `assert_sound`, which fails naming what is wrong.
Knows  pdfplumber only; nothing of the code that made the file, so any test may use it.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any

import pdfplumber

POINTS_PER_MM = 72 / 25.4
PRINTABLE_MM = 5.0  # an office printer leaves so much of each edge white, at most (common practice)
# Of a line's box: what letters of most scripts reach above and below their baseline, in sizes. Smaller than the
# font's own extents, which allow for stacked accents and overlap in any text set at a pitch of 1.3.
_ABOVE, _BELOW = 0.72, 0.18
_TOUCH = 0.6  # points by which boxes may share an edge


@dataclass(frozen=True, slots=True)
class Line:
    """A stretch of text on one baseline. Points, y up; furniture: marked as a running head or foot.

    upright: lower and upper end of a stretch that runs up or down the page; then x0 and x1 are what its letters reach.
    """

    page: int
    text: str
    x0: float
    x1: float
    baseline: float
    size: float
    furniture: bool
    upright: tuple[float, float] | None = None

    @property
    def bottom(self) -> float:
        return self.upright[0] if self.upright else self.baseline - _BELOW * self.size

    @property
    def top(self) -> float:
        return self.upright[1] if self.upright else self.baseline + _ABOVE * self.size

    def __str__(self) -> str:
        place = f"({self.x0:.0f}, {self.baseline:.0f})"
        return f"page {self.page} {place} {self.size:.1f} pt {self.text[:50]!r}"


def lines(data: bytes) -> list[Line]:
    """Every stretch of text of a file, in the order it is painted."""
    return list(_lines(data))


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page as pdfplumber sees it: its size in points, its letters, its outlines."""

    width: float
    height: float
    chars: list[dict[str, Any]]
    shapes: list[dict[str, Any]]


@lru_cache(maxsize=4)  # reading a long file takes seconds, and one test asks several times
def sheets(data: bytes) -> tuple[Sheet, ...]:
    """The pages of a file."""
    out = []
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            shapes = [shape for kind in ("curve", "rect", "line") for shape in page.objects.get(kind, ())]
            out.append(Sheet(float(page.width), float(page.height), page.chars, shapes))
    return tuple(out)


@lru_cache(maxsize=4)
def _lines(data: bytes) -> tuple[Line, ...]:
    return tuple(line for number, page in enumerate(sheets(data), 1) for line in _page_lines(number, page.chars))


def _page_lines(number: int, chars: list[dict[str, Any]]) -> Iterator[Line]:
    run: list[dict[str, Any]] = []
    for char in chars:
        # Marks over a letter have no width and a baseline of their own; they belong to the letter.
        if char["text"] in ("\u200b", "") or char["x1"] - char["x0"] < 0.05:
            continue
        if run and not _joins(run[-1], char):
            yield _line(number, run)
            run = []
        run.append(char)
    if run:
        yield _line(number, run)


def _joins(before: dict[str, Any], char: dict[str, Any]) -> bool:
    if _runs_upright(before) or _runs_upright(char):
        return (
            before["matrix"][:4] == char["matrix"][:4]
            and abs(before["matrix"][4] - char["matrix"][4]) < 0.2
            and abs(before["matrix"][5] - char["matrix"][5]) < 2 * _size(char)
        )
    return (
        abs(before["matrix"][5] - char["matrix"][5]) < 0.2
        and abs(before["size"] - char["size"]) < 0.05
        and -0.3 * char["size"] < char["x0"] - before["x1"] < 0.6 * char["size"]
        and before.get("tag") == char.get("tag")
        and before.get("mcid") == char.get("mcid")
    )


def _runs_upright(char: dict[str, Any]) -> bool:
    return bool(char["matrix"][0] == 0)


def _size(char: dict[str, Any]) -> float:
    """Of the type: pdfplumber gives the height of a letter's box, which lies on its side in a line that runs upright."""
    return float(char["width"] if _runs_upright(char) else char["size"])


def _line(number: int, run: list[dict[str, Any]]) -> Line:
    inked = [c for c in run if c["text"].strip()] or run
    words, furniture = "".join(c["text"] for c in run), run[0].get("tag") == "Artifact"
    if _runs_upright(run[0]):
        size, x = _size(run[0]), run[0]["matrix"][4]
        up = -1 if run[0]["matrix"][1] > 0 else 1  # which way the tops of its letters point
        sides = sorted((x + up * _ABOVE * size, x - up * _BELOW * size))
        ends = min(c["y0"] for c in inked), max(c["y1"] for c in inked)
        return Line(number, words, sides[0], sides[1], run[0]["matrix"][5], size, furniture, ends)
    return Line(
        number,
        words,
        min(c["x0"] for c in inked),
        max(c["x1"] for c in inked),
        run[0]["matrix"][5],
        run[0]["size"],
        furniture,
    )


def assert_sound(
    data: bytes,
    *,
    margin_mm: float = 12.0,
    binding_mm: float | None = None,
    smallest: float = 12.0,
    smallest_furniture: float = 9.0,
) -> None:
    """Fail unless all text stands inside the margins, none collides, and none is too small.

    Furniture that runs up or down the page may stand in a margin, where a printer can print.

    Args:
        margin_mm: least distance of text from each edge of the paper.
        binding_mm: for pages to be bound: least distance from the left edge of odd and the right edge of even pages.
        smallest: least size in points of text that is read; smallest_furniture: of running heads and feet.
    """
    found = lines(data)
    assert found, "the file has no text at all"
    wrong: list[str] = []
    for line in found:
        paper = sheets(data)[line.page - 1]
        width, height = paper.width, paper.height
        left = right = margin_mm
        if binding_mm is not None and line.page % 2:
            left = binding_mm
        elif binding_mm is not None:
            right = binding_mm
        lowest = margin_mm
        if line.upright and line.furniture:
            left = right = lowest = PRINTABLE_MM
        inside = (
            line.x0 >= left * POINTS_PER_MM - _TOUCH
            and line.x1 <= width - right * POINTS_PER_MM + _TOUCH
            and line.bottom >= lowest * POINTS_PER_MM - _TOUCH
            and line.top <= height - lowest * POINTS_PER_MM + _TOUCH
        )
        if line.text.strip() and not inside:
            wrong.append(f"outside the margins: {line}")
        if line.size < (smallest_furniture if line.furniture else smallest) - 0.01:
            wrong.append(f"too small: {line}")
    wrong += [f"collide: {a} | {b}" for a, b in collisions(found)]
    assert not wrong, "\n".join(wrong)


def collisions(found: list[Line]) -> list[tuple[Line, Line]]:
    """Pairs of stretches whose boxes overlap on one page."""
    out: list[tuple[Line, Line]] = []
    by_page: dict[int, list[Line]] = {}
    for line in found:
        if line.text.strip():
            by_page.setdefault(line.page, []).append(line)
    for page in by_page.values():
        page.sort(key=lambda line: line.bottom)
        for at, one in enumerate(page):
            for other in page[at + 1 :]:
                if other.bottom >= one.top - _TOUCH:
                    break
                across = min(one.x1, other.x1) - max(one.x0, other.x0)
                if across > _TOUCH and min(one.top, other.top) - other.bottom > _TOUCH:
                    out.append((one, other))
    return out


def gaps(found: list[Line]) -> list[float]:
    """Distances between neighbouring baselines down a page, points; for checks of line pitch."""
    rows = sorted({(line.page, -round(line.baseline, 1)) for line in found})
    return [b[1] - a[1] for a, b in pairwise(rows) if a[0] == b[0]]
