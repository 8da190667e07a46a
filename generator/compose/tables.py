"""The binder's appendices: rules in force and their sources, girth bands, stock.

Takes  a `Book` and a `Writer`.
Gives  rows of safe markup for each.
Knows  that a band is an estimate and says so; nothing of pages.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.card_limits import unbroken
from generator.compose.sop_limits import citation_rows
from generator.compose.writer import Writer
from generator.protocol.contacts import USES
from generator.protocol.model import Book, Material, Money
from generator.protocol.rules import CLINIC_RULES, RULES
from generator.protocol.rules.rule import ClinicRule, Rule

# How a rule names its sources: `published 3, 9; common practice`.
_PUBLISHED = re.compile(r"published ((?:\d+(?:, )?)+)")
_NUMBER = re.compile(r"\d+")


def rule_rows(writer: Writer) -> list[dict[str, Any]]:
    """Each rule with what it looks for, why and on whose word."""
    every: list[Rule | ClinicRule] = [*RULES, *CLINIC_RULES]
    return [
        {
            "id": writer.authored(rule.id, None, "rule"), "looks_for": writer.authored(rule.looks_for, None, "rule-text"), "why": writer.authored(rule.why, None, "rule-why"),
            "source": writer.authored(rule.source, None, "rule-source"),
        }
        for rule in every
    ]  # fmt: skip


def appendix_sources(book: Book, writer: Writer) -> list[dict[str, Any]]:
    """The published sources that rules, dressings and modifiers name, by number; a protocol lists its own."""
    every: list[Rule | ClinicRule] = [*RULES, *CLINIC_RULES]
    numbers = {int(n) for rule in every for run in _PUBLISHED.findall(rule.source) for n in _NUMBER.findall(run)}
    uses = [use for family in USES.values() for use in family]
    numbers |= {int(n) for use in uses for run in _PUBLISHED.findall(use.source) for n in _NUMBER.findall(run)}
    for modifier in book.modifiers.values():
        numbers.update(n for source in modifier.source.values() for n in source.published)
    return citation_rows(numbers, writer)


def band_tables(book: Book, writer: Writer) -> list[dict[str, Any]]:
    """Girths by weight, for each region."""
    tables = []
    for region, bands in book.clinic.size_bands.items():
        rows = []
        for band in bands:
            low, high = band.weight.lower, band.weight.upper
            weight = writer.number("band", low, hand.measure(low, "kg")) + (
                Markup(" to under {}").format(writer.number("band", high, hand.measure(high, "kg"))) if high is not None else Markup(" and over"))  # fmt: skip
            figures = (band.distal_girth, band.proximal_girth, band.covered_length)
            rows.append(
                {
                    "weight": weight,
                    "figures": [writer.number("band-girth", value, hand.measure(value, "cm")) for value in figures],
                }
            )
        tables.append({"region": region, "rows": rows})
    return tables


def stock_rows(book: Book, writer: Writer) -> list[dict[str, Any]]:
    """What the shelves hold, in the trade's order of layers."""
    return [
        _stock(name, material, writer)
        for name, material in sorted(book.stock.items(), key=lambda item: (item[1].layer, item[0]))
    ]


def _price(material: Material, size: Fraction | str, w: Writer) -> Markup:
    """The price of one width or size, where each has its own."""
    if not isinstance(material.price, Mapping):
        return Markup()
    prices: Mapping[Any, Money] = material.price
    return Markup(" ({})").format(_money(prices[size], w)) if size in prices else Markup()


def _money(price: Money, w: Writer) -> Markup:
    return w.number("price", str(price.amount), f"{price.amount}{hand.NO_BREAK}{price.currency}")


def _stock(name: str, material: Material, w: Writer) -> dict[str, Any]:
    span = material.spans.get("")
    sizes = (
        Markup(", ").join(
            w.number("stock-width", width, hand.measure(width, "cm")) + _price(material, width, w)
            for width in material.widths
        )
        if material.widths
        else Markup(", ").join(
            w.authored(unbroken(size), span, "size") + _price(material, size, w) for size in material.sizes
        )
    )
    if isinstance(material.price, Money):
        sizes += Markup("; each {}").format(_money(material.price, w))
    tension = Markup("not measured")
    if material.tension is not None:
        t = material.tension
        tension = Markup("{} ({}, {}, {})").format(
            Markup(", ").join(Markup("{}: {}").format(w.number("tension-width", width, hand.measure(width, "cm")), w.number("tension", pull, hand.measure(pull, "kgf", 2)))
                              for width, pull in t.by_width.items()),
            w.authored(t.measured, t.spans.get("measured"), "measured"), w.authored(t.by, t.spans.get("by"), "by"), w.day(t.on, hand.iso_day(t.on), "on"))  # fmt: skip
    return {
        "name": w.authored(name, span, "material"), "layer": f"{material.layer}: {material.family}" if material.family and material.family != name else material.layer, "sizes": sizes,
        "roll": w.number("roll", material.roll_relaxed, hand.measure(material.roll_relaxed, "cm")) if material.roll_relaxed is not None else Markup("piece"),
        "extension": w.number("extension", material.extension, hand.measure(material.extension * 100, "%")),
        "thickness": w.number("thickness", material.thickness, hand.measure(material.thickness * 10, "mm", 2)), "tension": tension,
    }  # fmt: skip
