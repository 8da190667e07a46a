"""Blends: the same whatever the order of their parts, and on no animal looser than a part alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from itertools import combinations, permutations
from pathlib import Path

import pytest

from generator.protocol.animal import read_patient
from generator.protocol.joining import blend
from generator.protocol.model import Book, Patient, Protocol
from generator.reckon import reckon
from generator.reckon.clock import end_of
from generator.reckon.plan import Plan
from generator.source.problem import Refusal
from generator.source.text import read_tree
from tests.conftest import ROOT, review
from tests.reckon.zones import zone

BOOKS = (ROOT / "protocols", ROOT / "tests" / "expected" / "book", ROOT / "tests" / "expected" / "book-night")
NEW_YORK = zone("America/New_York")
NOW = datetime(2027, 3, 13, 16, 0, tzinfo=UTC)
PATIENT = b"""
patient: {name: Quince, species: dog, weight: 21 kg, born: 2022-04-11}
owner: {name: H. Vantongeren, language: en}
limb: {site: right fore, distal_girth: 12 cm, proximal_girth: 18 cm, covered_length: 24 cm}
skin: wound
reason: incision
applied: 2027-03-13T10:30
first: yes
issued_by: Dr M. Tamsin
"""


@cache
def book(folder: Path) -> Book:
    found = review(folder).book
    assert found is not None
    return found


@cache
def quince() -> Patient:
    tree = read_tree(PATIENT, "quince.yaml").tree
    assert tree is not None
    patient, problems = read_patient(tree)
    assert patient is not None, problems
    return patient


def parts_of(one: Book) -> list[Protocol]:
    """Every protocol at each of its stages; stored blends are made of these."""
    return [stage for p in one.protocols.values() if not p.blend for stage in (p.stages.values() if p.stages else (p,))]


def planned(folder: Path, *parts: Protocol) -> Plan | None:
    """The plan, or None where the trade has no rule or the patient does not fit."""
    on = replace(quince(), skin="wound" if any(p.layer("contact") for p in parts) else "intact")
    try:
        return reckon(parts, on, book(folder), NOW, NEW_YORK)
    except Refusal:
        return None


@cache
def pairs(folder: Path) -> list[tuple[Protocol, Protocol]]:
    """All pairs that can be joined and whose parts can each be planned alone."""
    able = [part for part in parts_of(book(folder)) if planned(folder, part) is not None]
    return [
        pair
        for pair in combinations(able, 2)
        if pair[0].protocol != pair[1].protocol and planned(folder, *pair) is not None
    ]


def openings(plan: Plan) -> list[datetime]:
    return [e.due for e in plan.events if e.kind in ("change", "removal")]


@pytest.mark.parametrize("folder", BOOKS, ids=lambda f: f.name)
def test_there_are_blends_to_try(folder: Path) -> None:
    assert len(pairs(folder)) >= 8


@pytest.mark.parametrize("folder", BOOKS, ids=lambda f: f.name)
def test_no_due_moment_of_a_blend_is_later_than_that_of_a_part_alone(folder: Path) -> None:
    for pair in pairs(folder):
        whole = planned(folder, *pair)
        assert whole is not None
        for part in pair:
            alone = planned(folder, part)
            assert alone is not None
            where = f"{pair[0].name} + {pair[1].name}, against {part.name}"
            assert whole.go_home <= alone.go_home, where
            for kind in ("check", "watch"):
                own, joined = alone.first(kind), whole.first(kind)  # type: ignore[arg-type]
                if own is not None and joined is not None:
                    assert joined.due <= own.due, where
            # The first time the bandage comes off comes no later, nor the second.
            for own, joined in zip(openings(alone), openings(whole), strict=False):
                assert joined <= own, where
            # A removal alone can come before its limit, where no further change would fit; the limit itself is what joins.
            if alone.limits.remove_by is not None:
                assert alone.limits.remove_by.plain is not None
                assert whole.remove_by is not None, where
                assert whole.remove_by.due <= end_of(alone.began, alone.limits.remove_by.plain, NEW_YORK), where
            seen = [next((e.due for e in plan.events if e.kind != "watch"), None) for plan in (whole, alone)]
            assert seen[1] is None or (seen[0] is not None and seen[0] <= seen[1]), where


@pytest.mark.parametrize("folder", BOOKS, ids=lambda f: f.name)
def test_the_order_of_the_parts_changes_nothing(folder: Path) -> None:
    for pair in pairs(folder):
        assert blend(pair) == blend(pair[::-1])


@pytest.mark.parametrize("folder", BOOKS, ids=lambda f: f.name)
def test_three_parts_make_one_bandage_in_any_order(folder: Path) -> None:
    tried = 0
    able = list(dict.fromkeys(part.name for pair in pairs(folder) for part in pair))
    by_name = {part.name: part for part in parts_of(book(folder))}
    for names in combinations(able, 3):
        parts = [by_name[name] for name in names]
        if len({part.protocol for part in parts}) < 3:
            continue
        outcomes = []
        for order in permutations(parts):
            try:
                outcomes.append(blend(order))
            except Refusal as refusal:
                outcomes.append(tuple(sorted(p.name for p in refusal.problems)))  # type: ignore[arg-type]
        assert all(outcome == outcomes[0] for outcome in outcomes)
        tried += 1
        if tried == 60:
            break
    assert tried


def test_a_part_named_twice_is_a_part() -> None:
    part = parts_of(book(BOOKS[0]))[0]
    assert blend([part, part]) == blend([part])


def test_layers_stay_in_the_trades_order() -> None:
    order = ("stirrups", "contact", "padding", "conforming", "splint", "outer")
    for folder in BOOKS:
        for pair in pairs(folder):
            found = [layer.layer for layer in blend(pair).layers]
            assert found == [name for name in order if name in found]


@pytest.mark.parametrize("folder", BOOKS, ids=lambda f: f.name)
def test_bleeding_is_never_joined_with_another_bandage(folder: Path) -> None:
    parts = parts_of(book(folder))
    bleeding = next(part for part in parts if part.purpose == "haemorrhage")
    for other in parts:
        if other is not bleeding:
            with pytest.raises(Refusal) as refusal:
                blend([other, bleeding])
            assert "haemorrhage-blended" in {p.name for p in refusal.value.problems}


def test_a_conflict_names_both_lines_and_what_settles_it() -> None:
    found = book(BOOKS[0])
    splint, heavy = found.protocols["splinted-limb"], found.protocols["heavy-padded-limb"]
    with pytest.raises(Refusal) as refusal:
        blend([splint, heavy])
    problem = next(p for p in refusal.value.problems if p.name == "blend-conflict")
    assert {problem.span.file, *(span.file for span, _ in problem.also)} == {splint.file, heavy.file}
    assert "settles:" in problem.fix


@pytest.mark.parametrize("folder", BOOKS, ids=lambda f: f.name)
def test_a_blend_states_the_shorter_limit_of_its_parts(folder: Path) -> None:
    for pair in pairs(folder):
        joined = blend(pair).limits
        for part in pair:
            for key in ("first_check", "change_every", "recheck_every"):
                own, both = getattr(part.limits, key), getattr(joined, key)
                assert own is None or both.upper.shortest <= own.upper.shortest, (pair[0].name, pair[1].name, key)
            assert not (part.limits.go_home is False and joined.go_home), "it goes home only if every part allows it"


def test_a_contact_layer_that_is_always_laid_wins_over_one_laid_on_a_wound_only() -> None:
    found = book(BOOKS[0])
    padded, cover = found.protocols["padded-limb-support"], found.protocols["closed-wound-cover"]

    def with_contact(part: Protocol, needed_if: str | None) -> Protocol:
        return replace(
            part,
            layers=tuple(
                replace(layer, needed_if=needed_if) if layer.layer == "contact" else layer for layer in part.layers
            ),
        )

    for one, other, winner in (
        (None, "wound", padded),
        ("wound", None, cover),
        ("wound", "incision or wound", cover),
        ("incision or wound", "wound", padded),
    ):
        joined = blend([with_contact(padded, one), with_contact(cover, other)])
        decision = next(d for d in joined.decisions if d.key == "layer contact")
        assert decision.by == winner.name
