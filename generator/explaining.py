"""Explain a problem by its name or a rule by its id: what is looked for, why, whose word, and an example broken and mended.

Takes  a word as typed: `R19`, `c05`, `tape-closes-ring`, `not-a-date`.
Gives  `explained`: an `Explanation`, whose message was brought about now, by judging the example; `nearest_name` for a near miss.
Knows  the book that comes with the tool, over which each example is laid; writes nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import PurePath
from typing import Any

from generator import shelf
from generator.protocol import animal, settings, vocabulary
from generator.protocol.animal import doubts, read_patient
from generator.protocol.book import SETTINGS, Reviewed, read_book
from generator.protocol.citations import CITATIONS
from generator.protocol.examples import laid_over, sample_for
from generator.protocol.model import Book
from generator.protocol.pictures import PICTURES
from generator.protocol.rules import CLINIC_RULES, RULES, problems_of
from generator.protocol.rules.rule import ClinicRule, Rule
from generator.protocol.shapes import Form, ListOf, MapOf, OneOrMore, Record, nearest
from generator.protocol.slips import BOOK, PATIENT, SLIPS, VALUE, Slip
from generator.protocol.vocabulary import read_protocol
from generator.source.problem import Problem, in_order
from generator.source.text import read_tree
from generator.source.tree import Node, Scalar

EXAMPLE = "example.yaml"
_EVERY: tuple[Rule | ClinicRule, ...] = (*RULES, *CLINIC_RULES)


@dataclass(frozen=True, slots=True)
class Judged:
    """An example as judged: where its lines were laid over, and everything said about that file and the example."""

    file: str
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class Explanation:
    """What is known of one name.

    asked: the name that was typed, or the rule's own. of: the rule's id; empty for what is no rule. also: other names that the
    rule's problems have. comes_from: which part of the work finds it. citations: the published sources by number. says: what
    is said of the broken example, its places being lines of it. keys: the keys whose values are written in this form, each with
    an example. why, fix: where there is no example to say it.
    """

    asked: str
    of: str
    name: str
    also: tuple[str, ...]
    comes_from: str
    looks_for: str
    why: str
    source: str
    citations: tuple[str, ...]
    file: str
    beside: tuple[tuple[str, str], ...]
    broken: str
    says: tuple[Problem, ...]
    mended: str
    keys: tuple[str, ...]
    fix: str


def explained(typed: str) -> Explanation | None:
    """Explain a rule by its id or name, or a problem by its name; None where there is no such."""
    word = _word(typed)
    rule = next((r for r in _EVERY if word in (r.id.lower(), r.name, *r.also)), None)
    if rule is not None:
        return _of_rule(rule, word)
    return _of_slip(SLIPS[word]) if word in SLIPS else None


def nearest_name(typed: str) -> str | None:
    """The id or name nearest to a word that is none."""
    word = _word(typed)
    if re.fullmatch(r"[a-z]?\d+", word):
        close = nearest(word, [r.id.lower() for r in _EVERY])
        return close.upper() if close else None
    return nearest(word, [*(n for r in _EVERY for n in (r.name, *r.also)), *SLIPS])


def _word(typed: str) -> str:
    return typed.strip().rstrip(":").lower()


def _of_rule(rule: Rule | ClinicRule, word: str) -> Explanation:
    judged = judged_example(rule, rule.broken)
    numbers = [
        int(n) for group in re.findall(r"published ((?:\d+(?:, )?)+)", rule.source) for n in re.findall(r"\d+", group)
    ]
    own = (rule.name, *rule.also)
    return Explanation(
        asked=word if word in own else rule.name,
        of=rule.id,
        name=rule.name,
        also=rule.also,
        comes_from="the rules for a clinic's settings" if isinstance(rule, ClinicRule) else "the rules of the trade",
        looks_for=rule.looks_for,
        why=rule.why,
        source=rule.source,
        citations=tuple(f"{n}: {CITATIONS[n].text}" for n in numbers if n in CITATIONS),
        file=judged.file,
        beside=rule.beside,
        broken=rule.broken,
        says=tuple(p for p in judged.problems if p.name in own),
        mended=rule.mended,
        keys=(),
        fix="",
    )


def _of_slip(slip: Slip) -> Explanation:
    says = tuple(p for p in judged_slip(slip, slip.broken).problems if p.name == slip.name) if slip.broken else ()
    return Explanation(
        asked=slip.name,
        of="",
        name=slip.name,
        also=(),
        comes_from=slip.comes_from,
        looks_for=slip.looks_for,
        why=slip.why or (f"{says[0].why[0].upper()}{says[0].why[1:]}." if says else ""),
        source="",
        citations=(),
        file=slip.file,
        beside=(),
        broken=slip.broken,
        says=says,
        mended=slip.mended,
        keys=tuple(_keys_of_form(slip.name, says[0], slip.broken))
        if says and slip.comes_from in (VALUE, PATIENT)
        else (),
        fix=slip.fix,
    )


# ---- judging an example ------------------------------------------------------------------------------------------


@cache
def shipped_trees() -> Mapping[str, Node]:
    """The files of the book that comes with the tool, by name within it; patients as `patients/…`."""
    folder = shelf.shipped("protocols")
    found = {}
    for name, data in shelf.yaml_files(folder, patients=True).items():
        own = PurePath(name).relative_to(PurePath(folder.as_posix())).as_posix()
        tree = read_tree(data, own).tree
        if tree is not None:
            found[own] = tree
    return found


@cache
def _shipped_book() -> Book:
    found = _read(shipped_trees()).book
    assert found is not None, "the book that comes with the tool can be read"
    return found


def _read(trees: Mapping[str, Node]) -> Reviewed:
    own = {name: tree for name, tree in trees.items() if not name.startswith("patients/")}
    return read_book(own, "book", dict.fromkeys(own, ""))


def judged_example(rule: Rule | ClinicRule, text: str) -> Judged:
    """Judge a rule's example within the book that comes with the tool."""
    reading = read_tree(text.encode(), EXAMPLE)
    if reading.tree is None:
        return Judged(EXAMPLE, reading.problems)
    trees = dict(shipped_trees())
    for name, lines in rule.beside:
        tree = read_tree(lines.encode(), name).tree if lines else None
        own = trees.pop(name)
        if tree is not None:
            trees[name] = laid_over(own, tree)
    if isinstance(rule, Rule):
        file = sample_for(reading.tree, trees)
        tree = laid_over(trees[file], reading.tree)
        book = _read(trees).book if rule.beside else _shipped_book()
        assert book is not None, "the lines beside an example leave its book readable"
        return Judged(file, in_order((*reading.problems, *_in_place_of(file, tree, book))))
    # Warning signs are judged as a whole: what a protocol still asks of them is not what the example is about.
    whole = rule.file == "signs.yaml"
    trees[rule.file] = reading.tree if whole else laid_over(trees[rule.file], reading.tree)
    return Judged(rule.file, in_order((*reading.problems, *_of_file(trees, rule.file))))


def judged_slip(slip: Slip, text: str) -> Judged:
    """Judge the example of a slip within the book that comes with the tool."""
    reading = read_tree(text.encode(), EXAMPLE)
    if reading.tree is None:
        return Judged(EXAMPLE, reading.problems)
    trees = dict(shipped_trees())
    tree = trees[slip.file] = laid_over(trees[slip.file], reading.tree)
    found: Iterable[Problem]
    if slip.file.startswith("patients/"):
        patient, problems = read_patient(tree)
        found = (*problems, *(doubts(patient) if patient else ()))
    elif slip.comes_from == BOOK or PurePath(slip.file).stem in SETTINGS:
        found = _of_file(trees, slip.file)
    else:
        found = _in_place_of(slip.file, tree, _shipped_book())
    return Judged(slip.file, in_order((*reading.problems, *found)))


def _in_place_of(file: str, tree: Node, book: Book) -> tuple[Problem, ...]:
    """What is said of a protocol that stands in place of one of the book's: the others need no second judgement."""
    protocol, problems = read_protocol(tree, file)
    if protocol is None:
        return tuple(problems)
    book = replace(book, protocols={**book.protocols, PurePath(file).stem: protocol})
    return (*problems, *problems_of(protocol, book))


def _of_file(trees: Mapping[str, Node], file: str) -> tuple[Problem, ...]:
    """What is said of one file of a book, and of the example that was laid over it."""
    return tuple(problem for problem in _read(trees).problems if problem.span.file in (file, EXAMPLE))


# ---- which keys are written in a form -----------------------------------------------------------------------------

_TABLES = (
    vocabulary.PROTOCOL, vocabulary.STAGED, vocabulary.BLEND, settings.CLINIC, settings.STOCK, settings.SIGNS,
    settings.MODIFIERS, settings.TRAINING, PICTURES, animal.RECORD,
)  # fmt: skip


def _keys_of_form(name: str, said: Problem, broken: str) -> Iterator[str]:
    """The keys that would say the same of the same text, each once, as `effective: 2027-03-14`."""
    lines = broken.split("\n")
    text = lines[said.span.line - 1][said.span.column - 1 :][: said.span.length].strip("\"'")
    seen: set[str] = set()
    for key, form in (found for table in _TABLES for found in _forms(table)):
        line = f"{key}: {form.example}"
        if line in seen:
            continue
        problems: list[Problem] = []
        form.read(Scalar(text, said.span), problems)
        if any(problem.name == name for problem in problems):
            seen.add(line)
            yield line


def _forms(shape: Any) -> Iterator[tuple[str, Form]]:
    if isinstance(shape, Record):
        for key in shape.keys:
            inner = key.shape
            while isinstance(inner, (ListOf, OneOrMore)):
                inner = inner.shape
            if isinstance(inner, Form):
                yield key.name, inner
            else:
                yield from _forms(inner)
    elif isinstance(shape, (ListOf, OneOrMore, MapOf)):
        yield from _forms(shape.shape)
