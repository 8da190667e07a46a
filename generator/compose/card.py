"""Compose the floor card: one side for the technician at the table.

Takes  a `Plan` and the templates.
Gives  `floor_card`: a `Document` of one side.
Knows  the order of the work: who, by when, what to fetch, how, when to stop, what to watch. No sums are left to do.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.card_limits import limit_rows, pressure_line
from generator.compose.card_log import log_table
from generator.compose.card_parts import (
    deadline_lines,
    fetch_rows,
    girth_line,
    layer_drawing,
    patient_line,
    unused_words,
)
from generator.compose.card_steps import steps_of, stop_rule
from generator.compose.card_wound import dressing_line, supplies_line
from generator.compose.data import plan_digest
from generator.compose.not_stocked import CODE as NOT_STOCKED
from generator.compose.not_stocked import not_stocked_lines
from generator.compose.notes import notes_of
from generator.compose.render import render
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.model import Modifier
from generator.reckon.plan import Plan

# Of the body, in points. Steps are a fifth larger, 15 to 11 points: they are read at arm's length (NASA CR-177605; the sizes
# are a house rule). Notes and figures are never under 9 points whatever the body's size. What does not fit at the last
# size goes on to a second side and is never set smaller.
SIZES = (12.5, 12.1, 11.7, 11.4, 11.1, 10.8, 10.6, 10.4, 10.2, 10.0, 9.8, 9.6, 9.4, 9.2)
# A log of many days takes the second side; then the steps keep to the first.
WITH_SECOND_SIDE = tuple(size for size in SIZES if size <= 10)
# With more lines of steps and remarks than this each caution stands at the head of its step's own line, in the same order;
# with more lines of steps the drawing, which says nothing that the fetch list does not, gives way to them.
ROOMY = 15
_TEMPLATE = "floor-card.xhtml.j2"
# Letters of the largest title on its two lines: a longer name is set smaller, lest it push the last lines off the side.
TWO_LINES = 40
# Said elsewhere on the card, in a place of their own.
_ELSEWHERE = frozenset(
    {"modifier-warns", "limb-estimated", "contact-not-needed", "cost-unknown", "cost-in-currencies", "clock-change"}
)


def floor_card(plan: Plan, templates: Mapping[str, str]) -> Document:
    """The card of one patient, in English, 24-hour clock.

    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    writer = Writer()
    # A clinic's own template may have no place of its own for what is not in stock: it stands among the notes then.
    has_place = "not_stocked" in templates[_TEMPLATE]
    values = card_values(plan, writer, frozenset({NOT_STOCKED}) if has_place else frozenset())
    xhtml = writer.once(render(templates, _TEMPLATE, values))
    audit(xhtml, writer.sources)
    patient = plan.patient
    return Document(
        xhtml=xhtml, title=f"Floor card: {patient.name}, {patient.limb.site}, {plan.bandage.title}", language="en", issued=plan.now,
        author=plan.book.clinic.name, paper=plan.book.clinic.paper, fit=WITH_SECOND_SIDE if values["log"]["long"] else SIZES, max_pages=2, drawings=writer.drawings, sources=writer.sources,
    )  # fmt: skip


def card_values(plan: Plan, writer: Writer, without: frozenset[str] = frozenset()) -> dict[str, Any]:
    """What the template prints, by name. without: codes of notes that stand elsewhere on the paper."""
    clinic = plan.book.clinic
    title = plan.bandage.parts[0] if plan.bandage.stored is None else plan.bandage.stored
    parts = (plan.bandage.stored,) if plan.bandage.stored else plan.bandage.parts
    fetch = fetch_rows(plan, writer)
    patient = patient_line(plan, writer)
    steps = steps_of(plan, writer)
    lines = sum(1 + (step["caution"] is not None) for step in steps)
    is_haemorrhage = plan.bandage.is_haemorrhage
    not_stocked = not_stocked_lines(plan, writer)
    remarks = lines + len(plan.modifiers) + len(not_stocked)
    # A sentence under the fetch list tells more than the drawing, where there is no room for both.
    is_crowded = lines > ROOMY or (bool(not_stocked) and remarks > ROOMY)
    return {
        "title": plan.bandage.title,
        "clinic": writer.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "issued": writer.moment(plan.now, hand.stamp(plan.now), "issued"),
        "heading": writer.authored(plan.bandage.title, title.span("title"), "title"),
        "patient": patient, "is_long_name": len(patient[0].striptags()) > TWO_LINES,
        "deadline": deadline_lines(plan, writer),
        "is_haemorrhage": is_haemorrhage, "follows": False,
        "fetch": fetch, "others": [row["other"] for row in fetch if row["other"]],
        "not_stocked": not_stocked,
        "unused": unused_words(plan),
        "supplies": supplies_line(plan, writer),
        "dressing": dressing_line(plan, writer),
        "girth": girth_line(plan, writer),
        "estimated": plan.limb.trust == "estimated",
        "drawing": None if is_haemorrhage or is_crowded else layer_drawing(plan, writer),
        "steps": steps,
        "dense": remarks > ROOMY,
        "ticks": Markup(' data-ticks="1"') if is_haemorrhage else Markup(),
        "limits": limit_rows(plan, writer),
        # What the clinic measured is the pull of a light wrap; of a firm one nobody knows it.
        "pressure": Markup("Pressure: not estimated. Nobody measured so firm a pull.") if is_haemorrhage else pressure_line(plan, writer),
        "modifiers": [_warning(used.modifier, writer) for used in plan.modifiers],
        "notes": notes_of(plan, writer, _ELSEWHERE | without),
        "stop": stop_rule(plan.signs, writer),
        "log": log_table(plan, writer),
        "protocols": [
            Markup("{} rev {}").format(writer.authored(p.id, p.span("id"), "id"), writer.number("revision", p.revision, str(p.revision))) for p in parts
        ],
        "began": writer.moment(plan.began, hand.clock(plan.began), "began"),
        "sheet": writer.number("sheet", plan_digest(plan), plan_digest(plan)),
        "issued_by": writer.authored(plan.patient.issued_by, plan.patient.spans.get("issued_by"), "issued-by"),
    }  # fmt: skip


def _warning(modifier: Modifier, writer: Writer) -> dict[str, Markup | None]:
    """What a condition asks for, and its name, unless the words begin with it."""
    words = modifier.warns or modifier.because
    name = modifier.name[:1].upper() + modifier.name[1:]
    return {
        "name": None if words.startswith(name) else writer.authored(name, modifier.spans.get(""), "modifier"),
        "warns": writer.authored(words, modifier.spans.get("warns"), "warns"),
    }
