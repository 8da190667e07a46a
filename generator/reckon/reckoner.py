"""The one function that makes a plan.

Takes  protocols at their stages, a patient, the book, now, the clinic's zone.
Gives  the `Plan`.
Knows  what must hold before anything is reckoned, and in which order the parts are worked.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime, tzinfo
from fractions import Fraction
from typing import TypeVar

from generator.protocol.animal import doubts
from generator.protocol.joining import Joined, blend
from generator.protocol.kinds import BY_THE_WOUND, URGENCIES
from generator.protocol.model import Book, Limits, Patient, Protocol
from generator.reckon import working as say
from generator.reckon.clock import fixed, located
from generator.reckon.contact import choose_contact, limits_of
from generator.reckon.course import story_of
from generator.reckon.layers import needs_limb, plan_layers, whose_rolls
from generator.reckon.limb import limb_of
from generator.reckon.modify import condition_problems, considered, in_force
from generator.reckon.plan import AppliedModifier, Choice, Earlier, Figure, LayerPlan, Limb, Note, Plan
from generator.reckon.prices import cost_notes, cost_of, cost_working
from generator.reckon.sums import coat_of, wall_line
from generator.reckon.unfit import unfit
from generator.reckon.visits import Basis, Visits, plan_visits
from generator.reckon.wrap import growth
from generator.source.problem import Problem, Refusal

T = TypeVar("T")


def reckon(
    parts: Sequence[Protocol],
    patient: Patient,
    book: Book,
    now: datetime,
    zone: tzinfo,
    *,
    stored: Protocol | None = None,
    zone_release: str = "",
) -> Plan:
    """Reckon one bandage for one patient.

    Args:
        parts: the protocols, each at its stage; several make one bandage.
        now: aware; when this is asked. zone: the clinic's.
        stored: the stored blend that named the parts, if one did.
    Raises:
        Refusal: with every problem that could be found; nothing of a refused plan may be printed.
    """
    applied = located(patient.applied, zone)
    problems: list[Problem] = []
    story = _attempt(lambda: story_of(parts, patient, book, applied, zone), problems)
    began = story.began if story is not None else applied
    problems += [
        *_moment_problems(patient, applied, began, now),
        *condition_problems(patient, book.modifiers),
        *_fit_problems(parts, patient),
        *unfit(parts, patient, applied.date(), book),
    ]
    bandage = _attempt(lambda: blend(parts, stored), problems)
    if problems or bandage is None or story is None:
        raise Refusal(problems)
    problems += _skin_problems(bandage, patient)
    joined = bandage
    chosen = _attempt(lambda: choose_contact(joined, patient, book.stock), problems)
    # Refused already where it could not be chosen; the rest is still judged, so that all is found in one run.
    bandage, choice = chosen if chosen is not None else (_without_choice(bandage), None)
    final, dressing = bandage, limits_of(choice, patient)
    extra = ((f"contact:{choice.material}", dressing),) if choice is not None and dressing is not None else ()
    named = [part.name for part in parts]
    limits_found = _attempt(lambda: in_force(final, patient, book, applied.date(), extra, named), problems)
    limb = _attempt(lambda: limb_of(patient, book.clinic, needs_limb(final.layers)), problems)
    layers = None
    if limb is not None:
        layers = _attempt(
            lambda: plan_layers(
                final.layers,
                limb,
                patient,
                book.stock,
                book.clinic.waste,
                book.clinic.spans["waste"],
                whose_rolls(final.layers, final.parts),
            ),
            problems,
        )
    visits = None
    if limits_found is not None:
        limits, decisions, applied_modifiers = limits_found
        booked = {kind: located(moment, zone) for kind, moment in patient.visits.items()}
        basis = Basis(limits, book.clinic, zone, applied, began, bool(limits.go_home), booked, patient.spans)
        visits = _attempt(lambda: plan_visits(basis), problems)
    if problems or limits_found is None or limb is None or layers is None or visits is None:
        raise Refusal(problems)
    used, unused, layer_notes, thickness = layers
    pressure, because = _total_pressure(used, limb)
    return Plan(
        book=book, patient=patient, bandage=bandage, now=fixed(now, zone), applied=applied, began=began, limb=limb, layers=used, unused=unused,
        finished_girth=_finished(limb, thickness, used), pressure=pressure, pressure_because=because, cost=cost_of(used), cost_working=cost_working(used), limits=limits,
        decisions=(*bandage.decisions, *decisions), modifiers=applied_modifiers, events=visits.events, deadline=visits.deadline,
        remove_by=visits.remove_by, go_home=bool(limits.go_home),
        signs=tuple(sorted((book.signs[s] for s in bandage.signs if s in book.signs), key=lambda s: URGENCIES.index(s.urgency))),
        notes=(*_notes(parts, patient, limb, visits, applied, now, zone), *story.notes, *_course_notes(story.earlier, visits, began, applied), *_band_notes(used, whose_rolls(final.layers, final.parts)), *layer_notes, *visits.notes, *_bone_notes(parts, patient, limits), *_choice_notes(choice, patient), *_modifier_notes(applied_modifiers), *cost_notes(used)),
        choice=choice, earlier=story.earlier, considered=considered(final, patient, book, applied.date(), limits), zone=zone, zone_release=zone_release,
    )  # fmt: skip


def _without_choice(bandage: Joined) -> Joined:
    """The bandage without the dressing that could not be chosen."""
    return replace(bandage, layers=tuple(layer for layer in bandage.layers if layer.material != BY_THE_WOUND))


def _attempt(work: Callable[[], T], problems: list[Problem]) -> T | None:
    """Run one part of the work; keep its problems and go on, so that all are found in one run."""
    try:
        return work()
    except Refusal as refusal:
        problems += refusal.problems
        return None


def _moment_problems(patient: Patient, applied: datetime, began: datetime, now: datetime) -> list[Problem]:
    problems = []
    if not patient.is_planned and applied.astimezone(UTC) > now.astimezone(UTC):
        problems.append(
            Problem(
                "applied-in-future",
                patient.spans.get("applied") or patient.spans[""],
                "the bandage is said to be on already, at a time that is still ahead",
                "every limit would be counted from a moment that nobody has seen",
                f"write `planned: {patient.applied.isoformat(timespec='minutes')}` instead of `applied:`",
            )
        )
    if began.astimezone(UTC) > applied.astimezone(UTC):
        problems.append(
            Problem(
                "began-after-applied",
                patient.spans.get("began") or patient.spans[""],
                "bandaging is said to have begun after this bandage went on",
                "the end of bandaging would move later",
                "write the moment of the first application, or `first: yes`",
            )
        )
    if patient.born is not None and applied.date() < patient.born:
        problems.append(
            Problem(
                "applied-before-birth",
                patient.spans.get("applied") or patient.spans.get("planned") or patient.spans[""],
                "the bandage went on before the animal was born",
                "one of the two dates is wrong, and the age decides how soon the bandage is looked at",
                "look at `born` and at the date of the bandage",
            )
        )
    return problems


def _fit_problems(parts: Sequence[Protocol], patient: Patient) -> list[Problem]:
    """The protocol is not for this species or site."""
    problems = []
    for part in parts:
        if patient.species not in part.species:
            problems.append(
                Problem(
                    "species-not-covered",
                    patient.spans["patient.species"],
                    f"`{part.name}` is not written for a {patient.species}",
                    "what a dog bears a cat may not, and the reverse",
                    "choose another protocol, or have the clinician extend `species`",
                    also=((part.span("species"), "the protocol says so here"),),
                )
            )
        if not set(part.sites) & set(patient.limb.sites):
            problems.append(
                Problem(
                    "site-not-covered",
                    patient.limb.spans["site"],
                    f"`{part.name}` is not written for `{patient.limb.site}`",
                    "a bandage at another site slips, or presses where it must not",
                    "choose another protocol, or look at `site`",
                    also=((part.span("sites"), "the protocol says so here"),),
                )
            )
    return problems


def _skin_problems(bandage: Joined, patient: Patient) -> list[Problem]:
    if patient.skin != "wound" or any(layer.layer == "contact" for layer in bandage.layers):
        return []
    part = bandage.parts[0]
    return [
        Problem(
            "wound-without-contact",
            patient.spans["skin"],
            f"there is a wound, and `{part.name}` has no contact layer",
            "padding dries into a wound and tears it at the change",
            "add the wound's own protocol with a second `--protocol`, such as `open-wound@inflammatory`",
            also=((part.span("layers:"), "the layers are here"),),
        )
    ]


def _finished(limb: Limb, thickness: Fraction, layers: Sequence[LayerPlan]) -> tuple[Figure, Figure] | None:
    if (
        limb.distal_girth is None
        or limb.proximal_girth is None
        or not any(plan.strip is not None and plan.passes for plan in layers)
    ):
        return None
    ends = []
    for bare in (limb.distal_girth, limb.proximal_girth):
        coats = [coat_of(plan) for plan in layers if plan.thickness]
        finished = bare.number + growth(thickness)
        working = say.line(
            "finished girth", f"{say.shown(bare.number)} + 2π × {say.shown(thickness)} {say.equals(finished, 'cm')}"
        )
        if coats:
            working = f"{wall_line('thickness of all layers', coats, thickness)}\n{working}"
        ends.append(
            Figure(
                f"finished {bare.name}",
                finished,
                "cm",
                "formula: C + 2π·Σ k·t/(1 − o)",
                limb.trust,
                "computed",
                working,
                (bare,),
            )
        )
    return ends[0], ends[1]


def _total_pressure(layers: Sequence[LayerPlan], limb: Limb) -> tuple[tuple[Figure, Figure] | None, str | None]:
    """The sum over all compressing layers, or why there is none."""
    compressing = [
        plan
        for plan in layers
        if plan.material is not None
        and plan.material.extension > 0
        and plan.layer.layer in ("padding", "conforming", "outer")
    ]
    if not compressing or all(plan.strip is None for plan in compressing):
        return None, "no-limb"
    if limb.trust != "measured":
        return None, "limb-estimated"
    given = [plan.pressure for plan in compressing]
    if any(pair is None for pair in given):
        return None, "tension-unknown:" + ", ".join(
            plan.material.name for plan in compressing if plan.pressure is None and plan.material
        )
    ends = []
    for index, name in enumerate(("distal", "proximal")):
        inputs = tuple(pair[index] for pair in given if pair is not None)
        total = sum((figure.number for figure in inputs), Fraction(0))
        ends.append(
            Figure(
                f"pressure {name}",
                total,
                "mm[Hg]",
                "formula: Σ 4620·T/(C·W)",
                "estimated",
                "Thomas 2003",
                say.line(
                    f"sum over the layers ({', '.join(plan.layer.layer for plan in compressing)})",
                    f"{' + '.join(say.shown(f.number) for f in inputs)} {say.equals(total, 'mmHg')}",
                ),
                inputs,
            )
        )
    return (ends[0], ends[1]), None


def _course_notes(earlier: Sequence[Earlier], visits: Visits, began: datetime, applied: datetime) -> list[Note]:
    """The last bandage that the end leaves room for says so, and what comes then."""
    end = visits.remove_by
    if end is None or visits.deadline is not end or not (any(one.counts for one in earlier) or began < applied):
        return []
    return [Note("course-ends", (("due", end.due),))]


def _band_notes(layers: Sequence[LayerPlan], whose: Mapping[str, str]) -> list[Note]:
    """Rolls of a shape that is no limb are the protocol's, not reckoned: whose figures they are."""
    banded = [plan.layer.layer for plan in layers if plan.layer.rolls is not None]
    if not banded:
        return []
    words = dict.fromkeys(whose.get(layer, "nobody says whose") for layer in banded)
    return [Note("rolls-by-weight", (("standing", ", ".join(words)),))]


def _bone_notes(parts: Sequence[Protocol], patient: Patient, limits: Limits) -> list[Note]:
    """An open fracture under a splint is changed every day until it is fixed (Today's Veterinary Practice 2015:25)."""
    bare = patient.wound is not None and "bare bone or tendon" in patient.wound.features
    rare = limits.change_every is None or limits.change_every.upper.shortest.seconds > 24 * 3600
    splinted = any(part.kind == "support.splint" for part in parts)
    return [Note("bone-under-splint")] if bare and rare and splinted else []


def _choice_notes(choice: Choice | None, patient: Patient) -> list[Note]:
    """What staff must read about the dressing."""
    if choice is None or patient.wound is None:
        return []
    span = patient.wound.spans["exudate"]
    notes = []
    if "dead space" in choice.features:
        notes.append(Note("dead-space", (), span))
    offer = choice.chosen
    if offer is None or offer.use is None:
        against = next((o.against for o in choice.offers if o.material == choice.material), ())
        if against:
            notes.append(Note("contact-doubtful", (("material", choice.material), ("why", "; ".join(against))), span))
        return notes
    if choice.exudate in offer.use.wetted:
        notes.append(Note("contact-wetted", (("material", choice.material),), span))
    if offer.use.care:
        notes.append(Note("contact-care", (("material", choice.material), ("care", offer.use.care)), span))
    if offer.objection:
        notes.append(
            Note(
                "contact-objection",
                (
                    ("material", choice.material),
                    ("objection", offer.objection),
                ),
                span,
            )
        )
    return notes


def _modifier_notes(applied: Sequence[AppliedModifier]) -> list[Note]:
    return [
        Note(
            "modifier-warns",
            (("modifier", a.modifier.name), ("warns", a.modifier.warns)),
            a.modifier.spans.get("warns"),
        )
        for a in applied
        if a.modifier.warns
    ]


def _notes(
    parts: Sequence[Protocol],
    patient: Patient,
    limb: Limb,
    visits: Visits,
    applied: datetime,
    now: datetime,
    zone: tzinfo,
) -> list[Note]:
    notes: list[Note] = []
    if limb.trust == "estimated":
        notes.append(Note("limb-estimated"))
    if patient.is_planned:
        notes.append(Note("planned", (("at", applied),)))
    notes += [Note("doubt", (("what", one.what), ("fix", one.fix)), one.span) for one in doubts(patient)]
    if patient.born is None:
        notes.append(Note("born-unknown"))
    if (
        any(part.purpose != "haemorrhage" for part in parts)
        and patient.skin == "wound"
        and not any(part.purpose in ("wound", "haemorrhage") for part in parts)
    ):
        notes.append(Note("open-wound-elsewhere"))
    if patient.skin == "incision" and not any(part.layer("contact") for part in parts):
        notes.append(Note("incision-without-contact"))
    for part in parts:
        if part.review_by is not None and part.review_by < now.astimezone(zone).date():
            notes.append(
                Note("review-overdue", (("protocol", part.name), ("date", part.review_by)), part.span("review_by"))
            )
        if part.effective is not None and part.effective > now.astimezone(zone).date():
            notes.append(
                Note("not-yet-in-force", (("protocol", part.name), ("date", part.effective)), part.span("effective"))
            )
    last = visits.remove_by or visits.deadline
    if last is not None:
        offsets = {moment.utcoffset() for moment in (applied, *(event.due for event in visits.events))}
        if len(offsets) > 1:
            notes.append(Note("clock-change", (("from", applied), ("to", last.due))))
    if visits.deadline is not None and visits.deadline.due < now:
        notes.append(Note("deadline-passed", (("due", visits.deadline.due),)))
    return notes
