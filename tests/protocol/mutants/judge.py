"""Judge mutants as `check` would: the mutated file read anew, the rest of the book shared.

Takes  the shipped protocols as they lie on disk; whatever file is added is mutated too.
Gives  `judged`: every mutant with the names of the problems that it brought and its sound file did not.
Knows  that a stored blend is judged again when one of its parts is mutated, and every protocol when a setting is.
"""

from __future__ import annotations

import gc
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from generator.protocol import settings
from generator.protocol.book import _named, read_book
from generator.protocol.kinds import ADHERENT
from generator.protocol.model import Book, Protocol
from generator.protocol.rules import CLINIC_RULES, RULES, clinic_problems, problems_of
from generator.protocol.shapes import is_unsound
from generator.protocol.vocabulary import read_protocol
from generator.source.problem import Problem
from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Entries, Items, Node, Scalar
from tests.conftest import ROOT
from tests.protocol.mutants import by_table, by_trade
from tests.protocol.mutants.by_trade import NO_MODIFIERS, book
from tests.protocol.mutants.mutant import Mutant
from tests.protocol.samples import READERS, samples
from tests.protocol.writing import Path, Raw, Written, write

# Which rule brings a problem of this name; what the reader itself refuses belongs to no rule.
RULE_OF = {name: rule.id for rule in (*RULES, *CLINIC_RULES) for name in (rule.name, *rule.also)}
READER = "reader"
SETTINGS = ("signs", "stock", "modifiers")
# What of the settings the rules for protocols lean on; their other keys have tests of their own.
TOUCHING = (
    "a sign.urgency", "a material.family", "a material.layer", "a modifier.warns", "a modifier.derived", "a modifier.tightens",
    "a modifier.forbids",
)  # fmt: skip


# Families of which a rule says that they harm somewhere; the others are told apart by their times alone.
HARMFUL_FAMILIES = (*ADHERENT, "sugar", "hypertonic saline gauze", "haemostatic pad", "polyurethane foam")


@dataclass(frozen=True)
class Judged:
    mutant: Mutant
    names: tuple[str, ...]

    @property
    def survived(self) -> bool:
        return not self.names

    @property
    def rules(self) -> frozenset[str]:
        return frozenset(RULE_OF.get(name, READER) for name in self.names)


@cache
def shipped() -> dict[str, Any]:
    """Plain data of every shipped protocol and stored blend, by file."""
    return {
        name: data
        for name, (kind, data) in samples().items()
        if kind in ("protocol", "staged", "blend") and not name.startswith("extra/")
    }


def located(data: Any, written: Written, file: str, path: Path = ()) -> Node:
    """The tree that reading the written text gives, without parsing it: thousands of mutants are judged (`test_mutants` compares)."""
    span = Span(file, *written.values.get(path, (1, 1)))
    if isinstance(data, dict):
        return Entries(
            tuple(
                (Scalar(key, Span(file, *written.keys[*path, key])), located(value, written, file, (*path, key)))
                for key, value in data.items()
            ),
            span,
        )
    if isinstance(data, list):
        return Items(tuple(located(value, written, file, (*path, n)) for n, value in enumerate(data)), span)
    return Scalar(str(data), span, not isinstance(data, Raw))


def mutants() -> Iterator[tuple[Mutant, Node]]:
    """Each mutant of a protocol once, with its tree."""
    for file, data in shipped().items():
        seen = {write(data).text}
        for maker in (by_table.made, *by_trade.MAKERS):
            for how, what, kind, detail, mutated in maker(data):
                written = write(mutated)
                once = how + written.text if how == NO_MODIFIERS else written.text
                if once not in seen:
                    seen.add(once)
                    yield Mutant(file, how, what, kind, detail), located(mutated, written, file)


Told = Counter[tuple[str, str, str]]


def told(file: str, tree: Node, whole: Book) -> Told:
    """Every problem of one file read and judged within the book, and of each stored blend it is a part of."""
    protocol, problems = read_protocol(tree, file)
    if protocol is not None:
        slug = file.rsplit("/", 1)[-1].removesuffix(".yaml")
        whole = replace(whole, protocols={**whole.protocols, slug: protocol})
        problems += problems_of(protocol, whole)
        for blend in _blends_with(slug):
            problems += problems_of(blend, whole)
    return _counted(problems)


def _counted(problems: list[Problem]) -> Told:
    return Counter((p.name, p.severity, p.what) for p in problems)


def _blends_with(slug: str) -> list[Protocol]:
    return [
        other
        for other in book().protocols.values()
        if not is_unsound(other.blend)
        and slug in [part.partition("@")[0] for part in other.blend]
        and other.protocol != slug
    ]


@cache
def sound(file: str) -> Told:
    data = shipped()[file]
    return told(file, located(data, write(data), file), book())


def _judge(mutant: Mutant, tree: Node) -> Judged:
    whole = replace(book(), modifiers={}) if mutant.how == NO_MODIFIERS else book()
    return Judged(mutant, tuple(sorted({name for name, _, _ in told(mutant.file, tree, whole) - sound(mutant.file)})))


def _settings() -> Iterator[Judged]:
    """Signs, stock and modifiers mutated by the vocabulary; every protocol and the settings judged anew."""
    trees = {
        str(path): tree
        for path in sorted((ROOT / "protocols").glob("*.yaml"))
        if (tree := read_tree(path.read_bytes(), str(path)).tree) is not None
    }
    base = _counted(list(read_book(trees, "protocols").problems))
    for name in SETTINGS:
        file = f"protocols/{name}.yaml"
        data = samples()[file][1]
        seen = set()
        for how, what, _, detail, mutated in by_table.made(data, READERS[name].table):
            text = write(mutated).text
            if text in seen or what not in TOUCHING or how not in ("key left out", "another option"):
                continue
            if what == "a material.family" and detail.rsplit(" to ", 1)[-1] not in HARMFUL_FAMILIES:
                continue
            seen.add(text)
            reading = read_tree(text.encode(), file)
            problems = list(reading.problems)
            if reading.tree is not None:
                problems += _with(name, reading.tree)
            found = {key[0] for key in _counted(problems) - base}
            yield Judged(Mutant(file, how, what, name, detail), tuple(sorted(found)))


def _with(name: str, tree: Any) -> list[Problem]:
    problems: list[Problem] = []
    shape = {"signs": settings.SIGNS, "stock": settings.STOCK, "modifiers": settings.MODIFIERS}[name]
    value = shape.read(tree, problems)  # type: ignore[attr-defined]
    if not is_unsound(value):
        value = {key: _named(item, key) for key, item in value.items()}
    whole: Book = replace(book(), **{name: value})
    for protocol in whole.protocols.values():
        problems += problems_of(protocol, whole)
    return [*problems, *clinic_problems(whole)]


@cache
def judged() -> tuple[Judged, ...]:
    """Every mutant of every protocol, then those of the settings."""
    was_on = gc.isenabled()
    gc.disable()  # Nothing of what is made here forms a ring, and looking for rings costs a third of the time.
    try:
        return (*(_judge(mutant, tree) for mutant, tree in mutants()), *_settings())
    finally:
        if was_on:
            gc.enable()


def killed_by_rule() -> Mapping[str, tuple[int, int]]:
    """Mutants that each rule stops, and those that no other rule nor the reader stops."""
    rules = [rule.id for rule in (*RULES, *CLINIC_RULES)]
    every = Counter(rule for one in judged() for rule in one.rules)
    alone = Counter(next(iter(one.rules)) for one in judged() if len(one.rules) == 1)
    return {rule: (every[rule], alone[rule]) for rule in [READER, *rules]}
