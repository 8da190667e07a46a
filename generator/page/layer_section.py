"""Cut through a bandaged limb, to scale.

Takes  the bare limb's radius and the layers' thicknesses, innermost first, and their names as words.
Gives  a Picture of a quarter or half section with one numbered label a layer, and a measure bar.
Knows  scale and rings; where labels go: `page/leaders.py`. Nothing of how a thickness was reckoned.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import Literal

from generator.page.leaders import Caption, Column, column
from generator.page.lettering import ASCENT, DESCENT, LEADING, TooNarrow, mirrored, shifted
from generator.page.paths import Label, Measure, Operation, Path, Picture
from generator.page.shapes import Segments, arc, line

_PEN = 0.9  # points
_TOP = 1.5  # points free above the cut face
_LEAST = 2.0  # points; a layer drawn thinner than this would close up between its two outlines
_TALLEST = 190.0  # points of radius, unless the caller allows more
_FILLS = ("cream", "leaf-soft", "white", "hairline")


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """One layer: what it is called, how thick it lies and in how many passes.

    number: as in the fetch list ("3"). words: "padding". detail: a second line ("3 passes, 1.2 cm"), or
    empty.
    thickness_cm: all passes together, above 0. passes: 1 or more; a dashed line is drawn between two.
    fill: its colour by name, or empty for the house's alternation.
    """

    number: str
    words: str
    thickness_cm: float
    passes: int = 1
    detail: str = ""
    fill: str = ""

    def __post_init__(self) -> None:
        if not self.thickness_cm > 0 or self.passes < 1:
            raise ValueError(f"layer {self.number}: a layer has a thickness and at least one pass")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerSection:
    """limb_words: inside the limb ("limb"). rings: innermost first, 1 or more. bar_*: a measure bar.

    thin_words: said at a layer that had to be drawn thicker than scale ("thinner than drawn"). tallest:
    most radius of the drawing in points. from_right: for right-to-left scripts.
    """

    limb_radius_cm: float
    rings: tuple[Ring, ...]
    limb_words: str
    thin_words: str
    bar_words: str
    alternative: str
    bar_cm: float = 1.0
    shape: Literal["quarter", "half"] = "quarter"
    size: float = 12.0
    tallest: float = _TALLEST
    language: str | None = None
    from_right: bool = False

    def __post_init__(self) -> None:
        if not self.rings or not self.limb_radius_cm > 0 or not self.bar_cm > 0:
            raise ValueError("a section has a limb, at least one layer and a measure bar")


@dataclass(frozen=True, slots=True)
class Scale:
    """points_per_cm; the outer radius of limb and each layer in points, in order; which layers are thin."""

    points_per_cm: float
    radii: tuple[float, ...]
    thin: frozenset[int]


def section_scale(spec: LayerSection, outer: float) -> Scale:
    """One scale for limb and layers, such that the outermost edge lies `outer` points from the centre.

    Only a layer that would be under 2 points is drawn thicker than scale, and is counted in `thin`.

    Raises:
        ValueError: not even thin layers leave room for the limb.
    """
    thin: frozenset[int] = frozenset()
    while True:
        true = spec.limb_radius_cm + sum(r.thickness_cm for i, r in enumerate(spec.rings) if i not in thin)
        scale = (outer - _LEAST * len(thin)) / true
        if scale <= 0:
            raise ValueError(f"{len(spec.rings)} layers do not fit into {outer:.0f} points")
        # Thickening a layer shrinks the scale, which may make another one thin: until none is added.
        found = frozenset(i for i, r in enumerate(spec.rings) if i in thin or r.thickness_cm * scale < _LEAST)
        if found == thin:
            break
        thin = found
    radii = [spec.limb_radius_cm * scale]
    for index, ring in enumerate(spec.rings):
        radii.append(radii[-1] + (_LEAST if index in thin else ring.thickness_cm * scale))
    return Scale(scale, tuple(radii), thin)


def draw_layer_section(spec: LayerSection, width: float, measure: Measure) -> Picture:
    """The section at the left with its cut face upwards, its labels at the right in order, innermost first.

    Raises:
        TooNarrow: a word of a label is wider than the room beside a section of half the usual size.
    """
    share = 0.44 if spec.shape == "quarter" else 0.58
    widest = min(width * share, spec.tallest * (1 if spec.shape == "quarter" else 2))
    for part in (1.0, 0.9, 0.8, 0.7, 0.6, 0.5):
        outer = widest * part / (1 if spec.shape == "quarter" else 2)
        try:
            picture = _drawn(spec, outer, width, measure)
        except TooNarrow:
            if part == 0.5:
                raise
            continue
        return mirrored(picture) if spec.from_right else picture
    raise AssertionError("unreachable: the last try returns or raises")


def _drawn(spec: LayerSection, outer: float, width: float, measure: Measure) -> Picture:
    scale = section_scale(spec, outer)
    centre = _PEN + (0.0 if spec.shape == "quarter" else outer)
    start = centre + outer + spec.size * 2.2
    limb = _limb_label(spec, scale.radii[0], centre, measure)
    captions = [] if limb else [Caption("", spec.limb_words, (), scale.radii[0] * 0.55)]
    for index, ring in enumerate(spec.rings):
        inner, edge = scale.radii[index : index + 2]
        notes = [ring.detail] if ring.detail else []
        if index in scale.thin:
            notes.append(spec.thin_words)
        # The dot lies in the outermost pass, so that it never falls on the dashes between two.
        captions.append(Caption(ring.number, ring.words, tuple(notes), edge - (edge - inner) / ring.passes / 2))
    names = column(Column(start, width - start, centre, outer, spec.size, spec.language), captions, measure)
    wide, room, bar = _bar(spec, scale.points_per_cm, width, measure)
    # The bar lies close beneath the section unless it would reach under the labels.
    top = outer + _PEN if wide <= centre + outer else max(outer + _PEN, names.depth)
    depth = max(names.depth, top + room)
    operations = [*_section(spec, scale, centre), *names.operations, *([limb] if limb else [])]
    operations += [shifted(operation, 0, -top - room) for operation in bar]
    height = depth + _TOP
    placed = tuple(shifted(operation, 0, depth) for operation in operations)
    return Picture(width, height, placed, spec.alternative)


def _section(spec: LayerSection, scale: Scale, centre: float) -> list[Operation]:
    """Rings hung from y = 0, outermost painted first."""
    made: list[Operation] = []
    last = len(spec.rings) - 1
    for index in range(last, -1, -1):
        ring, inner, edge = spec.rings[index], scale.radii[index], scale.radii[index + 1]
        fill = ring.fill or ("leaf" if index == last else _FILLS[index % len(_FILLS)])
        made.append(Path(_sector(spec.shape, centre, edge), fill, "ink", _PEN))
        for between in range(1, ring.passes):
            radius = inner + (edge - inner) * between / ring.passes
            turn = arc(centre, 0, radius, 180 if spec.shape == "half" else 270, 360)
            made.append(Path(turn, stroke="white" if fill == "leaf" else "slate", width=0.7, dash=(3.0, 2.4)))
    made.append(Path(_sector(spec.shape, centre, scale.radii[0]), "sand", "ink", _PEN))
    return made


def _sector(shape: Literal["quarter", "half"], centre: float, radius: float) -> Segments:
    if shape == "half":
        return (*arc(centre, 0, radius, 180, 360), ("Z",))
    return (("M", centre, 0.0), ("L", centre, -radius), *arc(centre, 0, radius, 270, 360)[1:], ("Z",))


def _limb_label(spec: LayerSection, radius: float, centre: float, measure: Measure) -> Label | None:
    """The word in the limb, or None where it does not fit."""
    size, wide = spec.size, measure(spec.limb_words, spec.size, False)
    tall = size * (ASCENT + DESCENT)
    left = -wide / 2 if spec.shape == "half" else size * 0.5
    far = max(abs(left), abs(left + wide))
    if hypot(far, tall + size * 0.4) > radius - 2:
        return None
    # As low as the circle allows, but not below its middle.
    deepest = (radius * radius - far * far) ** 0.5 - 2
    drop = min((deepest - tall) / 2, radius * 0.4)
    return Label(spec.limb_words, centre + left, -drop - size * ASCENT, size, language=spec.language)


def _bar(
    spec: LayerSection, points_per_cm: float, width: float, measure: Measure
) -> tuple[float, float, tuple[Operation, ...]]:
    """A measure bar standing on y = 0, after the width and height it takes."""
    size, long = spec.size, points_per_cm * spec.bar_cm
    room = size * (LEADING + 0.7)
    y = size * (DESCENT + 0.34)
    wide = _PEN + long + size * 0.6 + measure(spec.bar_words, size, False)
    if wide > width:
        raise TooNarrow(spec.bar_words, width - long)
    ends = [line((x, y - size * 0.28), (x, y + size * 0.28)) for x in (_PEN, _PEN + long)]
    return (
        wide,
        room,
        (
            Path(line((_PEN, y), (_PEN + long, y)), stroke="ink", width=1.2),
            *(Path(end, stroke="ink", width=1.2) for end in ends),
            Label(spec.bar_words, _PEN + long + size * 0.6, size * DESCENT, size, language=spec.language),
        ),
    )
