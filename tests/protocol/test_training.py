"""Training counts for one revision, from the day it was given, for whoever works here (ISO 9001:2015 7.2; ISO/IEC 17025:2017 6.2)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from generator import opening
from generator.protocol.model import Book, Trained
from generator.protocol.training import Wanted, against_record, level_of, levels, of_protocol, wanted
from generator.standing import standings
from tests.conftest import ROOT

DAY = date(2027, 3, 15)
FOUR = Wanted("LB-SUP-002", 4, date(2026, 11, 2), "R. Osei-Lund", "Dr M. Tamsin")


@cache
def opened() -> opening.OpenBook:
    return opening.open_book(str(ROOT / "protocols"))


def book() -> Book:
    return opened().book


def said(of: Wanted, day: date = DAY) -> dict[str, tuple[str, int | None]]:
    found = levels(book().clinic, of, book().training, day)
    return {level.person.name: (level.what, level.before) for level in found}


# By hand, from training.yaml: S. Yilmaz knows revision 3 only, P. Nakoa read 4 and was not shown competent; C. Brandvold has left.
def test_who_is_due_on_a_revision_is_read_off_the_record() -> None:
    assert said(FOUR) == {
        "R. Osei-Lund": ("prepared", None),
        "Dr M. Tamsin": ("approved", None),
        "Dr J. Ferrow": ("trained", None),
        "J. Adeyemi": ("trained", 3),
        "L. Marchetti": ("trained", None),
        "S. Yilmaz": ("due", 3),
        "P. Nakoa": ("read", None),
    }


def test_what_was_given_later_did_not_count_before() -> None:
    assert said(FOUR, date(2026, 10, 25))["J. Adeyemi"] == ("due", 3)
    assert said(FOUR, date(2026, 10, 26))["J. Adeyemi"] == ("read", 3)
    assert said(FOUR, date(2026, 10, 29))["J. Adeyemi"] == ("read", 3)
    assert said(FOUR, date(2026, 10, 30))["J. Adeyemi"] == ("trained", 3)


def test_who_left_is_asked_until_the_last_day() -> None:
    assert "C. Brandvold" in said(FOUR, date(2026, 11, 20))
    assert "C. Brandvold" not in said(FOUR, date(2026, 11, 21))
    assert "P. Nakoa" not in said(FOUR, date(2026, 11, 1))


def test_a_newer_revision_makes_all_training_due_again() -> None:
    five = replace(FOUR, revision=5)
    assert {name for name, (what, _) in said(five).items() if what == "due"} == set(said(five)) - {
        "R. Osei-Lund",
        "Dr M. Tamsin",
    }
    assert said(five)["J. Adeyemi"] == ("due", 4)


def test_the_wanted_revision_is_the_approved_one() -> None:
    protocol = book().protocols["padded-limb-support"]
    (one,) = standings(opened(), [protocol])
    assert wanted(one) == of_protocol(protocol) == FOUR
    open_ = replace(one, state="open", approval=None, against=opened().record.revision("LB-SUP-002", 3))
    found = wanted(open_)
    assert found is not None
    assert found.revision == 3
    assert wanted(replace(open_, against=None)) is None


ROW = next(row for row in book().training if row.protocol == "LB-SUP-002" and row.revision == 4)


def judged(row: Trained) -> list[tuple[str, str]]:
    return [(p.name, p.fix) for p in against_record([row], book().protocols.values(), opened().record)]


def test_the_shipped_record_agrees_with_the_approvals() -> None:
    assert against_record(book().training, book().protocols.values(), opened().record) == ()


@pytest.mark.parametrize(
    ("change", "name", "says"),
    [
        ({"protocol": "LB-SUP-02"}, "training-of-unknown-document", "write `LB-SUP-002`"),
        ({"revision": 5}, "training-of-unknown-revision", "there are: 3, 4"),
        ({"revision": 2}, "training-of-unknown-revision", "there are: 3, 4"),
        # Approved on 2026-10-22 (record of approvals).
        ({"read": date(2026, 10, 21)}, "trained-before-approval", "2026-10-22 or later"),
    ],
)
def test_a_row_that_cannot_be_so_is_told(change: dict[str, object], name: str, says: str) -> None:
    ((found, fix),) = judged(replace(ROW, **change))  # type: ignore[arg-type]
    assert found == name
    assert says in fix


def test_reading_on_the_day_of_approval_is_in_order() -> None:
    assert judged(replace(ROW, read=date(2026, 10, 22))) == []
    assert judged(replace(ROW, protocol="lb-sup-002")) == []


def test_a_revision_that_awaits_approval_may_be_read() -> None:
    protocol = replace(book().protocols["padded-limb-support"], revision=5)
    assert against_record([replace(ROW, revision=5)], [protocol], opened().record) == ()


def test_whoever_is_listed_with_a_role_keeps_it() -> None:
    person = book().clinic.person("j. adeyemi")
    assert person is not None
    assert person.role == "technician"
    assert level_of(person, FOUR, (), DAY).what == "due"
