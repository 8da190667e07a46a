"""Sheets for those who work on the words: all of a language for its reviser, and where each sentence stands.

Takes  an open book, a language, its catalogue's lines.
Gives  documents by name, and the sentences that stand on none of them.
Knows  one invented animal for each bandage; sites, species and hours go round, so that most sentences are met.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

from generator.compose import owner_sheet
from generator.flow import Chosen, make_plan, marked, templates_of, words_for
from generator.opening import OpenBook
from generator.page.document import Document
from generator.proof import A_SATURDAY, longest_patient
from generator.protocol.kinds import SITE_GROUPS
from generator.protocol.model import Protocol
from generator.reckon.plan import Plan
from generator.source.problem import Refusal
from generator.source.span import Span
from generator.words import po
from generator.words.catalogue import SOURCE_LANGUAGE, Said, Words
from generator.words.exchange import Line, mark

Key = tuple[str | None, str]
# Closed, open, and the day before the clocks go forward in the United States.
_MOMENTS = (A_SATURDAY, datetime(2027, 3, 12, 15, 10, tzinfo=UTC), datetime(2027, 3, 13, 15, 10, tzinfo=UTC))


@dataclass(frozen=True, slots=True)
class Sheets:
    """What was composed. documents: by name. unseen: sentences that stand on none of them."""

    documents: dict[str, Document]
    unseen: tuple[po.Entry, ...]


@dataclass(frozen=True, slots=True)
class _Marked(Words):
    """English, each sentence with its mark behind it; `seen` takes down which were said."""

    marks: Mapping[Key, str] = field(default_factory=dict)
    seen: set[Key] = field(default_factory=set)

    def say(self, message: str, context: str | None = None) -> Said:
        letters = self.marks.get((context, message))
        if letters is None:
            return Said(message, self.language, message)
        self.seen.add((context, message))
        return Said(f"{message} [{letters}]", self.language, message)


def proof_sheets(opened: OpenBook, language: str, entries: Sequence[po.Entry]) -> Sheets:
    """Every owner's sheet of a language, and the clinic's copy of the first: what a reviser reads.

    Args:
        entries: the sentences that are to be read.
    Raises:
        Refusal: there are no words in this language.
    """
    clinic = words_for(opened, opened.book.clinic.languages[0], Span("languages"))
    seen: set[Key] = set()
    words = words_for(opened, language, Span("LANG")).noting(seen)
    documents: dict[str, Document] = {}
    templates = templates_of(opened)
    for name, plan in _plans(opened):
        if not documents:
            documents["clinic-copy"] = marked(owner_sheet(plan, words, clinic, templates, clinic_copy=True), plan)
        documents[name] = marked(owner_sheet(plan, words, clinic, templates), plan)
    return Sheets(documents, tuple(entry for entry in entries if entry.key not in seen))


def place_sheets(opened: OpenBook, lines: Sequence[Line]) -> Sheets:
    """As few English sheets as show where each line of a translator's table stands, by the letters in its column `Line`."""
    marks: dict[Key, str] = {}
    for number, line in enumerate(lines, 1):
        marks.setdefault(line.entry.key, mark(number))
    open_lines, documents = set(marks), dict[str, Document]()
    for name, plan in _plans(opened):
        for copy in (False, True):
            words = _Marked(SOURCE_LANGUAGE, marks=marks)
            document = owner_sheet(plan, words, words, templates_of(opened), clinic_copy=copy)
            if words.seen & open_lines:
                open_lines -= words.seen
                documents[f"{name}{'-clinic-copy' if copy else ''}"] = replace(document, max_pages=None)
    entries = {line.entry.key: line.entry for line in lines}
    return Sheets(documents, tuple(entries[key] for key in marks if key in open_lines))


def _plans(opened: OpenBook) -> Iterator[tuple[str, Plan]]:
    """One plan for each bandage that goes home."""
    number = 0
    for protocol in opened.book.protocols.values():
        if protocol.blend:
            continue
        for one in tuple(protocol.stages.values()) or (protocol,):
            if one.limits.go_home:
                try:
                    yield f"{one.protocol}{f'-{one.stage}' if one.stage else ''}", _plan(opened, one, number)
                except Refusal:
                    continue  # what is wrong with the protocol, `check` tells
                number += 1


def _plan(opened: OpenBook, protocol: Protocol, number: int) -> Plan:
    group = next(group for group, sites in SITE_GROUPS.items() if set(sites) & set(protocol.sites))
    side = ("left", "right")[number % 2]
    species = protocol.species[number % len(protocol.species)]
    animal, now = longest_patient(protocol), _MOMENTS[number % len(_MOMENTS)]
    limb = replace(animal.limb, site=f"{side} {group}" if group in ("fore", "hind") else group)
    animal = replace(
        animal, name="Maple", species=species, owner_name="T. Arkady", issued_by="Dr J. Ferrow", limb=limb,
        applied=now - timedelta(hours=2),
        born=(now - timedelta(days=110)).date() if protocol.only_for == "growing" else animal.born,
    )  # fmt: skip
    return make_plan(opened, Chosen((protocol,)), animal, now)
