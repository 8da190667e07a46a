"""Who was trained on which revision: the read-and-understood rows of a chapter, and the table of all people and documents.

Takes  a `Protocol` or the standings of all, the `Book`, a `Writer`, the day of issue.
Gives  `read_rows` for section 12 of a chapter; `training_values` for the page of all.
Knows  that a chapter shows its own revision only, and that bold words, never colour alone, say what is due.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.finder import Chapter
from generator.compose.writer import Writer
from generator.protocol.approval import Standing
from generator.protocol.model import Book, Protocol, Staff
from generator.protocol.training import Level, Wanted, levels, of_protocol, wanted

# Lines for whoever comes before the next print; a list that is full is answered on loose paper.
_SPARE = 2
# So many people stand side by side in one table and can still be read.
_ABREAST = 7
# Beside the revision of whoever answers for its words: said once above the table.
_MARKS = {"prepared": "P", "approved": "A"}


def read_rows(protocol: Protocol, book: Book, w: Writer, day: date) -> list[dict[str, Markup]]:
    """A row for everybody who works here, filled in as far as they were trained on this very revision; then lines to write on."""
    found = levels(book.clinic, of_protocol(protocol), book.training, day)
    return [_read_row(level, protocol, w) for level in found] + [_blank()] * _SPARE


def _blank() -> dict[str, Markup]:
    return dict.fromkeys(("name", "role", "read", "competent", "by"), Markup())


def _read_row(level: Level, protocol: Protocol, w: Writer) -> dict[str, Markup]:
    row = level.row
    cells = _blank() | {
        "name": w.authored(level.person.name, level.person.spans.get("name"), "person"),
        "role": w.authored(level.person.role, level.person.spans.get("role"), "role"),
    }
    if row is not None:
        cells["read"] = w.day(row.read, hand.iso_day(row.read), "read")
    if level.what == "trained" and row is not None and row.competent is not None:
        cells["competent"] = w.day(row.competent, hand.iso_day(row.competent), "competent")
        cells["by"] = w.authored(row.by or "", row.spans.get("by"), "by")
    elif level.what in ("prepared", "approved"):
        person = protocol.prepared_by if level.what == "prepared" else protocol.approved_by
        if row is None and person is not None:
            cells["read"] = w.day(person.date, hand.iso_day(person.date), "read")
        cells["competent"] = escape(f"{level.what} it")
    return cells


def training_values(
    chapters: Sequence[Chapter], standings: Mapping[str, Standing], book: Book, w: Writer, day: date
) -> dict[str, Any]:
    """What the page of all people and documents prints.

    Returns:
        `tables`: people side by side, as many as can be read, each with `heads` and `rows`; `people`: name, office and days of each;
        `due`: how many cells are due.
    """
    people = [person for person in book.clinic.roster if person.works_on(day)]
    asked = [(protocol, sop, _asked(protocol, standings)) for protocol, sop in chapters]
    found = {
        of.number: levels(book.clinic, of, book.training, day) for _, _, of in asked if of is not None
    }  # everybody of `people`, in their order
    tables = []
    for at in range(0, len(people), _ABREAST):
        abreast = slice(at, at + _ABREAST)
        tables.append(
            {
                "heads": [w.authored(person.name, person.spans.get("name"), "person") for person in people[abreast]],
                "rows": [
                    {
                        "sop": sop,
                        "revision": None if of is None else w.number("asked", of.revision, str(of.revision)),
                        "cells": [escape("awaits approval")] * len(people[abreast])
                        if of is None
                        else [_cell(level, of, w) for level in found[of.number][abreast]],
                    }
                    for _, sop, of in asked
                ],
            }
        )
    due = sum(level.is_due for row in found.values() for level in row)
    return {"tables": tables, "people": [_person(one, w) for one in people], "due": w.number("due", due, str(due))}


def _asked(protocol: Protocol, standings: Mapping[str, Standing]) -> Wanted | None:
    one = standings.get(protocol.file)
    return of_protocol(protocol) if one is None else wanted(one)


def _person(person: Staff, w: Writer) -> Markup:
    spans = person.spans
    said = Markup("{}, {}").format(
        w.authored(person.name, spans.get("name"), "person"), w.authored(person.role, spans.get("role"), "role")
    )
    if person.since is not None:
        said += Markup(", since {}").format(w.day(person.since, hand.iso_day(person.since), "since"))
    if person.until is not None:
        said += Markup(", until {}").format(w.day(person.until, hand.iso_day(person.until), "until"))
    return said


def _cell(level: Level, of: Wanted, w: Writer) -> Markup:
    if level.what == "trained":
        return w.number("trained", of.revision, str(of.revision))
    if level.what in ("prepared", "approved"):
        own = w.number("trained", of.revision, str(of.revision))
        return Markup("{} {}").format(own, _MARKS[level.what])
    if level.what == "read":
        return Markup("<strong>due</strong>, read")
    if level.before is not None:
        return Markup("<strong>due</strong>, has {}").format(w.number("before", level.before, str(level.before)))
    return Markup("<strong>due</strong>")
