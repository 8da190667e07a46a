"""Compose the floor card of a pressure bandage and the bandage after it: one paper, two clocks.

Takes  a `Plan` with its `then`, and the templates.
Gives  `sequence_card`: a `Document` of two sides, the pressure bandage and the next bandage's own floor card.
Knows  that nobody turns a page to see a deadline: both clocks and what follows from bleeding again stand on the first side.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.card import SIZES, card_values
from generator.compose.card_parts import deadline_lines, fetch_rows
from generator.compose.notes import notes_of
from generator.compose.render import render
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.reckon.plan import Plan

_MAIN = re.compile(r"<main\b[^>]*>(.*)</main>", re.DOTALL)
# A side for each bandage; a watch log of weeks takes more, and a card is never refused for its length while an animal bleeds.
MOST_SIDES = 6
# Of the minutes; that the first look is one of them and that nothing goes home need no line here.
_LIMITS_NOW = frozenset({"Look every", "Release by", "Off by", "Watched all the time"})
_PAD = frozenset({"pad-beneath", "pad-alone"})
# At the head of the second side: not once more among its remarks.
_SAID_ABOVE = _PAD | {"planned"}


def sequence_card(plan: Plan, templates: Mapping[str, str]) -> Document:
    """The card of one patient, in English, 24-hour clock.

    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
        ValueError: a clinic's own template of the floor card has no `main`.
    """
    then = plan.then
    assert then is not None, "the card of one bandage alone is the floor card"
    writer = Writer()
    values = card_values(plan, writer)
    # What says when to turn to this side takes the room that the drawing has on a card of its own.
    after = card_values(then, writer, _SAID_ABOVE) | {"dense": True, "drawing": None, "others": [], "follows": True}
    after["patient"] = _short_head(then, after["patient"][1], writer)
    values |= {
        "following": _following(then, writer),
        "decision": _decision(plan, writer),
        "other_side": _side(render(templates, "floor-card.xhtml.j2", after)),
        "limits_now": [row for row in values["limits"] if str(row["name"]) in _LIMITS_NOW],
        "first": {"protocols": values["protocols"]},
        "then": after,
        "pad": notes_of(then, writer, frozenset(note.code for note in then.notes) - _PAD),
    }
    xhtml = writer.once(render(templates, "sequence-card.xhtml.j2", values))
    audit(xhtml, writer.sources)
    patient = plan.patient
    return Document(
        xhtml=xhtml, title=f"Floor card: {patient.name}, {patient.limb.site}, {plan.bandage.title}, then {then.bandage.title}", language="en", issued=plan.now,
        author=plan.book.clinic.name, paper=plan.book.clinic.paper, fit=SIZES, max_pages=MOST_SIDES, drawings=writer.drawings, sources=writer.sources,
    )  # fmt: skip


def _side(xhtml: str) -> Markup:
    """The content of a whole floor card, to stand on a side of another document."""
    found = _MAIN.search(xhtml)
    if found is None:
        raise ValueError("floor-card.xhtml.j2 has no `main`: its content has no place on the second side")
    # A template made it, which escaped each value.
    return Markup(found[1])


def _short_head(then: Plan, owner: Markup, writer: Writer) -> tuple[Markup, Markup]:
    """Name and limb in large type, the rest in small: one line fewer, for the first side has said it all."""
    patient = then.patient
    name = writer.authored(patient.name, patient.spans.get("patient.name"), "pet")
    weight = writer.number("weight", patient.weight, hand.measure(patient.weight, "kg"))
    return (
        Markup("<strong>{}</strong>, {}").format(name, patient.limb.site),
        Markup("{}, {}. {}").format(patient.species.capitalize(), weight, owner),
    )


def _following(then: Plan, writer: Writer) -> dict[str, Any]:
    """The second clock: the next bandage's own times, and from when they are counted."""
    title = then.bandage.stored or then.bandage.parts[0]
    return {
        "heading": writer.authored(then.bandage.title, title.span("title"), "title"),
        "from": writer.moment(then.applied, hand.clock(then.applied), "counted-from"),
        "day": writer.moment(then.applied, hand.moment(then.applied, year=False), "counted-from"),
        "by": "" if then.deadline is None else "Open by" if then.deadline.kind == "change" else "Off by",
        "clock": deadline_lines(then, writer),
        "fetch": fetch_rows(then, writer),
    }


def _decision(plan: Plan, writer: Writer) -> dict[str, Any]:
    """What the release shows, and what each of the two means."""
    end = plan.deadline
    assert end is not None
    minutes = round((end.due.timestamp() - plan.began.timestamp()) / 60)
    return {
        "minutes": writer.number("minutes", minutes, f"{minutes}{hand.NO_BREAK}minutes"),
    }
