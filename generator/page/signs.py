"""Show what an owner does.

Takes  the species, for signs that show an animal.
Gives  operations on a grid of 32 by 32, y upwards, with a pen of 2.
Knows  one idea for each sign; the frame round it: `page/pictograms.py`.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Literal

from generator.page.paths import Operation, Path
from generator.page.shapes import (
    Segments,
    arc,
    circle,
    ellipse,
    line,
    mapped,
    moved,
    rectangle,
    smooth,
    turned,
)
from generator.page.silhouettes import CAT, DOG

Species = Literal["dog", "cat"]
GRID, PEN = 32.0, 2.0


def stroke(segments: Segments, width: float = PEN, colour: str = "ink") -> Path:
    """A line of the family."""
    return Path(segments, stroke=colour, width=width)


def solid(segments: Segments, colour: str = "ink") -> Path:
    """A filled shape without an edge."""
    return Path(segments, fill=colour)


def boxed(segments: Segments, fill: str = "white", width: float = PEN) -> Path:
    """A filled shape with an edge."""
    return Path(segments, fill, "ink", width)


def paw(x: float, y: float, size: float, colour: str = "ink") -> list[Operation]:
    """A paw print about x, y, `size` wide: one pad, four toes."""
    pad = smooth((
        (0, 0.12), (0.2, -0.02), (0.33, -0.26), (0.2, -0.44), (0, -0.38), (-0.2, -0.44), (-0.33, -0.26),
        (-0.2, -0.02),
    ))  # fmt: skip
    toes = [ellipse(-0.39, 0.1, 0.115, 0.16, 20), ellipse(-0.14, 0.34, 0.12, 0.17, 6),
            ellipse(0.14, 0.34, 0.12, 0.17, -6), ellipse(0.39, 0.1, 0.115, 0.16, -20)]  # fmt: skip
    return [solid(mapped(part, size, 0, 0, size, x, y), colour) for part in (pad, *toes)]


def standing(species: Species, x: float, y: float, width: float, turn: float = 0.0) -> list[Operation]:
    """The animal facing left, filled, its toes at x, y, turned about them."""
    animal = CAT if species == "cat" else DOG
    scale = width / animal.width
    parts = (*animal.far, *animal.near)
    return [solid(moved(turned(mapped(part, scale, 0, 0, scale, 0, 0), turn), x, y)) for part in parts]


def foot(x: float, y: float, *, colour: str = "white") -> list[Operation]:
    """A bandaged foot from the side, toes to the left, its sole on y; 12 wide, 15 high."""
    leg = smooth(
        ((3.4, 15.0), (3.2, 9.0), (2.6, 6.0), (-1.0, 4.6), (-3.0, 2.4), (-2.2, 0.2), (2.0, 0.0),
        (7.0, 0.0), (8.8, 1.4),
         (8.8, 6.0), (9.0, 10.0), (9.2, 15.0)),
        corners=(0, 11),
    )  # fmt: skip
    turns = [line((3.4, 8.6), (9.0, 11.0)), line((3.0, 5.0), (9.0, 7.2))]
    return [boxed(moved(leg, x, y), colour), *(stroke(moved(turn, x, y), 1.3) for turn in turns)]


def look_at_toes(species: Species) -> list[Operation]:
    """Two toes with nails under a lens."""
    made: list[Operation] = [
        stroke(line((20.6, 11.4), (27.4, 4.6)), PEN * 1.9),
        boxed(circle(14.0, 18.0, 10.6)),
    ]
    for side in (-1, 1):
        toe = smooth(((-2.2, 6.6), (-2.6, 2.0), (-2.2, -2.0), (0.0, -3.8), (2.2, -2.0), (2.6, 2.0), (2.2, 6.6)))
        nail = smooth(((-1.0, -2.6), (0.0, -7.2), (1.0, -2.6)), corners=(1,))
        made += [
            Path(moved(toe, 14.0 + side * 2.7, 18.6), "sand", "ink", 1.4),
            solid(moved(nail, 14.0 + side * 2.7, 18.6)),
        ]
    return made


def look_at_bandage(species: Species) -> list[Operation]:
    """The end of a bandage, and the skin beside it, under a lens."""
    turns = [line((6.2, y), (21.8, y + 2.6)) for y in (15.6, 19.6, 23.6)]
    lens = circle(14.0, 18.0, 10.6)
    return [
        stroke(line((20.6, 11.4), (27.4, 4.6)), PEN * 1.9),
        boxed(lens, "sand"),
        solid(smooth(((4.2, 14.2), (23.4, 13.6), (23.6, 21.0), (19.0, 26.8), (14.0, 28.2), (8.6, 26.6), (4.0, 21.4)), corners=(0, 1)), "white"),
        stroke(line((4.4, 13.8), (23.6, 13.8)), 1.6),
        *(stroke(turn, 1.3) for turn in turns),
        stroke(lens),
    ]  # fmt: skip


def breathing(species: Species) -> list[Operation]:
    """The ribs of the animal, and its chest going out and in."""
    ribs = [stroke(arc(x - 3.4, 12.0, 4.2, -42, 42), 1.1, "white") for x in (11.6, 14.2, 16.8)]
    return [
        *standing(species, 3.0, 2.6, 26.0),
        *ribs,
        stroke(line((14.0, 22.0), (14.0, 28.6)), 1.9, "leaf"),
        stroke(line((11.4, 26.2), (14.0, 28.8), (16.6, 26.2)), 1.9, "leaf"),
        stroke(line((11.4, 24.4), (14.0, 21.8), (16.6, 24.4)), 1.9, "leaf"),
    ]


def crate(species: Species) -> list[Operation]:
    """The animal behind bars."""
    bars = [stroke(line((x, 5.0), (x, 25.4)), 1.4) for x in (8.0, 12.0, 16.0, 20.0, 24.0)]
    return [
        boxed(rectangle(3.6, 4.2, 24.8, 22.0, 2.6)),
        *standing(species, 6.6, 6.0, 18.0),
        *bars,
        stroke(rectangle(3.6, 4.2, 24.8, 22.0, 2.6)),
        stroke(arc(16.0, 26.2, 3.0, 0, 180), 1.8),
    ]


def indoors(species: Species) -> list[Operation]:
    """The animal under a roof."""
    return [
        Path(line((5.6, 14.4), (5.6, 3.4), (26.4, 3.4), (26.4, 14.4)), "white", "ink", PEN),
        boxed(line((2.4, 15.2), (16.0, 28.8), (29.6, 15.2))),
        Path(rectangle(6.6, 9.0, 18.8, 9.0), fill="white"),
        *standing(species, 7.4, 5.0, 16.0),
    ]


def smell(species: Species) -> list[Operation]:
    """A nose in profile over a bandaged foot, with scent rising between."""
    face = smooth(
        ((9.0, 29.0), (9.6, 25.6), (12.0, 21.6), (15.4, 17.6), (14.8, 15.4), (10.6, 14.8), (9.6, 12.0),
        (10.6, 9.4)),
        closed=False, corners=(4,),
    )  # fmt: skip
    made: list[Operation] = [stroke(face), stroke(arc(11.0, 17.0, 1.7, 20, 170), 1.5)]
    for x in (19.4, 23.4, 27.4):
        made.append(stroke(smooth(((x, 13.4), (x - 1.4, 16.2), (x + 1.4, 19.6), (x, 22.6)), closed=False), 1.6))
    pad = rectangle(16.6, 4.0, 12.0, 6.6, 2.2)
    return [
        *made,
        boxed(pad),
        stroke(line((20.0, 4.6), (21.6, 10.2)), 1.3),
        stroke(line((23.8, 4.6), (25.4, 10.2)), 1.3),
    ]


def keep_dry(species: Species) -> list[Operation]:
    """An umbrella under drops (after ISO 7000-0626, in the family's own line)."""
    dome: Segments = (
        ("M", 4.0, 15.0), ("C", 5.0, 22.0, 10.0, 24.4, 16.0, 24.4), ("C", 22.0, 24.4, 27.0, 22.0, 28.0, 15.0),
        ("C", 26.4, 16.8, 21.8, 16.8, 20.0, 15.0), ("C", 18.4, 16.8, 13.6, 16.8, 12.0, 15.0),
        ("C", 10.2, 16.8, 5.6, 16.8, 4.0, 15.0), ("Z",),
    )  # fmt: skip
    handle: Segments = (("M", 16.0, 16.0), ("L", 16.0, 6.4), *arc(18.2, 6.4, 2.2, 180, 350)[1:])
    drops = [_drop(x, y) for x, y in ((8.0, 26.4), (16.0, 28.0), (24.0, 26.4))]
    return [stroke(handle), boxed(dome, "ink", 1.0), *(solid(drop) for drop in drops)]


def _drop(x: float, y: float) -> Segments:
    return smooth(((x, y + 2.4), (x + 1.3, y - 0.2), (x, y - 1.5), (x - 1.3, y - 0.2)), corners=(0,))


def bagged(x: float, y: float, scale: float = 1.0) -> list[Operation]:
    """A foot in a tied bag, its lower left corner at x, y; 15 wide, 21 high."""
    bag = smooth(
        ((6.0, 15.6), (4.4, 11.0), (1.2, 6.6), (0.0, 3.0), (1.6, 0.4), (8.6, 0.0), (14.6, 0.4), (15.6, 5.0),
         (14.4, 11.0), (12.6, 15.6), (16.0, 20.6), (12.6, 19.4), (9.4, 21.0), (6.4, 19.4), (3.0, 20.6)),
        corners=(0, 9, 10, 12, 14),
    )  # fmt: skip
    shown = [Path(mapped(p.segments, 0.82, 0, 0, 0.82, 4.2, 2.4), p.fill, p.stroke, p.width * 0.6) for p in foot(0, 0) if isinstance(p, Path)]  # fmt: skip
    tie = stroke(line((5.6, 15.6), (13.0, 15.6)), PEN * 1.2)
    made = [boxed(bag), *shown, tie]
    return [Path(mapped(p.segments, scale, 0, 0, scale, x, y), p.fill, p.stroke, p.width * scale) for p in made]


def cover_outdoors(species: Species) -> list[Operation]:
    """A foot in a tied bag, out in the rain."""
    drops = [_drop(x, y) for x, y in ((23.6, 26.4), (27.4, 22.4), (23.8, 18.8), (27.4, 14.8), (24.4, 11.0))]
    return [*bagged(3.0, 3.6, 1.12), *(solid(moved(mapped(drop, 1.25, 0, 0, 1.25, 0, 0), -6.2, -5.2), "leaf") for drop in drops)]  # fmt: skip


def head(species: Species, x: float, y: float, scale: float) -> list[Operation]:
    """The animal's head from its left, nose at x, y."""
    if species == "cat":
        skull = smooth(
            ((0, 0), (1.0, 2.4), (3.6, 5.4), (6.4, 7.0), (7.4, 11.6), (11.0, 8.8), (13.2, 4.4),
            (13.6, -1.0), (11.4, -5.2),
             (7.0, -5.4), (2.6, -4.2), (0.8, -2.4)),
            corners=(3, 4, 5),
        )  # fmt: skip
        extra: list[Operation] = []
    else:
        skull = smooth((
            (0, 0), (1.4, 1.8), (5.2, 2.6), (7.4, 5.0), (11.0, 6.2), (14.0, 4.4), (15.0, -1.0),
            (13.0, -5.4), (8.4, -5.0),
            (4.0, -4.2), (0.6, -3.4),
        ))  # fmt: skip
        ear = smooth(((10.2, 5.2), (9.4, 0.6), (10.4, -4.4), (13.0, -3.6), (14.0, 1.0), (13.0, 4.4)))
        extra = [boxed(mapped(ear, scale, 0, 0, scale, x, y), "sand", 1.3)]
    eye = (4.6, 2.2) if species == "cat" else (6.6, 1.4)
    return [
        boxed(mapped(skull, scale, 0, 0, scale, x, y), "sand", 1.6),
        *extra,
        solid(circle(x + eye[0] * scale, y + eye[1] * scale, 1.0)),
        solid(ellipse(x + 0.5 * scale, y, 1.4, 1.2)),
    ]


def cone(species: Species) -> list[Operation]:
    """A head in a cone that reaches past the nose."""
    sides = line((4.4, 28.0), (22.8, 20.6), (22.8, 9.4), (4.4, 3.4), closed=True)
    rim = ellipse(4.4, 15.7, 2.2, 12.3)
    body = smooth(
        ((20.0, 20.0), (24.4, 20.6), (28.2, 18.0), (29.4, 12.0), (29.6, 3.0), (24.6, 3.0), (22.0, 9.4)),
        corners=(4, 5),
    )
    return [
        boxed(body, "sand", 1.6),
        boxed(sides, "white"),
        *head(species, 8.6, 15.0, 0.86),
        stroke(sides, PEN),
        stroke(rim, 1.4),
    ]


def short_lead(species: Species) -> list[Operation]:
    """The animal on a lead that runs short and straight to a hand."""
    hand = arc(25.6, 25.8, 2.4, 0, 360)
    return [
        *standing(species, 3.4, 4.6, 23.0),
        stroke(line((9.2, 17.4), (23.6, 24.6)), 1.8, "leaf"),
        stroke(hand, 1.9, "leaf"),
    ]


def medicine(species: Species) -> list[Operation]:
    """A bottle of tablets whose label is ticked: as it was given."""
    return [
        boxed(rectangle(8.0, 3.6, 16.0, 19.4, 3.0)),
        boxed(rectangle(7.0, 22.8, 18.0, 5.6, 1.6), "ink", 1.0),
        solid(rectangle(9.0, 7.0, 14.0, 11.6), "leaf-soft"),
        stroke(line((12.0, 12.6), (15.0, 9.6), (20.4, 16.2)), PEN * 1.2, "leaf"),
    ]


def ring(species: Species) -> list[Operation]:
    """A handset, ringing."""
    tilt = radians(45)
    ear, mouth = (10.6, 21.4), (21.4, 10.6)
    grip = smooth((ear, (9.6, 14.4), (14.4, 9.6), mouth), closed=False)
    made: list[Operation] = [Path(grip, stroke="ink", width=5.0)]
    for x, y in (ear, mouth):
        block = turned(rectangle(-4.2, -2.4, 8.4, 5.4, 1.8), -45)
        made.append(solid(moved(block, x + cos(tilt) * 0.4, y + sin(tilt) * 0.4)))
    made += [stroke(arc(19.2, 19.2, radius, 8, 82), 1.8) for radius in (4.4, 8.2)]
    return made


def go_now(species: Species) -> list[Operation]:
    """An arrow into the house of the paw."""
    return [
        boxed(line((12.0, 16.0), (12.0, 4.0), (28.0, 4.0), (28.0, 16.0))),
        boxed(line((9.6, 15.4), (20.0, 26.6), (30.2, 15.4))),
        solid(rectangle(13.0, 11.0, 14.0, 6.0), "white"),
        *paw(20.0, 12.4, 11.6),
        stroke(line((2.6, 8.4), (8.4, 8.4)), PEN * 1.3, "alarm"),
        stroke(line((5.6, 12.0), (9.2, 8.4), (5.6, 4.8)), PEN * 1.3, "alarm"),
    ]
