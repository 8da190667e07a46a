"""Set labels in a column beside rings, with leaders that never cross.

Takes  captions in order from the centre outwards, each with the radius its dot lies on.
Gives  labels one under another, dots on the rings and lines between, hung from y = 0.
Knows  rings about a point on the upper edge; nothing of layers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.page.lettering import ASCENT, DESCENT, LEADING, wrapped
from generator.page.paths import Label, Measure, Operation, Path
from generator.page.shapes import Point, circle, line

# A dot lies at most this part of its radius below the centre: lower, the leader would graze its own ring.
_LOWEST = 0.86
_APART = 5.5  # points of height between two dots, where there is room
_HIGHEST = 2.0  # points below the cut face, so that a dot does not hang over it


@dataclass(frozen=True, slots=True)
class Caption:
    """number and words in bold, notes beneath, and the radius in points on which the dot lies."""

    number: str
    words: str
    notes: tuple[str, ...]
    radius: float


@dataclass(frozen=True, slots=True)
class Column:
    """Where the column stands: left edge, width, the rings' centre and outer radius; the type in it."""

    left: float
    width: float
    centre: float
    outer: float
    size: float
    language: str | None


@dataclass(frozen=True, slots=True)
class Placed:
    """depth: points from y = 0 to the lowest label. operations: leaders, dots, labels."""

    depth: float
    operations: tuple[Operation, ...]


def column(place: Column, captions: Sequence[Caption], measure: Measure) -> Placed:
    """Labels and leaders.

    Dots and labels go down in the same order as radii grow. A leader is level where its label stands no
    lower than its ring reaches; else it runs level, straight down in a channel of its own and level again.
    Lower leaders turn down further left, so none crosses another.

    Raises:
        TooNarrow: a word does not fit the column.
    """
    size, pitch = place.size, place.size * LEADING
    hang = max((measure(c.number, size, True) for c in captions), default=0.0)
    hang += size * 0.6 if hang else 0.0
    room = place.width - hang
    blocks: list[list[tuple[str, bool]]] = []
    for caption in captions:
        block = [(text, True) for text in wrapped(caption.words, size, room, measure, bold=True)]
        block += [(text, False) for note in caption.notes for text in wrapped(note, size, room, measure)]
        blocks.append(block)
    tall = sum(len(block) for block in blocks) * pitch
    # Labels spread over the height of the section if there is room, else they stand close.
    gap = max(size * 0.45, min(size * 1.2, (place.outer - tall) / max(len(blocks), 1)))
    levels: list[float] = []
    labels: list[Operation] = []
    y = 0.0
    for caption, block in zip(captions, blocks, strict=True):
        levels.append(pitch / 2 - y)
        baseline = y - pitch / 2 - size * (ASCENT - DESCENT) / 2
        if caption.number:
            labels.append(Label(caption.number, place.left, baseline, size, True, "leaf", language=place.language))
        for index, (text, is_bold) in enumerate(block):
            labels.append(
                Label(text, place.left + hang, baseline - index * pitch, size, is_bold,
                      "ink" if is_bold else "slate", language=place.language)
            )  # fmt: skip
        y -= len(block) * pitch + gap
    dots = anchors([caption.radius for caption in captions], levels, place.centre)
    return Placed(-y - gap, (*_leaders(place, dots, levels), *_dots(dots), *labels))


def anchors(radii: Sequence[float], levels: Sequence[float], centre: float) -> tuple[Point, ...]:
    """Where each dot lies on its ring: x, and y below 0; each lower than the one before.

    Args:
        radii: growing. levels: depth of each label below 0, growing.
    """
    apart = _APART
    depths = _depths(radii, levels, apart)
    # Many labels beside small rings: the dots move together until the first one lies below the cut face.
    while depths and depths[0] < min(_HIGHEST, _LOWEST * radii[0] / 2):
        apart *= 0.85
        depths = _depths(radii, levels, apart)
    return tuple(
        (centre + (radius * radius - depth * depth) ** 0.5, -depth) for radius, depth in zip(radii, depths, strict=True)
    )


def _depths(radii: Sequence[float], levels: Sequence[float], apart: float) -> list[float]:
    """As low as label and ring allow, each `apart` above the next."""
    depths: list[float] = []
    below = float("inf")
    for radius, level in zip(reversed(radii), reversed(levels), strict=True):
        below = min(level, _LOWEST * radius, below - apart)
        depths.insert(0, below)
    return depths


def _leaders(place: Column, dots: Sequence[Point], levels: Sequence[float]) -> list[Operation]:
    """Lines over white ones, so that they show on dark layers too."""
    end = place.left - place.size * 0.4
    bent = [index for index, (_, y) in enumerate(dots) if levels[index] + y > 0.01]
    first = place.centre + place.outer
    made: list[Operation] = []
    for index, ((x, y), level) in enumerate(zip(dots, levels, strict=True)):
        points = [(x, y)]
        if index in bent:
            turn = first + (end - first) * (len(bent) - bent.index(index)) / (len(bent) + 1)
            points += [(turn, y), (turn, -level)]
        path = line(*points, (end, -level))
        made += [Path(path, stroke="white", width=2.4), Path(path, stroke="ink", width=0.8)]
    return made


def _dots(dots: Sequence[Point]) -> list[Operation]:
    made: list[Operation] = []
    for x, y in dots:
        made += [Path(circle(x, y, 2.7), fill="white"), Path(circle(x, y, 1.8), fill="ink")]
    return made
