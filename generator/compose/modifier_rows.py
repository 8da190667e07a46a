"""The binder's appendix of conditions that tighten a limit.

Takes  a `Book` and a `Writer`.
Gives  `modifier_rows`: each condition, how it is known, what it tightens, why and on whose word.
Knows  that purposes tightened alike stand on one line; nothing of pages.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.sop_limits import limit_cells, source_words
from generator.compose.sop_stages import bare
from generator.compose.writer import Writer
from generator.protocol.model import Book, Limits, Modifier


def modifier_rows(book: Book, writer: Writer) -> list[dict[str, Any]]:
    """A row for each condition of the book."""
    rows = []
    for name, modifier in book.modifiers.items():
        tightens = [
            Markup("{}: {}").format(
                writer.authored(", ".join(keys), modifier.spans.get("tightens"), "purpose"),
                Markup(", ").join(limit_cells(limits, writer)),
            )
            for keys, limits in _alike(modifier.tightens)
        ]
        rows.append({
            "name": writer.authored(name, modifier.spans.get(""), "modifier"), "derived": _known_from(modifier, writer),
            "warns": writer.authored(modifier.warns, modifier.spans.get("warns"), "warns") if modifier.warns else None,
            "tightens": tightens, "forbids": Markup(", ").join(writer.authored(kind, modifier.spans.get("forbids"), "kind") for kind in modifier.forbids),
            "because": writer.authored(modifier.because, modifier.spans.get("because"), "because"),
            "source": Markup("; ").join(source_words(source, writer) for source in modifier.source.values()),
        })  # fmt: skip
    return rows


def _alike(tightens: Mapping[str, Limits]) -> list[tuple[list[str], Limits]]:
    """Purposes whose limits are the same stand together."""
    found: list[tuple[list[str], Limits]] = []
    for key, limits in tightens.items():
        keys = next((keys for keys, other in found if bare(other) == bare(limits)), None)
        if keys is None:
            found.append(([key], limits))
        else:
            keys.append(key)
    return found


def _known_from(modifier: Modifier, writer: Writer) -> Markup:
    """What in a patient's file brings a condition about; or that somebody ticks it."""
    clauses = []
    for age in modifier.ages:
        unit = age.unit + ("s" if age.amount != 1 else "")
        clause = Markup("under {}").format(writer.number("age", age.amount, f"{age.amount}{hand.NO_BREAK}{unit}"))
        if age.over is not None:
            clause += Markup(" over {}").format(writer.number("over", age.over, hand.measure(age.over, "kg")))
        clauses.append(clause)
    clauses += [Markup("any {}").format(species) for species in modifier.species]
    if not clauses:
        clauses.append(Markup("ticked"))
    clauses += [Markup("wound: {}").format(feature) for feature in modifier.features]
    return Markup(", or ").join(clauses)
