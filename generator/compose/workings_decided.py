"""Who decided what of a plan: the dressing, each limit, each layer of a blend, each condition.

Takes  a `Plan` and a `Writer`.
Gives  `dressing_section`, `limits_section`, `conditions_section`.
Knows  that every limit has somebody's word behind it and a line in a file, and says both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from markupsafe import Markup, escape

from generator.compose.card_limits import limit_words, unbroken
from generator.compose.sop_limits import LIMIT_NAMES, source_words
from generator.compose.workings_parts import Cell, Row, Section, Table, cell, place, said
from generator.compose.writer import Writer
from generator.protocol.model import Modifier, Protocol, Source
from generator.reckon.plan import Choice, Considered, Decision, Offer, Plan

# How a table of the trade names its sources.
_PUBLISHED = re.compile(r"published ((?:\d+(?:, )?)+)")
_NUMBER = re.compile(r"\d+")
_OUT_OF_STOCK = ("none is in stock",)
_HOUSE, _CONTACT = "house limit for ", "contact:"
_FLUID = {"none": "none", "low": "little", "moderate": "moderate", "high": "much"}

# ---- the dressing -----------------------------------------------------------------------------------------------


def dressing_section(plan: Plan, writer: Writer) -> Section | None:
    """What the clinician read, what was taken, and what speaks for or against every other dressing."""
    choice = plan.choice
    if choice is None:
        return None
    stocked = [offer for offer in choice.offers if offer.material is not None and _is_shown(offer, choice)]
    stocked.sort(key=lambda offer: (offer.material != choice.material, not offer.fits))
    rows = tuple(_offer(offer, choice, writer) for offer in stocked)
    columns = ("Dressing", "Fits this wound", "Changed in this stage", "Mind", "Whose word")
    return Section(
        "The dressing",
        pairs=(("Stage", cell(choice.stage)), ("Fluid", cell(_FLUID[choice.exudate])), ("Also", cell(", ".join(choice.features) or "nothing more ticked")),
               ("Read from the wound by", _by(plan, writer)), ("Taken", _taken(plan, choice, writer))),
        tables=(Table(columns, "1.6 2.3 1 1.9 1.2", rows),),
        points=tuple(_folded([offer for offer in choice.offers if offer not in stocked], writer)),
        alarm=tuple(_objection(plan, choice, writer)),
    )  # fmt: skip


def _by(plan: Plan, writer: Writer) -> Cell:
    return cell(said(plan.patient.issued_by, writer, plan.patient.spans.get("issued_by")))


def _taken(plan: Plan, choice: Choice, writer: Writer) -> Cell:
    wound = plan.patient.wound
    at = wound.spans.get("contact") if wound is not None else None
    name = said(choice.material, writer, at)
    if choice.typed:
        return cell(Markup("{}, as the protocol names it").format(name))
    if wound is not None and wound.contact is not None:
        return cell(Markup("{}, named by the clinician").format(name))
    return cell(Markup("{}, the first that fits of those the protocol prefers").format(name))


def _is_shown(offer: Offer, choice: Choice) -> bool:
    """Has a row of its own: it has a use in this stage, or it is what goes on."""
    return offer.use is not None or offer.material == choice.material


def _offer(offer: Offer, choice: Choice, writer: Writer) -> Row:
    name = said(offer.material or offer.family, writer)
    if offer.family != offer.material:
        name = Markup("{} ({})").format(name, offer.family)
    is_taken = offer.material == choice.material
    first = Markup("<strong>{}</strong>").format(name) if is_taken else name
    fits = escape("yes") if offer.fits else Markup("no: {}").format(said("; ".join(offer.against), writer))
    if offer.use is None:
        return Row((cell(first), cell(fits), (), (), ()), is_shaded=is_taken)
    shown = str(offer.use.change)
    wet = "Wet it with saline first." if choice.exudate in offer.use.wetted else ""
    care = said(offer.use.care, writer) if offer.use.care else ""
    change = writer.number("use.change", shown, unbroken(shown))
    return Row(
        (cell(first), cell(fits), cell(change), cell(wet, care), cell(_source(offer.use.source, writer))),
        is_shaded=is_taken,
    )


def _source(words: str, writer: Writer) -> Markup:
    """`published [30], [31]`: the numbers as the list of sources has them."""

    def bracketed(run: re.Match[str]) -> str:
        return "published " + _NUMBER.sub(r"[\g<0>]", run[1])

    return said(_PUBLISHED.sub(bracketed, words), writer)


def _folded(offers: Sequence[Offer], writer: Writer) -> Iterator[Markup]:
    """Everything else in a line each: what would fit but is not on the shelf, and what would not fit."""
    fitting = [
        one for one in offers if one.against == _OUT_OF_STOCK and one.use is not None and not one.use.is_adherent
    ]
    if fitting:
        families = Markup("; ").join(said(one.family, writer) for one in fitting)
        yield Markup("Would fit, not on the shelf: {}.").format(families)
    by_reason: dict[str, list[str]] = {}
    for one in offers:
        if one not in fitting:
            by_reason.setdefault(_reason(one), []).append(one.material or one.family)
    if by_reason:
        told = (said(f"{', '.join(dict.fromkeys(names))} ({why})", writer) for why, names in by_reason.items())
        yield Markup("Would not fit: {}.").format(Markup("; ").join(told))


def _reason(offer: Offer) -> str:
    """Why a dressing is left out; one that dries on is never said to fit for want of stock alone."""
    if offer.against == _OUT_OF_STOCK:
        return "it dries on: only where the clinician names it and says why; none is in stock"
    return "; ".join(offer.against)


def _objection(plan: Plan, choice: Choice, writer: Writer) -> Iterator[Markup]:
    offer = choice.chosen or next((one for one in choice.offers if one.material == choice.material), None)
    if offer is None or not offer.objection:
        return
    yield said(offer.objection, writer)
    wound = plan.patient.wound
    reason = (
        said(wound.because, writer, wound.spans.get("because"))
        if wound is not None and wound.because
        else escape("none is written")
    )
    yield Markup("<strong>The clinician's reason:</strong> {}").format(reason)


# ---- limits -----------------------------------------------------------------------------------------------------


def limits_section(plan: Plan, writer: Writer) -> Section:
    """Each limit in force; then, of several protocols, whose layer is laid."""
    rows = tuple(
        _limit(key, name, plan, writer) for key, name in LIMIT_NAMES.items() if getattr(plan.limits, key) is not None
    )
    tables = [
        Table(
            ("Limit", "In force", "Decided by; what it would have been", "Whose word", "Written in"),
            "1.2 1.4 2.4 1.8 1.7",
            rows,
        )
    ]
    layers = [decision for decision in plan.decisions if decision.key.startswith("layer ")]
    if layers:
        tables.append(
            Table(
                ("Layer", "Laid", "As in; what it would have been", "Written in"),
                "1.1 2.5 3.2 1.9",
                tuple(_layer(decision, plan, writer) for decision in layers),
                escape(f"Layers that several protocols ask for, by {layers[0].standing}"),
            )
        )
    stored = plan.bandage.stored
    settled = stored.settles if stored is not None else ()
    return Section("Limits, and who decided them", tables=tuple(tables), points=tuple(
        Markup("Settled: {} as in {}. {}: {}.").format(one.key, said(one.part, writer, one.spans.get("part")),
                                                      said(one.decided_by, writer, one.spans.get("decided_by")), said(one.why, writer, one.spans.get("why")))
        for one in settled
    ))  # fmt: skip


def _limit(key: str, name: str, plan: Plan, writer: Writer) -> Row:
    value = getattr(plan.limits, key)
    shown = limit_words(key, value, plan.patient.reason)
    decision = next((one for one in reversed(plan.decisions) if one.key == key), None)
    mark = said(shown, writer) if key == "remove_when" else writer.number(f"limit.{key}", shown, unbroken(shown))
    strong = Markup("<strong>{}</strong>").format(mark)
    if decision is None:
        return Row((cell(name), cell(strong), (), (), ()))
    return Row(
        (
            cell(name), cell(strong), _decider(decision, plan, writer), cell(_whose(key, decision, plan, writer)), cell(place(decision.span, writer)),
        )
    )  # fmt: skip


def _layer(decision: Decision, plan: Plan, writer: Writer) -> Row:
    return Row(
        (
            cell(decision.key.removeprefix("layer ")), cell(said(_laid(decision, plan), writer, decision.span)), _decider(decision, plan, writer), cell(place(decision.span, writer)),
        )
    )  # fmt: skip


def _laid(decision: Decision, plan: Plan) -> str:
    """A layer as its part writes it; a dressing that the wound has chosen by its name."""
    if plan.choice is not None and not plan.choice.typed and decision.key == "layer contact":
        return plan.choice.material
    return decision.value


def _decider(decision: Decision, plan: Plan, writer: Writer) -> Cell:
    """Who decided; and what the others would have made it, none twice."""
    others = dict.fromkeys(f"{_name(by, plan)}: {value}" for by, value in decision.was)
    told = Markup("; ").join(said(words, writer, decision.span) for words in others)
    by = said(_name(decision.by, plan), writer, decision.span)
    return cell(by, Markup('<span class="quiet">else {}</span>').format(told) if others else "")


def _name(by: str, plan: Plan) -> str:
    """`LB-SUP-002`, `LB-WND-001@inflammatory`, `condition: oedema`, `house limit for sling`, `dressing: foam sheet`."""
    if by.startswith(_HOUSE):
        return by
    if by.startswith(_CONTACT):
        return f"dressing: {by.removeprefix(_CONTACT)}"
    protocol = _protocol(by, plan)
    if protocol is not None:
        return f"{protocol.id}@{protocol.stage}" if protocol.stage else protocol.id
    return f"condition: {by}"


def _protocol(name: str, plan: Plan) -> Protocol | None:
    every = (*plan.bandage.parts, *((plan.bandage.stored,) if plan.bandage.stored is not None else ()))
    return next((one for one in every if name in (one.name, one.protocol)), None)


def _whose(key: str, decision: Decision, plan: Plan, writer: Writer) -> Markup:
    """On whose word the number stands."""
    by = decision.by
    if by.startswith(_HOUSE):
        return escape("the clinic's own rule")
    if by.startswith(_CONTACT):
        use = plan.choice.chosen.use if plan.choice is not None and plan.choice.chosen is not None else None
        return _source(use.source, writer) if use is not None else Markup()
    protocol = _protocol(by, plan)
    if protocol is None:
        modifier = next((used.modifier for used in plan.modifiers if used.modifier.name == by), None)
        return _modifier_source(modifier, writer) if modifier is not None else Markup()
    source = protocol.sources.get(key)
    if source is not None:
        return source_words(source, writer)
    return escape("the clinic's own rule" if key in ("supervised", "go_home", "remove_when") else "no source given")


# ---- conditions -------------------------------------------------------------------------------------------------


def conditions_section(plan: Plan, writer: Writer) -> Section:
    """What made it stricter, and what was looked at and did not."""
    tables = []
    if plan.modifiers:
        rows = tuple(
            Row((
                cell(said(used.modifier.name, writer, used.modifier.spans.get(""))), cell("by itself" if used.derived else "ticked"), _changes(used.changed, writer, "changes no limit here"),
                cell(said(used.modifier.because, writer, used.modifier.spans.get("because"))), cell(_modifier_source(used.modifier, writer)), cell(place(used.modifier.spans.get(""), writer)),
            ))
            for used in plan.modifiers
        )  # fmt: skip
        tables.append(
            Table(("Holds", "How", "Changed", "Because", "Whose word", "Written in"), "1.2 0.8 2.1 2.1 1.5 1.3", rows)
        )
    telling = [one for one in plan.considered if one.would_change or one.would_forbid]
    if telling:
        rows = tuple(_alike(alike, writer) for alike in _grouped(telling))
        tables.append(
            Table(("Does not hold: not ticked, unless it says otherwise", "Would have changed"), "2.2 4.4", rows)
        )
    silent = [one for one in plan.considered if one not in telling]
    points = []
    if silent:
        told = Markup(", ").join(said(one.modifier.name, writer, one.modifier.spans.get("")) for one in silent)
        points.append(Markup("Looked at, does not hold, and would have changed nothing here: {}.").format(told))
    none = () if plan.modifiers else (escape("No condition of the book holds for this animal."),)
    return Section("Conditions", before=none, tables=tuple(tables), points=tuple(points))


def _grouped(considered: Sequence[Considered]) -> list[list[Considered]]:
    """Those that do not hold for the same reason and would have changed the same stand together."""
    found: dict[tuple[object, ...], list[Considered]] = {}
    for one in considered:
        found.setdefault((one.because, one.would_change, one.would_forbid), []).append(one)
    return list(found.values())


def _alike(alike: Sequence[Considered], writer: Writer) -> Row:
    one = alike[0]
    names = Markup(", ").join(said(other.modifier.name, writer, other.modifier.spans.get("")) for other in alike)
    if one.modifier.is_derived:
        names = Markup("{} ({})").format(names, said(one.because, writer))
    changes = Markup("; ").join(_changes(one.would_change, writer, ""))
    return Row((cell(names), cell(changes, "would forbid this bandage" if one.would_forbid else "")))


def _changes(rows: tuple[tuple[str, str, str], ...], writer: Writer, otherwise: str) -> Cell:
    """`changed: 3 d to 7 d → 3 d to 4 d`."""
    if not rows:
        return cell(otherwise)
    return cell(
        *(said(f"{LIMIT_NAMES.get(key, key).lower()}: {before} → {after}", writer) for key, before, after in rows)
    )


def _modifier_source(modifier: Modifier, writer: Writer) -> Markup:
    return Markup("; ").join(_labelled(label, source, writer) for label, source in modifier.source.items())


def _labelled(label: str, source: Source, writer: Writer) -> Markup:
    words = source_words(source, writer)
    return Markup("{}: {}").format(label, words) if label else words
