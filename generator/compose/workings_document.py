"""Compose the workings: how every figure of a plan came about, and who decided what.

Takes  a `Plan` and the templates.
Gives  `workings`: a `Document` for staff; `workings_text`: the same for the screen.
Knows  the order of the sections; nothing in them is for owners.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.data import plan_digest
from generator.compose.render import render
from generator.compose.workings_course import record_section, unknown_section, visits_section, whose_section
from generator.compose.workings_decided import conditions_section, dressing_section, limits_section
from generator.compose.workings_figures import figures_section
from generator.compose.workings_parts import Section, as_text
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.reckon.plan import Plan
from generator.source.problem import Problem

# What a bandage that follows has in common with the one before it.
_SHARED = ("Patient", "Owner", "Skin", "Sheet", "Explained by")
_CLOSING = (
    "Nothing here is a promise of safety. The attending veterinarian decides, within local law.",
)  # fmt: skip


def workings(plan: Plan, templates: Mapping[str, str], *, warnings: Sequence[Problem] = ()) -> Document:
    """The workings of one plan, in English, for staff.

    Args:
        warnings: what the check of the book found and no plan is refused for.
    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    writer = Writer()
    patient, clinic = plan.patient, plan.book.clinic
    title = f"Workings: {patient.name}, {patient.limb.site}, {plan.bandage.title}"
    values = {
        "title": title,
        "clinic": writer.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "pet": writer.authored(patient.name, patient.spans.get("patient.name"), "pet"),
        "sheet": writer.number("sheet", plan_digest(plan), plan_digest(plan)),
        "issued": writer.moment(plan.now, hand.stamp(plan.now), "issued"),
        "sections": [
            {"number": writer.number("section", number, f"{number}."), "content": section}
            for number, section in enumerate(_sections(plan, writer, warnings), 1)
        ],
        "closing": _CLOSING,
    }
    xhtml = writer.once(render(templates, "workings.xhtml.j2", values))
    audit(xhtml, writer.sources)
    return Document(
        xhtml=xhtml, title=title, language="en", issued=plan.now, author=clinic.name, paper=clinic.paper, drawings=writer.drawings, sources=writer.sources,
    )  # fmt: skip


def workings_text(plan: Plan, *, warnings: Sequence[Problem] = ()) -> str:
    """The same words as on paper; no line ends with a space, the last without a newline."""
    writer = Writer()
    heading = f"Workings of sheet {plan_digest(plan)}: for staff only"
    return as_text(heading, _sections(plan, writer, warnings), tuple(map(Markup, _CLOSING)))


def _sections(plan: Plan, writer: Writer, warnings: Sequence[Problem]) -> tuple[Section, ...]:
    """Each section that has something to say of this plan; then those of the bandage that follows it, if one does."""
    told = (whose_section(plan, writer), *_of_one(plan, writer))
    every = (*told, record_section(plan, writer, warnings, told))
    if plan.then is None:
        return every
    whose = whose_section(plan.then, writer)
    # The animal, its owner and the sheet's number are the same.
    own = replace(whose, pairs=tuple(pair for pair in whose.pairs if pair[0] not in _SHARED), blanks=())
    after = (own, *_of_one(plan.then, writer))
    following = (*after, record_section(plan.then, writer, warnings, after))
    return (
        *every,
        *(replace(one, title=f"The bandage after it: {one.title[:1].lower()}{one.title[1:]}") for one in following),
    )


def _of_one(plan: Plan, writer: Writer) -> tuple[Section, ...]:
    every = (
        dressing_section(plan, writer), limits_section(plan, writer), conditions_section(plan, writer), visits_section(plan, writer),
        figures_section(plan, writer), unknown_section(plan, writer),
    )  # fmt: skip
    return tuple(section for section in every if section is not None)
