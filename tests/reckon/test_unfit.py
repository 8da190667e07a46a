"""What a protocol forbids for this very animal is refused, not left to whoever reads the small print."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from zoneinfo import ZoneInfo

import pytest

from generator.protocol.animal import read_patient
from generator.protocol.model import Book
from generator.reckon import reckon
from generator.reckon.plan import Plan
from generator.source.problem import Refusal
from generator.source.text import read_tree
from tests.conftest import ROOT, review

ZONE = ZoneInfo("America/New_York")


@cache
def book() -> Book:
    found = review(ROOT / "protocols").book
    assert found is not None
    return found


def plan(*protocols: str, born: str = "2020-01-01", weight: str = "18 kg", skin: str = "intact", more: str = "", site: str = "left hind") -> Plan:  # fmt: skip
    text = f"""
patient: {{name: Rowan, species: dog, weight: {weight}, born: {born}}}
owner: {{name: L. Farrance, language: en}}
limb: {{site: {site}, distal_girth: 13 cm, proximal_girth: 19 cm, covered_length: 24 cm}}
skin: {skin}
{more}
applied: 2027-03-09T10:00
first: yes
issued_by: Dr J. Ferrow
"""
    tree = read_tree(text.encode(), "rowan.yaml").tree
    assert tree is not None
    patient, problems = read_patient(tree)
    assert patient is not None, problems
    parts = [book().protocols[name.partition("@")[0]] for name in protocols]
    parts = [
        part.stages[name.partition("@")[2]] if part.stages else part
        for part, name in zip(parts, protocols, strict=True)
    ]
    return reckon(parts, patient, book(), datetime(2027, 3, 9, 10, 10, tzinfo=ZONE), ZONE)


def names(*protocols: str, **more: str) -> list[str]:
    with pytest.raises(Refusal) as caught:
        plan(*protocols, **more)
    return [problem.name for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("protocol", "born", "weight", "refused"),
    [
        # Six months on the day: grown (modifier table: growing under six months, large breeds under twelve).
        ("cast-adult", "2026-09-09", "18 kg", []),
        ("cast-adult", "2026-09-10", "18 kg", ["not-grown"]),
        ("cast-adult", "2026-04-01", "30 kg", ["not-grown"]),
        ("cast-adult", "unknown", "18 kg", ["not-grown"]),
        ("cast-growing", "2026-09-09", "18 kg", ["not-growing"]),
        ("cast-growing", "2026-09-10", "18 kg", []),
        # Unknown is read as growing: the stricter of the two.
        ("cast-growing", "unknown", "18 kg", []),
    ],
)
def test_a_cast_is_for_the_age_it_was_written_for(protocol: str, born: str, weight: str, refused: list[str]) -> None:
    if refused:
        assert names(protocol, born=born, weight=weight) == refused
    else:
        assert plan(protocol, born=born, weight=weight).layers


def test_the_refusal_names_the_protocol_to_use() -> None:
    with pytest.raises(Refusal) as caught:
        plan("cast-adult", born="2026-12-01")
    assert "use `cast-growing`" in caught.value.problems[0].fix


@pytest.mark.parametrize("condition", ["oedema", "no deep pain", "low perfusion"])
def test_no_cast_where_nothing_would_warn_or_nothing_has_room(condition: str) -> None:
    """Oedema: no cast; no deep pain: no rigid device (common practice)."""
    assert "forbidden-for-this-animal" in names("cast-adult", more=f"condition: [{condition}]")


def test_no_cast_goes_over_an_open_wound() -> None:
    assert "cast-over-wound" in names("cast-adult", skin="wound")
    joined = names("cast-adult", "open-wound@inflammatory", skin="wound", more="wound: {exudate: high}")
    assert "cast-over-wound" in joined


@pytest.mark.parametrize("sling", ["ehmer-sling", "flexion-9090-sling", "hobbles"])
def test_a_sling_that_is_not_opened_goes_over_no_wound(sling: str) -> None:
    assert "wound-shut-in" in names(sling, skin="wound")
    # Nor over a closed one that has to be seen.
    assert "sling-cannot-be-opened" in names(sling, "closed-wound-cover", skin="incision", more="reason: sutured wound")


def test_an_animal_wears_one_sling() -> None:
    assert "two-slings" in names("robinson-sling", "hobbles")


@pytest.mark.parametrize("protocol", ["open-wound@inflammatory", "tie-over"])
def test_whole_skin_is_not_dressed_as_a_wound(protocol: str) -> None:
    assert "no-wound" in names(protocol, more="wound: {exudate: low}")


def test_an_open_wound_under_another_bandage_is_said_on_paper() -> None:
    made = plan("closed-wound-cover", skin="wound", more="reason: sutured wound")
    assert "open-wound-elsewhere" in [note.code for note in made.notes]


def test_a_first_look_later_than_the_opening_is_not_planned() -> None:
    """Infected: opened within 24 h (common practice), so that a look after 48 to 72 h comes too late to be one."""
    made = plan("closed-wound-cover", skin="incision", more="reason: sutured wound\ncondition: [infected wound]")
    assert made.deadline is not None
    assert all(event.due <= made.deadline.due for event in made.events if event.kind == "check")
