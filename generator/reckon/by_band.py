"""What a bandage takes for an animal that nobody has measured, size band by size band.

Takes  the layers of a bandage, its sites, the book.
Gives  `by_band`: a `BandPlan` for each range of weights, reckoned by the very functions that make a plan.
Knows  which bands of the clinic serve which sites, and where a layer's own ranges of weight part a band; nothing of paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise

from generator.protocol.kinds import BY_THE_WOUND, SITE_GROUPS
from generator.protocol.model import Book, Layer
from generator.protocol.quantity import Band
from generator.protocol.shapes import Spans
from generator.reckon.layers import needs_limb, plan_layers
from generator.reckon.limb import NONE, REGION, estimated
from generator.reckon.plan import LayerPlan, Limb, Note
from generator.source.problem import Problem, Refusal
from generator.source.span import Span


@dataclass(frozen=True, slots=True)
class BandPlan:
    """One range of weights at one site.

    weight: in kg, lower end included. group: of sites (`fore`, `hind`); None where nothing is reckoned on a limb.
    layers: skin outwards, every layer in use, those that only a wound or an incision needs too; empty where it could not be
    reckoned, and `problems` say why.
    """

    weight: Band
    group: str | None
    limb: Limb
    layers: tuple[LayerPlan, ...]
    notes: tuple[Note, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class _Unmeasured:
    """An animal of which only the weight is known; its skin calls for every layer."""

    weight: Fraction
    skin: str = "wound"
    spans: Spans = field(default_factory=lambda: {"patient.weight": Span("")})


def by_band(
    layers: Sequence[Layer], sites: Sequence[str], book: Book, whose: Mapping[str, str] | None = None
) -> tuple[BandPlan, ...]:
    """Reckon a bandage for every size, the lightest first.

    Args:
        sites: those of the protocol; of a blend those that all its parts allow.
        whose: by layer, whose word its rolls by weight are.
    Returns:
        A row for each of the clinic's size bands at each site, parted where a layer's own ranges of weight part it. Where
        nothing is reckoned on a limb: a row for each range of weight that the layers themselves name. Empty where a limb is
        needed and the clinic has no band for the site.
    """
    dressed = [replace(layer, material=None) if layer.material == BY_THE_WOUND else layer for layer in layers]
    cuts = {
        edge for layer in dressed for band in _weights(layer) for edge in (band.lower, band.upper) if edge is not None
    }
    if not needs_limb(dressed):
        ends: list[Fraction | None] = [*(sorted(cuts) or [Fraction(0)])]
        if not cuts or any(_is_open(layer) for layer in dressed):
            ends.append(None)
        return tuple(_planned(dressed, None, band, NONE, book, whose) for band in _between(ends))
    groups = [group for group in REGION if set(sites) & set(SITE_GROUPS[group])]
    found = []
    for group in groups:
        for size in book.clinic.size_bands.get(REGION[group], ()):
            for band in _parted(size.weight, cuts):
                limb = estimated(group, middle(band), book.clinic)
                assert limb is not None, "a weight lies in its own band"
                found.append(_planned(dressed, group, band, limb, book, whose))
    return tuple(sorted(found, key=lambda row: (row.weight.lower, groups.index(row.group or ""))))


def middle(band: Band) -> Fraction:
    """The weight half-way through a band; of the last one, which has no upper end, its lower end."""
    return band.lower if band.upper is None else (band.lower + band.upper) / 2


def _weights(layer: Layer) -> list[Band]:
    """The ranges of weight by which a layer's width or rolls go."""
    pairs = [*(layer.rolls or ()), *(layer.width if isinstance(layer.width, tuple) else ())]
    return [band for band, _ in pairs if band.dimension == "mass"]


def _is_open(layer: Layer) -> bool:
    return any(band.upper is None for band in _weights(layer))


def _parted(band: Band, cuts: set[Fraction]) -> list[Band]:
    inside = sorted(cut for cut in cuts if cut > band.lower and (band.upper is None or cut < band.upper))
    return _between([band.lower, *inside, band.upper])


def _between(ends: Sequence[Fraction | None]) -> list[Band]:
    return [Band(low, high, "mass") for low, high in pairwise(ends) if low is not None]


def _planned(
    layers: Sequence[Layer], group: str | None, band: Band, limb: Limb, book: Book, whose: Mapping[str, str] | None
) -> BandPlan:
    animal = _Unmeasured(middle(band))
    try:
        used, _, notes, _ = plan_layers(
            layers, limb, animal, book.stock, book.clinic.waste, book.clinic.spans["waste"], whose
        )
    except Refusal as refusal:
        return BandPlan(band, group, limb, (), (), tuple(refusal.problems))
    return BandPlan(band, group, limb, used, notes)
