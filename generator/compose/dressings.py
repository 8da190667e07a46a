"""The binder's appendix of dressings: which family serves which wound, and what of it is on the shelf.

Takes  a `Book` and a `Writer`.
Gives  `dressing_tables`, one for each stage; `objection`, which staff must read before a dressing that dries on.
Knows  that the stage is read from the wound by a clinician, never from the day count.
"""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from generator.compose.card_limits import unbroken
from generator.compose.writer import Writer
from generator.protocol.contacts import OBJECTIONS, USES, Use
from generator.protocol.kinds import STAGES
from generator.protocol.model import Book


def dressing_tables(book: Book, writer: Writer) -> list[dict[str, Any]]:
    """For each stage, every family that has a use in it: fluid, times, what rules it out, whose word, on the shelf as."""
    uses = [use for family in USES.values() for use in family]
    return [
        {"stage": stage, "rows": [_row(use, book, writer) for use in uses if use.stage == stage]} for stage in STAGES
    ]


def objection(writer: Writer) -> Markup:
    """What is held against dressings that dry on."""
    return writer.authored(next(iter(OBJECTIONS.values())), None, "objection")


def _row(use: Use, book: Book, writer: Writer) -> dict[str, Markup]:
    fluid = ", ".join(f"{one} (wet it first)" if one in use.wetted else one for one in use.exudates)
    mind = [f"Not with {feature}: {why}." for feature, why in use.bars]
    if use.needs is not None:
        mind.append(
            "Only for an infected wound." if use.needs == "infected" else f"In this stage only for a {use.needs}."
        )
    if use.is_adherent:
        mind.append("Only where the clinician names it, with a reason.")
    if use.care:
        mind.append(use.care)
    shelf = [name for name, one in book.stock.items() if one.family == use.family and one.layer == "contact"]
    shown = str(use.change)
    return {
        "family": writer.authored(use.family, None, "family"),
        "fluid": writer.authored(fluid, None, "fluid"),
        "change": writer.number("change", shown, unbroken(shown)),
        "mind": writer.authored(" ".join(mind), None, "mind"),
        "source": writer.authored(use.source, None, "use-source"),
        "shelf": Markup(", ").join(writer.authored(name, book.stock[name].spans.get(""), "shelf") for name in shelf),
    }
