"""A plan as plain text, for the screen of whoever is at the counter.

Takes  a `Plan`.
Gives  `plan_text`: the same facts as the floor card, line by line, in English.
Knows  column widths; nothing of paper.
"""

from __future__ import annotations

from generator.compose import hand
from generator.compose.card_limits import pressure_line
from generator.compose.data import plan_digest
from generator.compose.notes import notes_of
from generator.compose.writer import Writer
from generator.reckon.plan import Event, Figure, LayerPlan, Plan
from generator.reckon.prices import price_of

_WORDS = {
    "check": "first check",
    "recheck": "recheck",
    "change": "change",
    "removal": "removal",
    "release": "release",
    "watch": "look",
}

# Why there is no sum is said where the sum would stand.
_ON_THE_COST_LINE = frozenset({"cost-unknown", "cost-in-currencies"})


def plan_text(plan: Plan) -> str:
    """Patient, deadline, layers, visits, decisions and notes; lines end without spaces, the last without a newline."""
    patient = plan.patient
    lines = [
        f"{patient.name}, {patient.species}, {hand.measure(patient.weight, 'kg')}, {patient.limb.site}: {plan.bandage.title}",
        f"on {hand.moment(plan.applied)}   sheet {plan_digest(plan)}",
        *([f"bandaging began {hand.moment(plan.began)}"] if plan.began != plan.applied else []),
        "",
        *_ends(plan),
        "",
        *_limb(plan),
        *(_layer(layer) for layer in plan.layers),
        _text(str(pressure_line(plan, Writer()).striptags())),
        *_cost(plan),
        "",
        *(_event(event, plan) for event in plan.events if event.kind != "watch"),
        *_watches(plan),
        "goes home" if plan.go_home else "stays in the clinic",
    ]
    if plan.modifiers:
        lines += [
            "",
            *(
                f"modifier {used.modifier.name}: {', '.join(f'{key} {before} -> {after}' for key, before, after in used.changed) or 'warns only'}"
                for used in plan.modifiers
            ),
        ]
    notes = notes_of(plan, Writer(), _ON_THE_COST_LINE)
    if notes:
        lines += ["", *(f"note: {note.striptags()}" for note in notes)]
    if plan.then is not None:
        lines += ["", *_then(plan.then)]
    return "\n".join(_text(line) for line in lines)


def _then(plan: Plan) -> list[str]:
    """The bandage that follows: its own facts, without the two lines that both have in common."""
    return [
        f"THEN, only once the bleeding has stopped and the clinician has seen the limb: {plan.bandage.title}",
        f"counted from the release, {hand.moment(plan.applied)}",
        *plan_text(plan).splitlines()[2:],
    ]


def _text(line: str) -> str:
    return line.replace(hand.NO_BREAK, " ").rstrip()


def _ends(plan: Plan) -> list[str]:
    lines = []
    if plan.deadline is not None:
        lines.append(
            f"{'OPEN BY' if plan.deadline.kind == 'change' else 'OFF BY'} {hand.moment(plan.deadline.due)}{_booking(plan.deadline, plan)}"
        )
    if plan.remove_by is not None and plan.remove_by is not plan.deadline:
        lines.append(f"bandaging ends by {hand.moment(plan.remove_by.due)}{_booking(plan.remove_by, plan)}")
    lines += [f"bandaging ends when {end}" for end, _ in plan.bandage.clinical_ends]
    return lines


def _booking(event: Event, plan: Plan) -> str:
    if event.booked is not None:
        return f"   booked {hand.moment(event.booked)}"
    if event.slot is not None and event.where != "ward":
        return f"   book by {hand.moment(event.slot)}"
    if event.where == "emergency place":
        return f"   closed then: {plan.book.clinic.emergency_place.name}"
    return "   no opening: admit, or apply at another time" if event.slot is None and event.where == "clinic" else ""


def _limb(plan: Plan) -> list[str]:
    limb = plan.limb
    if limb.distal_girth is None or limb.proximal_girth is None or limb.covered_length is None:
        return []
    sizes = ", ".join(
        hand.measure(f.number, "cm") for f in (limb.distal_girth, limb.proximal_girth, limb.covered_length)
    )
    lines = [f"limb {sizes} (toes, top, length), {limb.trust}"]
    if plan.finished_girth is not None:
        low, high = (hand.measure(f.number, "cm") for f in plan.finished_girth)
        lines.append(f"finished girth about {low} and {high}")
    return lines


def _layer(plan: LayerPlan) -> str:
    def shown(figure: Figure | None, before: str = "") -> str:
        return before + hand.measure(figure.number, figure.unit) if figure is not None else ""

    count, price = int(plan.rolls.number), price_of(plan)
    row = (
        f"{plan.layer.layer:<11} {plan.layer.material or '-':<22} {count} {plan.unit}{'s' if count != 1 else ''}",
        shown(plan.width), f"{plan.passes} x" if plan.passes else "", shown(plan.need, "need "), shown(plan.left_over, "left over "),
        f"{price.amount} {price.currency}" if price is not None else "no price",
    )  # fmt: skip
    return "   ".join(part for part in row if part)


def _cost(plan: Plan) -> list[str]:
    """The sum; or that there is none, and why."""
    if plan.cost is not None:
        return [f"cost {plan.cost[0]} {plan.cost[1]}"]
    if not plan.layers:
        return []
    others = frozenset(note.code for note in plan.notes) - _ON_THE_COST_LINE
    return [" ".join(["cost: no sum.", *(note.striptags() for note in notes_of(plan, Writer(), others))])]


def _event(event: Event, plan: Plan) -> str:
    opens = f"{hand.moment(event.opens)} to " if event.opens else "by "
    return f"{_WORDS[event.kind]:<12} {opens}{hand.moment(event.due)} ({event.where}){_booking(event, plan)}"


def _watches(plan: Plan) -> list[str]:
    looks = [event for event in plan.events if event.kind == "watch"]
    if not looks:
        return []
    return [
        f"{'looks':<12} {len(looks)}, {hand.moment(looks[0].due)} to {hand.moment(looks[-1].due)} ({looks[0].where})"
    ]
