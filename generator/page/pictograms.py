"""Draw the owner's acts as one family of signs.

Takes  the name of a sign and its size in points.
Gives  a square Picture without words: on a pale ground, struck through where it is forbidden.
Knows  the frame of the family; what each sign shows: `page/signs.py`, `page/forbidden.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Literal, get_args

from generator.page import forbidden, signs
from generator.page.paths import Operation, Path, Picture
from generator.page.shapes import line, mapped, rectangle
from generator.page.signs import GRID, PEN, Species

Pictogram = Literal[
    "look-at-toes", "look-at-bandage", "smell", "breathing", "keep-dry", "cover-outdoors", "cone", "crate",
    "short-lead", "indoors", "medicine", "ring", "go-now",
    "no-stairs", "no-jumping", "no-chewing", "no-cutting", "no-human-medicine",
    "no-cover-indoors", "no-rubber-bands",
]  # fmt: skip
PICTOGRAMS: tuple[Pictogram, ...] = get_args(Pictogram)

_SHOWS: Mapping[Pictogram, Callable[[Species], list[Operation]]] = MappingProxyType(
    {
        "look-at-toes": signs.look_at_toes,
        "look-at-bandage": signs.look_at_bandage,
        "smell": signs.smell,
        "breathing": signs.breathing,
        "keep-dry": signs.keep_dry,
        "cover-outdoors": signs.cover_outdoors,
        "cone": signs.cone,
        "crate": signs.crate,
        "short-lead": signs.short_lead,
        "indoors": signs.indoors,
        "medicine": signs.medicine,
        "ring": signs.ring,
        "go-now": signs.go_now,
        "no-stairs": forbidden.stairs,
        "no-jumping": forbidden.jumping,
        "no-chewing": forbidden.chewing,
        "no-cutting": forbidden.cutting,
        "no-human-medicine": forbidden.human_medicine,
        "no-cover-indoors": forbidden.cover_indoors,
        "no-rubber-bands": forbidden.rubber_bands,
    }
)


@lru_cache(maxsize=256)  # a sheet has a dozen of them at each size that is tried, and the next sheet has the same
def draw_pictogram(name: Pictogram, size: float, alternative: str = "", *, species: Species = "dog") -> Picture:
    """The sign, `size` points square; `alternative` stays empty where words stand beside it.

    Signs that show an animal show the `species` given. Line width is 2 points at 32 points' size, and grows
    with it.
    """
    is_forbidden = name.startswith("no-")
    ground = Path(rectangle(0, 0, GRID, GRID, 5), fill="alarm-pale" if is_forbidden else "leaf-pale")
    operations: list[Operation] = [ground, *_SHOWS[name](species)]
    if is_forbidden:
        # It rises to the right, across animals that climb to the left; its pale edge shows over dark parts.
        bar = line((4.0, 4.0), (28.0, 28.0))
        operations += [
            Path(bar, stroke="alarm-pale", width=PEN * 2.0),
            Path(bar, stroke="alarm", width=PEN * 1.2),
        ]
    scale = size / GRID
    return Picture(size, size, tuple(_scaled(operation, scale) for operation in operations), alternative)


def _scaled(operation: Operation, scale: float) -> Operation:
    assert isinstance(operation, Path), "a pictogram holds no words"
    segments = mapped(operation.segments, scale, 0, 0, scale, 0, 0)
    dash = tuple(length * scale for length in operation.dash)
    return Path(segments, operation.fill, operation.stroke, operation.width * scale, dash)
