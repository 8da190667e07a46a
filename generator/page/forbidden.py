"""Show what an owner keeps from happening; the strike is drawn over it by `page/pictograms.py`.

Takes  the species, for signs that show an animal.
Gives  operations on a grid of 32 by 32, y upwards, with a pen of 2.
Knows  one idea for each sign.
"""

from __future__ import annotations

from generator.page.paths import Operation, Path
from generator.page.shapes import circle, ellipse, line, mapped, moved, rectangle, smooth, turned
from generator.page.signs import PEN, Species, bagged, foot, head, paw, solid, standing, stroke


def stairs(species: Species) -> list[Operation]:
    """A flight of stairs, a paw above it."""
    flight = line(
        (3.0, 3.6), (3.0, 25.4), (9.4, 25.4), (9.4, 20.0), (15.8, 20.0), (15.8, 14.6), (22.2, 14.6), (22.2, 9.2), (28.6, 9.2), (28.6, 3.6),
        closed=True,
    )  # fmt: skip
    return [Path(flight, "ink"), *paw(22.4, 22.8, 9.6)]


def jumping(species: Species) -> list[Operation]:
    """The animal in the air over a bar."""
    return [
        *standing(species, 5.2, 15.4, 20.0, 0),
        stroke(line((3.6, 3.6), (28.4, 3.6))),
        *(stroke(line((x, 3.6), (x, 10.6)), 1.6) for x in (11.0, 21.0)),
        stroke(line((8.6, 10.6), (23.4, 10.6)), 1.8),
    ]


def chewing(species: Species) -> list[Operation]:
    """Teeth at a bandaged foot."""
    return [
        *(
            Path(mapped(p.segments, 1.05, 0, 0, 1.62, 5.4, 4.2), p.fill, p.stroke, p.width * 0.95)
            for p in foot(0, 0)
            if isinstance(p, Path)
        ),
        stroke(line((9.2, 24.4), (14.2, 28.0)), 1.3),
        *head(species, 13.4, 21.8, 0.98 if species == "dog" else 0.78),
    ]


def human_medicine(species: Species) -> list[Operation]:
    """A person, and a tablet: the strike runs between the two."""
    shoulders = smooth(((2.6, 14.2), (3.4, 18.0), (9.0, 19.6), (14.6, 18.0), (15.4, 14.2)), corners=(0, 4))
    capsule = turned(rectangle(-6.2, -3.0, 12.4, 6.0, 3.0), 45)
    half = turned(line((0.0, -3.0), (0.0, 3.0)), 45)
    return [
        solid(circle(9.0, 24.2, 4.2)),
        solid(shoulders),
        Path(moved(capsule, 22.6, 9.4), "white", "ink", PEN),
        stroke(moved(half, 22.6, 9.4), PEN),
    ]


def cover_indoors(species: Species) -> list[Operation]:
    """A foot still in its bag, under a roof."""
    return [
        Path(line((5.0, 14.0), (5.0, 3.4), (27.0, 3.4), (27.0, 14.0)), "white", "ink", PEN),
        Path(line((2.2, 14.8), (16.0, 28.8), (29.8, 14.8)), "white", "ink", PEN),
        Path(rectangle(6.0, 8.0, 20.0, 9.0), fill="white"),
        *bagged(9.6, 5.2, 0.76),
    ]


def rubber_bands(species: Species) -> list[Operation]:
    """A band pulled tight round a foot."""
    bare = [Path(mapped(p.segments, 1.55, 0, 0, 1.55, 10.6, 4.2), p.fill, p.stroke, p.width) for p in foot(0, 0)[:1] if isinstance(p, Path)]  # fmt: skip
    return [*bare, stroke(ellipse(20.2, 18.4, 7.0, 2.6), PEN * 1.5), stroke(line((26.6, 18.4), (29.4, 21.0), (29.4, 16.0), closed=True), PEN)]  # fmt: skip


def cutting(species: Species) -> list[Operation]:
    """Scissors, open."""
    made: list[Operation] = []
    for side in (-1, 1):
        blade = smooth(((-1.1, 0.0), (-1.3, 8.0), (0.6, 16.0), (1.3, 8.0), (1.1, 0.0)), corners=(0, 2, 4))
        shank = line((0.0, 0.0), (0.0, -5.6))
        placed = [turned(mapped(part, side, 0, 0, 1, 0, 0), side * -17) for part in (blade, shank)]
        made += [solid(moved(placed[0], 16.0, 13.4)), stroke(moved(placed[1], 16.0, 13.4), PEN * 1.1)]
        made.append(stroke(circle(16.0 - side * 4.0, 6.4, 2.9)))
    return [*made, solid(circle(16.0, 13.4, 1.7)), solid(circle(16.0, 13.4, 0.6), "white")]
