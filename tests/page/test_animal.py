"""Side, limb and reach of the picture are those of the plan."""

from __future__ import annotations

from itertools import pairwise, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.page.animal import Animal, draw_animal
from generator.page.lettering import mirrored
from generator.page.paths import Label, Path

SPECIES = ("dog", "cat")
LIMBS = ("left fore", "right fore", "left hind", "right hind")
TRUNK = ("head", "chest", "abdomen", "tail")
EXTENTS = ("foot", "distal", "whole")


def drawn(measure, species="dog", site="left fore", width=160, **rest):
    return draw_animal(
        Animal(species=species, site=site, caption=rest.pop("caption", site), alternative="x", **rest), width, measure
    )


def bandage(picture):
    """The outline of the bandage: the one dark fill."""
    (found,) = [op for op in picture.operations if isinstance(op, Path) and op.fill == "leaf"]
    return found


def rings(picture):
    """Round, open to see through, in ink."""
    found = []
    for op in picture.operations:
        if isinstance(op, Path) and op.stroke == "ink" and not op.fill and len(op.segments) == 6:
            xs, ys = ([segment[at] for segment in op.segments[1:-1]] for at in (-2, -1))
            if abs((max(xs) - min(xs)) - (max(ys) - min(ys))) < 1e-6:
                found.append(op)
    return found


def middle(box, path):
    left, bottom, right, top = box(path)
    return (left + right) / 2, (bottom + top) / 2


def without_words(picture):
    return [op for op in picture.operations if isinstance(op, Path)]


@pytest.mark.parametrize(("species", "limb", "extent"), list(product(SPECIES, ("fore", "hind"), EXTENTS)))
def test_right_is_left_seen_in_a_mirror(measure, species, limb, extent):
    left = drawn(measure, species, f"left {limb}", extent=extent, caption="")
    right = drawn(measure, species, f"right {limb}", extent=extent, caption="")
    for one, other in zip(mirrored(left).operations, right.operations, strict=True):
        assert (one.fill, one.stroke, one.width) == (other.fill, other.stroke, other.width)
        for a, b in zip(one.segments, other.segments, strict=True):
            assert a[0] == b[0]
            assert a[1:] == pytest.approx(b[1:])


@pytest.mark.parametrize(("species", "site"), list(product(SPECIES, LIMBS)))
def test_the_head_points_to_the_side_named_and_the_fore_limb_is_under_it(measure, box, species, site):
    # A viewer of the left side sees the head at the left. Eye and nose are the only small dark fills.
    picture = drawn(measure, species, site)
    eye = next(op for op in picture.operations if isinstance(op, Path) and op.fill == "ink")
    head_x, part_x = middle(box, eye)[0], middle(box, bandage(picture))[0]
    assert (head_x < 80) == site.startswith("left")
    assert (abs(part_x - head_x) < 60) == site.endswith("fore")


@pytest.mark.parametrize(("species", "site"), list(product(SPECIES, LIMBS)))
def test_a_bandage_that_reaches_further_covers_more(measure, box, species, site):
    tops = [box(bandage(drawn(measure, species, site, extent=extent)))[3] for extent in EXTENTS]
    assert tops[0] + 8 < tops[1]
    assert tops[1] + 8 < tops[2]


@pytest.mark.parametrize(("species", "site", "extent"), list(product(SPECIES, LIMBS, EXTENTS)))
def test_toes_outside_the_bandage_are_ringed(measure, box, species, site, extent):
    picture = drawn(measure, species, site, extent=extent)
    (ring,) = rings(picture)
    x, y = middle(box, ring)
    outline = [segment[-2:] for segment in bandage(picture).segments[:-1]]
    bottom = min(y for _, y in outline)
    left, right = (pick(x for x, y in outline if y < bottom + 12) for pick in (min, max))
    # Before the bandage's edge on the side to which the paw points, and at the ground.
    assert x < left + 3 if site.startswith("left") else x > right - 3
    assert bottom - 4 < y < bottom + 8


@pytest.mark.parametrize(("species", "site"), list(product(SPECIES, TRUNK)))
def test_no_toes_are_ringed_for_a_part_without_any(measure, species, site):
    assert rings(drawn(measure, species, site)) == []


@pytest.mark.parametrize("species", SPECIES)
def test_parts_of_the_body_lie_in_the_order_of_the_body(measure, box, species):
    places = [middle(box, bandage(drawn(measure, species, site)))[0] for site in TRUNK]
    assert places == sorted(places)
    assert min(b - a for a, b in pairwise(places)) > 12


def test_a_ring_may_be_left_out(measure):
    assert rings(drawn(measure, toes=False)) == []


def test_the_bandage_is_striped_so_that_a_photocopy_shows_it(measure):
    for species, site in product(SPECIES, (*LIMBS, *TRUNK)):
        stripes = [
            op
            for op in drawn(measure, species, site, toes=False).operations
            if isinstance(op, Path) and op.stroke == "white"
        ]
        assert len(stripes) >= 3, (species, site)


def test_dog_and_cat_differ(measure):
    assert without_words(drawn(measure, "dog")) != without_words(drawn(measure, "cat"))


@given(
    st.sampled_from(SPECIES), st.sampled_from((*LIMBS, *TRUNK)), st.sampled_from(EXTENTS),
    st.sampled_from((90.0, 160.0, 260.0)), st.sampled_from(("", "Left back leg", "Patte arrière gauche, du pied au jarret")),
)  # fmt: skip
def test_animal_ring_and_caption_stay_inside(measure, faults, species, site, extent, width, caption):
    picture = drawn(measure, species, site, width, extent=extent, caption=caption)
    assert faults(picture) == []
    assert " ".join(op.text for op in reversed(picture.operations) if isinstance(op, Label)) == caption


@given(st.floats(60, 300), st.floats(40, 200))
def test_the_animal_is_never_taller_than_asked(measure, width, tallest):
    picture = drawn(measure, "dog", width=width, caption="", tallest=tallest)
    assert picture.height <= tallest + 1e-6
