"""Composed documents keep to their sides once they are pressed."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from generator.compose import floor_card, owner_sheet
from generator.page.tokens import SCALE
from generator.press import press
from generator.reckon.plan import Event
from generator.words.catalogue import load_words
from tests.compose.plans import ZONE, at, maple, templates
from tests.compose.reading import DEMO, ENGLISH, GOES_HOME, reckoned, spanish


@pytest.mark.parametrize("who", DEMO)
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_a_floor_card_is_one_side(who: str, paper: str) -> None:
    document = floor_card(reckoned(who, *DEMO[who]), templates())
    pdf = press(replace(document, paper=paper))
    assert pdf.pages == 1
    # Steps are `large`: a fifth above the body; the patient's line is `display`. At least 12 and 18 points.
    assert pdf.size * SCALE["large"].factor >= 12
    assert pdf.size * SCALE["display"].factor >= 18


def test_a_week_on_the_ward_has_its_log_on_the_second_side_and_all_else_on_the_first() -> None:
    plan = maple()
    begun, end = plan.applied.timestamp(), at("2027-03-20T10:30").timestamp()
    times = [datetime.fromtimestamp(begun + 4 * 3600 * n, ZONE) for n in range(1, 42) if begun + 4 * 3600 * n < end]
    looks = tuple(Event("watch", None, when, when, "ward", "check_every") for when in times)
    document = floor_card(replace(plan, events=(*looks, *plan.events)), templates())
    pdf = press(document)
    assert pdf.pages == 2
    assert {
        pdf.page_of[name] for name in document.sources if name.startswith(("step.", "sign.")) and name in pdf.page_of
    } == {1}


@pytest.mark.parametrize("who", GOES_HOME)
def test_an_owners_sheet_is_two_sides_at_most_with_what_is_urgent_on_the_first(who: str) -> None:
    document = owner_sheet(reckoned(who, *DEMO[who]), ENGLISH, ENGLISH, templates())
    pdf = press(document)
    assert pdf.pages <= 2
    assert pdf.size >= 12
    urgent = [name for name in document.sources if name.startswith("sign.")] + ["phone", "phone.2", "deadline"]
    assert {pdf.page_of[name] for name in urgent if name in pdf.page_of} == {1}
    assert any(name.startswith("sign.") for name in pdf.page_of)


def test_a_draft_keeps_deadline_and_go_now_on_the_first_side() -> None:
    pdf = press(owner_sheet(maple(), spanish(), ENGLISH, templates()))
    assert pdf.pages <= 4
    assert pdf.size == 12
    emergency = [f"sign.{sign.id}" for sign in maple().signs if sign.urgency == "emergency"]
    assert [pdf.page_of[name] for name in emergency] == [1] * len(emergency)


@pytest.mark.parametrize("language", ["ar", "vi", "ht"])
def test_a_language_without_words_still_prints_in_its_own_direction(language: str) -> None:
    # Right-to-left layout with whole English lines inside it.
    assert press(owner_sheet(maple(), load_words(language), ENGLISH, templates())).pages <= 4
