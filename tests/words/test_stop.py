"""The lines that must not be wrong are found by where they stand on the sheet."""

from __future__ import annotations

import pytest

from generator.translation.room import open_room
from generator.words.extract import from_phrases
from generator.words.stop import PARTS, PHRASES, stop_messages
from tests.conftest import ROOT


@pytest.fixture(scope="module")
def stops() -> set[str]:
    return {message.source for message in stop_messages(open_room(str(ROOT / "protocols")).said)}


@pytest.mark.parametrize(
    "line",
    [
        # by when, whom, what means now
        "We must change this bandage by", "This bandage comes off by", "Never later than {moment}.", "Cannot come?",
        "Go now, day or night", "Ring now, day or night", "All other hours", "Ring us. It cannot wait.",
        # signs of both levels, and what must never be done
        "The toes are cold, blue, grey or white.", "The bandage is wet, for any reason.", "Do not cut, loosen, tighten or tape it.",
        "Came off? Do not put it back. Ring us.", "Draft, not checked by a qualified person. The {language} text counts.",
    ],
)  # fmt: skip
def test_what_can_cost_a_leg_is_a_stop_line(line: str, stops: set[str]) -> None:
    assert line in stops


@pytest.mark.parametrize(
    "line",
    ["Dog", "Keep the cone on, also at night.", "page {page} of {pages}", "It limits swelling and gives support."],
)
def test_the_rest_is_not(line: str, stops: set[str]) -> None:
    assert line not in stops


def test_every_part_and_phrase_that_is_named_is_there() -> None:
    file = ROOT / "generator" / "compose" / "phrases.py"
    places = [place for m in from_phrases(file.read_text(encoding="utf-8"), "phrases.py") for place in m.places]
    assert {place.part.partition(":")[0] for place in places} >= PARTS
    assert {place.path.removeprefix("phrase:") for place in places} >= PHRASES
