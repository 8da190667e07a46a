"""What stands after the chapters: the comparison of bandages, rules, conditions, dressings, girths, stock, and the forms.

Takes  the `Book`, its protocols in the binder's order with their chapters' values, a `Writer`.
Gives  `back_values` for the template.
Knows  which appendix is made where.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.compose.binder_index import index_pages
from generator.compose.binder_words import BACK, FORMS, LOG_COLUMNS
from generator.compose.dressings import dressing_tables, objection
from generator.compose.finder import Chapter
from generator.compose.glossary import GLOSSARY
from generator.compose.layer_cut import layer_number
from generator.compose.matrix import matrix_tables
from generator.compose.modifier_rows import modifier_rows
from generator.compose.tables import appendix_sources, band_tables, rule_rows, stock_rows
from generator.compose.tabs import APPENDICES, tab_values
from generator.compose.tightenings import tightening_rows
from generator.compose.writer import Writer
from generator.protocol.kinds import LAYERS
from generator.protocol.model import Book

# What a form's number is made of: the first that the clinic does not use for something of its own.
_SERIES = ("FRM", "FORM", "BLANK")


def back_values(book: Book, chapters: Sequence[Chapter], w: Writer) -> dict[str, Any]:
    """Everything that `binder-back.xhtml.j2` prints beside what all pages share."""
    return {
        **contents_values(book, w),
        "matrix": matrix_tables(chapters, book, w),
        "rules": rule_rows(w),
        "tightenings": tightening_rows(chapters, book, w),
        "sources": appendix_sources(book, w),
        "modifiers": modifier_rows(book, w),
        "dressings": dressing_tables(book, w),
        "objection": objection(w),
        "bands": band_tables(book, w),
        "stock": stock_rows(book, w),
        "glossary": list(GLOSSARY.items()),
        "index_pages": index_pages(chapters, book, w),
        # Empty rows are for writing in.
        "rows": [None] * 18,
        "log_columns": LOG_COLUMNS,
        "kit_rows": [None] * 14,
        "layer_names": [f"{layer_number(layer)} {layer}" for layer in LAYERS],
    }


def contents_values(book: Book, w: Writer) -> dict[str, Any]:
    """What the contents say of it: titles by id, the numbers of the forms among them, the tab."""
    return {
        "back_titles": BACK,
        "forms": {id: w.authored(number, None, "form") for id, number in form_numbers(book).items()},
        "back_tab": tab_values(APPENDICES, w),
    }


def form_numbers(book: Book) -> dict[str, str]:
    """Numbers of the binder's own forms, in the clinic's scheme: what its numbers begin with, and none of them twice.

    Returns:
        By the id of the form's chapter: `LB-FRM-001` where every protocol is numbered `LB-…`, else `FRM-001`.
    """
    taken = {protocol.id for protocol in book.protocols.values()}
    begins = {number.split("-")[0] for number in taken if "-" in number}
    lead = f"{begins.pop()}-" if len(begins) == 1 and all("-" in number for number in taken) else ""
    free = (f"{lead}{word}" for word in _SERIES if not any(number.startswith(f"{lead}{word}-") for number in taken))
    series = next(free, f"{lead}BINDER-FORM")
    return {id: f"{series}-{place:03d}" for place, id in enumerate(FORMS, 1)}
