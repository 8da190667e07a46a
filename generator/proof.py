"""Prove of a book, before anything is printed, what would otherwise be found out at discharge.

Takes  an open book.
Gives  `fit_problems`, sheets that would not fit their sides; `glyph_problems` and
       `letters_in_catalogue`, letters that no font here can print; `reading_problems`, owners' texts that read too hard.
Knows  the longest realistic animal and the whole way to a pressed page; judges nothing else. Nothing found here stops a sheet:
       what would, the sheet finds by itself.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator, Mapping
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
from generator.protocol.model import Book, OwnerText, Patient, Protocol
from generator.protocol.shapes import UnsoundValue, is_unsound
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Entries, Items, Node, Scalar

# A usual sheet weighs some 2000: letters of its lines, and 40 more a line for the line itself. Two full sides hold far more
# than this; below it nothing needs to be laid out to know that it fits.
_LIGHT = 2600
A_SATURDAY = datetime(2027, 9, 18, 17, 30, tzinfo=UTC)


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
            plan = make_plan(opened, Chosen((protocol,)), longest_patient(protocol), A_SATURDAY)
            press(sheet(opened, plan, "en"))
        except Refusal as refusal:
            problems += [
                problem for problem in refusal.problems if problem.name in ("sheet-too-long", "letter-without-glyph")
            ]
    return tuple(problems)


def longest_patient(protocol: Protocol) -> Patient:
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
        found += letters_in_catalogue(file, language)
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
    rooms = {room.resolve(): room for room in (shelf.shipped("locales"), shelf.room_beside(opened.folder, "locales"))}
    for language in languages(opened):
        for room in rooms.values():
            file = room / language.replace("-", "_") / OWNER_CATALOGUE
            if file.is_file():
                yield file, language


# A letter beyond ASCII with the marks that follow it, joiners among them: marks are looked for in the font of their letter.
_SIGN = re.compile(
    "[^\x00-\x7f\u0300-\u036f\u200c\u200d][\u0300-\u036f\u0591-\u05bd\u064b-\u065f\u0670\u0900-\u0903\u093a-\u094f\u0a01-\u0a4d"
    "\u0e31\u0e34-\u0e3a\u0e47-\u0e4e\u200c\u200d]*"
)


def letters_in_catalogue(file: Path, language: str) -> Iterator[Problem]:
    """Letters of one catalogue that no font at hand can print, each at its place."""
    from generator.press.text import extra_for, missing_glyphs
    from generator.words import po

    # What is broken in a catalogue is told where its words are asked for.
    text = shelf.read_file(file, "catalogue").decode("utf-8", "replace")
    lines = text.split("\n")
    entries = po.read(text, file.as_posix()).entries
    # Each letter with its marks once; only where one is missing is it asked which sentence has it.
    signs = {sign for entry in entries for words in entry.translations for sign in _SIGN.findall(words)}
    missing = missing_glyphs(" ".join(sorted(signs)), language)
    # Letters that an extra brings are no fault of a catalogue: who prints that language is told which extra it wants.
    if all(extra_for({letter}) for letter in missing):
        return
    for entry in entries:
        for words in entry.translations:
            if not words.isascii() and (missing := missing_glyphs(words, language)):
                yield unprintable(missing, language, _placed(lines, entry.span, missing[0]))


# ---- reading ---------------------------------------------------------------------------------------------------

# The fixed phrases of a usual sheet, as an owner reads them: headings too, but neither labels beside figures nor the foot.
SAID_BESIDE = (
    "must-change", "come-at", "never-later-time", "last-bandage", "cannot-come", "cannot-come-change", "go-now", "ring-now",
    "check-here", "look-at", "every-day", "keep-dry", "never", "toes-right", "toes-wrong", "code-ring",
)  # fmt: skip
SAID_OF_REST = ("walks", "walk-minutes", "walk-lead")


def reading_problems(opened: OpenBook) -> tuple[Problem, ...]:
    """Owners' texts above US grade 6, and single lines above grade 8.

    A protocol's text is its owner's lines, those of its signs, and the fixed phrases beside them. Too hard as a whole it is an
    error, for whoever keeps the book. A line alone is a warning: the formula was made for a hundred words.
    """
    try:
        book = opened.book
    except Refusal:
        return ()
    found: list[Problem] = []
    for protocol in book.protocols.values():
        # What could not be read is told already.
        with contextlib.suppress(UnsoundValue):
            # Stages with the same lines give the same problem, which is told once.
            for one in tuple(protocol.stages.values()) or (protocol,):
                if one.owner is not None:
                    found += _hard_to_read(opened, one, one.owner)
    return in_order(found)


def _hard_to_read(opened: OpenBook, protocol: Protocol, owner: OwnerText) -> Iterator[Problem]:
    from generator.compose.phrases import PHRASES
    from generator.words.reading import measure

    said = [*SAID_BESIDE, *(SAID_OF_REST if owner.exercise is not None else ())]
    lines = [*_owner_lines(owner), *_signs_of(opened.book, protocol)]
    # A phrase that is called otherwise by now is missed by a test, not by somebody who checks a book.
    whole = measure([*lines, *(PHRASES[name] for name in said if name in PHRASES)], "en")
    if whole.passed:
        return
    own, key, places = measure(lines, "en"), _key_of_owner(opened, protocol), _places_of_lines(opened, protocol)
    missed = [str(score) for score in whole.scores if not score.passed]
    if missed:
        yield Problem(
            "owner-text-hard-to-read",
            key,
            f"the owner's text reads too hard: {', '.join(missed)}; {whole.per_sentence:.1f} words a sentence",
            "a worried owner, perhaps with little English, can only do what reads easily; AMA and NIH advise grade 6 or below",
            "start with the hardest lines, named here: everyday words, one act a line, ten words at most",
            also=tuple((places.get(line.text, key), f"this line is at grade {line.value:.1f}") for line in own.worst),
        )
    named = {line.text for line in own.worst} if missed else set()
    for line in own.too_hard:
        if line.text not in named:
            alone = ", filled up to six words" if line.is_short else ""
            yield Problem(
                "owner-line-hard-to-read",
                places.get(line.text, key),
                f"this line alone reads at US grade {line.value:.1f} (Flesch-Kincaid{alone}; 8 at most)",
                "the one hard line may be the one that matters at night",
                "say it in shorter words, or in two lines; what has a hard name is named by what an owner sees",
                "warning",
            )


def _owner_lines(owner: OwnerText) -> Iterator[str]:
    for lines in ((owner.what_it_does,), owner.every_day, owner.keep_dry, owner.never):
        if not is_unsound(lines):
            yield from (line for line in lines if not is_unsound(line))


def _signs_of(book: Book, protocol: Protocol) -> Iterator[str]:
    """The owner's words of its warning signs; a stored blend has those of its parts."""
    for part in _parts(book, protocol):
        for name in () if is_unsound(part.signs) else part.signs:
            sign = None if is_unsound(name) else book.signs.get(name)
            if sign is not None and not is_unsound(sign) and not is_unsound(sign.owner):
                yield sign.owner


def _parts(book: Book, protocol: Protocol) -> Iterator[Protocol]:
    if not protocol.blend:
        yield protocol
    for name in protocol.blend:
        slug, _, stage = name.partition("@")
        part = book.protocols.get(slug)
        if part is not None:
            yield part.stages.get(stage, part)


def _places_of_lines(opened: OpenBook, protocol: Protocol) -> Mapping[str, Span]:
    """Where each owner's line of the protocol and of the signs is written."""
    from generator.words import extract

    files = {name for name in opened.readings if name == protocol.file or Path(name).stem == "signs"}
    trees = {name: tree for name in files if (tree := opened.readings[name].tree) is not None}
    return {message.source: message.places[0].span for message in extract.from_book(trees)}


def _key_of_owner(opened: OpenBook, protocol: Protocol) -> Span:
    """The key `owner:` itself: of the stage where it has one, else of the protocol."""
    tree = opened.readings[protocol.file].tree
    stages = tree.get("stages") if isinstance(tree, Entries) else None
    stage = stages.get(protocol.stage) if isinstance(stages, Entries) and protocol.stage else None
    for body in (stage, tree):
        for key, _ in body.entries if isinstance(body, Entries) else ():
            if key.text == "owner":
                return key.span
    return protocol.span("owner")
