"""The parts of a floor card that come before the steps.

Takes  a `Plan` and a `Writer`.
Gives  the patient line, the deadline box, what to fetch and the drawing of the layers, as safe markup.
Knows  the trade's order of layers; rounding: need up, left down.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.card_limits import unbroken
from generator.compose.card_wound import course_line
from generator.compose.layer_cut import cut_through, layer_number
from generator.compose.writer import Writer
from generator.protocol.kinds import LAYERS
from generator.reckon.plan import Event, LayerPlan, Plan
from generator.words import isolation

# Spare below this share of what is needed is called tight: one more turn than reckoned, and a second roll is opened.
TIGHT = Fraction(1, 10)


def patient_line(plan: Plan, writer: Writer) -> tuple[Markup, Markup]:
    """`Maple, dog, 18.4 kg, left hind`, and whose animal it is."""
    patient = plan.patient
    name = writer.authored(isolation.name(patient.name), patient.spans.get("patient.name"), "pet")
    weight = writer.number("weight", patient.weight, hand.measure(patient.weight, "kg"))
    line = Markup("<strong>{}</strong>, {}, {}, {}").format(name, patient.species, weight, patient.limb.site)
    owner = writer.authored(isolation.name(patient.owner_name), patient.spans.get("owner.name"), "owner")
    if patient.file_number:
        owner = Markup("{}, file {}").format(
            owner, writer.authored(patient.file_number, patient.spans.get("patient.file_number"), "file")
        )
    return line, Markup("Owner {}").format(owner)


def deadline_lines(plan: Plan, writer: Writer) -> dict[str, Any]:
    """When to open it, the visits before, and the end; of a pressure bandage when it went on and when it is released."""
    event = plan.deadline
    if event is None:
        return {"label": "No deadline is set: ask the clinician", "due": Markup(), "lines": []}
    lines = _clock_lines(plan)
    if plan.bandage.is_haemorrhage:
        lines.append(
            Markup("First on at {}. Wrapping again restarts nothing.").format(
                writer.moment(plan.began, hand.clock(plan.began), "began")
            )
        )
        release = plan.first("release")
        if release is not None:
            lines.append(
                Markup("Release at {} at the latest.").format(
                    writer.moment(release.due, hand.clock(release.due), "release")
                )
            )
    if event.where != "ward":
        lines.append(_visit_line("Change" if event.kind == "change" else "Removal", event, plan, writer))
    check = plan.first("check")
    if check is not None:
        lines.append(_visit_line("First check", check, plan, writer))
    course = course_line(plan, writer)
    if course is not None:
        lines.append(course)
    if plan.remove_by is not None and event.kind != "removal":
        lines.append(Markup("Bandaging ends by {}").format(_when(writer, plan.remove_by.due, "end")))
    for end, span in plan.bandage.clinical_ends:
        lines.append(Markup("Bandaging ends when: {}").format(writer.authored(end, span, "end")))
    label = (
        "Must be off by. Later: off now, and call."
        if event.kind == "removal"
        else "Open by. Later: open now, and call."
    )
    return {"label": label, "due": writer.moment(event.due, hand.moment(event.due), "deadline"), "lines": lines}


def _clock_lines(plan: Plan) -> list[Markup]:
    """A change of the clocks before the deadline: a wall clock that nobody has moved would keep the bandage on an hour too long."""
    assert plan.deadline is not None
    before, after = plan.applied.utcoffset(), plan.deadline.due.utcoffset()
    assert before is not None
    assert after is not None
    if before == after:
        return []
    way = "forward" if after > before else "back"
    said = Markup("<strong>Clocks go {} before then.</strong>").format(way)
    return [said]


def _visit_line(name: str, event: Event, plan: Plan, writer: Writer) -> Markup:
    if plan.is_before_home(event):
        return Markup("{}: before it goes home, by {}").format(name, _when(writer, event.due, "due"))
    if event.booked is not None:
        return Markup("{}: booked {}").format(name, _when(writer, event.booked, "booked"))
    if event.slot is not None:
        return Markup("{}: book by {}").format(name, _when(writer, event.slot, "slot"))
    if event.where == "emergency place":
        place = plan.book.clinic.emergency_place
        return Markup("{}: {}, by {}").format(
            name, writer.authored(place.name, place.spans.get("name"), "place"), _when(writer, event.due, "due")
        )
    if event.where == "ward":
        return Markup("{}: on the ward by {}").format(name, _when(writer, event.due, "due"))
    return Markup("{}: no opening by {}. Admit, or apply at another time.").format(
        name, _when(writer, event.due, "due")
    )


def _when(writer: Writer, at: Any, name: str) -> Markup:
    return writer.moment(at, hand.moment(at, year=False), name)


def fetch_rows(plan: Plan, writer: Writer) -> list[dict[str, Any]]:
    """What to take from the drawer, in layer order: whole rolls, width, and what the figures mean."""
    choice = plan.choice
    is_wet = (
        choice is not None
        and choice.chosen is not None
        and choice.chosen.use is not None
        and choice.exudate in choice.chosen.use.wetted
    )
    return [_fetch(layer, writer, is_wet and layer.layer.layer == "contact") for layer in plan.layers]


def _fetch(plan: LayerPlan, writer: Writer, is_wet: bool = False) -> dict[str, Any]:
    layer = plan.layer
    key = layer.layer
    number = int(plan.rolls.number)
    passes = Markup()
    if plan.strips is not None:
        count, length = plan.strips
        passes = Markup("{} × {}").format(writer.number(f"{key}.strips", count, str(count)),
                                         writer.number(f"{key}.strip-length", length, hand.measure(length, "cm", 0, "up")))  # fmt: skip
    elif plan.passes is not None:
        passes = writer.number(f"{key}.passes", plan.passes, f"{plan.passes} pass{'es' if plan.passes > 1 else ''}")
    other = Markup()
    if plan.alternate is not None:
        rolls = plan.alternate.rolls
        other = Markup("{} {}, {}").format(key, writer.number(f"{key}.other-width", plan.alternate.width, hand.measure(plan.alternate.width, "cm")),
                                        writer.number(f"{key}.other-rolls", rolls, f"{rolls} roll{'s' if rolls != 1 else ''}"))  # fmt: skip
    return {
        "number": layer_number(key), "layer": key,
        "rolls": writer.figure(plan.rolls, f"{number}\u00a0{plan.unit}{'s' if number != 1 else ''}"),
        "material": writer.authored(layer.material or "as the clinician orders", layer.spans.get("material"), f"{key}.material") + (", wet it" if is_wet else ""),
        "width": _width(plan, writer),
        "passes": passes,
        "need": hand.figure(writer, plan.need, 0, "up") if plan.need is not None else Markup(),
        "left": hand.figure(writer, plan.left_over, 0, "down") if plan.left_over is not None else Markup(),
        "tight": plan.left_over is not None and plan.need is not None and plan.left_over.number < plan.need.number * TIGHT,
        "other": other,
    }  # fmt: skip


def _width(plan: LayerPlan, writer: Writer) -> Markup:
    """The width of a roll; the size of a piece, or the length it is cut to: what tells one from another in the drawer."""
    layer = plan.layer
    if plan.width is not None:
        return hand.figure(writer, plan.width)
    if layer.size:
        return writer.authored(unbroken(layer.size), layer.spans.get("size"), f"{layer.layer}.size")
    if layer.length is not None and plan.strips is None:
        length = writer.number(f"{layer.layer}.length", layer.length, hand.measure(layer.length, "cm"))
        return Markup("{} long").format(length)
    return Markup()


def unused_words(plan: Plan) -> str:
    """Layers of the trade's order that this bandage does without."""
    used = {layer.layer.layer for layer in plan.layers}
    return ", ".join(layer for layer in LAYERS if layer not in used)


def girth_line(plan: Plan, writer: Writer) -> Markup | None:
    """The limb's measures and the finished girth; an estimate says so in its first word."""
    limb = plan.limb
    if limb.distal_girth is None or limb.proximal_girth is None or limb.covered_length is None:
        return None
    first = "Measured" if limb.trust == "measured" else "Estimated by weight, nobody measured"
    line = Markup("{}: {} at the toes, {} at the top, {} long.").format(
        first, hand.figure(writer, limb.distal_girth), hand.figure(writer, limb.proximal_girth), hand.figure(writer, limb.covered_length))  # fmt: skip
    if plan.finished_girth is not None:
        low, high = plan.finished_girth
        line += Markup(" Finished about {} and {}.").format(hand.figure(writer, low, 0), hand.figure(writer, high, 0))
    return line


def layer_drawing(plan: Plan, writer: Writer) -> dict[str, str] | None:
    """A cut through limb and layers, to scale; None where no thickness was reckoned on a limb."""
    return cut_through(plan.layers, plan.limb.distal_girth, writer)
