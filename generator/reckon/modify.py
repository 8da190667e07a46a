"""Modifiers and house limits: what tightens this bandage for this animal.

Takes  the patient, the joined bandage, the book.
Gives  the limits in force, who decided each, and which modifiers applied.
Knows  ages and species; that nothing here ever loosens a limit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from generator.protocol.joining import Decision, Joined, decided
from generator.protocol.joins import LIMIT_KEYS, join_limits
from generator.protocol.model import AgeClause, Book, Limits, Modifier, Patient, Protocol, Removal
from generator.protocol.quantity import Limit
from generator.reckon.clock import months_later
from generator.reckon.plan import AppliedModifier, Considered
from generator.source.problem import Problem, Refusal


def is_young(clause: AgeClause, patient: Patient, on: date) -> bool:
    """Whether an age clause holds on a day. An unknown birth date counts as young: the stricter reading."""
    if clause.over is not None and patient.weight <= clause.over:
        return False
    if patient.born is None:
        return True
    if clause.unit == "week":
        return on < patient.born + timedelta(weeks=clause.amount)
    return on < months_later(patient.born, clause.amount)


def holds(modifier: Modifier, patient: Patient, on: date) -> bool:
    """Whether a modifier applies: derived from age, species or the wound, or ticked."""
    if patient.wound is not None and set(modifier.features) & set(patient.wound.features):
        return True
    if not modifier.is_derived:
        return modifier.name in patient.condition
    return patient.species in modifier.species or any(is_young(clause, patient, on) for clause in modifier.ages)


def touches(key: str, parts: Sequence[Protocol]) -> bool:
    """Whether limits filed under a purpose, a kind or `all` concern this bandage."""
    return key == "all" or any(
        key in (part.purpose, part.kind) or (key == "wound.open" and part.stage is not None) for part in parts
    )


def in_force(
    bandage: Joined,
    patient: Patient,
    book: Book,
    on: date,
    extra: Sequence[tuple[str, Limits]] = (),
    named: Sequence[str] = (),
) -> tuple[Limits, tuple[Decision, ...], tuple[AppliedModifier, ...]]:
    """Join the limits of the parts, the modifiers that hold and the house's own.

    Args:
        extra: what else tightens, by name, such as the dressing that lies on the wound.
        named: the parts in the order they were asked for: of two that say the same the first named is the one that decided.
    Raises:
        Refusal: a modifier forbids this kind of bandage; no end is offered for the patient's reason.
    """
    problems: list[Problem] = []
    asked = sorted(bandage.parts, key=lambda part: named.index(part.name) if part.name in named else len(named))
    own: list[tuple[str, Limits]] = [(part.name, part.limits) for part in asked]
    if bandage.stored is not None:
        own.append((bandage.stored.protocol, bandage.stored.limits))
    problems += _reason_problems(own, patient)
    met = [modifier for modifier in book.modifiers.values() if holds(modifier, patient, on)]
    problems += _forbidden(met, bandage, patient)
    if problems:
        raise Refusal(problems)
    contributors = [(name, _at_reason(limits, patient.reason)) for name, limits in (*own, *extra)]
    limits = _joined(contributors)
    applied: list[AppliedModifier] = []
    for modifier in met:
        concerned = [tighter for key, tighter in modifier.tightens.items() if touches(key, bandage.parts)]
        before = limits
        for tighter in concerned:
            tighter = _at_reason(tighter, patient.reason)
            contributors.append((modifier.name, tighter))
            limits = join_limits(limits, tighter)
        if concerned or modifier.warns:
            applied.append(AppliedModifier(modifier, modifier.is_derived, _changes(before, limits)))
    for key, tighter in book.clinic.house_limits.items():
        if touches(key, bandage.parts):
            tighter = _at_reason(tighter, patient.reason)
            contributors.append((f"house limit for {key}", tighter))
            limits = join_limits(limits, tighter)
    if bandage.limits.remove_when is not None:
        limits = replace(limits, remove_when=bandage.limits.remove_when)
    return limits, decided(contributors, limits), tuple(applied)


def considered(bandage: Joined, patient: Patient, book: Book, on: date, limits: Limits) -> tuple[Considered, ...]:
    """Every modifier that does not hold and would have concerned this bandage, with what it would have changed."""
    found = []
    for modifier in book.modifiers.values():
        if holds(modifier, patient, on):
            continue
        would = limits
        concerned = [tighter for key, tighter in modifier.tightens.items() if touches(key, bandage.parts)]
        for tighter in concerned:
            would = join_limits(would, _at_reason(tighter, patient.reason))
        forbids = any(part.kind in modifier.forbids for part in bandage.parts)
        if not (concerned or forbids):
            continue
        because = _not_met(modifier, patient) if modifier.is_derived else "not ticked"
        found.append(Considered(modifier, because, _changes(limits, would), forbids))
    return tuple(found)


def _not_met(modifier: Modifier, patient: Patient) -> str:
    if modifier.species and not modifier.ages:
        return f"the animal is a {patient.species}"
    born = patient.born.isoformat() if patient.born is not None else "unknown"
    return f"by birth date ({born}) and weight it is past that age"


def _changes(before: Limits, after: Limits) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (key, _shown(getattr(before, key)), _shown(getattr(after, key)))
        for key in LIMIT_KEYS
        if getattr(before, key) != getattr(after, key)
    )


def _joined(contributors: Sequence[tuple[str, Limits]]) -> Limits:
    limits = contributors[0][1]
    for _, other in contributors[1:]:
        limits = join_limits(limits, other)
    return limits


def _at_reason(limits: Limits, reason: str | None) -> Limits:
    """The limits with the one end that the patient's reason picks."""
    removal = limits.remove_by
    if removal is None or not removal.by_reason:
        return limits
    chosen = removal.by_reason.get(reason) if reason else None
    if chosen is None:
        # Another part offers the reason; of this one the earliest end counts.
        chosen = min(removal.by_reason.values(), key=lambda limit: limit.shortest.seconds)
    if removal.plain:
        chosen = chosen.join(removal.plain)
    return replace(limits, remove_by=Removal(Limit(chosen.durations)))


def _reason_problems(own: Sequence[tuple[str, Limits]], patient: Patient) -> list[Problem]:
    choosing = [(name, limits) for name, limits in own if limits.remove_by is not None and limits.remove_by.by_reason]
    if not choosing:
        return []
    offered = tuple(
        dict.fromkeys(reason for _, limits in choosing if limits.remove_by for reason in limits.remove_by.by_reason)
    )
    if patient.reason in offered:
        return []
    name, limits = choosing[0]
    what = (
        "the patient file gives no `reason`"
        if patient.reason is None
        else f"`{patient.reason}` is no reason that `{name}` knows"
    )
    span = patient.spans.get("reason") or patient.spans["skin"]
    return [
        Problem(
            "reason-not-offered",
            span,
            what,
            "the end of bandaging hangs on it",
            "write `reason:` (`--reason`) with one of: " + ", ".join(offered),
            also=((limits.spans["remove_by"], "the ends to choose from"),),
        )
    ]


def _forbidden(met: Sequence[Modifier], bandage: Joined, patient: Patient) -> list[Problem]:
    problems = []
    for modifier in met:
        for part in bandage.parts:
            if part.kind in modifier.forbids:
                span = (
                    patient.spans.get("condition")
                    if not modifier.is_derived
                    else patient.spans.get("patient.born") or patient.spans.get("patient.species")
                )
                problems.append(
                    Problem(
                        "forbidden-for-this-animal",
                        span or patient.spans[""],
                        f"`{modifier.name}` forbids `{part.name}`",
                        modifier.because,
                        "choose another bandage; the attending veterinarian decides",
                        also=((modifier.spans["forbids"], "the book says so here"),),
                    )
                )
    return problems


def _shown(value: object) -> str:
    if value is None:
        return "no limit"
    if isinstance(value, bool):
        return "yes" if value else "no"
    interval = getattr(value, "interval", None)
    return f"{interval} by {getattr(value, 'who', '')}" if interval else str(value)


def condition_problems(patient: Patient, modifiers: Mapping[str, Modifier]) -> list[Problem]:
    """Ticked conditions that the book does not know, derives itself, or does not react to."""
    problems = []
    span = patient.spans.get("condition") or patient.spans[""]
    for name in patient.condition:
        modifier = modifiers.get(name)
        ticked = [m.name for m in modifiers.values() if not m.is_derived]
        if modifier is None:
            problems.append(
                Problem(
                    "condition-unknown",
                    span,
                    f"nothing in the book reacts to `{name}`",
                    "a condition that changes nothing gives false comfort",
                    "known: " + ", ".join(ticked) if ticked else "modifiers.yaml has no condition that can be ticked",
                )
            )
        elif modifier.is_derived:
            problems.append(
                Problem(
                    "condition-derived",
                    span,
                    f"`{name}` is derived from the animal itself",
                    "ticked by hand it could be forgotten for the next animal",
                    f"delete `{name}`: it applies by itself whenever it should",
                )
            )
        elif not (modifier.tightens or modifier.forbids or modifier.warns):
            problems.append(
                Problem(
                    "condition-without-effect",
                    span,
                    f"`{name}` changes nothing in the book",
                    "a condition that changes nothing gives false comfort",
                    "give it `tightens`, `forbids` or `warns` in modifiers.yaml",
                    also=((modifier.spans[""], "it stands here"),),
                )
            )
    return problems
