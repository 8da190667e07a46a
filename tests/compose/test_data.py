"""Plan as data and as text: a contract other programs hold us to."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from generator.compose import plan_data, plan_digest, plan_text
from generator.compose.explain import explain
from tests.compose.plans import at, kestrel, maple


def test_keys_of_the_contract():
    data = plan_data(maple())
    assert data["plan"] == 1
    for key in ("protocols", "limb", "layers", "finished_girth_cm", "pressure_mmhg", "cost", "events", "deadline", "remove_by", "go_home", "decided_by",
                "modifiers", "notes", "patient", "clinic", "issued", "tz_release", "digests"):  # fmt: skip
        assert key in data
    assert data["protocols"] == [{"slug": "padded-limb-support", "id": "LB-SUP-002", "revision": 4, "stage": None}]
    assert set(data["layers"][0]) == {
        "layer",
        "material",
        "width_cm",
        "size",
        "passes",
        "overlap",
        "strip_cm",
        "need_cm",
        "rolls_exact",
        "rolls",
        "unit",
        "trust",
        "left_over_cm",
        "pressure_mmhg",
        "price",
        "stocked_widths_cm",
        "stocked_sizes",
    }


def test_figures_are_unrounded_floats_and_moments_carry_their_offset():
    data = plan_data(maple())
    assert data["layers"][2]["need_cm"] == pytest.approx(537.69)
    assert data["layers"][4]["pressure_mmhg"] == pytest.approx([9.76, 7.22])
    assert data["deadline"] == {"kind": "change", "due": "2027-03-20T10:30-04:00", "slot": "2027-03-20T10:00-04:00"}
    check = next(event for event in data["events"] if event["kind"] == "check")
    assert check["due"] == "2027-03-14T11:30-04:00"
    assert check["slot"] is None
    assert check["where"] == "emergency place"


def test_data_is_json():
    for plan in (maple(), kestrel()):
        assert json.loads(json.dumps(plan_data(plan), allow_nan=False)) == plan_data(plan)


def test_number_names_the_plan_and_not_the_hour_of_printing():
    plan = maple()
    assert plan_digest(replace(plan, now=at("2027-03-14T09:00"))) == plan_digest(plan)
    assert plan_digest(replace(plan, began=at("2027-03-06T09:00"))) != plan_digest(plan)
    signs = plan_digest(plan)
    assert len(signs) == 7
    # Letters that are taken for digits on the telephone are not used (Crockford's base 32).
    assert not set("ILOU") & set(signs)


def test_text_holds_the_deadline_and_the_rolls():
    text = plan_text(maple())
    assert "OPEN BY Sat 20 Mar 2027, 10:30   book by Sat 20 Mar 2027, 10:00" in text
    assert "2 rolls" in text
    assert all(line == line.rstrip() for line in text.splitlines())


def test_explaining_gives_inputs_before_results():
    from tests.compose.reading import reckoned

    names = [row["figure"] for row in explain(reckoned("maple", "padded-limb-support"))]
    assert (
        names.index("distal_girth")
        < names.index("padding strip")
        < names.index("padding need")
        < names.index("padding rolls")
    )
    assert len(set(names)) > 20
