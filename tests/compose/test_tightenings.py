"""The binder tells where this clinic is stricter than the trade: every such limit, none that is not."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from generator.compose import binder
from generator.page.xhtml import Node
from tests.compose.binders import ISSUED, chapters, rows
from tests.compose.plans import at, book, templates
from tests.compose.reading import body, said

HOURS = {"min": 1 / 60, "h": 1, "d": 24}


@cache
def found() -> list[list[str]]:
    return rows(chapters()["tightenings"])[1:]


def of(number: str, limit: str) -> list[list[str]]:
    return [row[2:] for row in found() if row[0].startswith(number) and row[1].startswith(limit)]


def hours(text: str) -> float:
    amount, unit = re.match(r"(\d+) (min|h|d)", text).groups()  # type: ignore[union-attr]
    return int(amount) * HOURS[unit]


def test_a_house_limit_stands_beside_the_ceiling_that_it_lowers():
    # clinic.yaml: slings off by ten days. The trade: a Velpeau sling at most 14 d (published 22), a 90-90 flexion sling 10 d
    # (from memory), which the house does not lower.
    assert of("LB-SLG-001", "Off for good") == [["14 d; published 22", "10 d", "house limit"]]
    assert not any(row[2] == "house limit" for row in of("LB-SLG-005", "Off for good"))


def test_a_procedures_own_limit_stands_beside_the_ceiling_that_it_lowers():
    # First look at a splint: within 48 h (common practice); here within 24 h.
    assert of("LB-SUP-003", "First check") == [["48 h; common practice", "24 h", "procedure; common practice"]]
    # A splint changed after 7 d at the latest (published 15), as here: not listed.
    assert of("LB-SUP-003", "Changed") == []


def test_an_end_that_hangs_on_the_reason_says_which():
    # Padded bandage: 14 d, here for swelling 3 d.
    assert [row[1] for row in found() if row[0].startswith("LB-SUP-002") and row[1].startswith("Off")] == [
        "Off for good, swelling"
    ]


def test_a_blend_keeps_the_shorter_ceiling_of_its_parts():
    # An open fracture is a splint (7 d, published 15) over an inflamed wound (72 h, published 30), changed daily until fixation.
    assert of("LB-BLD-001", "Changed") == [["72 h; published 30", "24 h", "procedure; published [63]"]]


def test_every_row_is_stricter_than_the_trade():
    assert len(found()) > 20
    assert all(hours(here) < hours(trade) for *_, trade, here, _ in found())


def test_without_house_limits_every_sling_stands_by_its_own():
    loose = replace(book(), clinic=replace(book().clinic, house_limits={}))
    document = binder(loose, templates(), at(ISSUED))
    chapter: Node = next(node for node in body(document.xhtml).walk() if node.id == "tightenings")
    assert "house limit" not in said(chapter)
