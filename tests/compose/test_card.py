"""The floor card: what to fetch, in which order, when to stop, what to watch."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.compose import floor_card, owner_sheet, plan_digest
from generator.page.xhtml import Node
from tests.compose.plans import kestrel, maple, templates
from tests.compose.reading import DEMO, ENGLISH, body, main, reckoned, said, with_class


def card(plan=None) -> Node:
    return main(floor_card(plan or maple(), templates()).xhtml)


def rows(node: Node, kind: str) -> list[list[str]]:
    table = next(inner for inner in node.walk() if inner.tag == "table" and kind in inner.classes)
    return [[said(cell) for cell in row.elements()] for row in table.walk() if row.tag == "tr"][1:]


def test_fetch_list_in_layer_order_with_whole_rolls():
    # Worked example of maple: 2, 2 and 1 rolls; need up, spare down to whole cm.
    found = [row[1:] for row in rows(card(), "hairline")]  # after the box to tick
    assert found == [
        ["1 roll", "A porous tape", "2.5 cm, 2 × 26 cm", "58 cm", "842 cm"],
        ["1 piece", "B low-adherent pad", "", ""],
        ["2 rolls", "C cast padding", "7.5 cm, 3 passes", "538 cm", "194 cm"],
        ["2 rolls", "D conforming gauze", "7.5 cm, 2 passes", "314 cm", "130 cm"],
        ["1 roll", "F cohesive wrap", "7.5 cm, 1 pass", "211 cm", "14 cm only"],
    ]


def test_each_row_of_the_fetch_list_has_a_box_to_tick():
    table = next(inner for inner in card().walk() if inner.tag == "table" and "hairline" in inner.classes)
    body_rows = [row for row in table.walk() if row.tag == "tr"][1:]
    assert all(row.elements("td")[0].get("data-ticks") == "1" for row in body_rows)


def test_a_spare_under_a_tenth_is_called_tight():
    # 14.02 cm left of 210.98 cm needed is 6.6 %; padding leaves 36 %.
    text = said(card())
    assert "14 cm only" in text
    assert text.count(" only") == 1


def test_alternate_width_stands_with_its_rolls():
    assert "padding 5 cm, 3 rolls" in said(card())


def test_cautions_stand_before_the_step_they_guard():
    items = [node for node in card().walk() if node.tag == "li"]
    guarded = [item for item in items if with_class(item, "caution")]
    steps = [step for step in maple().bandage.steps if step.caution]
    assert len(guarded) == len(steps) > 0
    for item, step in zip(guarded, steps, strict=True):
        first, second = item.elements("p")[:2]
        assert said(first) == step.caution
        assert said(second).startswith(str(step.do))


def test_long_protocols_keep_the_order_on_one_line():
    plan = reckoned("brindle", *DEMO["brindle"])
    text = said(card(plan))
    for step in plan.bandage.steps:
        if step.caution and step.do:
            assert f"{step.caution} {step.do}" in text


def test_estimates_are_never_printed_as_measured():
    plan = maple()
    assert "Pressure, estimate, not measured:" in said(card(plan))
    assert "Measured:" in said(card(plan))
    guessed = replace(
        plan,
        limb=replace(plan.limb, trust="estimated"),
        pressure_because="limb-estimated",
        layers=tuple(replace(p, pressure=None) for p in plan.layers),
    )
    text = said(card(guessed))
    assert "Estimated by weight, nobody measured:" in text
    assert "Measured:" not in text
    assert "Pressure not estimated: nobody measured the limb." in text


def test_log_ends_at_the_deadline_in_bold():
    last = [row for row in card().walk() if row.tag == "tr"][-1]
    assert said(last).startswith("Sat 20 Mar, 10:30 OPEN BY")
    assert any(node.tag == "strong" for node in last.walk())
    times = [node.get("datetime") for node in last.walk() if node.tag == "time"]
    assert times == ["2027-03-20T10:30-04:00"]


def test_owners_looks_are_printed_with_their_clock_times():
    # Every 12 h elapsed from Saturday 10:30; from Sunday on an hour later by the clock.
    assert "Sat 13: 22:30; Sun 14 to Fri 19: 11:30, 23:30" in said(card())


def test_minute_table_counts_elapsed_minutes_over_the_change_of_clocks():
    # First on at 01:50; clocks jump from 02:00 to 03:00 (New York, 14 March 2027): 10 minutes later it is 03:00.
    found = [row[0] for row in rows(card(kestrel()), "grid")]
    assert found == [
        "01:50 on",
        "01:55 look, 5 min",
        "03:00 look, 10 min",
        "03:05 look, RELEASE, 15 min",
        "03:10 OFF BY, 20 min",
    ]


def test_timed_steps_carry_their_clock_time():
    text = said(card(kestrel()))
    assert "By 03:05." in text
    assert "By 03:10." in text


def test_looks_on_the_ward_stand_in_order_of_time():
    plan = reckoned("brindle", *DEMO["brindle"])
    table = next(node for node in card(plan).walk() if node.tag == "table" and "grid" in node.classes)
    times = [
        next(t.get("datetime") for t in row.walk() if t.tag == "time" and "T" in t.get("datetime"))
        for row in table.walk()
        if row.tag == "tr" and row.elements("td")
    ]
    assert times == sorted(times)


def test_card_and_sheet_carry_the_same_number_and_revision():
    number = plan_digest(maple())
    foot = said(next(node for node in body(floor_card(maple(), templates()).xhtml).walk() if node.tag == "footer"))
    sheet = said(
        next(
            node
            for node in body(owner_sheet(maple(), ENGLISH, ENGLISH, templates()).xhtml).walk()
            if node.tag == "footer"
        )
    )
    assert number in foot
    assert number in sheet
    assert "LB-SUP-002 rev 4" in foot


def test_bleeding_again_is_answered_and_restarts_nothing():
    text = said(card(kestrel()))
    assert "If it bleeds again: press by hand and call the clinician." in text
    assert "the minutes still count from 01:50" in text
    assert "First on at 01:50" in text
    assert "Release at 03:05 at the latest" in text


def test_every_look_on_the_ward_has_its_own_box_in_each_column():
    plan = reckoned("brindle", *DEMO["brindle"])
    table = next(node for node in card(plan).walk() if node.tag == "table" and "grid" in node.classes)
    for row in [row for row in table.walk() if row.tag == "tr" and row.elements("td")]:
        clocks = [node for node in row.walk() if node.tag == "time" and "T" in node.get("datetime")]
        boxes = [int(cell.get("data-ticks")) for cell in row.elements("td")[:-1]]
        assert boxes == [len(clocks)] * 4
    clocks = [node.get("datetime") for node in table.walk() if node.tag == "time" and "T" in node.get("datetime")]
    # On at 12:15, looked at every 4 h elapsed: an hour later by the clock after 02:00 (New York, 14 March 2027).
    assert clocks == [
        "2027-03-13T12:15-05:00", "2027-03-13T16:15-05:00", "2027-03-13T20:15-05:00", "2027-03-14T00:15-05:00",
        "2027-03-14T05:15-04:00", "2027-03-14T09:15-04:00", "2027-03-14T13:15-04:00",
    ]  # fmt: skip


def test_limits_say_who_decided_them():
    # The wound's part decides the change, a ticked condition the recheck.
    text = said(card(reckoned("brindle", "splint-over-granulating-wound")))
    assert "Change: 48 h to 72 h (LB-WND-001)" in text
    assert "Recheck: 12 h to 24 h (oedema)" in text


@pytest.mark.parametrize("who", DEMO)
def test_every_demo_patient_has_a_card_with_its_stop_rule(who):
    plan = reckoned(who, *DEMO[who])
    node = card(plan)
    box = said(next(inner for inner in node.walk() if inner.tag == "section" and "alarm" in inner.classes))
    for sign in plan.signs:
        if sign.urgency == "emergency":
            # Every word of it, though an act that several share stands once, above them.
            assert all(f"{part.rstrip('.')}." in box for part in sign.staff.split(". "))
    assert said(node).count("Take the bandage off at once.") == 1
    for limit in ("First check", "Look every", "Off by" if plan.limits.remove_by else "First check"):
        assert limit in said(node)


@pytest.mark.parametrize(
    ("site", "slug", "first"),
    [("tail", "tail-bandage", "Tail"), ("head", "head-bandage", "Breath"), ("left hind", "robinson-sling", "Toes")],
)
def test_the_watch_log_looks_at_what_this_bandage_can_harm(site, slug, first):
    node = card(reckoned("maple", slug, site=site))
    heads = [said(cell) for cell in node.walk() if cell.tag == "th"]
    assert [word for word in heads if word in ("Toes", "Tail", "Breath")] == [first]


def test_stirrups_on_a_limb_that_nobody_measured_come_from_a_roll():
    found = rows(card(reckoned("maple", "sling-after-incision", site="left fore", reason="sutured wound")), "hairline")
    assert found[0][1:3] == ["1 roll", "A porous tape"]
