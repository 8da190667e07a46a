"""Strips, widths, rolls, thickness and pressure of every layer, skin outwards.

Takes  the joined bandage, the limb, the stock, the waste.
Gives  a `LayerPlan` for each layer in use, and notes on what staff must know.
Knows  which figure each layer needs; the geometry is in `wrap.py`, the physics in `pressure.py`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Protocol as Shape

from generator.protocol.model import Layer, Material, Protocol
from generator.protocol.quantity import Band
from generator.protocol.shapes import Spans
from generator.reckon import working as say
from generator.reckon import wrap
from generator.reckon.not_stocked import is_same, nearest_first, not_stocked
from generator.reckon.plan import Alternate, Figure, LayerPlan, Limb, Note
from generator.reckon.pressure import layer_pressure
from generator.reckon.sums import (
    Wall,
    coat_of,
    mean_line,
    nearest_line,
    other_width_lines,
    pressure_lines,
    roll_line,
    stretch,
    strip_lines,
    whole_lines,
)
from generator.reckon.working import band_words
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


# The two ends of a bandage in the words of the floor.
_ENDS = {"distal": "at the toes", "proximal": "at the top"}


class Animal(Shape):
    """What the layers ask of an animal. weight: kg; skin: intact, incision or wound; spans: the place of its weight."""

    @property
    def weight(self) -> Fraction: ...
    @property
    def skin(self) -> str: ...
    @property
    def spans(self) -> Spans: ...


def needs_limb(layers: Sequence[Layer]) -> bool:
    """Whether any layer is reckoned on the limb's girths and length."""
    return any(layer.passes is not None and layer.rolls is None for layer in layers)


def whose_rolls(layers: Sequence[Layer], parts: Sequence[Protocol]) -> dict[str, str]:
    """By layer: whose word its rolls by weight are, as the part says that it comes from."""
    return {
        layer.layer: str(part.sources["rolls"])
        for layer in layers
        for part in parts
        if "rolls" in part.sources and any(own.spans is layer.spans for own in part.layers)
    }


def plan_layers(
    layers: Sequence[Layer],
    limb: Limb,
    patient: Animal,
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
    wall = Wall(cone, limb.trust)
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


def is_needed(layer: Layer, patient: Animal) -> bool:
    """Whether a layer goes on this patient's skin."""
    if layer.needed_if == "wound":
        return patient.skin == "wound"
    return layer.needed_if is None or patient.skin in ("incision", "wound")


def _plan_layer(
    layer: Layer,
    material: Material | None,
    wall: Wall,
    patient: Animal,
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
            say.line("pieces", str(count)),
        )
        return LayerPlan(
            layer, material, None, None, None, None, None, None, rolls, None, Fraction(0), None, pieces=True
        )
    return _wound(layer, material, wall, patient, waste, waste_span, notes)


def _by_band(
    pairs: Sequence[tuple[object, object]], layer: Layer, key: str, patient: Animal, cone: Cone | None
) -> tuple[object, str]:
    """The value of the band that holds the animal, and words on which band that is."""
    for band, value in pairs:
        assert isinstance(band, Band)
        measure = patient.weight if band.dimension == "mass" else cone.mean if cone else None
        if measure is not None and band.holds(measure):
            unit = "kg" if band.dimension == "mass" else "cm"
            return value, f"{say.shown(measure)} {unit} lies in {band_words(band)}"
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
    layer: Layer, material: Material | None, wall: Wall, patient: Animal, notes: list[Note], standing: str
) -> LayerPlan:
    """A shape that is no limb: rolls as the protocol states them, nothing computed by a formula that does not fit."""
    assert layer.rolls is not None
    count, why = _by_band(layer.rolls, layer, "rolls", patient, wall.cone)
    assert isinstance(count, int)
    rolls = Figure(
        "rolls",
        count,
        "1",
        str(layer.spans["rolls"]),
        "set",
        f"the protocol, by weight; {standing or 'nobody says whose figure'}",
        say.line(f"rolls as the protocol says; {why}", str(count)),
    )
    width = _shelf_width(layer, material, wall, patient, notes) if layer.width is not None else None
    return LayerPlan(
        layer, material, width, layer.passes, layer.overlap, None, None, None, rolls, None, Fraction(0), None,
        pieces=material is not None and bool(material.sizes),
    )  # fmt: skip


def _stated_width(layer: Layer, patient: Animal, wall: Wall) -> Figure:
    value, why = (
        (layer.width, "")
        if isinstance(layer.width, Fraction)
        else _by_band(layer.width or (), layer, "width", patient, wall.cone)
    )
    assert isinstance(value, Fraction)
    said = say.line(f"width as the protocol says{f'; {why}' if why else ''}", f"{say.shown(value)} cm")
    return Figure("width", value, "cm", str(layer.spans["width"]), "set", "the protocol", said)


def _shelf_width(layer: Layer, material: Material | None, wall: Wall, patient: Animal, notes: list[Note]) -> Figure:
    """The width stated, as the shelf has it; where it has not, the nearest one, and a note."""
    stated = _stated_width(layer, patient, wall)
    if material is None or not material.widths:
        return stated
    nearest = nearest_first(material.widths, [stated.number])[0]
    if nearest == stated.number:
        return stated
    lines = [stated.working, nearest_line((stated.number,), material.widths, nearest)]
    taken = Figure("width", nearest, "cm", stated.origin, "set", stated.standing, "\n".join(lines))
    if not is_same(stated.number, nearest):
        notes.append(not_stocked(layer, material, stated, taken, layer.spans["width"]))
    return taken


def _stirrups(
    layer: Layer, material: Material | None, wall: Wall, patient: Animal, waste: Fraction, notes: list[Note]
) -> LayerPlan:
    count = layer.count or STIRRUP_COUNT
    if layer.length is not None:
        one, origin, lines, trust = (
            layer.length,
            str(layer.spans["length"]),
            [],
            "set",
        )
    elif wall.cone is not None:
        on_leg = min(wall.cone.length / 2, STIRRUP_ON_LEG)
        free = max(on_leg, STIRRUP_FREE)
        one, origin, trust = on_leg + free, "formula: stirrup strip", wall.trust
        half, most = f"{say.shown(wall.cone.length)} ÷ 2", say.shown(STIRRUP_ON_LEG)
        lines = [
            say.line("on the leg", f"the lesser of {half} and {most} {say.equals(on_leg, 'cm')}"),
            say.line(
                "free", f"the greater of {say.shown(on_leg)} and {say.shown(STIRRUP_FREE)} {say.equals(free, 'cm')}"
            ),
            say.line("one strip", f"{say.shown(on_leg)} + {say.shown(free)} {say.equals(one, 'cm')}"),
        ]
    else:
        rolls = Figure(
            "rolls",
            1,
            "1",
            str(layer.spans["layer"]),
            "set",
            "the protocol",
            say.line("rolls, no length being set", "1"),
        )
        return LayerPlan(
            layer, material, None, None, None, None, None, None, rolls, None, Fraction(0), None, strips=None
        )
    lines = [*lines, say.line("all strips", f"{count} × {say.shown(one)} {say.equals(count * one, 'cm')}")]
    strip = Figure("strip", count * one, "cm", origin, trust, "house rule", "\n".join(lines))  # type: ignore[arg-type]
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
        nearest_line((STIRRUP_WIDTH,), material.widths, width),
    )


def _need(
    strip: Figure, material: Material | None, waste: Fraction
) -> tuple[Figure | None, Fraction | None, Figure, Figure | None]:
    """Relaxed need, exact rolls, whole rolls, what is left over."""
    if material is None or material.roll_relaxed is None:
        alone = say.line("rolls, no roll length being known", "1")
        return None, None, Figure("rolls", 1, "1", strip.origin, strip.trust, "the protocol", alone), None
    relaxed = wrap.relaxed_need(strip.number, material.extension, waste)
    need = Figure(
        "need",
        relaxed,
        "cm",
        "formula: relaxed length with waste",
        strip.trust,
        "house rule",
        say.line(
            "relaxed, waste in" if material.extension else "waste in",
            f"{say.shown(strip.number)}{stretch(material)} × (1 + {say.shown(waste)}) {say.equals(relaxed, 'cm')}",
        ),
        (strip,),
    )
    rolls = wrap.rolls_needed(relaxed, material.roll_relaxed)
    roll, need_shown = say.shown(material.roll_relaxed), say.shown(relaxed)
    shown = "\n".join([roll_line(material), *whole_lines(f"{need_shown} ÷ {roll}", relaxed / material.roll_relaxed)])
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
        say.line(
            "left over", f"{rolls} × {roll} − {need_shown} {say.equals(rolls * material.roll_relaxed - relaxed, 'cm')}"
        ),
        (whole, need),
    )
    return need, relaxed / material.roll_relaxed, whole, left


def ideal_widths(mean_girth: Fraction) -> tuple[Fraction, ...]:
    """The width, or widths, that the trade takes for a mean bare girth in cm."""
    return next(widths for upper, widths in _WIDTHS if upper is None or mean_girth < upper)


def _girth_words(mean_girth: Fraction) -> str:
    """The row of the table that a mean bare girth falls into: `14 cm to under 20 cm`."""
    lower = Fraction(0)
    for upper, _ in _WIDTHS:
        if upper is None or mean_girth < upper:
            break
        lower = upper
    return band_words(Band(lower, upper, "length"))


def _choose_width(
    layer: Layer, material: Material, patient: Animal, wall: Wall
) -> tuple[Figure, tuple[Fraction, ...], Figure | None]:
    """The width to take, the stocked ones in order of preference, and the width asked for if the shelf has it not."""
    assert wall.cone is not None
    stated = _stated_width(layer, patient, wall) if layer.width is not None else None
    ideal = (stated.number,) if stated is not None else ideal_widths(wall.cone.mean)
    ranked = nearest_first(material.widths, ideal)
    width = ranked[0]
    if stated is not None:
        origin, standing, lines = stated.origin, "the protocol", [stated.working]
    else:
        origin, standing = "formula: width by mean girth", "house rule"
        wanted = " or ".join(map(say.shown, ideal))
        lines = [
            mean_line(wall.cone),
            say.line(f"wanted for a girth of {_girth_words(wall.cone.mean)}", f"{wanted} cm"),
        ]
    working = "\n".join([*lines, nearest_line(ideal, material.widths, width)])
    asked = None
    if not any(is_same(one, width) for one in ideal):
        nearest = nearest_first(ideal, [width])[0]
        why = "\n".join([*lines, say.line("of these the nearest to the shelf", f"{say.shown(nearest)} cm")])
        asked = stated or Figure("width asked for", nearest, "cm", origin, wall.trust, standing, why)
    return Figure("width", width, "cm", origin, "set", standing, working), ranked, asked


def _wound(
    layer: Layer,
    material: Material,
    wall: Wall,
    patient: Animal,
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
    strip = Figure(
        "strip",
        laid,
        "cm",
        "formula: length × girth halfway ÷ new ground",
        wall.trust,
        "computed; volume of the wall",
        "\n".join(strip_lines(wall.cone, cone, wall, layer, material, width.number)),
        (width,),
    )
    need, exact, rolls, left = _need(strip, material, waste)
    alternate = None
    for other in ranked[1:]:
        try:
            there = wrap.relaxed_need(strip_of(other), material.extension, waste)
        except wrap.TooWide:
            continue
        in_rolls = wrap.rolls_needed(there, material.roll_relaxed or there)
        sums = other_width_lines(cone, wall, layer, material, other, waste) if material.roll_relaxed is not None else ""
        alternate = Alternate(other, in_rolls, sums)
        break
    thickness = wrap.pass_thickness(t, overlap) * passes
    met = cone.mean + wrap.growth(under + thickness / 2)
    # Wider than the limb is round: it lies in folds on a cone (too wide wrinkles, common practice).
    if width.number > cone.mean:
        notes.append(
            Note(
                "wide-strip",
                (("layer", layer.layer), ("width", width.number), ("girth", cone.mean)),
                layer.spans["layer"],
            )
        )
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
            girth = Figure(
                "mean girth", wall.cone.mean, "cm", "formula: mean bare girth", wall.trust, "", mean_line(wall.cone)
            )
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
    plan = LayerPlan(
        layer, material, width, passes, overlap, strip, need, exact, rolls, left, thickness, pressure, alternate
    )
    wall.thickness += thickness
    if thickness:
        wall.coats.append(coat_of(plan))
    return plan


def _pressure(
    layer: Layer, material: Material, wall: Wall, cone: Cone, width: Fraction, thicknesses: Fraction
) -> tuple[Figure, Figure] | None:
    """This layer's own estimate at its two ends; None without a stated tension or on an estimated limb."""
    tension = material.tension.by_width.get(width) if material.tension else None
    if tension is None or wall.trust != "measured":
        return None
    assert material.tension is not None
    ends = []
    for name, bare in (("distal", cone.distal), ("proximal", cone.proximal)):
        value = layer_pressure(tension, bare, width, thicknesses, wall.thickness, material.thickness)
        lines = pressure_lines(_ENDS[name], layer, wall, bare, tension, width, material.thickness, thicknesses)
        ends.append(
            Figure(
                f"pressure {name}",
                value,
                "mm[Hg]",
                str(material.tension.spans.get("", "stock")),
                "estimated",
                "Thomas 2003; tension measured by the clinic",
                "\n".join(lines),
            )
        )
    return ends[0], ends[1]
