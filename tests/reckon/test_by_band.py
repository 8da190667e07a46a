"""Materials by size band are what a plan gives for an unmeasured animal of that size, and what pencil and paper give.

Lengths are worked here from the formulas of the trade's geometry: one pass of a strip of width w at overlap o lays L = S·C̄/a,
a = w(1 − o), C̄ the girth half-way through the pass (plane geometry; computed).
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from generator.protocol.joining import blend
from generator.protocol.kinds import SITE_GROUPS
from generator.protocol.model import LimbSite, Patient, Protocol
from generator.protocol.quantity import Band
from generator.reckon import reckon
from generator.reckon.by_band import BandPlan, by_band, middle
from generator.reckon.layers import whose_rolls
from generator.reckon.plan import LayerPlan, Plan
from tests.compose.plans import ZONE, book, patient
from tests.compose.reading import named
from tests.reckon.hand import redo

F = Fraction
EVERY = [
    *(slug for slug, protocol in book().protocols.items() if not protocol.stages),
    *(stage.name for protocol in book().protocols.values() for stage in protocol.stages.values()),
]


def rows_of(name: str) -> tuple[tuple[BandPlan, ...], tuple[Protocol, ...], Protocol | None]:
    parts, stored = named(name)
    joined = blend(parts, stored)
    sites = sorted(set.intersection(*(set(part.sites) for part in parts)))
    return by_band(joined.layers, sites, book(), whose_rolls(joined.layers, parts)), parts, stored


def unmeasured(row: BandPlan, parts: tuple[Protocol, ...]) -> Patient:
    """An animal of the row's middle weight that nobody has measured, such as these protocols take."""
    sites = set.intersection(*(set(part.sites) for part in parts))
    group = row.group or next(group for group, of in SITE_GROUPS.items() if sites & set(of))
    has_wound = any(
        part.kind.startswith(("wound.inflam", "wound.prolif", "wound.matur", "wound.tie")) for part in parts
    )
    animal = patient("juniper" if has_wound else "kestrel" if parts[0].purpose == "haemorrhage" else "maple")
    ends = [part.limits.remove_by.by_reason for part in parts if part.limits.remove_by is not None]
    reason = next((key for by_reason in ends for key in by_reason), None)
    return replace(
        animal, species="dog", weight=middle(row.weight), began=None, earlier=(), reason=reason, visits={},
        born=date(2026, 12, 1) if any(part.only_for == "growing" for part in parts) else date(2019, 3, 2),
        skin=animal.skin if has_wound or parts[0].purpose == "haemorrhage" else "incision",
        limb=LimbSite(f"left {group}" if group in ("fore", "hind") else group, None, None, None, dict(animal.limb.spans)),
    )  # fmt: skip


def told(layer: LayerPlan) -> tuple[object, ...]:
    """What a plan and a table must agree in."""
    return (
        layer.layer.layer, layer.rolls.value, layer.unit, layer.rolls_exact, layer.thickness, layer.strips,
        *(None if figure is None else (figure.number, figure.trust) for figure in (layer.width, layer.strip, layer.need, layer.left_over)),
    )  # fmt: skip


@pytest.mark.parametrize("name", EVERY)
def test_a_row_is_the_plan_of_an_unmeasured_animal_of_that_size(name: str) -> None:
    rows, parts, stored = rows_of(name)
    assert rows
    for row in rows:
        assert not row.problems
        animal = unmeasured(row, parts)
        now = animal.applied.replace(tzinfo=ZONE) + timedelta(minutes=5)
        plan: Plan = reckon(parts, animal, book(), now, ZONE, stored=stored)
        assert len(row.layers) >= len(plan.layers)
        found = {layer.layer.layer: layer for layer in row.layers}
        for layer in plan.layers:
            # Which dressing it is the wound decides; how many the protocol says.
            assert told(found[layer.layer.layer]) == told(layer), (name, row.weight)
        # Whatever the table has beside is a layer that this animal's skin does not call for.
        assert {layer.layer.layer for layer in plan.unused} == set(found) - {layer.layer.layer for layer in plan.layers}
        assert row.limb.trust == plan.limb.trust


def test_a_table_row_worked_by_hand() -> None:
    # A dog of 10 to under 25 kg, forelimb: girths 11 and 16 cm, 26 cm covered (from memory: no published table exists). Mean
    # girth 13.5, so strips of 5 cm (8 to 14 cm: 5 cm, house rule), net 2.5 cm. Padding: three passes, 2 mm a thickness,
    # two thicknesses a pass at half overlap, so the girth half-way through pass k is 13.5 + 2π·0.4·(k − ½).
    laid = sum(26 * (13.5 + 2 * math.pi * 0.4 * (k - 0.5)) / 2.5 for k in (1, 2, 3)) + 11 + 16
    need = laid * 1.10
    row = next(row for row in rows_of("padded-limb-support")[0] if row.group == "fore" and row.weight.holds(F(18)))
    padding = next(layer for layer in row.layers if layer.layer.layer == "padding")
    assert padding.width is not None
    assert padding.need is not None
    assert padding.width.number == 5
    assert float(padding.need.number) == pytest.approx(need, abs=1e-6)
    assert need == pytest.approx(622.41, abs=0.01)
    # 3.66 m to the roll: 4 yd = 365.76 cm (exact by definition), as the shelf says it.
    assert padding.rolls.number == math.ceil(need / 366) == 2


def test_the_sums_of_a_table_come_out_when_done_again() -> None:
    for row in rows_of("padded-limb-support")[0]:
        for layer in row.layers:
            lines = redo(layer.rolls.working)
            assert [wrong for line in lines for wrong in line.wrong] == []
            assert lines[-1].result == layer.rolls.number or layer.left_over is None


def test_rows_are_the_bands_of_the_clinic_for_the_sites_that_a_protocol_names() -> None:
    rows = rows_of("padded-limb-support")[0]
    for group, region in (("fore", "forelimb below elbow"), ("hind", "hindlimb below stifle")):
        assert [r.weight for r in rows if r.group == group] == [b.weight for b in book().clinic.size_bands[region]]
    assert [row.weight.lower for row in rows] == sorted(row.weight.lower for row in rows)


def test_rolls_by_weight_are_the_protocols_own_and_say_whose() -> None:
    rows = rows_of("velpeau-sling")[0]
    assert [(row.weight.lower, row.weight.upper) for row in rows] == [(1, 10), (10, 25), (25, None)]
    conforming = [next(one for one in row.layers if one.layer.layer == "conforming") for row in rows]
    # As typed in the protocol: 1, 2 and 4 rolls.
    assert [one.rolls.value for one in conforming] == [1, 2, 4]
    assert all(row.group is None and row.limb.distal_girth is None for row in rows)
    assert all("clinic's own" in one.rolls.standing for one in conforming)


def test_a_layers_own_ranges_of_weight_part_a_band() -> None:
    protocol = book().protocols["padded-limb-support"]
    wide = ((Band(F(1), F(15)), F(5)), (Band(F(15), None), F(10)))
    layers = [replace(one, width=wide) if one.layer == "outer" else one for one in protocol.layers]
    layers = [replace(one, spans={**one.spans, "width": one.spans["layer"]}) for one in layers]
    rows = by_band(layers, ("distal forelimb",), book())
    widths = {(row.weight.lower, row.weight.upper): row.layers[-1].width for row in rows}
    assert (10, 15) in widths
    assert (15, 25) in widths
    assert {ends: figure.number for ends, figure in widths.items() if figure}[(10, 15)] == 5
    assert {ends: figure.number for ends, figure in widths.items() if figure}[(15, 25)] == 10


def test_without_a_band_for_the_site_there_is_no_row() -> None:
    protocol = book().protocols["padded-limb-support"]
    assert by_band(protocol.layers, ("tail",), book()) == ()
    bare = replace(book(), clinic=replace(book().clinic, size_bands={}))
    assert by_band(protocol.layers, protocol.sites, bare) == ()


def test_a_row_that_cannot_be_reckoned_says_why() -> None:
    stock = {key: item for key, item in book().stock.items() if key != "cast padding"}
    protocol = book().protocols["padded-limb-support"]
    rows = by_band(protocol.layers, protocol.sites, replace(book(), stock=stock))
    assert all(not row.layers and row.problems[0].name == "material-not-in-stock" for row in rows)
