"""Paint a QR code that was encoded elsewhere.

Takes  its modules as rows of booleans and the size of a module in points.
Gives  a Picture with the quiet zone, on a white ground of its own.
Knows  ISO/IEC 18004's quiet zone of four modules; nothing of what is encoded.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from generator.page.lettering import TooNarrow
from generator.page.paths import Measure, Path, Picture, Segment
from generator.page.shapes import rectangle

QUIET = 4  # modules on every side: ISO/IEC 18004, quiet zone
SMALLEST_MODULE = 72 / 25.4 * 0.4  # 0.4 mm in points: house rule, so that a worn print still reads


@dataclass(frozen=True, slots=True, kw_only=True)
class QrCode:
    """Modules top row first, True is dark; `module` in points; `alternative` says what the code does."""

    modules: tuple[tuple[bool, ...], ...]
    alternative: str
    module: float = 1.2

    def __post_init__(self) -> None:
        if not self.modules or any(len(row) != len(self.modules) for row in self.modules):
            raise ValueError("a QR code is a square of modules")
        if self.module < SMALLEST_MODULE:
            raise ValueError(f"a module of {self.module} pt is under 0.4 mm: a worn print would not read")

    @property
    def side(self) -> float:
        """Points from edge to edge, quiet zone included."""
        return (len(self.modules) + 2 * QUIET) * self.module


def draw_qr(spec: QrCode, width: float, measure: Measure) -> Picture:
    """The code at its own size, whatever the width offered.

    Raises:
        TooNarrow: the code with its quiet zone is wider than `width`; shrinking it would make it unreadable.
    """
    if spec.side > width + 1e-6:
        raise TooNarrow(spec.alternative, width)
    # All modules are ONE outline: painted apart, neighbours would show white hairlines between them.
    segments: list[Segment] = []
    for row, first, last, depth in _blocks(spec.modules):
        x = (first + QUIET) * spec.module
        y = spec.side - (row + depth + QUIET) * spec.module
        segments.extend(rectangle(x, y, (last - first) * spec.module, depth * spec.module))
    ground = Path(rectangle(0, 0, spec.side, spec.side), fill="white")
    return Picture(spec.side, spec.side, (ground, Path(tuple(segments), fill="black")), spec.alternative)


@lru_cache(maxsize=16)  # a sheet tried at several sizes has the same code at each
def _blocks(modules: tuple[tuple[bool, ...], ...]) -> tuple[tuple[int, int, int, int], ...]:
    """Dark runs as (first row, first column, column after, rows deep); equal runs in rows below join them."""
    done: list[tuple[int, int, int, int]] = []
    open_: dict[tuple[int, int], int] = {}
    for row in range(len(modules) + 1):
        runs = _runs(modules[row]) if row < len(modules) else set()
        for run in [run for run in open_ if run not in runs]:
            start = open_.pop(run)
            done.append((start, *run, row - start))
        for run in runs:
            open_.setdefault(run, row)
    return tuple(sorted(done))


def _runs(row: tuple[bool, ...]) -> set[tuple[int, int]]:
    edges = [i for i in range(len(row) + 1) if (i > 0 and row[i - 1]) != (i < len(row) and row[i])]
    return set(zip(edges[::2], edges[1::2], strict=True))
