"""C02: size bands follow one another without gap or overlap.

What it looks for: the weights of the bands of each region, in order.
Why it matters: an animal between two bands gets no estimate, one inside two gets either.
Stops: `2 kg to 5 kg` followed by `4 kg to 10 kg`.
Write instead: bands that end where the next begins; the lower end counts in.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from generator.protocol.model import Book, SizeBand
from generator.protocol.quantity import Band
from generator.protocol.rules.rule import ClinicRule, each
from generator.source.problem import Problem


def check(book: Book) -> Iterator[Problem]:
    yield from each(book.clinic.size_bands, lambda region: _region(region, book.clinic.size_bands[region]))


def _region(region: str, bands: tuple[SizeBand, ...]) -> Iterator[Problem]:
    yield from each(pairwise(bands), lambda pair: _pair(region, *pair))
    yield from each(bands, _tapers)


def _pair(region: str, one: SizeBand, other: SizeBand) -> Iterator[Problem]:
    at, beside = other.spans["weight"], ((one.spans["weight"], "the band before it is here"),)
    if other.weight.lower < one.weight.lower:
        yield Problem(
            "size-bands-out-of-order",
            at,
            f"{region}: the band from {_kg(other.weight.lower)} stands below that from {_kg(one.weight.lower)}",
            "whoever reads down the list takes the wrong line",
            "order the bands by weight, the lightest first",
            also=beside,
        )
    elif one.weight.upper is None or one.weight.upper > other.weight.lower:
        yield Problem(
            "size-bands-overlap",
            at,
            f"{region}: the bands {_said(one.weight)} and {_said(other.weight)} overlap",
            "one animal would get two estimates",
            f"end the first at {_kg(other.weight.lower)}; the lower end counts in",
            also=beside,
        )
    elif one.weight.upper < other.weight.lower:
        yield Problem(
            "size-bands-gap",
            at,
            f"{region}: no band holds from {_kg(one.weight.upper)} to {_kg(other.weight.lower)}",
            "an animal of that weight would get no estimate",
            f"begin this band at {_kg(one.weight.upper)}",
            severity="warning",
            also=beside,
        )


def _tapers(band: SizeBand) -> Iterator[Problem]:
    if band.distal_girth > band.proximal_girth:
        yield Problem(
            "limb-tapers-upward",
            band.spans["distal_girth"],
            "the girth at the toes' end is larger than at the body's end",
            "rolls would be reckoned for a limb that stands on its head",
            "exchange `distal_girth` and `proximal_girth`",
            severity="warning",
            also=((band.spans["proximal_girth"], "the other girth is here"),),
        )


def _said(band: Band) -> str:
    return f"from {_kg(band.lower)} to {_kg(band.upper)}" if band.upper is not None else f"from {_kg(band.lower)}"


def _kg(weight: Fraction) -> str:
    return f"{float(weight):g} kg"


RULE = ClinicRule(
    id="C02",
    name="size-bands-overlap",
    looks_for="The size bands of a region stand in order and follow one another without gap or overlap.",
    why="An animal between two bands gets no estimate; one inside two gets either.",
    source="house rule",
    file="clinic.yaml",
    broken="size_bands:\n  forelimb below elbow:\n"
    "    - {weight: 2 kg to 5 kg, distal_girth: 6 cm, proximal_girth: 9 cm, covered_length: 15 cm}\n"
    "    - {weight: 4 kg to 10 kg, distal_girth: 8 cm, proximal_girth: 12 cm, covered_length: 18 cm}\n",
    mended="size_bands:\n"
    "  forelimb below elbow:\n"
    "    - {weight: 2 kg to 5 kg, distal_girth: 6 cm, proximal_girth: 9 cm, covered_length: 15 cm}\n"
    "    - {weight: 5 kg to 10 kg, distal_girth: 8 cm, proximal_girth: 12 cm, covered_length: 18 cm}\n",
    check=check,
    also=("size-bands-out-of-order", "size-bands-gap", "limb-tapers-upward"),
)
