"""Strips, widths, rolls, thickness and pressure of every layer, skin outwards.

Takes  the joined bandage, the limb, the stock, the waste.
Gives  a `LayerPlan` for each layer in use, and notes on what staff must know.
Knows  which figure each layer needs; the geometry is in `wrap.py`, the physics in `pressure.py`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from generator.protocol.model import Layer, Material, Patient
from generator.reckon import wrap
from generator.reckon.not_stocked import is_same, nearest_first, not_stocked
from generator.reckon.plan import Alternate, Figure, LayerPlan, Limb, Note, Trust
from generator.reckon.pressure import layer_pressure
from generator.reckon.wrap import Cone
from generator.source.problem import Problem, Refusal
from generator.source.span import Span

# Width by mean bare girth, half-open (house rule). Below 8 cm both 2.5 and 5 serve; the wider is taken, since a narrow
# strip presses harder.
_WIDTHS = (
    (Fraction(8), (Fraction("2.5"), Fraction(5))),
    (Fraction(14), (Fraction(5),)),
    (Fraction(20), (Fraction("7.5"),)),
    (None, (Fraction(10),)),
)
# One stirrup strip: half the covered length on the leg, at most 20 cm, and as much again free, at least 8 cm (house rule).
STIRRUP_ON_LEG, STIRRUP_FREE, STIRRUP_COUNT, STIRRUP_WIDTH = Fraction(20), Fraction(8), 2, Fraction("2.5")


@dataclass(slots=True)
class _Wall:
    """What is on the limb so far."""

    cone: Cone | None
    trust: Trust
    thickness: Fraction = Fraction(0)


def plan_layers(
    layers: Sequence[Layer],
    limb: Limb,
    patient: Patient,
    stock: Mapping[str, Material],
    waste: Fraction,
    waste_span: Span,
    whose: Mapping[str, str] | None = None,
) -> tuple[tuple[LayerPlan, ...], tuple[Layer, ...], tuple[Note, ...], Fraction]:
    """Reckon every layer in use.

    Args:
        whose: by layer, whose word its rolls by weight are.
    Returns:
        The layers in use, those not needed for this patient, notes, and the thickness of the whole wall in cm.
    Raises:
        Refusal: a material that is not in stock, a strip too wide for the limb, a weight outside every band.
    """
    cone = None
    if limb.covered_length is not None:
        assert limb.distal_girth is not None
        assert limb.proximal_girth is not None
        cone = Cone(limb.distal_girth.number, limb.proximal_girth.number, limb.covered_length.number)
    wall = _Wall(cone, limb.trust)
    used: list[LayerPlan] = []
    unused: list[Layer] = []
    notes: list[Note] = []
    problems: list[Problem] = []
    for layer in layers:
        if not is_needed(layer, patient):
            unused.append(layer)
            continue
        material = stock.get(layer.material) if layer.material else None
        if layer.material and material is None:
            problems.append(
                Problem(
                    "material-not-in-stock",
                    layer.spans["material"],
                    f"stock.yaml has no `{layer.material}`",
                    "neither width nor rolls can be reckoned",
                    "add the material to stock.yaml, or name one that is there",
                )
            )
            continue
        try:
            standing = (whose or {}).get(layer.layer, "")
            used.append(_plan_layer(layer, material, wall, patient, waste, waste_span, notes, standing))
        except Refusal as refusal:
            problems += refusal.problems
    if problems:
        raise Refusal(problems)
    return tuple(used), tuple(unused), tuple(notes), wall.thickness


def is_needed(layer: Layer, patient: Patient) -> bool:
    """Whether a layer goes on this patient's skin."""
    if layer.needed_if == "wound":
        return patient.skin == "wound"
    return layer.needed_if is None or patient.skin in ("incision", "wound")


def _plan_layer(
    layer: Layer,
    material: Material | None,
    wall: _Wall,
    patient: Patient,
    waste: Fraction,
    waste_span: Span,
    notes: list[Note],
    standing: str,
) -> LayerPlan:
    if layer.layer == "stirrups":
        return _stirrups(layer, material, wall, patient, waste, notes)
    if layer.rolls is not None:
        return _banded(layer, material, wall, patient, notes, standing)
    if layer.passes is None or layer.overlap is None or material is None or not material.widths:
        count = layer.count or 1
        rolls = Figure(
            "rolls",
            count,
            "1",
            str(layer.spans.get("count") or layer.spans["layer"]),
            "set",
            "the protocol",
            f"{count}",
        )
        return LayerPlan(
            layer, material, None, None, None, None, None, None, rolls, None, Fraction(0), None, pieces=True
        )
    return _wound(layer, material, wall, patient, waste, waste_span, notes)


def _by_band(
    pairs: Sequence[tuple[object, object]], layer: Layer, key: str, patient: Patient, cone: Cone | None
) -> object:
    for band, value in pairs:
        measure = patient.weight if band.dimension == "mass" else cone.mean if cone else None  # type: ignore[attr-defined]
        if measure is not None and band.holds(measure):  # type: ignore[attr-defined]
            return value
    raise Refusal(
        [
            Problem(
                "outside-every-band",
                layer.spans[key],
                f"`{key}` of the {layer.layer} layer says nothing for this animal's size",
                "the number of rolls would be a guess",
                f"add a range that holds {float(patient.weight):g} kg",
                also=((patient.spans["patient.weight"], "the animal's weight"),),
            )
        ]
    )


def _banded(
    layer: Layer, material: Material | None, wall: _Wall, patient: Patient, notes: list[Note], standing: str
) -> LayerPlan:
    """A shape that is no limb: rolls as the protocol states them, nothing computed by a formula that does not fit."""
    assert layer.rolls is not None
    count = _by_band(layer.rolls, layer, "rolls", patient, wall.cone)
    assert isinstance(count, int)
    rolls = Figure(
        "rolls",
        count,
        "1",
        str(layer.spans["rolls"]),
        "set",
        f"the protocol, by weight; {standing or 'nobody says whose figure'}",
        f"{float(patient.weight):g} kg: {count}",
    )
    width = _shelf_width(layer, material, wall, patient, notes) if layer.width is not None else None
    return LayerPlan(
        layer, material, width, layer.passes, layer.overlap, None, None, None, rolls, None, Fraction(0), None
    )


def _stated_width(layer: Layer, patient: Patient, wall: _Wall) -> Figure:
    value = (
        layer.width
        if isinstance(layer.width, Fraction)
        else _by_band(layer.width or (), layer, "width", patient, wall.cone)
    )
    assert isinstance(value, Fraction)
    return Figure("width", value, "cm", str(layer.spans["width"]), "set", "the protocol")


def _shelf_width(layer: Layer, material: Material | None, wall: _Wall, patient: Patient, notes: list[Note]) -> Figure:
    """The width stated, as the shelf has it; where it has not, the nearest one, and a note."""
    stated = _stated_width(layer, patient, wall)
    if material is None or not material.widths:
        return stated
    nearest = nearest_first(material.widths, [stated.number])[0]
    if nearest == stated.number:
        return stated
    working = f"stated {float(stated.number):g}; nearest in stock {float(nearest):g}"
    taken = Figure("width", nearest, "cm", stated.origin, "set", stated.standing, working)
    if not is_same(stated.number, nearest):
        notes.append(not_stocked(layer, material, stated, taken, layer.spans["width"]))
    return taken


def _stirrups(
    layer: Layer, material: Material | None, wall: _Wall, patient: Patient, waste: Fraction, notes: list[Note]
) -> LayerPlan:
    count = layer.count or STIRRUP_COUNT
    if layer.length is not None:
        one, origin, working, trust = (
            layer.length,
            str(layer.spans["length"]),
            f"{count} × {float(layer.length):g}",
            "set",
        )
    elif wall.cone is not None:
        on_leg = min(wall.cone.length / 2, STIRRUP_ON_LEG)
        free = max(on_leg, STIRRUP_FREE)
        one, origin, trust = on_leg + free, "formula: stirrup strip", wall.trust
        working = f"{count} × ({float(on_leg):g} on the leg + {float(free):g} free)"
    else:
        rolls = Figure("rolls", 1, "1", str(layer.spans["layer"]), "set", "the protocol", "1")
        return LayerPlan(
            layer, material, None, None, None, None, None, None, rolls, None, Fraction(0), None, strips=None
        )
    strip = Figure("strip", count * one, "cm", origin, trust, "house rule", working)  # type: ignore[arg-type]
    width = _shelf_width(layer, material, wall, patient, notes) if layer.width is not None else _stirrup_width(material)
    need, exact, rolls, left = _need(strip, material, waste)
    return LayerPlan(
        layer, material, width, None, None, strip, need, exact, rolls, left, Fraction(0), None, strips=(count, one)
    )


def _stirrup_width(material: Material | None) -> Figure | None:
    if material is None or not material.widths:
        return None
    width = min(material.widths, key=lambda w: (abs(w - STIRRUP_WIDTH), -w))
    return Figure(
        "width",
        width,
        "cm",
        str(material.spans["widths"]),
        "set",
        "2.5 cm: splint article in a veterinary trade magazine (published 76)",
    )


def _need(
    strip: Figure, material: Material | None, waste: Fraction
) -> tuple[Figure | None, Fraction | None, Figure, Figure | None]:
    """Relaxed need, exact rolls, whole rolls, what is left over."""
    if material is None or material.roll_relaxed is None:
        return None, None, Figure("rolls", 1, "1", strip.origin, strip.trust, "the protocol", "1"), None
    relaxed = wrap.relaxed_need(strip.number, material.extension, waste)
    stretch = f" ÷ (1 + {float(material.extension):g})" if material.extension else ""
    need = Figure(
        "need",
        relaxed,
        "cm",
        "formula: relaxed length with waste",
        strip.trust,
        "house rule",
        f"{float(strip.number):.2f}{stretch} × (1 + {float(waste):g})",
        (strip,),
    )
    rolls = wrap.rolls_needed(relaxed, material.roll_relaxed)
    shown = f"{float(relaxed):.2f} ÷ {float(material.roll_relaxed):.2f} relaxed cm a roll, rounded up"
    whole = Figure(
        "rolls", rolls, "1", str(material.spans.get("roll", "stock")), strip.trust, "stock.yaml", shown, (need,)
    )
    left = Figure(
        "left over",
        rolls * material.roll_relaxed - relaxed,
        "cm",
        "formula: rolls × roll − need",
        strip.trust,
        "",
        f"{rolls} × {float(material.roll_relaxed):.2f} − {float(relaxed):.2f}",
        (whole, need),
    )
    return need, relaxed / material.roll_relaxed, whole, left


def ideal_widths(mean_girth: Fraction) -> tuple[Fraction, ...]:
    """The width, or widths, that the trade takes for a mean bare girth in cm."""
    return next(widths for upper, widths in _WIDTHS if upper is None or mean_girth < upper)


def _choose_width(
    layer: Layer, material: Material, patient: Patient, wall: _Wall
) -> tuple[Figure, tuple[Fraction, ...], Figure | None]:
    """The width to take, the stocked ones in order of preference, and the width asked for if the shelf has it not."""
    assert wall.cone is not None
    stated = _stated_width(layer, patient, wall) if layer.width is not None else None
    ideal = (stated.number,) if stated is not None else ideal_widths(wall.cone.mean)
    ranked = nearest_first(material.widths, ideal)
    width = ranked[0]
    if stated is not None:
        origin, standing = stated.origin, "the protocol"
    else:
        origin, standing = "formula: width by mean girth", "house rule"
    wanted = " or ".join(f"{float(w):g}" for w in ideal)
    working = f"mean girth {float(wall.cone.mean):.1f}: {wanted}; nearest in stock {float(width):g}"
    asked = None
    if not any(is_same(one, width) for one in ideal):
        nearest = nearest_first(ideal, [width])[0]
        asked = stated or Figure("width asked for", nearest, "cm", origin, wall.trust, standing, working)
    return Figure("width", width, "cm", origin, "set", standing, working), ranked, asked


def _wound(
    layer: Layer,
    material: Material,
    wall: _Wall,
    patient: Patient,
    waste: Fraction,
    waste_span: Span,
    notes: list[Note],
) -> LayerPlan:
    assert wall.cone is not None
    assert layer.passes is not None
    assert layer.overlap is not None
    if layer.inset * 2 >= wall.cone.length:
        raise Refusal(
            [
                Problem(
                    "inset-too-long",
                    layer.spans["inset"],
                    f"the {layer.layer} layer would have no length left between its two insets",
                    "nothing would hold the layers under it",
                    "shorten `inset`, or measure the covered length again",
                )
            ]
        )
    cone = wall.cone.shortened(layer.inset)
    width, ranked, asked = _choose_width(layer, material, patient, wall)
    under, t, passes, overlap = wall.thickness, material.thickness, layer.passes, layer.overlap

    def strip_of(w: Fraction) -> Fraction:
        return wrap.layer_length(cone, w, overlap, t, passes, under) + wrap.anchor_length(cone, under)

    try:
        laid = strip_of(width.number)
    except wrap.TooWide:
        raise Refusal(
            [
                Problem(
                    "strip-wider-than-limb",
                    layer.spans["passes"],
                    f"{float(width.number):g} cm wide {material.name} cannot be wound round a limb of this girth",
                    "it would advance further each turn than the limb is round, and lie in folds",
                    "stock a narrower width, or give the layer a `width`",
                )
            ]
        ) from None
    net = wrap.net_width(width.number, overlap)
    working = (
        f"{passes} × {float(cone.length):g} cm at mean girth {float(cone.mean):.2f} + 2π({float(under):.3f} + …) ÷ {float(net):g}, "
        f"and one turn at each end {float(wrap.anchor_length(cone, under)):.2f}"
    )
    strip = Figure(
        "strip",
        laid,
        "cm",
        "formula: L = S·C̄/a at mid-pass girth",
        wall.trust,
        "computed; volume of the wall",
        working,
        (width,),
    )
    need, exact, rolls, left = _need(strip, material, waste)
    alternate = None
    for other in ranked[1:]:
        try:
            there = wrap.relaxed_need(strip_of(other), material.extension, waste)
        except wrap.TooWide:
            continue
        alternate = Alternate(other, wrap.rolls_needed(there, material.roll_relaxed or there))
        break
    thickness = wrap.pass_thickness(t, overlap) * passes
    met = cone.mean + wrap.growth(under + thickness / 2)
    # A narrow elastic strip on a wide limb: pressure rises as 1/width, and edges cut in (direction Thomas 2003; the line is a house rule).
    if material.extension > 0 and width.number < met / 4:
        notes.append(
            Note(
                "narrow-elastic",
                (("layer", layer.layer), ("width", width.number), ("girth", met)),
                layer.spans["layer"],
            )
        )
    thicknesses = Fraction(passes) / (1 - overlap)
    pressure = _pressure(layer, material, wall, cone, width.number, thicknesses)
    if asked is not None:
        if_asked = _pressure(layer, material, wall, cone, asked.number, thicknesses)
        girth = None
        if layer.width is None:
            working = f"({float(wall.cone.distal):g} + {float(wall.cone.proximal):g}) ÷ 2"
            girth = Figure("mean girth", wall.cone.mean, "cm", "formula: mean bare girth", wall.trust, "", working)
        span = layer.spans.get("width") or layer.spans["layer"]
        notes.append(
            not_stocked(
                layer,
                material,
                asked,
                width,
                span,
                girth=girth,
                wound=(cone, overlap),
                trust=wall.trust,
                pressures=(if_asked, pressure),
            )
        )
    wall.thickness += thickness
    return LayerPlan(
        layer, material, width, passes, overlap, strip, need, exact, rolls, left, thickness, pressure, alternate
    )


def _pressure(
    layer: Layer, material: Material, wall: _Wall, cone: Cone, width: Fraction, thicknesses: Fraction
) -> tuple[Figure, Figure] | None:
    """This layer's own estimate at its two ends; None without a stated tension or on an estimated limb."""
    tension = material.tension.by_width.get(width) if material.tension else None
    if tension is None or wall.trust != "measured":
        return None
    assert material.tension is not None
    ends = []
    for name, bare in (("distal", cone.distal), ("proximal", cone.proximal)):
        value = layer_pressure(tension, bare, width, thicknesses, wall.thickness, material.thickness)
        working = f"4620 × {float(tension):g} ÷ (girth met × {float(width):g}), summed over {float(thicknesses):g} thicknesses from girth {float(bare + wrap.growth(wall.thickness)):.2f}"
        ends.append(
            Figure(
                f"pressure {name}",
                value,
                "mm[Hg]",
                str(material.tension.spans.get("", "stock")),
                "estimated",
                "Thomas 2003; tension measured by the clinic",
                working,
            )
        )
    return ends[0], ends[1]
