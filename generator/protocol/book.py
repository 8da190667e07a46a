"""Put a clinic's files together into one book, and judge it.

Takes  the located trees of its files by name.
Gives  `read_book`: the `Book` as far as it could be read, with every problem by file; `sound_book`, a book judged before.
Knows  which file holds what; nothing of folders or disks.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import PurePath
from typing import Any

from generator.protocol import model as m
from generator.protocol.animal import read_patient
from generator.protocol.pictures import PICTURES
from generator.protocol.settings import CLINIC, MODIFIERS, SIGNS, STOCK, TRAINING
from generator.protocol.shapes import UNSOUND, Placed, UnsoundValue, is_unsound
from generator.protocol.vocabulary import read_protocol
from generator.source.on_demand import OnDemand
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.tree import Entries, Node

# What a plan may ask for; who was trained on what, it never asks.
OF_PLANS = ("clinic", "stock", "signs", "modifiers", "pictures")
SETTINGS = (*OF_PLANS, "training")
_MAY_BE_ABSENT = ("modifiers", "pictures", "training")


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A book as read. `book` is None where no plan could ever be made from it."""

    book: m.Book | None
    problems: tuple[Problem, ...]

    def errors_in(self, files: set[str]) -> tuple[Problem, ...]:
        """The errors that stand in these files."""
        return tuple(p for p in self.problems if p.severity == "error" and p.span.file in files)


def read_book(trees: Mapping[str, Node], folder: str, digests: Mapping[str, str] | None = None) -> Reviewed:
    """Read and judge every file of a book.

    Args:
        trees: the tree of each file, by its name as the user would type it.
        folder: the book's name, for what concerns no single file.
        digests: sha256 of each file, for the record.
    """
    # A plan from a book that was judged before needs no rule: reading all their files would keep it waiting.
    from generator.protocol.rules import clinic_problems, problems_of

    problems: list[Problem] = []
    by_stem = {PurePath(name).stem: node for name, node in trees.items()}
    parts = {stem: _setting(stem, by_stem.get(stem), folder, problems) for stem in SETTINGS}
    protocols: dict[str, m.Protocol] = {}
    for name, node in trees.items():
        stem = PurePath(name).stem
        if stem in SETTINGS:
            continue
        if isinstance(node, Entries) and node.get("patient") is not None and node.get("protocol") is None:
            problems += read_patient(node)[1]
            continue
        protocol, found = read_protocol(node, name)
        problems += found
        if protocol is None:
            continue
        if not is_unsound(protocol.protocol) and protocol.protocol != stem:
            problems.append(
                Problem(
                    "name-differs-from-file",
                    protocol.span("protocol"),
                    f"the protocol calls itself `{protocol.protocol}`, its file `{stem}`",
                    "commands find a protocol by its file's name",
                    f"write `protocol: {stem}`, or rename the file to `{protocol.protocol}.yaml`",
                )
            )
        protocols[stem] = protocol
    book = m.Book(
        parts["clinic"],
        parts["stock"],
        parts["signs"],
        parts["modifiers"],
        protocols,
        parts["pictures"],
        digests or {},
        training=parts["training"],
    )
    if not protocols and not problems:
        problems.append(
            Problem(
                "book-empty",
                Span(folder),
                "no protocol was found here",
                "there is nothing to print",
                "name the folder of a book, start one with `gauzeleaf new FOLDER`, or take protocols of the library over with `gauzeleaf adopt`",
            )
        )
    for protocol in protocols.values():
        problems += problems_of(protocol, book)
    problems += _twice(protocols)
    problems += clinic_problems(book)
    return Reviewed(book, in_order(problems))


def sound_book(trees: Mapping[str, Node], digests: Mapping[str, str]) -> m.Book:
    """A book in which nothing at all was wrong when it was judged. No rule is run; a protocol is read when it is asked for.

    Args:
        trees: as `read_book` had them; the settings that plans ask for are taken at once, protocols when they are needed.
    Raises:
        Refusal: now or when a protocol is asked for: it cannot be read as it was.
    """
    problems: list[Problem] = []
    by_stem = {PurePath(name).stem: name for name in trees}
    parts = {stem: _setting(stem, trees[by_stem[stem]] if stem in by_stem else None, "", problems) for stem in OF_PLANS}
    if problems:
        raise Refusal(in_order(problems))

    def protocol_of(stem: str) -> m.Protocol:
        protocol, found = read_protocol(trees[by_stem[stem]], by_stem[stem])
        if protocol is None or found:
            raise Refusal(in_order(found))
        return protocol

    protocols = OnDemand((stem for stem in by_stem if stem not in SETTINGS), protocol_of)
    return m.Book(
        parts["clinic"], parts["stock"], parts["signs"], parts["modifiers"], protocols, parts["pictures"], digests
    )


def _setting(stem: str, node: Node | None, folder: str, problems: list[Problem]) -> Any:
    if node is None:
        if stem in _MAY_BE_ABSENT:
            return () if stem == "training" else {}
        problems.append(
            Problem(
                "file-missing",
                Span(f"{folder}/{stem}.yaml"),
                f"the book has no {stem}.yaml",
                {
                    "clinic": "hours, telephone numbers and paper come from it",
                    "stock": "rolls are reckoned from it",
                    "signs": "the warning signs on every sheet come from it",
                }[stem],
                f"copy {stem}.yaml from a new book (`gauzeleaf new FOLDER`) and fill it in",
            )
        )
        return UNSOUND
    shape = {
        "clinic": CLINIC,
        "stock": STOCK,
        "signs": SIGNS,
        "modifiers": MODIFIERS,
        "pictures": PICTURES,
        "training": TRAINING,
    }[stem]
    value = shape.read(node, problems)  # type: ignore[attr-defined]
    if is_unsound(value) or stem in ("clinic", "pictures", "training"):
        return value
    return {key: _named(item, key) for key, item in value.items()}


def _named(item: Any, key: str) -> Any:
    value = item.value if isinstance(item, Placed) else item
    return value if is_unsound(value) else replace(value, **{"id" if isinstance(value, m.Sign) else "name": key})


def _twice(protocols: Mapping[str, m.Protocol]) -> list[Problem]:
    """Document numbers are never shared."""
    seen: dict[str, m.Protocol] = {}
    problems = []
    for protocol in protocols.values():
        try:
            number = str(protocol.id).casefold()
        except UnsoundValue:
            continue
        if number in seen:
            problems.append(
                Problem(
                    "id-twice",
                    protocol.span("id"),
                    f"the document number `{protocol.id}` is taken",
                    "an inspector must find one document under one number",
                    "give this protocol a number of its own",
                    also=((seen[number].span("id"), "it is used here"),),
                )
            )
        seen.setdefault(number, protocol)
    return problems
