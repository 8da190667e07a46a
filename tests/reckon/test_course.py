"""The bandages of one animal, one after another: wrapping again restarts nothing (common practice; Allard 2007 for Velpeau slings)."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.protocol.animal import read_patient
from generator.protocol.model import Book
from generator.reckon import reckon
from generator.reckon.clock import located
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


def plan(protocol: str, applied: str, told: str, now: str | None = None) -> Plan:
    text = f"""
patient: {{name: Rowan, species: dog, weight: 31 kg, born: 2019-08-07}}
owner: {{name: L. Farrance, language: en}}
limb: {{site: left fore, distal_girth: 14 cm, proximal_girth: 21 cm, covered_length: 30 cm}}
skin: intact
reason: swelling
applied: {applied}
{told}
issued_by: Dr J. Ferrow
"""
    tree = read_tree(text.encode(), "rowan.yaml").tree
    assert tree is not None
    patient, problems = read_patient(tree)
    assert patient is not None, problems
    slug, _, stage = protocol.partition("@")
    part = book().protocols[slug]
    return reckon(
        [part.stages[stage] if stage else part],
        patient,
        book(),
        datetime.fromisoformat(now or applied).replace(tzinfo=ZONE) + timedelta(minutes=5),
        ZONE,
    )


def names(protocol: str, applied: str, told: str) -> list[str]:
    with pytest.raises(Refusal) as caught:
        plan(protocol, applied, told)
    return [p.name for p in caught.value.problems]


SLING = "earlier: [{protocol: velpeau-sling, on: 2027-03-04T11:30, off: 2027-03-11T10:30}]"


def test_the_end_is_that_of_the_first_bandage() -> None:
    """House limit of the shipped book: slings ten days. 4 Mar 11:30 EST + 10 d; the clocks change on the 14th: 14 Mar 11:30
    EDT is sooner than 240 h elapsed (12:30 EDT)."""
    again = plan("velpeau-sling", "2027-03-11T11:00", SLING)
    assert again.began.isoformat() == "2027-03-04T11:30:00-05:00"
    assert again.remove_by is not None
    assert again.remove_by.due.isoformat() == "2027-03-14T11:30:00-04:00"
    typed = plan("velpeau-sling", "2027-03-11T11:00", "began: 2027-03-04T11:30")
    assert typed.remove_by == again.remove_by
    assert [(one.protocol, one.counts) for one in again.earlier] == [("velpeau-sling", True)]


def test_a_limb_held_still_by_a_splint_and_then_by_a_sling_is_held_still_all_the_while() -> None:
    splint = "earlier: [{protocol: splinted-limb, on: 2027-03-04T11:30, off: 2027-03-11T10:30}]"
    assert plan("velpeau-sling", "2027-03-11T11:00", splint).began.isoformat() == "2027-03-04T11:30:00-05:00"


def test_what_covered_a_wound_or_stopped_bleeding_does_not_count_against_a_sling() -> None:
    told = (
        "earlier:\n  - {protocol: pressure-bandage, on: 2027-03-01T09:00, off: 2027-03-01T09:18}\n"
        "  - {protocol: open-wound@inflammatory, on: 2027-03-01T09:40, off: 2027-03-11T10:30}"
    )
    made = plan("velpeau-sling", "2027-03-11T11:00", told)
    assert made.began == made.applied
    assert [one.counts for one in made.earlier] == [False, False]
    # The wound bandage stayed ten days where one day was the limit.
    assert [note.code for note in made.notes if note.code == "earlier-too-long"] == ["earlier-too-long"]


def test_a_course_that_has_reached_its_ceiling_is_refused_with_what_is_to_be_decided() -> None:
    told = "earlier: [{protocol: velpeau-sling, on: 2027-03-01T11:30, off: 2027-03-11T11:30}]"
    with pytest.raises(Refusal) as caught:
        plan("velpeau-sling", "2027-03-11T11:30", told)
    [problem] = caught.value.problems
    assert problem.name == "course-over"
    assert "attending veterinarian decides" in problem.fix
    assert (problem.span.file, problem.span.line) == ("rowan.yaml", 8)


def test_the_last_bandage_of_a_course_says_so() -> None:
    last = plan("velpeau-sling", "2027-03-11T11:00", SLING)
    assert [note.code for note in last.notes if note.code == "course-ends"] == ["course-ends"]
    first = plan("velpeau-sling", "2027-03-04T11:30", "first: yes")
    assert not [note for note in first.notes if note.code == "course-ends"]


@pytest.mark.parametrize(
    ("told", "key"),
    [
        ("[{protocol: velpeau-sling, on: 2027-03-05T11:30, off: 2027-03-05T11:30}]", "off"),
        ("[{protocol: velpeau-sling, on: 2027-03-05T11:30, off: 2027-03-04T11:30}]", "off"),
        ("[{protocol: velpeau-sling, on: 2027-03-05T11:30, off: 2027-03-11T11:01}]", "off"),
        ("[{protocol: velpeau-sling, on: 2027-03-05T11:30, off: 2027-03-07T11:30}, {protocol: velpeau-sling, on: 2027-03-06T11:30, off: 2027-03-08T11:30}]", "on"),
    ],
)  # fmt: skip
def test_times_that_cannot_be_right_are_refused(told: str, key: str) -> None:
    with pytest.raises(Refusal) as caught:
        plan("velpeau-sling", "2027-03-11T11:00", f"earlier: {told}")
    [problem] = caught.value.problems
    assert problem.name == "earlier-out-of-order"
    # At the moment that is wrong: the last one of that key.
    value = "earlier: " + told
    assert problem.span.column == value.rindex(f"{key}: ") + len(f"{key}: ") + 1


@pytest.mark.parametrize("name", ["velpo-sling", "open-wound", "open-wound@healed", "velpeau-sling@inflammatory"])
def test_an_earlier_bandage_that_the_book_does_not_know_is_refused(name: str) -> None:
    told = f"earlier: [{{protocol: {name}, on: 2027-03-05T11:30, off: 2027-03-06T11:30}}]"
    assert names("velpeau-sling", "2027-03-11T11:00", told) == ["earlier-unknown"]


@pytest.mark.parametrize("rival", ["first: yes", "began: 2027-03-05T11:30"])
def test_a_course_is_told_once(rival: str) -> None:
    tree = read_tree(f"patient: {{name: A, species: dog, weight: 9 kg, born: unknown}}\nowner: {{name: B, language: en}}\nlimb: {{site: left fore}}\nskin: intact\napplied: 2027-03-11T11:00\n{rival}\n{SLING}\nissued_by: C\n".encode(), "a.yaml").tree  # fmt: skip
    assert tree is not None
    patient, problems = read_patient(tree)
    assert patient is None
    assert [p.name for p in problems] == ["course-told-twice"]


@given(hours=st.lists(st.integers(min_value=2, max_value=60), min_size=1, max_size=5))
def test_however_often_it_is_wrapped_again_the_end_never_moves(hours: list[int]) -> None:
    """Slings of the shipped book: ten days at most, by its house limit."""
    at = datetime(2027, 4, 5, 9, tzinfo=ZONE)
    first = at
    rows = []
    for length in hours:
        off = at.astimezone(UTC) + timedelta(hours=length)
        rows.append(
            f"{{protocol: velpeau-sling, on: {at.astimezone(ZONE):%Y-%m-%dT%H:%M}, off: {off.astimezone(ZONE):%Y-%m-%dT%H:%M}}}"
        )
        at = off + timedelta(hours=1)
    applied = f"{at.astimezone(ZONE):%Y-%m-%dT%H:%M}"
    told = f"earlier: [{', '.join(rows)}]"
    if at >= datetime(2027, 4, 15, 9, tzinfo=ZONE):
        assert names("velpeau-sling", applied, told) == ["course-over"]
        return
    made = plan("velpeau-sling", applied, told)
    assert made.remove_by is not None
    assert made.began == located(first, ZONE)
    # Never later than the end of the first bandage; sooner where too little would be left for another.
    assert made.remove_by.due <= datetime(2027, 4, 15, 9, tzinfo=ZONE)
