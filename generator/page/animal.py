"""Show which animal and which part of it is bandaged.

Takes  species, site, how far the bandage reaches, and the words beneath.
Gives  a Picture: side outline with the bandage in pattern and the toes to look at ringed.
Knows  which side a viewer sees; nothing of why the bandage is there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from generator.page.lettering import DESCENT, LEADING, wrapped
from generator.page.paths import Label, Measure, Operation, Path, Picture
from generator.page.shapes import Segments, circle, mapped
from generator.page.silhouettes import CAT, DOG, Axis, Silhouette
from generator.page.wrap import tube, turns

Species = Literal["dog", "cat"]
Site = Literal["left fore", "right fore", "left hind", "right hind", "head", "chest", "abdomen", "tail"]
Extent = Literal["foot", "distal", "whole"]

_PEN = 1.1  # points, at any size of the drawing
_TURN = 4.2  # points between turns of the bandage
_LEAST_RING = 8.0  # points; smaller, the toes in it could not be told
_RIM = 2.0  # points; half the pen of the ring and its pale edge
_MARGIN = 4.0  # grid units left free round the animal, for the ring and the thickness of the pen


@dataclass(frozen=True, slots=True, kw_only=True)
class Animal:
    """species, site: who and where. extent, of a limb: `foot`, `distal` (to below elbow or stifle), `whole`.

    toes: ring the toes to look at (limbs only). caption: words beneath ("Left back leg"), or empty. size:
    theirs, in points. tallest: most height of the animal without its caption, in points.
    """

    species: Species
    site: Site
    caption: str
    alternative: str
    extent: Extent = "distal"
    toes: bool = True
    size: float = 12.0
    tallest: float = 200.0
    language: str | None = None


def draw_animal(spec: Animal, width: float, measure: Measure) -> Picture:
    """The animal facing left if its left side or no side is meant, right for its right side.

    The bandaged limb is the one nearer to the viewer, so that side and picture cannot disagree.

    Raises:
        TooNarrow: a word of the caption is wider than `width`.
    """
    lines = wrapped(spec.caption, spec.size, width, measure, bold=True) if spec.caption else ()
    pitch = spec.size * LEADING
    foot = pitch * len(lines) + spec.size * 0.3 if lines else 0.0
    height, standing = _standing(spec.species, spec.site, spec.extent, spec.toes, width, spec.tallest, foot)
    operations: list[Operation] = [*standing]
    for index, text in enumerate(reversed(lines)):
        baseline = index * pitch + DESCENT * spec.size
        operations.append(Label(text, width / 2, baseline, spec.size, True, anchor="middle", language=spec.language))
    return Picture(width, height, tuple(operations), spec.alternative)


@lru_cache(maxsize=64)  # many sheets, few limbs; the words beneath are not in it
def _standing(
    species: Species, site: Site, extent: Extent, toes: bool, width: float, tallest: float, foot: float
) -> tuple[float, tuple[Operation, ...]]:
    """Height of the picture and the animal in it, above `foot` points of words."""
    animal = {"dog": DOG, "cat": CAT}[species]
    scale = min(
        width / (animal.width + 2 * _MARGIN),
        (tallest - _RIM) / (animal.height + 2 * _MARGIN),
        (tallest - _LEAST_RING - _RIM) / (animal.height + _MARGIN),
    )
    # The ring about the toes reaches under the ground they stand on.
    below = max(_MARGIN * scale, _LEAST_RING) + _RIM
    height = (animal.height + _MARGIN) * scale + below + foot
    # Facing right is the same grid read from the other side; the animal stands in the middle of the width.
    left = (width - animal.width * scale) / 2
    is_right = site.startswith("right")
    a, e = (-scale, width - left) if is_right else (scale, left)
    f = foot + below

    def place(segments: Segments) -> Segments:
        return mapped(segments, a, 0, 0, scale, e, f)

    operations = [*_coat(animal, place), *_bandage(_axis(animal, site, extent), scale, place)]
    if toes and " " in site:
        x, y, radius = animal.fore_toes if site.endswith("fore") else animal.hind_toes
        ring = place(circle(x, y, max(radius, _LEAST_RING / scale)))
        operations += [Path(ring, stroke="white", width=_PEN * 3), Path(ring, stroke="ink", width=_PEN * 1.4)]
    return height, tuple(operations)


def _axis(animal: Silhouette, site: Site, extent: Extent) -> Axis:
    """Where the bandage lies on the grid."""
    if " " not in site:
        return animal.trunk[site]
    limb = site.split()[1]
    stations = animal.fore if limb == "fore" else animal.hind
    return stations[: animal.reach[limb][extent]]


def _coat(animal: Silhouette, place: Callable[[Segments], Segments]) -> list[Operation]:
    """The animal without its bandage."""
    far = [Path(place(part), "cream", "slate", _PEN) for part in animal.far]
    # All outlines first, then all fills: the parts fuse into one body without lines where they meet.
    edges = [Path(place(part), stroke="ink", width=2 * _PEN) for part in animal.near]
    fills = [Path(place(part), "sand") for part in animal.near]
    ears = [Path(place(part), "sand", "ink", _PEN) for part in animal.ears]
    folds = [Path(place(part), stroke="ink", width=_PEN * 0.9) for part in animal.folds]
    features = [Path(place(part), "ink") for part in animal.features]
    whiskers = [Path(place(part), stroke="ink", width=_PEN * 0.5) for part in animal.whiskers]
    return [*far, *edges, *fills, *ears, *folds, *features, *whiskers]


def _bandage(axis: Axis, scale: float, place: Callable[[Segments], Segments]) -> list[Operation]:
    """A dark tube with light turns: dark, striped and outlined, so that it shows without colour."""
    outline, one, other = tube(axis)
    lines = turns(one, other, _TURN / scale)
    return [
        Path(place(outline), "leaf", "ink", _PEN),
        *(Path(place(turn), stroke="white", width=_PEN) for turn in lines),
        Path(place(outline), stroke="ink", width=_PEN),
    ]
