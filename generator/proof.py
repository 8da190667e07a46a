"""Prove of a book, before anything is printed, what would otherwise be found out at discharge.

Takes  an open book.
Gives  `fit_problems`, sheets that would not fit their sides; `glyph_problems`, letters that no font here can print.
Knows  the longest realistic animal and the whole way to a pressed page; judges nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from generator import shelf
from generator.flow import (
    OWNER_CATALOGUE,
    Chosen,
    languages,
    make_plan,
    patient_from,
    press,
    sheet,
    unprintable,
)
from generator.opening import OpenBook
from generator.protocol.kinds import SITE_GROUPS
from generator.protocol.model import Book, Patient, Protocol
from generator.protocol.shapes import UnsoundValue, is_unsound
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Items, Node, Scalar

# A usual sheet weighs some 2000: letters of its lines, and 40 more a line for the line itself. Two full sides hold far more
# than this; below it nothing needs to be laid out to know that it fits.
_LIGHT = 2600
_A_SATURDAY = datetime(2027, 9, 18, 17, 30, tzinfo=UTC)


def _weight(book: Book, protocol: Protocol) -> int:
    """How much an owner's sheet has to hold, roughly."""
    lines: list[str] = [book.signs[name].owner for name in protocol.signs if name in book.signs]
    if protocol.owner is not None:
        lines += [
            *protocol.owner.every_day,
            *protocol.owner.keep_dry,
            *protocol.owner.never,
            protocol.owner.what_it_does,
        ]
    return sum(len(line) + 40 for line in lines)


def fit_problems(opened: OpenBook) -> tuple[Problem, ...]:
    """Sheets that would not fit their two sides with the longest realistic content: found here, not at discharge.

    Only what is heavy enough to come near is laid out; the rest is known to fit.
    """
    problems: list[Problem] = []
    try:
        book = opened.book
        whole = [
            protocol for protocol in book.protocols.values() if not is_unsound(protocol.stages) and not protocol.blend
        ]
        each = [one for protocol in whole for one in (tuple(protocol.stages.values()) or (protocol,))]
        heavy = [one for one in each if one.limits.go_home and _weight(book, one) > _LIGHT]
    except (Refusal, UnsoundValue):
        return ()
    for protocol in heavy:
        if any(p.severity == "error" and p.span.file == protocol.file for p in opened.problems):
            continue
        try:
            plan = make_plan(opened, Chosen((protocol,)), _longest(protocol), _A_SATURDAY)
            press(sheet(opened, plan, "en"))
        except Refusal as refusal:
            problems += [
                problem for problem in refusal.problems if problem.name in ("sheet-too-long", "letter-without-glyph")
            ]
    return tuple(problems)


def _longest(protocol: Protocol) -> Patient:
    """An animal with long names, sent home on a Saturday in September: whatever can be long on its sheet is."""
    group = next(group for group, sites in SITE_GROUPS.items() if set(sites) & set(protocol.sites))
    site = {"fore": "right fore", "hind": "right hind"}.get(group, group)
    reasons = protocol.limits.remove_by.by_reason if protocol.limits.remove_by else {}
    is_wound = protocol.purpose == "wound"
    skin = "wound" if is_wound else "incision" if protocol.layer("contact") else "intact"
    text = f"""
patient: {{name: Maximiliana Wilhelmina Featherstone-Hough, species: {protocol.species[0]}, weight: 12 kg, born: {"2027-06-01" if protocol.only_for == "growing" else "2020-01-01"}, file_number: 2027-000142}}
owner: {{name: Alexandrina Montgomery-Castellanos, language: en}}
limb: {{site: {site}, distal_girth: 12 cm, proximal_girth: 18 cm, covered_length: 24 cm}}
skin: {skin}
{"wound: {exudate: moderate}" if is_wound and protocol.stage else ""}
{"reason: " + next(iter(reasons)) if reasons else "condition: []"}
applied: 2027-09-18T09:00Z
first: yes
issued_by: Dr Bartholomew Featherstonehaugh
"""
    tree = read_tree(text.encode(), "the longest patient").tree
    assert tree is not None
    return patient_from(tree)


# ---- letters ---------------------------------------------------------------------------------------------------


def glyph_problems(opened: OpenBook) -> tuple[Problem, ...]:
    """Letters in the book's files and in the catalogues that no font at hand can print, each at its place."""
    from generator.press.text import missing_glyphs

    found: list[Problem] = []
    for reading in opened.readings.values():
        for scalar in _scalars(reading.tree) if reading.tree is not None else ():
            # The fonts of the package print all of ASCII.
            if not scalar.text.isascii() and (missing := missing_glyphs(scalar.text, "en")):
                found.append(unprintable(missing, "en", _placed(reading.lines, scalar.span, missing[0])))
    for file, language in _catalogues(opened):
        found += _in_catalogue(file, language)
    return in_order(found)


def _scalars(node: Node) -> Iterator[Scalar]:
    if isinstance(node, Scalar):
        yield node
    elif isinstance(node, Items):
        for item in node.items:
            yield from _scalars(item)
    else:
        for key, value in node.entries:
            yield key
            yield from _scalars(value)


def _placed(lines: tuple[str, ...] | list[str], span: Span, letter: str) -> Span:
    """Where the letter stands, from the start of its text on: a text may run over several lines."""
    for number in range(span.line, len(lines) + 1):
        column = lines[number - 1].find(letter, span.column - 1 if number == span.line else 0)
        if column >= 0:
            return Span(span.file, number, column + 1)
    return span


def _catalogues(opened: OpenBook) -> Iterator[tuple[Path, str]]:
    rooms = dict.fromkeys((shelf.shipped("locales"), shelf.room_beside(opened.folder, "locales")))
    for language in languages(opened):
        for room in rooms:
            file = room / language.replace("-", "_") / OWNER_CATALOGUE
            if file.is_file():
                yield file, language


def _in_catalogue(file: Path, language: str) -> Iterator[Problem]:
    from generator.press.text import missing_glyphs
    from generator.words import po

    # What is broken in a catalogue is told where its words are asked for.
    text = shelf.read_file(file, "catalogue").decode("utf-8", "replace")
    lines = text.split("\n")
    for entry in po.read(text, file.as_posix()).entries:
        for words in entry.translations:
            if not words.isascii() and (missing := missing_glyphs(words, language)):
                yield unprintable(missing, language, _placed(lines, entry.span, missing[0]))
