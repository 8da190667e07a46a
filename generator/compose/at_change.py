"""Compose the change card: what is asked and read when a bandage comes off, before anything new is opened.

Takes  a `Plan` with a change ahead, the templates.
Gives  `change_card`: a `Document` of one side, or None where nothing is asked at a change.
Knows  that the stage is read from the wound by a clinician, never from the day count; which dressing on the shelf serves it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.card_limits import unbroken
from generator.compose.card_parts import patient_line
from generator.compose.card_wound import course_line
from generator.compose.data import plan_digest
from generator.compose.render import render
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.contacts import OBJECTIONS, USES, Use
from generator.protocol.kinds import EXUDATES, STAGES, WOUND_FEATURES
from generator.reckon.plan import Plan

SIZES = (12.0, 11.5, 11.0, 10.5, 10.0, 9.6, 9.2)


def change_card(plan: Plan, templates: Mapping[str, str]) -> Document | None:
    """The card of the next change, in English, 24-hour clock.

    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    change = plan.first("change")
    if change is None or not plan.bandage.review:
        return None
    writer = Writer()
    stages = {part.stage for part in plan.bandage.parts if part.stage is not None}
    title = plan.bandage.stored or plan.bandage.parts[0]
    parts = (plan.bandage.stored,) if plan.bandage.stored else plan.bandage.parts
    values: dict[str, Any] = {
        "title": plan.bandage.title,
        "clinic": writer.authored(plan.book.clinic.name, plan.book.clinic.spans.get("name"), "clinic"),
        "patient": patient_line(plan, writer),
        "heading": writer.authored(plan.bandage.title, title.span("title"), "title"),
        "due": writer.moment(change.due, hand.moment(change.due), "due"),
        "slot": writer.moment(change.headline, hand.moment(change.headline, year=False), "slot") if change.slot or change.booked else None,
        "on": writer.moment(plan.applied, hand.moment(plan.applied, year=False), "on"),
        "course": course_line(plan, writer),
        "end": _end(plan, writer),
        "ready": [writer.authored(text, span, "supplies") for text, span in plan.bandage.supplies],
        "questions": [(writer.authored(text, span, "review"), _is_yes_or_no(text)) for text, span in plan.bandage.review],
        "not_again": [
            writer.authored(case.case, case.spans.get("case"), "case") for case in plan.bandage.do_not_use_when if plan.bandage.stored is None or case.instead != plan.bandage.stored.protocol
        ],
        "stages": STAGES if stages else (),
        "now": next(iter(stages), None),
        "fluids": EXUDATES, "features": WOUND_FEATURES,
        "shelf": list(_shelf(plan, writer)) if stages else [],
        "objection": writer.authored(next(iter(OBJECTIONS.values())), None, "objection") if stages and _dries_on(plan) else None,
        "protocols": [
            Markup("{} rev {}").format(writer.authored(p.id, p.span("id"), "id"), writer.number("revision", p.revision, str(p.revision))) for p in parts
        ],
        "sheet": writer.number("sheet", plan_digest(plan), plan_digest(plan)),
        "issued": writer.moment(plan.now, hand.stamp(plan.now), "issued"),
    }  # fmt: skip
    xhtml = writer.once(render(templates, "change-card.xhtml.j2", values))
    audit(xhtml, writer.sources)
    patient = plan.patient
    return Document(
        xhtml=xhtml, title=f"Change card: {patient.name}, {patient.limb.site}, {plan.bandage.title}", language="en", issued=plan.now,
        author=plan.book.clinic.name, paper=plan.book.clinic.paper, fit=SIZES, max_pages=2, drawings=writer.drawings, sources=writer.sources,
    )  # fmt: skip


def _end(plan: Plan, writer: Writer) -> Markup | None:
    """When bandaging ends; what to decide if this change is the last."""
    if plan.remove_by is not None:
        return Markup("Bandaging ends by {}; changing restarts nothing.").format(
            writer.moment(plan.remove_by.due, hand.moment(plan.remove_by.due, year=False), "end")
        )
    ends = [writer.authored(words, span, "end") for words, span in plan.bandage.clinical_ends]
    return Markup("Bandaging ends when: {}.").format(Markup(", or ").join(ends)) if ends else None


def _dries_on(plan: Plan) -> bool:
    return any(material.family in OBJECTIONS for material in plan.book.stock.values())


def _shelf(plan: Plan, writer: Writer) -> Iterator[dict[str, Any]]:
    """By dressing on the shelf: for each stage the fluid it serves and its interval, and what to mind."""
    for name, material in plan.book.stock.items():
        uses = USES.get(material.family or "", ()) if material.layer == "contact" else ()
        if not uses:
            continue
        by_stage = {use.stage: use for use in uses}
        mind = list(dict.fromkeys(text for use in uses for text in _mind(use)))
        yield {
            "name": writer.authored(name, material.spans.get(""), "dressing"),
            "cells": [_cell(by_stage.get(stage), writer) for stage in STAGES],
            "mind": Markup("; ").join(writer.authored(text, None, "mind") for text in mind),
        }


def _cell(use: Use | None, writer: Writer) -> Markup:
    if use is None:
        return Markup()
    fluids = ", ".join(f"{fluid} (wet it)" if fluid in use.wetted else fluid for fluid in use.exudates)
    shown = str(use.change)
    return Markup("{}: {}").format(fluids, writer.number("change", shown, unbroken(shown)))


def _mind(use: Use) -> Iterator[str]:
    if use.needs is not None:
        yield f"{use.stage}: only if {use.needs}" if use.needs == "graft" else f"only if {use.needs}"
    if use.bars:
        yield "not with " + " or ".join(feature for feature, _ in use.bars)
    if use.is_adherent:
        yield "only with a reason"


def _is_yes_or_no(question: str) -> bool:
    """Whether a tick answers it."""
    return question.split(maxsplit=1)[0] in ("Is", "Are", "Does", "Do", "Did", "Has", "Have", "Can")
