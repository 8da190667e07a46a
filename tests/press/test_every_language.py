"""The owner's sheet on paper in every language there will be: nothing collides, nothing is lost, nothing runs the wrong way.

The words are those that are shipped; of languages that have none yet, stand-ins (`tests/press/stand_in.py`): as long as a
translation, of no sense. Not the full product of 23 languages, bandages, states, names and papers, but a covering set: every language with every kind of bandage, and
every pair of language, bandage, state, name and paper at least once, which a test of its own makes sure of.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, product

import pytest

from generator.compose import binder, floor_card, owner_sheet
from generator.page.document import Document
from generator.press import Pdf, press
from generator.reckon.plan import Plan
from generator.words.catalogue import Words
from tests.compose.plans import at, book, templates
from tests.compose.reading import DEMO, ENGLISH, reckoned
from tests.press.geometry import assert_sound
from tests.press.readable import faults
from tests.press.stand_in import signed_words, stand_in
from tests.press.text.lines import CJK, LINES

# Forty letters, as long as anyone may call an animal: in one word that can break nowhere, and in several.
ONE_WORD = "Maximilianwilhelminafeatherstonehaughson"
MANY_WORDS = "Princess Araminta of Featherstone Thwait"
NAMES = {"own": None, "one word": ONE_WORD, "many words": MANY_WORDS}
KINDS = ("support", "wound", "sling", "no toes", "longest")
STATES = ("signed", "draft")
PAPERS = ("letter", "a4")


@dataclass(frozen=True, slots=True)
class Case:
    """One sheet of the covering set."""

    language: str
    kind: str
    state: str
    name: str
    paper: str

    def __str__(self) -> str:
        return "-".join((self.language, self.kind, self.state, self.name, self.paper)).replace(" ", "_")


def covering() -> Iterator[Case]:
    """Every language with every kind; state, name and paper step on so that each meets each."""
    for i, language in enumerate(LINES):
        for j, kind in enumerate(KINDS):
            state = STATES[(i + j) % 2] if language != "en" else "signed"
            yield Case(language, kind, state, list(NAMES)[(i + j // 2) % 3], PAPERS[(i // 2 + j // 2) % 2])


COVERING = tuple(covering())
# Papers for staff number their steps, refer to pages and have long lines in small type: what is wrong in an owner's sheet
# may be right there. In a binder furniture changes with the chapter, so that figures cannot be counted by the page.
_CARD = ("a heading", "digits lost", "not in order", "unreadable", "/")
_BINDER = ("a heading", "unreadable", "/")


@cache
def plan_of(kind: str, other: bool) -> Plan:
    """A plan of each kind. other: the second of two, where the kind has two."""
    match kind:
        case "support":
            return reckoned("maple", *DEMO["maple"])
        case "wound":
            return reckoned("juniper", *DEMO["juniper"])
        case "sling":
            return reckoned("rowan", *DEMO["rowan"])
        case "no toes":
            return (
                reckoned("maple", "tail-bandage", site="tail")
                if other
                else reckoned("maple", "head-bandage", site="head")
            )
        case _:
            return reckoned("maple", "hobbles" if other else "ehmer-sling", site="left hind")


def words_of(language: str, signed: bool) -> Words:
    """The words that are shipped, signed by two people who exist in tests only; stand-ins where none are shipped."""
    return signed_words(language, signed) or stand_in(language, signed)


@cache
def printed(case: Case) -> tuple[Document, Pdf]:
    plan = plan_of(case.kind, other=list(LINES).index(case.language) % 2 == 1)
    name = NAMES[case.name]
    if name is not None:
        plan = replace(plan, patient=replace(plan.patient, name=name))
    words = words_of(case.language, case.state == "signed")
    document = replace(owner_sheet(plan, words, ENGLISH, templates()), paper=case.paper)
    return document, press(document)


@pytest.mark.parametrize("case", COVERING, ids=str)
def test_a_sheet_is_whole_and_runs_its_own_way(case: Case) -> None:
    if case.language in CJK:
        pytest.importorskip("justmytype_intl_cjk")
        pytest.importorskip("uniseg")
    document, pdf = printed(case)
    assert pdf.size >= 12
    # The furniture is the line that identifies a sheet: 9 points. All else is read: 12 (RNIB clear print).
    assert_sound(pdf.data, margin_mm=15, smallest=12.0, smallest_furniture=9.0)
    assert faults(document, pdf.data) == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", [ONE_WORD, MANY_WORDS])
@pytest.mark.parametrize("kind", KINDS)
def test_a_floor_card_takes_the_longest_name(kind: str, name: str, paper: str) -> None:
    plan = plan_of(kind, other=False)
    patient = replace(plan.patient, name=name, owner_name=name[::-1].title())
    document = replace(floor_card(replace(plan, patient=patient), templates()), paper=paper)
    pdf = press(document)
    assert pdf.pages <= 2
    assert_sound(pdf.data, margin_mm=12, smallest=9)
    assert [fault for fault in faults(document, pdf.data) if fault.startswith(_CARD)] == []


def test_a_binder_takes_the_longest_names() -> None:
    own = book()
    one = own.protocols["ehmer-sling"]
    long = replace(
        one, title=f"{MANY_WORDS} sling", prepared_by=replace(one.prepared_by, name=ONE_WORD),
        approved_by=replace(one.approved_by, name=MANY_WORDS),
    )  # fmt: skip
    clinic = replace(own.clinic, name=f"{MANY_WORDS} {ONE_WORD}")
    document = binder(replace(own, protocols={"ehmer-sling": long}, clinic=clinic), templates(), at("2026-11-25T09:00"))
    pdf = press(document)
    assert_sound(pdf.data, margin_mm=15, binding_mm=20, smallest=9)
    assert [fault for fault in faults(document, pdf.data) if fault.startswith(_BINDER)] == []


def test_the_set_covers_every_pair_that_it_says() -> None:
    have = {pair for case in COVERING for pair in combinations(sorted(_parts(case)), 2)}
    fields = {
        "language": tuple(LINES), "kind": KINDS, "state": STATES, "name": tuple(NAMES), "paper": PAPERS,
    }  # fmt: skip
    wanted = {
        tuple(sorted(((a, x), (b, y))))
        for a, b in combinations(fields, 2)
        for x, y in product(fields[a], fields[b])
        if (a, x, y) != ("language", "en", "draft")  # English is the source: nothing to sign
    }
    assert wanted - have == set()
    for kind in KINDS[3:]:
        assert len({list(LINES).index(case.language) % 2 for case in COVERING if case.kind == kind}) == 2


def _parts(case: Case) -> list[tuple[str, str]]:
    return [
        ("language", case.language),
        ("kind", case.kind),
        ("state", case.state),
        ("name", case.name),
        ("paper", case.paper),
    ]


def test_the_names_are_forty_letters() -> None:
    assert len(ONE_WORD) == len(MANY_WORDS) == 40
    assert " " not in ONE_WORD
