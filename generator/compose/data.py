"""A plan as plain data: the stable form other programs read.

Takes  a `Plan`.
Gives  `plan_data`, ready for JSON; `plan_digest`, a short number for exactly this plan.
Knows  the contract: keys are never renamed, lengths are unrounded cm, money is a text, moments ISO 8601 with their offset.
"""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from generator.protocol.approval import Standing
from generator.reckon.plan import AppliedModifier, Choice, Considered, Decision, Event, Figure, LayerPlan, Note, Plan
from generator.reckon.prices import Price, price_of
from generator.source.problem import as_data

VERSION = 1

_HOUSE, _CONTACT = "house limit for ", "contact:"
# Crockford's base 32: no I, L, O or U, so that a number read over the telephone is written down right.
_ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"


def plan_data(plan: Plan) -> dict[str, Any]:
    """The plan as dicts, lists, texts, numbers and None.

    Returns:
        `plan` is the version of this form. Lengths in cm, pressures in mmHg, both unrounded floats; moments ISO 8601.
    """
    data = _content(plan)
    warnings = [as_data(problem) for problem in plan.warnings]
    return {**data, "issued": _moment(plan.now), "sheet": plan_digest(plan), "warnings": warnings}


def plan_digest(plan: Plan) -> str:
    """Six signs, such as `7K3F-92`, that name exactly this plan; the same whenever it is printed again."""
    import hashlib
    import json

    text = json.dumps(_content(plan), sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    number = int.from_bytes(hashlib.sha256(text.encode("ascii")).digest()[:4], "big") >> 2
    signs = "".join(_ALPHABET[number >> shift & 31] for shift in (25, 20, 15, 10, 5, 0))
    return f"{signs[:4]}-{signs[4:]}"


def _content(plan: Plan) -> dict[str, Any]:
    limb = plan.limb
    return {
        "plan": VERSION,
        "protocols": [
            {"slug": p.protocol, "id": p.id, "revision": p.revision, "stage": p.stage}
            for p in ((plan.bandage.stored,) if plan.bandage.stored else ()) + plan.bandage.parts
        ],
        "patient": {
            "name": plan.patient.name,
            "species": plan.patient.species,
            "weight_kg": float(plan.patient.weight),
            "born": plan.patient.born.isoformat() if plan.patient.born else None,
            "file_number": plan.patient.file_number,
            "owner": plan.patient.owner_name,
            "language": plan.patient.language,
            "site": plan.patient.limb.site,
            "skin": plan.patient.skin,
            "condition": list(plan.patient.condition),
        },
        "clinic": {"name": plan.book.clinic.name, "time_zone": plan.book.clinic.time_zone},
        "applied": _moment(plan.applied),
        "began": _moment(plan.began),
        "planned": plan.patient.is_planned,
        "limb": {
            "distal_girth_cm": _number(limb.distal_girth),
            "proximal_girth_cm": _number(limb.proximal_girth),
            "covered_length_cm": _number(limb.covered_length),
            "trust": limb.trust,
        },
        "layers": [_layer(layer) for layer in plan.layers],
        "finished_girth_cm": _pair(plan.finished_girth),
        "pressure_mmhg": _pair(plan.pressure),
        "cost": {"amount": str(plan.cost[0]), "currency": plan.cost[1]} if plan.cost else None,
        "events": [_event(event) for event in plan.events],
        "deadline": {"kind": plan.deadline.kind, **_due(plan.deadline)} if plan.deadline else None,
        "remove_by": _due(plan.remove_by) if plan.remove_by else None,
        "go_home": plan.go_home,
        "decided_by": {decision.key: decider(decision, plan) for decision in plan.decisions},
        "modifiers": [applied.modifier.name for applied in plan.modifiers],
        "modifiers_applied": [_applied(one) for one in plan.modifiers],
        "modifiers_considered": [_considered(one) for one in plan.considered],
        "contact": _choice(plan.choice) if plan.choice is not None else None,
        "course": _course(plan),
        "issued_by": plan.patient.issued_by,
        "explained_by": plan.patient.explained_by,
        "notes": [_note(note) for note in plan.notes],
        "tz_release": plan.zone_release,
        "digests": {name: digest for name, digest in plan.book.digests.items() if name != _NOT_OF_PLANS},
        "approvals": [_approval(one) for one in plan.standings],
        "then": _then(plan.then) if plan.then is not None else None,
    }


def _approval(one: Standing) -> dict[str, Any]:
    """Who approved what a protocol says; nobody, where its content is not what was approved."""
    own = one.approval if one.is_approved else None
    return {
        "id": one.protocol.id,
        "revision": one.protocol.revision,
        "content": one.protocol.content,
        "approved_by": own.approved_by if own else None,
        "approved_on": own.approved_on.isoformat() if own else None,
    }


# Said once, for both bandages of a sequence.
# Who was trained on what changes no plan; a sheet's number stays the same.
_NOT_OF_PLANS = "training.yaml"
_OF_BOTH = frozenset({"plan", "patient", "clinic", "issued_by", "explained_by", "tz_release", "digests", "then"})


def _then(plan: Plan) -> dict[str, Any]:
    """The bandage that follows a pressure bandage: its `applied` is the earliest moment at which it can go on."""
    own = {key: value for key, value in _content(plan).items() if key not in _OF_BOTH}
    return {"counted_from": "release", **own}


def decider(decision: Decision, plan: Plan) -> str:
    """Who decided: `part:slug`, `contact:material`, `modifier:name` or `house:key`."""
    if decision.by.startswith(_CONTACT):
        return decision.by
    if decision.by.startswith(_HOUSE):
        return f"house:{decision.by.removeprefix(_HOUSE)}"
    is_modifier = any(used.modifier.name == decision.by for used in plan.modifiers)
    return f"{'modifier' if is_modifier else 'part'}:{decision.by}"


def _applied(one: AppliedModifier) -> dict[str, Any]:
    modifier = one.modifier
    return {
        "name": modifier.name,
        "derived": one.derived,
        "changed": _changed(one.changed),
        "warns": modifier.warns,
        "because": modifier.because,
        "source": {key: str(source) for key, source in modifier.source.items()},
    }


def _considered(one: Considered) -> dict[str, Any]:
    return {
        "name": one.modifier.name,
        "not_applied_because": one.because,
        "would_change": _changed(one.would_change),
        "would_forbid": one.would_forbid,
    }


def _changed(rows: tuple[tuple[str, str, str], ...]) -> list[dict[str, str]]:
    return [{"key": key, "before": before, "after": after} for key, before, after in rows]


def _choice(choice: Choice) -> dict[str, Any]:
    return {
        "stage": choice.stage,
        "exudate": choice.exudate,
        "features": list(choice.features),
        "material": choice.material,
        "typed": choice.typed,
        "offers": [
            {
                "family": offer.family,
                "material": offer.material,
                "fits": offer.fits,
                "against": list(offer.against),
                "change_every": str(offer.use.change) if offer.use else None,
                "wet_first": offer.use is not None and choice.exudate in offer.use.wetted,
                "source": offer.use.source if offer.use else None,
                "care": offer.use.care if offer.use else "",
                "objection": offer.objection,
            }
            for offer in choice.offers
        ],
    }


def _course(plan: Plan) -> dict[str, Any]:
    return {
        "began": _moment(plan.began),
        "application": len(plan.earlier) + 1 if plan.earlier or plan.began == plan.applied else None,
        "earlier": [
            {"protocol": one.protocol, "on": _moment(one.on), "off": _moment(one.off), "counts": one.counts}
            for one in plan.earlier
        ],
    }


def _layer(plan: LayerPlan) -> dict[str, Any]:
    return {
        "layer": plan.layer.layer,
        "material": plan.layer.material,
        "width_cm": _number(plan.width),
        "size": plan.layer.size,
        "passes": plan.passes,
        "overlap": _plain(plan.overlap),
        "strip_cm": _number(plan.strip),
        "need_cm": _number(plan.need),
        "rolls_exact": _plain(plan.rolls_exact),
        "rolls": int(plan.rolls.number),
        "unit": plan.unit,
        "trust": plan.rolls.trust,
        "left_over_cm": _number(plan.left_over),
        "pressure_mmhg": _pair(plan.pressure),
        "price": _price(price_of(plan)),
        "stocked_widths_cm": [float(width) for width in plan.material.widths] if plan.material else [],
        "stocked_sizes": list(plan.material.sizes) if plan.material else [],
    }


def _price(price: Price | None) -> dict[str, str] | None:
    if price is None:
        return None
    return {"each": str(price.each), "amount": str(price.amount), "currency": price.currency}


def _event(event: Event) -> dict[str, Any]:
    return {
        "kind": event.kind,
        "opens": _moment(event.opens),
        "due": _moment(event.due),
        "slot": _moment(event.slot),
        "booked": _moment(event.booked),
        "where": event.where,
    }


def _due(event: Event) -> dict[str, str | None]:
    return {"due": _moment(event.due), "slot": _moment(event.slot)}


def _note(note: Note) -> dict[str, Any]:
    return {"code": note.code, **{key: _plain(value) for key, value in note.values}}


def _number(figure: Figure | None) -> float | None:
    return None if figure is None else float(figure.number)


def _pair(pair: tuple[Figure, Figure] | None) -> list[float] | None:
    return None if pair is None else [float(figure.number) for figure in pair]


def _moment(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")


def _plain(value: Any) -> Any:
    """A value JSON can hold."""
    if isinstance(value, Fraction):
        return float(value)
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, datetime):
        return _moment(value)
    if isinstance(value, Figure):
        return _moment(value.value) if isinstance(value.value, datetime) else float(value.number)
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    return value if value is None or isinstance(value, bool | int | float | str) else str(value)
