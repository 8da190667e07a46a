"""Materials by size band on paper: each cell is the plan of an unmeasured animal of that size, and says what it is."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from generator.compose.sop_materials import materials_of
from generator.compose.writer import Writer
from generator.protocol.model import Book
from generator.reckon import reckon
from generator.reckon.by_band import BandPlan, by_band
from generator.reckon.plan import LayerPlan
from tests.compose.chapters import inside, rows, section
from tests.compose.plans import ZONE, book
from tests.compose.reading import said
from tests.reckon.test_by_band import EVERY, rows_of, unmeasured
from tests.reckon.test_not_stocked import shelf


def written(layer: LayerPlan) -> str:
    """A cell, from a plan: as many as to fetch, and of what width."""
    number = int(layer.rolls.number)
    if layer.width is not None and not layer.pieces:
        width = f"{float(layer.width.number):g}"
        return f"{number} of {width} cm"
    return f"{number} {layer.unit}" + ("s" if number != 1 else "")


@pytest.mark.parametrize("name", [name for name in EVERY if "@" not in name])
def test_each_cell_is_what_a_plan_gives(name: str) -> None:
    (table,) = inside(name, 6, "table")
    head, *lines = rows(table)
    bands, parts, stored = rows_of(name)
    layers = [words.split()[1] for words in head if re.match("[A-F] ", words)]
    checked = 0
    for band in bands:
        animal = unmeasured(band, parts)
        now = animal.applied.replace(tzinfo=ZONE) + timedelta(minutes=5)
        plan = reckon(parts, animal, book(), now, ZONE, stored=stored)
        found = [
            line
            for line in lines
            if _holds(line[0], animal.weight) and (band.group is None or line[1] in (band.group, "both"))
        ]
        assert len(found) == 1, (name, band.weight, band.group)
        cells = dict(zip(layers, found[0][-len(layers) :], strict=True))
        for layer in plan.layers:
            assert cells[layer.layer.layer].partition(",")[0] == written(layer), (name, band.weight)
            checked += 1
    assert checked


def _holds(words: str, weight: Fraction) -> bool:
    if words == "any weight":
        return True
    low, _, high = words.removesuffix(" kg").partition(" to ")
    return float(low.split()[0]) <= weight and (not high or weight < float(high))


def test_stages_that_take_the_same_share_a_table() -> None:
    headings = [said(node) for node in section("open-wound", 6) if node.tag == "h3"]
    assert headings == ["Stage: inflammatory", "Stage: proliferative, maturation"]


def test_an_estimate_says_so_before_the_table_and_a_stated_figure_says_whose() -> None:
    for slug, protocol in book().protocols.items():
        for stage in protocol.stages.values() or [protocol]:
            on_limb = any(layer.passes for layer in stage.layers)
            text = [said(node) for node in section(slug, 6)]
            above = text[: next(i for i, node in enumerate(section(slug, 6)) if node.tag == "table")]
            assert any(line.startswith("Estimate: measure and print a card.") for line in above) or not on_limb
            if any(layer.rolls for layer in stage.layers):
                assert any(f"by weight ({stage.sources['rolls']})" in line for line in above)


def test_a_width_that_is_not_in_stock_is_said_as_on_the_card() -> None:
    of: Book = shelf(cohesive_wrap=["2.5"])
    protocol = of.protocols["padded-limb-support"]
    made = materials_of(by_band(protocol.layers, protocol.sites, of), of, Writer())
    lines = [line.striptags() for line in made["under"] if "not in stock" in line]
    # 10 to under 25 kg, forelimb: 26 cm at half of 5 or of 2.5 cm a turn are 10.4 and 20.8 turns.
    mine = next(line for line in lines if line.startswith("10 to 25 kg, fore:"))
    assert "about 20.8 turns a pass, not 10.4" in mine


def test_a_site_without_a_band_is_to_be_measured() -> None:
    bare = replace(book(), clinic=replace(book().clinic, size_bands={}))
    protocol = bare.protocols["padded-limb-support"]
    made = materials_of(by_band(protocol.layers, protocol.sites, bare), bare, Writer())
    assert made["rows"] == []
    assert "no size band for this site. Measure" in str(made["why"])


def test_a_row_that_cannot_be_reckoned_stands_among_the_others() -> None:
    protocol = book().protocols["padded-limb-support"]
    found: tuple[BandPlan, ...] = by_band(protocol.layers, protocol.sites, shelf(cast_padding=["30"]))
    problem = next((row for row in found if row.problems), None)
    assert problem is not None
    assert any(row.layers for row in found)
    made = materials_of(found, book(), Writer())
    assert any("cannot be wound" in row["why"] for row in made["rows"])


def test_the_drawing_says_for_whom_it_is_and_that_it_is_an_estimate() -> None:
    (figure,) = inside("padded-limb-support", 5, "figure")
    text = " ".join(said(node) for node in section("padded-limb-support", 5))
    # The middle one of five bands; its girth as clinic.yaml has it.
    assert "the forelimb of an animal of 10 kg to under 25 kg, 11 cm round at the toes; an estimate" in text
    assert "Not drawn: A, B." in text
    # Three passes of padding, two of gauze, one outer, as the protocol says.
    assert figure.get("data-alt").endswith("padding, 3 passes, conforming, 2 passes, outer, 1 pass")


def test_each_stage_of_a_wound_has_its_drawing() -> None:
    assert len(inside("open-wound", 5, "figure")) == 3


def test_a_shape_that_is_no_limb_says_why_there_is_no_drawing() -> None:
    for slug in ("velpeau-sling", "head-bandage", "tail-bandage"):
        text = " ".join(said(node) for node in section(slug, 5))
        assert "No drawing: nothing is reckoned on this shape" in text
        assert not inside(slug, 5, "figure")
