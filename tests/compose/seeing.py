"""A book of plain data with one animal, and everything that is made of it: what a reader or a program gets to see.

Every value of such a book stands in the same line, and every number that is made of its bytes is blanked: where two books give
something different, it is because of what is written in them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cache, cached_property
from pathlib import Path as Folder
from typing import Any
from unittest.mock import patch

from generator import binding, flow, opening
from generator.compose import binder_back
from generator.compose.render import Templates
from generator.page.document import Document
from generator.protocol.book import read_book
from generator.protocol.content import SHOWN
from generator.reckon.plan import Plan
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.text import Reading
from generator.source.tree import Entries, Items, Node, Scalar
from tests.approving import approved
from tests.compose.plans import templates

PATIENT = "patient.yaml"
_ISSUED = datetime(2027, 3, 13, 11, 0)
_NAMES_ITSELF = re.compile(r' (?:id|href|data-drawing|value|datetime)="[^"]*"')


def tree_of(data: Any, file: str, line: int = 1) -> Node:
    """Plain data as a tree whose every value stands in the same place."""
    span = Span(file, line, 1)
    if isinstance(data, str):
        return Scalar(data, span)
    if isinstance(data, list):
        return Items(tuple(tree_of(item, file, line) for item in data), span)
    return Entries(tuple((Scalar(key, span), tree_of(value, file, line)) for key, value in data.items()), span)


@dataclass(frozen=True)
class SmallBook:
    """Plain data of each file, the patient's among them; the protocols to put on; minutes from applying to asking."""

    files: Mapping[str, Any]
    protocols: tuple[str, ...]
    now: datetime
    trees: Mapping[str, Node] = field(default_factory=dict)

    def with_file(self, name: str, data: Any) -> SmallBook:
        """The same with another text in one file; the trees of the others are kept."""
        return replace(self, files={**self.files, name: data}, trees={**self.trees, name: tree_of(data, name)})

    @cached_property
    def opened(self) -> opening.OpenBook:
        """As the flow opens a book from disk."""
        trees = {name: tree for name, tree in self.trees.items() if name != PATIENT}
        readings = {name: Reading(tree, (), ()) for name, tree in trees.items()}
        reviewed = read_book(trees, "book", dict.fromkeys(trees, "0" * 64))
        opened = opening.OpenBook(Folder("book"), readings, reviewed, reviewed.problems, "")
        return approved(replace(opened, problems=in_order((*reviewed.problems, *opening._zone_problem(opened)))))

    @cached_property
    def plan(self) -> Plan:
        patient = flow.patient_from(self.trees[PATIENT])
        return flow.make_plan(self.opened, flow.choose(self.opened, self.protocols), patient, self.now)

    # ---- what comes of it ----------------------------------------------------------------------------------------

    def data(self) -> str:
        """The plan, without what it merely repeats of the patient's file."""
        return _without_number(str({**flow.plan_data(self.plan), "patient": None, "approvals": None}), self.plan)

    def problems(self) -> str:
        return _words(self.opened.problems)

    def binder(self) -> str:
        text = _shown(binding.binder(self.opened, _ISSUED))
        for protocol in self.opened.book.protocols.values():
            text = text.replace(protocol.content[:SHOWN], "CONTENT")
        return text

    def card(self) -> str:
        return _without_number(_shown(flow.card(self.opened, self.plan)), self.plan)

    def change_card(self) -> str:
        card = flow.change_card(self.opened, self.plan)
        return _without_number(_shown(card), self.plan) if card is not None else ""

    def sheet(self) -> str:
        return _without_number(_shown(flow.sheet(self.opened, self.plan)), self.plan)

    def clinic_copy(self) -> str:
        return _without_number(_shown(flow.sheet(self.opened, self.plan, clinic_copy=True)), self.plan)

    def visits(self) -> str:
        unfolded = flow.visits(self.opened, self.plan).decode().replace("\r\n ", "")
        return _without_number(unfolded, self.plan)


WAYS = ("problems", "data", "binder", "card", "change_card", "sheet", "clinic_copy", "visits")


def seen(book: SmallBook, way: str) -> str:
    """What comes of a book in one way; or why nothing does."""
    make: Callable[[], str] = getattr(book, way)
    with quick():
        try:
            return make()
        except Refusal as refusal:
            return "refused: " + _words(refusal.problems)


def _words(problems: tuple[Problem, ...]) -> str:
    """Problems without their places."""
    said = ((p.name, p.severity, p.what, p.why, p.fix, tuple(words for _, words in p.also)) for p in problems)
    return "\n".join(map(str, sorted(said)))


def _shown(document: Document) -> str:
    """What stands on the paper, with its marks and its form; without names inside and figures that nobody sees."""
    paper = (document.title, document.language, document.author, document.paper, document.issued)
    return f"{paper}\n{_NAMES_ITSELF.sub('', document.xhtml)}"


def _without_number(text: str, plan: Plan) -> str:
    return text.replace(flow.plan_data(plan)["sheet"], "SHEET")


@contextmanager
def quick() -> Iterator[None]:
    """Templates and catalogues are the same for all these books: they are read once; the program's own rules not at all."""
    with (
        patch.object(flow, "templates_of", lambda _: _templates()),
        patch.object(flow, "words_for", _words_for),
        # The rules are no part of a clinic's files.
        patch.object(binder_back, "rule_rows", lambda _: []),
    ):
        yield


_WORDS: dict[str, Any] = {}
_words_from_disk = flow.words_for


class _Memory(dict[str, bytes]):
    """Compiled templates, kept for as long as the tests run."""

    def read(self, name: str) -> bytes | None:
        return self.get(name)

    def write(self, name: str, code: bytes) -> None:
        self[name] = code


@cache
def _templates() -> Templates:
    return Templates(templates(), frozenset(templates()), _Memory())


def _words_for(opened: opening.OpenBook, language: str, span: Span) -> Any:
    if language not in _WORDS:
        _WORDS[language] = _words_from_disk(opened, language, span)
    return _WORDS[language]
