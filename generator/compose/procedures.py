"""Compose the SOP binder of a clinic.

Takes  a `Book`, the templates, the moment of issue.
Gives  `binder`: a `Document` of chapters: front matter, one for each protocol, appendices.
Knows  what an inspector looks for and the order of a chapter; what a protocol says: `compose/sop.py`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from datetime import datetime
from types import MappingProxyType
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.audit import audit
from generator.compose.card_parts import layer_number
from generator.compose.change_bars import barred
from generator.compose.dressings import dressing_tables, objection
from generator.compose.render import render
from generator.compose.sop import sop_of
from generator.compose.sop_clinic import house_rows, setting_rows
from generator.compose.sop_stages import bare
from generator.compose.tables import appendix_sources, band_tables, rule_rows, stock_rows
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.protocol.approval import Standing
from generator.protocol.changes import Changed
from generator.protocol.kinds import LAYERS
from generator.protocol.model import Book, Limits, Modifier
from generator.source.problem import Problem

# Harm to a person, in the standard's own words (ANSI Z535.4); harm to the animal has this house's ladder, since signs for
# people must not stand for it (ISO 3864-1, scope).
_PEOPLE = (
    ("DANGER", "will kill or gravely hurt a person if not avoided"),
    ("WARNING", "could kill or gravely hurt a person: a painful, unmuzzled bite to the face"),
    ("CAUTION", "could hurt a person: scissors, cast saw, scratches"),
    ("NOTICE", "not about people: stock, kit, records"),
)
_ANIMAL = (
    ("LIFE OR LIMB AT RISK", "breathing, bleeding, blood supply or nerve: act now, the clinician is called"),
    ("SKIN AT RISK", "pressure, wet or infection: the bandage is opened the same day"),
    ("COMFORT", "rubbing, licking, restlessness: looked at, and written down"),
)


def binder(
    book: Book,
    templates: Mapping[str, str],
    issued: datetime,
    *,
    problems: Sequence[Problem] = (),
    standings: Sequence[Standing] = (),
    changed: Mapping[str, Changed] = MappingProxyType({}),
) -> Document:
    """The whole binder, in English.

    Args:
        issued: aware; decides what is not yet in force or overdue for review.
        standings: how protocols stand in the record of approvals; one that is not here was not asked for.
        changed: by file, what changed since the approved revision before: a bar stands beside it.
        problems: warnings of the check, printed in the front matter so that nobody takes the book for clean.
    Raises:
        LeakedFigureError, OutsideVocabulary: a template is broken.
    """
    writer = Writer()
    xhtml = writer.once(render(templates, "binder.xhtml.j2", _values(book, writer, issued, problems, standings)))
    xhtml = barred(xhtml, writer.sources, changed)
    audit(xhtml, writer.sources)
    return Document(
        xhtml=xhtml, title=f"Bandaging procedures: {book.clinic.name}", language="en", issued=issued, author=book.clinic.name, paper=book.clinic.paper,
        drawings=writer.drawings, sources=writer.sources,
    )  # fmt: skip


def _values(
    book: Book, writer: Writer, issued: datetime, problems: Sequence[Problem], standings: Sequence[Standing]
) -> dict[str, Any]:
    clinic = book.clinic
    ordered = sorted(book.protocols.values(), key=lambda p: p.id)
    known = {one.protocol.file: one for one in standings}
    sops = [sop_of(protocol, book, writer, issued.date(), known.get(protocol.file)) for protocol in ordered]
    spans = clinic.spans
    return {
        "title": f"Bandaging procedures: {clinic.name}",
        "clinic": lambda: writer.authored(clinic.name, spans.get("name"), "clinic"),
        "address": writer.authored(", ".join(clinic.address), spans.get("address"), "address"),
        "head_technician": writer.authored(clinic.head_technician, spans.get("signs_for"), "head"),
        "clinicians": Markup(", ").join(writer.authored(name, spans.get("signs_for"), "clinician") for name in clinic.clinicians),
        "issued": lambda: writer.moment(issued, hand.stamp(issued), "issued"),
        "issued_day": writer.moment(issued, hand.day(issued.date()), "issued-day"),
        "digest": writer.number("digest", book_digest(book), book_digest(book)),
        "copies": [
            {"number": writer.number("copy", copy.number, str(copy.number)), "place": writer.authored(copy.place, spans.get("copies"), "copy-place"),
             "holder": writer.authored(copy.holder, spans.get("copies"), "copy-holder")}
            for copy in clinic.copies
        ],
        "files": [
            {"file": writer.authored(name, None, "file"), "digest": writer.number("file-digest", digest[:12], digest[:12])}
            for name, digest in sorted(book.digests.items())
        ],
        "problems": [writer.authored(f"{problem.span}: {problem.what}", problem.span, "problem") for problem in problems],
        "people": _PEOPLE, "animal": _ANIMAL,
        "sops": sops,
        # Sections carry the same number in every chapter; empty rows are for writing in.
        "number": lambda n: writer.number("section", n, f"{n}."), "rows": [None] * 18, "kit_rows": [None] * 6,
        # A line to read and sign for whoever the clinic names, and never fewer than 4.
        "staff_rows": [None] * max(6, 1 + len(clinic.clinicians)),
        "layer_names": [f"{layer_number(layer)} {layer}" for layer in LAYERS],
        "rules": rule_rows(writer), "sources": appendix_sources(book, writer), "bands": band_tables(book, writer), "dressings": dressing_tables(book, writer), "objection": objection(writer), "stock": stock_rows(book, writer),
        "modifiers": _modifiers(book, writer), "settings": setting_rows(clinic, writer), "house": house_rows(clinic, writer),
    }  # fmt: skip


def book_digest(book: Book) -> str:
    """Eight signs for the whole book as read."""
    text = json.dumps(sorted(book.digests.items())) if book.digests else repr(sorted(book.protocols))
    return hashlib.sha256(text.encode()).hexdigest()[:8]


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


def _modifiers(book: Book, writer: Writer) -> list[dict[str, Any]]:
    from generator.compose.sop_limits import limit_cells, source_words

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
