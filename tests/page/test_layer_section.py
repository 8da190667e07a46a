"""The section is to scale, says where it is not, and its leaders never cross."""

from __future__ import annotations

from itertools import combinations, pairwise
from math import dist

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.page.layer_section import LayerSection, Ring, draw_layer_section
from generator.page.lettering import TooNarrow
from generator.page.paths import Label, Path

WORDS = ("padding", "conforming gauze", "contact layer, non-adherent", "äußere Binde", "outer wrap")

RINGS = st.lists(
    st.builds(
        Ring,
        number=st.sampled_from(("1", "3", "6", "10")),
        words=st.sampled_from(WORDS),
        thickness_cm=st.floats(0.02, 2.5),
        passes=st.integers(1, 6),
        detail=st.sampled_from(("", "3 passes, 1.2 cm")),
    ),
    min_size=1,
    max_size=7,
).map(tuple)


def section(rings, **rest):
    words = {"limb_words": "limb", "thin_words": "thinner than drawn", "bar_words": "1 cm", "alternative": "section"}
    return LayerSection(rings=rings, **{"limb_radius_cm": 2.5, **words, **rest})


@st.composite
def sections(draw):
    return section(
        draw(RINGS),
        limb_radius_cm=draw(st.floats(0.4, 6)),
        shape=draw(st.sampled_from(("quarter", "half"))),
        size=draw(st.sampled_from((9.0, 12.0, 14.0))),
        limb_words=draw(st.sampled_from(("limb", "Gliedmaße"))),
        from_right=draw(st.booleans()),
        bar_cm=0.5,
    )


def radii(picture, box):
    """Outer radii in points as drawn, limb first."""
    discs = [op for op in picture.operations if isinstance(op, Path) and op.fill and op.stroke == "ink"]
    return sorted(box_height(disc) for disc in discs)


def box_height(path):
    ys = [segment[-1] for segment in path.segments if len(segment) > 1]
    return max(ys) - min(ys)


def leaders(picture):
    """Points of each leader, from its dot to its label."""
    return [
        [(segment[1], segment[2]) for segment in op.segments]
        for op in picture.operations
        if isinstance(op, Path) and op.stroke == "ink" and op.width == 0.8 and not op.dash
    ]


def cross(a, b, c, d):
    """Whether segments ab and cd meet."""

    def side(p, q, r):
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    if side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0:
        return True
    return any(
        abs(side(p, q, r)) < 1e-9
        and min(p[0], q[0]) - 1e-9 <= r[0] <= max(p[0], q[0]) + 1e-9
        and min(p[1], q[1]) - 1e-9 <= r[1] <= max(p[1], q[1]) + 1e-9
        for p, q, r in ((a, b, c), (a, b, d), (c, d, a), (c, d, b))
    )


def test_limb_and_layers_share_one_scale(measure, box):
    rings = (Ring(number="3", words="padding", thickness_cm=1.2), Ring(number="4", words="gauze", thickness_cm=0.4))
    limb, padding, gauze = radii(draw_layer_section(section(rings, limb_radius_cm=2.4), 320, measure), box)
    # 2.4 cm of limb, 1.2 of padding, 0.4 of gauze: the ratios of the limb's radius.
    assert (padding - limb) / limb == pytest.approx(1.2 / 2.4, rel=1e-6)
    assert (gauze - padding) / limb == pytest.approx(0.4 / 2.4, rel=1e-6)


@settings(max_examples=80, deadline=None)
@given(sections(), st.sampled_from((280.0, 340.0, 500.0)))
def test_a_layer_is_to_scale_or_says_that_it_is_not(measure, box, spec, width):
    try:
        picture = draw_layer_section(spec, width, measure)
    except TooNarrow:
        assume(False)
    edges = radii(picture, box)
    scale = edges[0] / spec.limb_radius_cm
    notes = " ".join(op.text for op in picture.operations if isinstance(op, Label)).count("thinner")
    off_scale = 0
    for ring, (inner, outer) in zip(spec.rings, pairwise(edges), strict=True):
        drawn, true = outer - inner, ring.thickness_cm * scale
        assert drawn >= true - 1e-6  # never thinner than it is
        if drawn > true + 1e-6:
            off_scale += 1
            assert true < 2.0  # only what two points of ink would close up
    assert notes == off_scale


@settings(max_examples=150, deadline=None)
@given(sections(), st.sampled_from((280.0, 340.0, 500.0)))
def test_labels_keep_apart_and_leaders_never_meet(measure, faults, spec, width):
    try:
        picture = draw_layer_section(spec, width, measure)
    except TooNarrow:
        assume(False)
    assert faults(picture) == []
    lines = leaders(picture)
    assert len(lines) >= len(spec.rings)
    for one, other in combinations(lines, 2):
        for a, b in pairwise(one):
            for c, d in pairwise(other):
                assert not cross(a, b, c, d)


@settings(max_examples=60, deadline=None)
@given(sections(), st.sampled_from((300.0, 400.0)))
def test_each_leader_starts_within_its_own_layer_and_no_dot_hides_another(measure, box, spec, width):
    spec = LayerSection(**{name: getattr(spec, name) for name in spec.__slots__} | {"from_right": False})
    try:
        picture = draw_layer_section(spec, width, measure)
    except TooNarrow:
        assume(False)
    edges = radii(picture, box)
    outer = edges[-1]
    discs = [op for op in picture.operations if isinstance(op, Path) and op.fill and op.stroke == "ink"]
    xs = [segment[-2] for segment in discs[0].segments if len(segment) > 1]
    ys = [segment[-1] for segment in discs[0].segments if len(segment) > 1]
    centre = (max(xs) - outer, max(ys))
    for ring_edges, leader in zip(pairwise(edges), leaders(picture)[-len(spec.rings) :], strict=True):
        x, y = leader[0]
        far = ((x - centre[0]) ** 2 + (y - centre[1]) ** 2) ** 0.5
        assert ring_edges[0] < far < ring_edges[1]
        assert y < centre[1]
    dots = [leader[0] for leader in leaders(picture)]
    assert all(dist(one, other) > 2.0 for one, other in pairwise(dots))
    assert all(one[1] - other[1] > 1.0 for one, other in pairwise(dots))


def test_passes_are_divided_by_one_dashed_line_less(measure):
    rings = (
        Ring(number="3", words="padding", thickness_cm=1, passes=3),
        Ring(number="6", words="outer", thickness_cm=1),
    )
    picture = draw_layer_section(section(rings), 320, measure)
    assert sum(1 for op in picture.operations if isinstance(op, Path) and op.dash) == 2


def test_the_bar_is_as_long_as_it_says(measure, box):
    rings = (Ring(number="3", words="padding", thickness_cm=1.5),)
    picture = draw_layer_section(section(rings, limb_radius_cm=3), 320, measure)
    limb = radii(picture, box)[0]
    bars = [op for op in picture.operations if isinstance(op, Path) and op.width == 1.2 and op.stroke == "ink"]
    longest = max(op.segments[1][1] - op.segments[0][1] for op in bars)
    assert longest == pytest.approx(limb / 3)  # 1 cm where 3 cm are the limb's radius


def test_labels_read_from_skin_outwards_downwards(measure):
    rings = tuple(Ring(number=str(n), words=f"layer{n}", thickness_cm=0.5) for n in (2, 3, 4, 6))
    picture = draw_layer_section(section(rings), 320, measure)
    names = [op for op in picture.operations if isinstance(op, Label) and op.text.startswith("layer")]
    assert [label.text for label in sorted(names, key=lambda label: -label.y)] == [
        "layer2",
        "layer3",
        "layer4",
        "layer6",
    ]


@pytest.mark.parametrize("thickness", [0.0, -1.0])
def test_a_layer_without_thickness_is_refused(thickness):
    with pytest.raises(ValueError, match="thickness"):
        Ring(number="1", words="x", thickness_cm=thickness)
