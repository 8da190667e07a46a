"""Show what an owner keeps from happening; the strike is drawn over it by `page/pictograms.py`.

Takes  the species, for signs that show an animal.
Gives  operations on a grid of 32 by 32, y upwards, with a pen of 2.
Knows  one idea for each sign.
"""

from __future__ import annotations

from generator.page.paths import Operation, Path
from generator.page.shapes import circle, line, mapped, moved, rectangle, smooth, turned
from generator.page.signs import PEN, Species, foot, head, paw, solid, standing, stroke


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
    """A bottle with a person on its label."""
    shoulders = smooth(((10.6, 7.2), (11.2, 10.6), (16.0, 12.2), (20.8, 10.6), (21.4, 7.2)), corners=(0, 4))
    return [
        Path(rectangle(7.0, 3.6, 18.0, 19.4, 3.0), "white", "ink", PEN),
        solid(rectangle(6.0, 22.8, 20.0, 5.6, 1.6)),
        solid(shoulders),
        solid(circle(16.0, 15.8, 3.1)),
    ]


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
