"""Every key has a reason to be there: with another value something that people read, or a plan, is another one.

The keys come from the tables that the reader works by, and the books from `small_books`: a key of which nothing comes fails here the
day it is added. Places in files and numbers made of their bytes are the same in all of them, so that only meaning can differ.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import pytest

from generator.protocol.shapes import Key, Record
from tests.compose.other_values import GONE, others
from tests.compose.seeing import PATIENT, WAYS, SmallBook, seen, tree_of
from tests.compose.small_books import books
from tests.protocol.samples import READERS, defined, keys_in, kind_of
from tests.protocol.writing import Path, at, changed, without

ANIMAL = ("data", "card", "change_card", "sheet", "clinic_copy", "visits")


@dataclass(frozen=True)
class Place:
    """One key in one small book."""

    book: str
    file: str
    record: Record
    key: Key
    path: Path
    name: str

    @property
    def value(self) -> Any:
        return at(books()[self.book].files[self.file], self.path)

    def variants(self) -> Iterator[tuple[str, SmallBook]]:
        """The book with each other value that the key could have."""
        book = books()[self.book]
        data = book.files[self.file]
        for done, other in others(self.key, self.value):
            made = without(data, self.path) if other is GONE else changed(data, self.path, other)
            yield f"{self.book}, {self.file}, {'/'.join(map(str, self.path))}: {done}", book.with_file(self.file, made)


def _name(record: Record, key: Key, data: Any, path: Path) -> str:
    """A layer's keys are told apart by the layer, limits by whose they are: each has an effect of its own."""
    of = next((at(data, path[: i + 2])["layer"] for i, s in enumerate(path[:-2]) if s == "layers"), "")
    of = of or next((s for s in path[:-1] if s in ("house_limits", "tightens")), "")
    return ".".join(filter(None, (record.what.strip("`"), of, key.name)))


@cache
def places() -> dict[str, list[Place]]:
    """By the key's name: where it stands, once in each book and once for each form of value."""
    found: dict[str, list[Place]] = {}
    had = set()
    for title, book in books().items():
        for file, data in book.files.items():
            kind = kind_of(file, book.trees[file])
            for record, key, path in keys_in(READERS[kind].table, data, ()):
                name = _name(record, key, data, path)
                if next(others(key, at(data, path)), None) is None:
                    continue  # a group: each of its keys is tried by itself
                once = (title, name, kind if record.what == "a protocol" else "", type(at(data, path)))
                if once not in had:
                    had.add(once)
                    found.setdefault(name, []).append(Place(title, file, record, key, path, name))
    return found


@cache
def before(book: str, way: str) -> str:
    return seen(books()[book], way)


def differs(place: Place, variant: SmallBook, ways: tuple[str, ...]) -> bool:
    return any(seen(variant, way) != before(place.book, way) for way in ways)


BOOKS = [name for name, found in places().items() if found[0].file != PATIENT]
PATIENTS = [name for name, found in places().items() if found[0].file == PATIENT]


def test_every_key_stands_in_a_small_book() -> None:
    here = {
        (record.what, key.name)
        for book in books().values()
        for file, data in book.files.items()
        for record, key, _ in keys_in(READERS[kind_of(file, book.trees[file])].table, data, ())
    }
    assert defined() - here == set()


@pytest.mark.parametrize("name", books())
def test_the_small_books_are_sound(name: str) -> None:
    assert [p.name for p in books()[name].opened.problems if p.severity == "error"] == []
    assert books()[name].plan.layers


@pytest.mark.parametrize("name", books())
def test_the_same_words_in_another_line_make_no_difference(name: str) -> None:
    book = books()[name]
    moved = replace(book, trees={file: tree_of(data, file, 7) for file, data in book.files.items()})
    assert [way for way in WAYS if seen(moved, way) != before(name, way)] == []


# Which layer a step lays is told by its own words; in a blend the key decides which part's words are printed.
NOT_IN_THE_BINDER = frozenset({"a step.layer"})


@pytest.mark.parametrize("name", [name for name in BOOKS if name not in NOT_IN_THE_BINDER])
def test_whatever_a_clinic_writes_stands_in_its_binder_or_is_stopped(name: str) -> None:
    tried = {(place.record.what, type(place.value)): place for place in reversed(places()[name])}
    lost = [
        done
        for place in tried.values()
        for done, variant in place.variants()
        if not differs(place, variant, ("problems", "binder"))
    ]
    assert lost == []


# Who answers for a protocol, when and why, and what a reader looks up before an animal is there: its papers stay the same.
ONLY_IN_THE_BINDER = frozenset(
    {
        # document control
        "a protocol.effective", "a stored blend.effective", "a protocol.review_by", "a stored blend.review_by", "a person.name", "a person.role", "a person.date", "signs_for.head technician",
        "clinic.yaml.id_form", "signs_for.one_clinician", "clinic.yaml.staff", "a member of the staff.name", "a member of the staff.role",
        "a member of the staff.since", "a member of the staff.until",
        "clinic.yaml.copies", "a copy.place", "a copy.holder", "a row of the history.date", "a row of the history.change",
        "a row of the history.why", "a row of the history.by",
        "a stored blend.reviewed_against", "a row of training.protocol", "a row of training.revision", "a row of training.read",
        # on whose word
        "a protocol.sources", "a stage.sources", "a stored blend.sources", "a published source.published", "a sign.source",
        "a protocol.references", "a reference.cite", "a reference.for", "a modifier.source", "a modifier.because",
        "tension.measured", "tension.by", "tension.on", "a settled conflict.why",
        # what it is for and when: the clinician has decided that before anybody prints a card
        "a protocol.function", "a stage.function", "a stored blend.function", "a protocol.use_when", "a stage.use_when",
        "a case.case", "a case.because", "a case.instead", "covers.from", "covers.to",
        # how a layer is meant: the card's steps say it in their own words
        "a layer.stirrups.because", "a layer.contact.because", "a layer.padding.because", "a layer.conforming.because",
        "a layer.splint.because", "a layer.outer.because", "a layer.padding.firmness", "a layer.conforming.firmness", "a layer.outer.firmness",
        # a stage that is not the animal's
        "a protocol.stages",
    }
)  # fmt: skip


@pytest.mark.parametrize("name", [name for name in BOOKS if name not in ONLY_IN_THE_BINDER])
def test_whatever_is_no_document_control_changes_an_animals_plan_or_papers(name: str) -> None:
    assert any(differs(p, variant, ANIMAL) for p in places()[name] for _, variant in p.variants())


@pytest.mark.parametrize("name", PATIENTS)
def test_whatever_is_written_of_an_animal_is_on_its_papers_or_is_stopped(name: str) -> None:
    assert any(differs(p, variant, ANIMAL[1:]) for p in places()[name] for _, variant in p.variants())
