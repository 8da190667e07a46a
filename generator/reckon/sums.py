"""The sums of a layer, written out for whoever does them again: strip, rolls, pressure.

Takes  the limb, what is on it, the layer and its material.
Gives  lines as `working.py` forms them; `Wall`, what is on the limb so far.
Knows  what the reckoning in `layers.py`, `wrap.py` and `pressure.py` does, step by step; a test does every line again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from generator.protocol.model import Layer, Material
from generator.reckon import working as say
from generator.reckon import wrap
from generator.reckon.plan import LayerPlan, Trust
from generator.reckon.pressure import LAPLACE, ring_pressure
from generator.reckon.wrap import Cone


@dataclass(slots=True)
class Wall:
    """What is on the limb so far. thickness: cm."""

    cone: Cone | None
    trust: Trust
    thickness: Fraction = Fraction(0)
    # Each layer in it, with the sum of what it adds.
    coats: list[tuple[str, str]] = field(default_factory=list)

    @property
    def built(self) -> list[str]:
        """The line that says how thick it is so far; none where nothing adds to the girth."""
        return [wall_line("thickness beneath it", self.coats, self.thickness)] if self.coats else []


def wall_line(what: str, coats: Sequence[tuple[str, str]], thickness: Fraction) -> str:
    """How thick layers are together: each one's passes × one thickness ÷ (1 − overlap)."""
    names = ", ".join(name for name, _ in coats)
    return say.line(f"{what} ({names})", f"{' + '.join(sum_ for _, sum_ in coats)} {say.equals(thickness, 'cm')}")


def coat_of(plan: LayerPlan) -> tuple[str, str]:
    """A wound layer and the sum of the thickness it adds."""
    assert plan.material is not None
    assert plan.overlap is not None
    return plan.layer.layer, f"{plan.passes} × {say.shown(plan.material.thickness)} ÷ (1 − {say.shown(plan.overlap)})"


def stretch(material: Material) -> str:
    return f" ÷ (1 + {say.shown(material.extension)})" if material.extension else ""


def roll_line(material: Material) -> str:
    """What one roll holds, relaxed; of a roll measured stretched its length divided by its full stretch."""
    relaxed = material.roll_relaxed
    assert relaxed is not None
    if material.full_stretch is None or material.roll is None:
        return say.line("one roll, relaxed", f"{say.shown(relaxed)} cm")
    full = f"{say.shown(material.roll)} ÷ (1 + {say.shown(material.full_stretch)})"
    return say.line("one roll, relaxed", f"{full} {say.equals(relaxed, 'cm')}")


def whole_lines(sum_: str, ratio: Fraction) -> list[str]:
    shown, up = say.whole(ratio)
    return [say.line("rolls", f"{sum_} {shown}"), say.line("whole rolls", f"{shown.split()[1]} rounded up = {up}")]


def nearest_line(ideal: tuple[Fraction, ...], stocked: Sequence[Fraction], width: Fraction) -> str:
    wanted, held = " or ".join(map(say.shown, ideal)), ", ".join(map(say.shown, sorted(stocked)))
    return say.line("in stock", f"nearest to {wanted} of {held} {say.equals(width, 'cm')}")


def mean_line(cone: Cone) -> str:
    return say.line(
        "mean bare girth", f"({say.shown(cone.distal)} + {say.shown(cone.proximal)}) ÷ 2 {say.equals(cone.mean, 'cm')}"
    )


def _grown(bare: Fraction, *thicknesses: str) -> str:
    """`14 + 2π × (1.36 + 0.06)`: a girth with so much on the limb."""
    if not thicknesses:
        return say.shown(bare)
    inside = " + ".join(thicknesses)
    is_plain = len(thicknesses) == 1 and inside.replace(".", "").isdigit()
    return f"{say.shown(bare)} + 2π × {inside if is_plain else f'({inside})'}"


def _pass_girths(cone: Cone, wall: Wall, step: Fraction, passes: int) -> list[tuple[str, Fraction]]:
    """The girth halfway through each pass: its sum and its value."""
    girths = []
    for done in range(passes):
        on = [say.shown(wall.thickness)] if wall.thickness else []
        before = [f"{done} × {say.shown(step)}"] if done > 1 else [say.shown(step)] if done else []
        sum_ = _grown(cone.mean, *on, *before, f"{say.shown(step)} ÷ 2")
        girths.append((sum_, cone.mean + wrap.growth(wall.thickness + step * done + step / 2)))
    return girths


def strip_lines(bare: Cone, cone: Cone, wall: Wall, layer: Layer, material: Material, width: Fraction) -> list[str]:
    """Everything that a strip's length comes from, to be done again by hand."""
    assert layer.passes is not None
    assert layer.overlap is not None
    passes, overlap, step = layer.passes, layer.overlap, wrap.pass_thickness(material.thickness, layer.overlap)
    net, under = wrap.net_width(width, overlap), wall.thickness
    girths = _pass_girths(cone, wall, step, passes)
    turns = cone.length * sum((girth for _, girth in girths), Fraction(0)) / net
    anchors = wrap.anchor_length(cone, under)
    ends = f"{say.shown(cone.distal)} + {say.shown(cone.proximal)}"
    grown = f" + 2 × 2π × {say.shown(under)}" if under else ""
    lines = [
        say.line("new ground a turn", f"{say.product(width, less=overlap)} {say.equals(net, 'cm')}"),
        *_inset_lines(bare, cone, layer.inset),
        mean_line(cone),
        *wall.built,
        say.line(
            "thickness of one pass",
            f"{say.shown(material.thickness)} ÷ (1 − {say.shown(overlap)}) {say.equals(step, 'cm')}",
        ),
        *(
            say.line(f"girth halfway, pass {number}", f"{sum_} {say.equals(girth, 'cm')}")
            for number, (sum_, girth) in enumerate(girths, 1)
        ),
        say.line(
            "all passes, length × girths ÷ new ground",
            f"{say.shown(cone.length)} × {_bracketed([girth for _, girth in girths])} ÷ {say.shown(net)} {say.equals(turns, 'cm')}",
        ),
        say.line("one turn at each end", f"{ends}{grown} {say.equals(anchors, 'cm')}"),
    ]
    return [*lines, say.line("strip", f"{say.shown(turns)} + {say.shown(anchors)} {say.equals(turns + anchors, 'cm')}")]


def _bracketed(numbers: Sequence[Fraction]) -> str:
    return f"({' + '.join(map(say.shown, numbers))})" if len(numbers) > 1 else say.shown(numbers[0])


def _inset_lines(bare: Cone, cone: Cone, inset: Fraction) -> list[str]:
    """Where the layer ends short of the one beneath it: its length, and the girths at its ends."""
    if not inset:
        return []
    slope = f"({say.shown(bare.proximal)} − {say.shown(bare.distal)}) × {say.shown(inset)} ÷ {say.shown(bare.length)}"
    return [
        say.line(
            "length between its ends",
            f"{say.shown(bare.length)} − 2 × {say.shown(inset)} {say.equals(cone.length, 'cm')}",
        ),
        say.line("bare girth where it starts", f"{say.shown(bare.distal)} + {slope} {say.equals(cone.distal, 'cm')}"),
        say.line("bare girth where it ends", f"{say.shown(bare.proximal)} − {slope} {say.equals(cone.proximal, 'cm')}"),
    ]


def other_width_lines(
    cone: Cone, wall: Wall, layer: Layer, material: Material, width: Fraction, waste: Fraction
) -> str:
    """The rolls of another width: the same girths, other ground a turn."""
    assert layer.passes is not None
    assert layer.overlap is not None
    assert material.roll_relaxed is not None
    step, net = wrap.pass_thickness(material.thickness, layer.overlap), wrap.net_width(width, layer.overlap)
    girths = [girth for _, girth in _pass_girths(cone, wall, step, layer.passes)]
    anchors = wrap.anchor_length(cone, wall.thickness)
    laid = cone.length * sum(girths, Fraction(0)) / net + anchors
    need = wrap.relaxed_need(laid, material.extension, waste)
    around = f"{say.shown(cone.length)} × {_bracketed(girths)} ÷ {say.shown(net)} + {say.shown(anchors)}"
    lines = [
        say.line("new ground a turn", f"{say.product(width, less=layer.overlap)} {say.equals(net, 'cm')}"),
        say.line("strip, with the girths above", f"{around} {say.equals(laid, 'cm')}"),
        say.line("need", f"{say.shown(laid)}{stretch(material)} × (1 + {say.shown(waste)}) {say.equals(need, 'cm')}"),
        *whole_lines(f"{say.shown(need)} ÷ {say.shown(material.roll_relaxed)}", need / material.roll_relaxed),
    ]
    return "\n".join(lines)


def pressure_lines(
    end: str,
    layer: Layer,
    wall: Wall,
    bare: Fraction,
    tension: Fraction,
    width: Fraction,
    thickness: Fraction,
    count: Fraction,
) -> list[str]:
    """Each single thickness: the girth it meets, the pressure it adds; and their sum."""
    assert layer.overlap is not None
    lines = [
        say.line(
            "thicknesses over one point", f"{layer.passes} ÷ (1 − {say.shown(layer.overlap)}) {say.equals(count)}"
        ),
    ]
    values: list[Fraction] = []
    while len(values) < count:
        done, share = len(values), min(count - len(values), Fraction(1))
        on = [say.shown(wall.thickness)] if wall.thickness else []
        on += [f"{done} × {say.shown(thickness)}" if done > 1 else say.shown(thickness)] if done else []
        girth = bare + wrap.growth(wall.thickness + done * thickness)
        values.append(share * ring_pressure(tension, girth, width))
        part = f"{say.shown(share)} × " if share != 1 else ""
        sum_ = f"{part}{LAPLACE} × {say.shown(tension)} ÷ ({say.shown(girth)} × {say.shown(width)})"
        lines.append(
            say.line(
                f"{end}, thickness {done + 1}",
                f"{_grown(bare, *on)} {say.equals(girth, 'cm')}",
                f"{sum_} {say.equals(values[-1], 'mmHg')}",
            )
        )
    total = sum(values, Fraction(0))
    return [*lines, say.line(end, f"{' + '.join(map(say.shown, values))} {say.equals(total, 'mmHg')}")]
