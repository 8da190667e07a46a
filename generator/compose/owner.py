"""Compose the owner's sheet.

Takes  a `Plan`, the words of the owner's and of the clinic's language, the templates.
Gives  `owner_sheet`: a `Document` of one side or two; a draft may take three, signed words bring one in the clinic's.
Knows  what an owner needs and in which order; never pressures, rolls or estimates. Refuses what never goes home.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import UTC, timedelta
from typing import Any

from markupsafe import Markup

from generator.compose.audit import audit
from generator.compose.data import plan_digest
from generator.compose.echo import echo
from generator.compose.owner_copy import clinic_copy as copy_of
from generator.compose.owner_copy import same_lines
from generator.compose.owner_parts import Parts
from generator.compose.render import render
from generator.compose.voice import Line, Voice
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.reckon.plan import Plan
from generator.source.problem import Problem, Refusal
from generator.source.span import Span
from generator.words.catalogue import Words
from generator.words.languages import language_name, own_name
from generator.words.local import Local, territory_of

# Large first: what is short is printed larger. Below 12 points nothing for owners is ever set (RNIB clear print).
# An unsigned translation says everything twice: it starts at the smallest and takes the sides it needs.
SIZES = (14.0, 13.5, 13.0, 12.5, 12.0)
# Letters of a name beside the animal: a longer one is set smaller, lest its words break and the telephones slip overleaf.
LONG_NAME, LONG_WORD = 18, 9


def owner_sheet(
    plan: Plan, words: Words, clinic_words: Words, templates: Mapping[str, str], *, clinic_copy: bool = False
) -> Document:
    """The go-home sheet in the owner's language.

    Args:
        words: of the owner's language. clinic_words: of the clinic's, which counts where a translation is unsigned.
        clinic_copy: the clinic's own copy: in its language, with the teach-back questions and room to sign.
    Raises:
        Refusal: the bandage does not go home, is not on yet, an hour of the week would have no telephone, or a translation
            turns figures round.
        LeakedFigureError, AlteredFigureError, OutsideVocabulary: a template or a formatter is broken.
    """
    refuse(plan)
    writer = Writer()
    zone = territory_of(plan.book.clinic.time_zone)
    spoken = clinic_words if clinic_copy else words
    voice = _voice(spoken, clinic_words, zone, writer)
    parts = Parts(plan, voice)
    values = _values(parts)
    if clinic_copy:
        asked = None if words.language == clinic_words.language else _voice(words, clinic_words, zone, writer)
        values["copy"] = copy_of(parts, asked)
    is_draft = voice.unsigned + voice.missing > 0 and not spoken.is_source
    if voice.signed:
        # What stands alone in the owner's language stands in the clinic's overleaf; a draft has it under each line.
        values["same"] = same_lines(Parts(plan, voice.in_clinic_words()), voice)
    values["missing"] = voice.both("lines-missing", language=voice.language_name("en")) if voice.missing else None
    values["band"] = voice.both("draft-band", language=voice.language_name(clinic_words.language)) if is_draft else None
    values["is_draft"] = is_draft
    xhtml = writer.once(render(templates, "owner-sheet.xhtml.j2", values))
    echo(audit(xhtml, writer.sources), voice.local_in, plan.book.clinic.units)
    if is_draft:
        _see_marked(xhtml, values["band"])
    # The clinic's copy speaks the owner's language only where it says so itself.
    is_unsigned = is_draft or (values["copy"] is not None and values["copy"]["band"] is not None)
    patient = plan.patient
    title = f"{'DRAFT: ' if is_unsigned else ''}{patient.name}, {patient.limb.site}, {plan.bandage.title}"
    return Document(
        xhtml=xhtml, title=title, language=spoken.language, issued=plan.now, author=plan.book.clinic.name, paper=plan.book.clinic.paper,
        fit=SIZES[-1:] if is_draft or clinic_copy else SIZES, max_pages=None if is_draft else 5 if clinic_copy else 4 if values["same"] else 2, first_page=("alarm", "look"), drawings=writer.drawings, sources=writer.sources,
        is_draft=is_unsigned, beside=words.language if clinic_copy and words.language != spoken.language else "",
    )  # fmt: skip


def _tongue(voice: Voice) -> tuple[str, str]:
    """The sheet's language as it calls itself, and as the clinic calls it where that is another."""
    own = own_name(voice.words.language)
    if voice.words.language == voice.clinic_words.language:
        return own, ""
    return own, language_name(voice.words.language, voice.clinic_local)


def _see_marked(xhtml: str, band: tuple[Line, Line]) -> None:
    """See that the band stands over every page: a clinic's own template may move what it likes, but not take this away.

    Raises:
        Refusal: it does not.
    """
    found = re.search(r'<body[^>]*>\s*<aside class="band alarm">(.*?)</aside>', xhtml, re.DOTALL)
    if found is None or not all(line.text in found[1] for line in band):
        raise Refusal((Problem(
            "draft-unmarked", Span("owner-sheet.xhtml.j2"), "the sheet is a draft, and its template does not print the band that says so",
            "an owner would trust words that nobody has checked", "put the `aside` with the classes `band alarm` back, with both its lines, right after `<body …>`",
        ),))  # fmt: skip


def _voice(words: Words, clinic_words: Words, territory: str, writer: Writer) -> Voice:
    return Voice(words, clinic_words, Local(words.language, territory), Local(clinic_words.language, territory), writer)


def refuse(plan: Plan) -> None:
    """Stop a sheet for a bandage that must not leave the building.

    Raises:
        Refusal: `never-goes-home`, `stays-in-the-clinic` or `not-on-yet`, with who decided it and what to print instead.
    """
    if plan.bandage.is_haemorrhage:
        part = next(p for p in plan.bandage.parts if p.purpose == "haemorrhage")
        raise Refusal((Problem(
            "never-goes-home", part.span("kind"), f"`{part.protocol}` stops bleeding: it is watched all the time and never goes home",
            "it cuts off blood; at home nobody would take it off in time", "print the floor card; print the sheet for the bandage that follows once that one is on: write its time as `applied:`, and this bandage under `earlier:`",
        ),))  # fmt: skip
    if not plan.go_home:
        decision = next((d for d in plan.decisions if d.key == "go_home"), None)
        span = decision.span if decision else plan.bandage.parts[0].span("limits")
        raise Refusal((Problem(
            "stays-in-the-clinic", span, f"this bandage does not go home{f', says {decision.by}' if decision else ''}",
            "it needs looking at more often, or by more practised eyes, than a home can give", "print the floor card; print the sheet when a plan allows going home",
        ),))  # fmt: skip
    if plan.patient.is_planned:
        raise Refusal((Problem(
            "not-on-yet", plan.patient.spans.get("planned") or plan.patient.spans[""], "the bandage is only planned",
            "every date on the sheet counts from the minute it goes on", "print the floor card; write `applied:` with the time once it is on, and print the sheet",
        ),))  # fmt: skip


def _values(parts: Parts) -> dict[str, Any]:
    plan, voice, clinic = parts.plan, parts.voice, parts.plan.book.clinic
    return {
        "language": voice.words.language,
        "title": plan.patient.name,
        "is_long_name": len(plan.patient.name) > LONG_NAME or max(map(len, plan.patient.name.split())) > LONG_WORD,
        "say": voice.say,
        "none": Markup(),
        "clinic_name": voice.writer.authored(clinic.name, clinic.spans.get("name"), "clinic"),
        "clinic_address": voice.writer.authored(", ".join(clinic.address), clinic.spans.get("address"), "address"),
        "from_right": parts.from_right, "tongue": _tongue(voice), "clinic_language": voice.clinic_words.language,
        "going_home": voice.say("going-home", date=voice.date_of(plan.now, "going-home", "from", year=True)),
        "pet": voice.name(plan.patient.name, plan.patient.spans.get("patient.name"), "pet")(voice.local),
        "who": parts.who(),
        "what": parts.what_it_does(),
        "animal": parts.pictures.animal(),
        "deadline": parts.deadline(),
        **parts.listed(),
        "days": parts.days(),
        "toes": parts.pictures.toes(),
        "code": parts.pictures.code(),
        "explained": voice.say("explained-by", name=voice.name(plan.patient.explained_by or plan.patient.issued_by, plan.patient.spans.get("explained_by") or plan.patient.spans.get("issued_by"), "explained-by")),
        "foot": parts.foot(plan_digest(plan)),
        "replaces": voice.say("replaces") if plan.began.astimezone(UTC) + timedelta(minutes=1) < plan.applied.astimezone(UTC) else None,
        "copy": None, "same": None,
    }  # fmt: skip
