"""The plan equals the table that somebody else worked: see tests/expected/README.md for how and from which sources."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import yaml

from generator.protocol.animal import read_patient
from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Patient
from generator.reckon import reckon
from generator.reckon.plan import Figure, Plan
from generator.source.problem import Refusal
from generator.source.text import read_tree
from tests.conftest import review

HERE = Path(__file__).parent.parent / "expected"
ROWS: list[dict[str, Any]] = yaml.safe_load((HERE / "plans.yaml").read_text(encoding="utf-8"))["plans"]
MILLIMETRE = 0.05  # the table is worked to 0.01 cm; half a millimetre is what a ruler on the strip can tell


@cache
def book(name: str) -> Book:
    found = review(HERE / name).book
    assert found is not None
    return found


def plan_for(row: dict[str, Any]) -> Plan:
    its_book = book(row["book"])
    zone = ZoneInfo(its_book.clinic.time_zone)
    file = HERE / "patients" / f"{row['patient']}.yaml"
    tree = read_tree(file.read_bytes(), file.name).tree
    assert tree is not None
    patient, problems = read_patient(tree)
    assert isinstance(patient, Patient), problems
    parts, stored = [], None
    named = row["protocols"]
    if its_book.protocols[named[0].partition("@")[0]].blend:
        stored = its_book.protocols[named[0]]
        named = stored.blend
    for name in named:
        slug, _, stage = name.partition("@")
        protocol = its_book.protocols[slug]
        parts.append(protocol.stages[stage] if stage else protocol)
    now = datetime.fromisoformat(row["now"]).replace(tzinfo=zone)
    return reckon(parts, patient, its_book, now, zone, stored=stored)


def number(figure: Figure | None) -> float | None:
    return None if figure is None else float(figure.number)


def close(got: float | None, want: float | None, tolerance: float = 0.006) -> bool:
    return got is want if got is None or want is None else abs(got - want) <= tolerance


def text(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")


PLANNED = [row for row in ROWS if "refused" not in row]
REFUSED = [row for row in ROWS if "refused" in row]


def test_the_table_covers_every_kind_and_a_hundred_patients() -> None:
    assert len(ROWS) >= 100
    kinds = {part.kind for row in PLANNED for part in plan_for(row).bandage.parts}
    assert kinds == set(KINDS)


@pytest.mark.parametrize("row", PLANNED, ids=lambda row: row["patient"])
def test_limb_and_layers_are_the_tables(row: dict[str, Any]) -> None:
    plan = plan_for(row)
    limb = row["limb"] or {}
    for key in ("distal_girth", "proximal_girth", "covered_length"):
        assert close(number(getattr(plan.limb, key)), limb.get(f"{key}_cm"))
    if limb:
        assert plan.limb.trust == limb["trust"]
    assert [layer.layer.layer for layer in plan.layers] == [want["layer"] for want in row["layers"]]
    for got, want in zip(plan.layers, row["layers"], strict=True):
        assert (got.material.name if got.material else None) == want["material"]
        assert close(number(got.width), want["width_cm"])
        assert got.passes == want["passes"]
        assert close(None if got.overlap is None else float(got.overlap), want["overlap"])
        assert close(number(got.strip), want["strip_cm"], MILLIMETRE)
        assert close(number(got.need), want["need_cm"], MILLIMETRE)
        assert close(None if got.rolls_exact is None else float(got.rolls_exact), want["rolls_exact"], 0.0002)
        assert got.rolls.number == want["rolls"]
        assert close(number(got.left_over), want["left_over_cm"], MILLIMETRE)
        pair = want["pressure_mmhg"]
        assert (got.pressure is None) == (pair is None)
        for figure, value in zip(got.pressure or (), pair or (), strict=True):
            assert close(number(figure), value, 0.011)


@pytest.mark.parametrize("row", PLANNED, ids=lambda row: row["patient"])
def test_finished_girth_pressure_and_cost_are_the_tables(row: dict[str, Any]) -> None:
    plan = plan_for(row)
    for got, want in ((plan.finished_girth, row["finished_girth_cm"]), (plan.pressure, row["pressure_mmhg"])):
        assert (got is None) == (want is None)
        for figure, value in zip(got or (), want or (), strict=True):
            assert close(number(figure), value, 0.011)
    cost = row.get("cost")
    if cost is None or cost.get("complete") is False:
        assert plan.cost is None, "a sum with a price missing is no cost"
    else:
        assert plan.cost is not None
        assert (str(plan.cost[0]), plan.cost[1]) == (cost["amount"], cost["currency"])


@pytest.mark.parametrize("row", PLANNED, ids=lambda row: row["patient"])
def test_every_visit_is_the_tables_to_the_minute(row: dict[str, Any]) -> None:
    plan = plan_for(row)
    got = sorted((text(e.due) or "", e.kind, text(e.opens), text(e.slot), e.where) for e in plan.events)
    want = sorted(
        (e["due"], {"first check": "check"}.get(e["kind"], e["kind"]), e["opens"], e["slot"], e["where"])
        for e in row["events"]
    )
    assert got == want


@pytest.mark.parametrize("row", PLANNED, ids=lambda row: row["patient"])
def test_deadline_end_and_who_decided_are_the_tables(row: dict[str, Any]) -> None:
    plan = plan_for(row)
    want = row["deadline"]
    assert plan.deadline is not None
    assert (plan.deadline.kind, text(plan.deadline.due), text(plan.deadline.slot)) == (
        want["kind"],
        want["due"],
        want["slot"],
    )
    end = row["remove_by"]
    if end is None or "due" not in end:
        assert plan.remove_by is None
    else:
        assert plan.remove_by is not None
        assert (text(plan.remove_by.due), text(plan.remove_by.slot)) == (end["due"], end["slot"])
    assert plan.go_home is row["go_home"]
    assert sorted(a.modifier.name for a in plan.modifiers) == sorted(
        m if isinstance(m, str) else m["name"] for m in row["modifiers"]
    )
    ours = {d.key: d.by for d in plan.decisions if not d.key.startswith("layer ")}
    for key, who in row["decided_by"].items():
        # Where the two ends of a window come from two hands, the later end is the one that binds.
        binding = who["due"] if isinstance(who, dict) else who
        by = binding.removeprefix("part:").removeprefix("modifier:")
        by = f"house limit for {by.removeprefix('house:')}" if by.startswith("house:") else by
        if key != "remove_when":
            assert ours.get(key) == by, key


@pytest.mark.parametrize("row", REFUSED, ids=lambda row: row["patient"])
def test_what_the_table_refuses_is_refused(row: dict[str, Any]) -> None:
    names = {
        "course": "course-over",
        "booked": "booked-outside-window",
        "forbidden": "forbidden-for-this-animal",
        "geometry": "strip-wider-than-limb",
        "no band": "limb-not-measured",
    }
    with pytest.raises(Refusal) as refusal:
        plan_for(row)
    why = row["refused"]["why"]
    assert [problem.name for problem in refusal.value.problems] == [names.get(why, why)]
