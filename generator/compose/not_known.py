"""What is not known about a bandage, for a plan or for a protocol.

Takes  a `Plan`, or protocols and a book; a `Writer`.
Gives  `plan_unknowns`, `protocol_unknowns`; `unknown_lines`, each with its source in brackets.
Knows  how the facts that make an unknown matter are read off a plan or a protocol.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from markupsafe import Markup

from generator.compose.writer import Writer
from generator.protocol.contacts import RETENTIVE
from generator.protocol.kinds import ADHERENT
from generator.protocol.model import Book, Layer, Limits, Material, Protocol
from generator.protocol.unknowns import Unknown, unknowns_for
from generator.reckon.plan import Plan

# Below this a dog counts as small, kg (house rule).
_SMALL = Fraction(10)


def plan_unknowns(plan: Plan) -> tuple[Unknown, ...]:
    """What is not known and matters to this patient's bandage."""
    facts = set(_of_layers([(layer.layer, layer.material) for layer in plan.layers]))
    facts.update(_of_protocols(plan.bandage.parts, plan.limits))
    if any(layer.pressure is not None for layer in plan.layers):
        facts.add("estimate")
    if plan.patient.species == "cat" or plan.patient.weight < _SMALL:
        facts.add("small")
    if plan.limb.distal_girth is not None:
        facts.add("measured" if plan.limb.trust == "measured" else "banded")
    return unknowns_for((part.kind for part in plan.bandage.parts), facts)


def protocol_unknowns(parts: Sequence[Protocol], limits: Sequence[Limits], book: Book) -> tuple[Unknown, ...]:
    """What is not known of a protocol, whichever animal it goes on: its stages, or the parts of a blend."""
    facts = set(_of_layers([(one, book.stock.get(one.material or "")) for part in parts for one in part.layers]))
    for each in limits:
        facts.update(_of_protocols(parts, each))
    return unknowns_for((part.kind for part in parts), facts)


def _of_layers(layers: Sequence[tuple[Layer, Material | None]]) -> Iterator[str]:
    for layer, material in layers:
        if material is None:
            continue
        is_wound = layer.passes is not None and layer.rolls is None
        if is_wound and material.extension > 0 and layer.layer in ("padding", "conforming", "outer"):
            yield "wraps"
        if layer.layer == "contact" and material.family in ADHERENT:
            yield "adherent"
        if layer.layer == "contact" and material.family in RETENTIVE:
            yield "retentive"


def _of_protocols(parts: Sequence[Protocol], limits: Limits) -> Iterator[str]:
    if any(part.covers is not None and part.covers.from_ == "toes" for part in parts):
        yield "foot"
    if limits.change_every is not None:
        yield "changed"
    if limits.go_home:
        yield "home"


def unknown_lines(unknowns: Sequence[Unknown], writer: Writer) -> list[Markup]:
    """Each in its words, and whose word it is."""
    return [
        Markup("{} ({})").format(writer.authored(one.words, None, "unknown"), _source(one, writer)) for one in unknowns
    ]


def _source(one: Unknown, writer: Writer) -> Markup:
    parts = []
    if one.published:
        numbers = Markup(", ").join(writer.number("source", n, f"[{n}]") for n in one.published)
        parts.append(Markup("published {}").format(numbers))
    if one.source:
        parts.append(writer.authored(one.source, None, "unknown-source"))
    return Markup("; ").join(parts)
