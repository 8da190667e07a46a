"""The watch table: its clock is that of a plan, its columns those of the floor card's log, and no row leaves the late case open."""

from __future__ import annotations

import re

import pytest

from generator.compose.card_log import log_table
from generator.compose.writer import Writer
from generator.reckon.plan import Event, Plan
from tests.compose.chapters import inside, rows, section
from tests.compose.plans import book
from tests.compose.reading import DEMO, reckoned, said


def watch_tables(slug: str) -> list[list[list[str]]]:
    return [rows(table) for table in inside(slug, 9, "table") if "grid" in table.classes]


def hours(event: Event, plan: Plan) -> float:
    return (event.due.timestamp() - plan.applied.timestamp()) / 3600


def test_every_chapter_has_its_watch_table_before_its_warning_signs() -> None:
    for slug, protocol in book().protocols.items():
        assert watch_tables(slug)
        tags = [said(node) for node in section(slug, 9) if node.tag == "h3"]
        assert tags[-1] == "Warning signs, by how fast" or protocol.stages
        assert "Warning signs, by how fast" in tags


@pytest.mark.parametrize("who", ["sorrel", "rowan", "pollen"])
def test_times_from_the_start_are_those_of_a_plan(who: str) -> None:
    # Of these patients' protocols; what a modifier of the patient tightens is the card's business and is left out here.
    names = DEMO[who]
    plan = reckoned(who, *names)
    limits = plan.bandage.limits
    words = {row[1].partition(",")[0]: row[0] for table in watch_tables(names[0]) for row in table[1:]}
    assert limits.first_check is not None
    assert limits.check_every is not None
    assert words["first check"] == str(limits.first_check)
    assert words["look"] == f"by {limits.check_every.interval}, then every {limits.check_every.interval}"
    check = plan.first("check")
    if check is not None and plan.limits.first_check == limits.first_check:
        assert words["first check"].endswith(f"{hours(check, plan):g} h")


def test_minutes_of_a_pressure_bandage_are_those_of_its_plan() -> None:
    # Across the change of the clocks too: kestrel's goes on at ten to two, and elapsed minutes do not care.
    plan = reckoned("kestrel", "pressure-bandage")
    (table,) = watch_tables("pressure-bandage")
    found = {row[0].split()[0]: row[1].partition(", technician")[0] for row in table[1:]}
    moments = sorted({round((event.due.timestamp() - plan.began.timestamp()) / 60) for event in plan.events})
    assert list(found) == ["0", *map(str, moments)]
    # Every five minutes, released at 15, off by 20 (common practice; trade's ceiling).
    assert found == {"0": "it goes on", "5": "look", "10": "look", "15": "look, RELEASE", "20": "OFF"}


@pytest.mark.parametrize("who", [who for who in DEMO if who != "brindle"])
def test_columns_are_those_of_the_cards_log(who: str) -> None:
    names = DEMO[who]
    (table, *_) = watch_tables(names[0].partition("@")[0])
    assert table[0][3:-1] == log_table(reckoned(who, *names), Writer())["columns"]


def test_each_row_says_by_whom_and_what_if_it_cannot_be_met() -> None:
    for slug in book().protocols:
        for head, first, *others in watch_tables(slug):
            assert head[:3] == ["When", "What, by whom", "By (clock)"]
            assert first[0].startswith("0 ")
            for row in others:
                assert re.search(r", (technician|staff|owner)", row[1]), (slug, row)
                assert row[-1], (slug, row)
                # Clock times and ticks are written in by hand.
                assert not any(row[2:-1])


def test_what_is_right_stands_above_the_table() -> None:
    for slug in book().protocols:
        text = " ".join(said(node) for node in section(slug, 9))
        for table in watch_tables(slug):
            for column in table[0][3:-1]:
                assert f"{column.lower()}: " in text, (slug, column)
        assert "Not right: act by the signs under this table" in text


def test_staged_wounds_have_a_table_a_stage_that_differs() -> None:
    headings = [said(node) for node in section("open-wound", 9) if node.tag == "h3"]
    assert headings[:-1] == ["Stage: inflammatory", "Stage: proliferative", "Stage: maturation"]


def test_an_end_that_is_no_clock_time_is_in_the_table_too() -> None:
    for slug, protocol in book().protocols.items():
        end = protocol.limits.remove_when
        if end is not None and not protocol.stages and not protocol.blend:
            (table,) = watch_tables(slug)
            assert any(row[0] == f"when {end}" and row[1].startswith("OFF") for row in table)
