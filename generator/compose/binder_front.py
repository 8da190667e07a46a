"""What stands before the chapters: cover, control page, copies, finder, contents, how to use it, legend.

Takes  the `Book`, its protocols in the binder's order with their chapters' values, a `Writer`, the moment of issue.
Gives  `front_values` for the template; `book_digest`.
Knows  what an inspector asks for first; what a protocol says: `compose/sop.py`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.binder_words import ANIMAL, FRONT, PEOPLE, SYSTEMS
from generator.compose.copies import copy_rows
from generator.compose.finder import Chapter, by_tab, finder_values
from generator.compose.layer_cut import layer_number
from generator.compose.sop_clinic import house_rows, setting_rows
from generator.compose.writer import Writer
from generator.protocol.kinds import LAYERS
from generator.protocol.model import Book
from generator.source.problem import Problem


def book_digest(book: Book) -> str:
    """Eight signs for the whole book as read."""
    text = json.dumps(sorted(book.digests.items())) if book.digests else repr(sorted(book.protocols))
    return hashlib.sha256(text.encode()).hexdigest()[:8]


def front_values(
    book: Book, chapters: Sequence[Chapter], w: Writer, issued: datetime, problems: Sequence[Problem]
) -> dict[str, Any]:
    """Everything that `binder-front.xhtml.j2` prints beside what all pages share."""
    clinic, spans = book.clinic, book.clinic.spans
    return {
        "front_titles": FRONT,
        "address": w.authored(", ".join(clinic.address), spans.get("address"), "address"),
        "phone": lambda: w.authored(clinic.phone, spans.get("phone"), "phone"),
        "night": lambda: w.authored(clinic.emergency_place.phone, clinic.emergency_place.spans.get("phone"), "night"),
        "night_place": w.authored(clinic.emergency_place.name, clinic.emergency_place.spans.get("name"), "night-place"),
        "head_technician": lambda: w.authored(clinic.head_technician, spans.get("signs_for"), "head"),
        "clinicians": lambda: Markup(", ").join(
            w.authored(name, spans.get("signs_for"), "clinician") for name in clinic.clinicians
        ),
        "issued_day": w.moment(issued, hand.iso_day(issued.date()), "issued-day"),
        "digest": lambda: w.number("digest", book_digest(book), book_digest(book)),
        "copies": copy_rows(clinic, w),
        "files": [
            {"file": w.authored(name, None, "file"), "digest": w.number("file-digest", digest[:12], digest[:12])}
            for name, digest in sorted(book.digests.items())
        ],
        "hash_name": w.authored("SHA-256", None, "hash"),
        "problems": [w.authored(f"{problem.span}: {problem.what}", problem.span, "problem") for problem in problems],
        "sops_by_number": [sop for _, sop in sorted(chapters, key=lambda chapter: chapter[0].id)],
        "tabs": by_tab(chapters),
        "finder": finder_values(chapters, book, w),
        "people": PEOPLE,
        "animal": ANIMAL,
        "systems": [w.authored(line, None, "system") for line in SYSTEMS],
        "letters": [(layer_number(layer), layer) for layer in LAYERS],
        "settings": setting_rows(clinic, w),
        "house": house_rows(clinic, w),
    }
