"""The card of a pressure bandage and the bandage after it: both clocks on the first side, the next bandage on the second.

Kestrel's clocks are worked by hand in tests/reckon/test_sequence.py; the minutes are common practice.
"""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache

import pikepdf
import pytest

from generator.compose import floor_card, owner_sheet, plan_data, plan_digest, plan_text, sequence_card
from generator.compose.explain import explain
from generator.page.document import Document
from generator.page.tokens import SCALE
from generator.page.xhtml import Node
from generator.press import Pdf, press
from generator.protocol.animal import read_patient
from generator.protocol.model import Patient
from generator.reckon.plan import Plan
from generator.reckon.sequence import reckon_sequence
from generator.source.problem import Refusal
from generator.source.text import read_tree
from tests.compose.plans import ZONE, book, patient, templates
from tests.compose.reading import ENGLISH, body, named, said
from tests.press.accessible import backwards, faults, reading_order
from tests.press.geometry import POINTS_PER_MM, assert_sound, lines

# The longest content that a busy week may bring: two long names, a long file number, a site of two words.
LONGEST = """
patient: {name: Maximiliana Wilhelmina Featherstone-Hough, species: dog, weight: 22.5 kg, born: 2024-06-30, file_number: 2027-000142}
owner: {name: Alexandrina Montgomery-Castellanos, language: en}
limb: {site: right fore, distal_girth: 13 cm, proximal_girth: 19 cm, covered_length: 18 cm}
skin: wound
wound: {exudate: low}
reason: swelling
applied: 2027-03-14T01:50
first: yes
issued_by: Dr Bartholomew Featherstonehaugh
"""


def longest() -> Patient:
    tree = read_tree(LONGEST.encode(), "longest.yaml").tree
    assert tree is not None
    found, problems = read_patient(tree)
    assert found is not None, problems
    return found


def sequence(*then: str, who: Patient | None = None) -> Plan:
    animal = who or patient("kestrel")
    first, stored = named("pressure-bandage")
    assert stored is None
    parts, stored = named(*then)
    now = animal.applied.replace(tzinfo=ZONE) + timedelta(minutes=1)
    return reckon_sequence(first, parts, animal, book(), now, ZONE, then_stored=stored, zone_release="2026f")


@cache
def wound() -> Plan:
    return sequence("open-wound@inflammatory")


def card(plan: Plan | None = None) -> Document:
    return sequence_card(plan or wound(), templates())


def sides(document: Document) -> list[Node]:
    return [node for node in body(document.xhtml).elements("section") if "chapter" in node.classes]


def ids(node: Node) -> set[str]:
    return {inner.id for inner in node.walk() if inner.id is not None}


def in_order(text: str, *parts: str) -> None:
    """Each part stands in the text, after the one before it."""
    at = 0
    for part in parts:
        found = text.find(part, at)
        assert found >= 0, f"{part!r} is missing or out of order after {text[max(0, at - 60) : at]!r}"
        at = found + len(part)


def printed(pdf: Pdf, page: int) -> str:
    """The text of a page in the order it is painted, which is the order of the tree that is read aloud."""
    return re.sub(
        r"\s+", " ", " ".join(line.text for line in lines(pdf.data) if line.page == page and not line.furniture)
    )


# ---- the first side ---------------------------------------------------------------------------------------------


def test_both_clocks_stand_at_the_head_of_the_first_side() -> None:
    first, _ = sides(card())
    in_order(
        said(first),
        "Kestrel",
        "Clock one, now.", "Must be off by.", "Sun 14 Mar 2027, 03:10",
        "Clocks go forward before then.", "First on at 01:50.", "Release at 03:05 at the latest.",
        "Bleeds again?", "Press by hand. Call the clinician. Do not wrap again: the 20 minutes still count from 01:50. Clock two does not start.",
        "The clinician decides: tie off, explore or refer.",
        "01:50 on", "01:55 look, 5 min", "03:00 look, 10 min", "03:05 look, RELEASE, 15 min", "03:10 OFF BY, 20 min", "Watched by",
        "Clock two, next: Open limb wound (inflammatory)", "Bleeding stopped? The clinician sees the limb, then turn over.",
        "Open by Mon 15 Mar 2027, 03:05",
        "First check: Millrace Night Hospital, by Mon 15 Mar, 03:05",
        "Planned: counted from the release, 03:05.", "On earlier or later: print again. On at",
        "Fetch now", "haemostatic pad", "Fetch next:", "sterile absorbent pad",
        "Steps:", "Call the clinician to the table at once.", "Release the wrap, leaving the haemostatic pad in place. By 03:05.",
    )  # fmt: skip


def test_minutes_run_on_through_the_hour_that_comes_twice() -> None:
    # On 01:50 EDT = 05:50Z; the clocks go back at 06:00Z (New York, 7 November 2027), so that ten minutes later it is 01:00.
    first, second = sides(
        card(sequence("open-wound@inflammatory", who=replace(longest(), applied=datetime(2027, 11, 7, 1, 50))))
    )
    in_order(said(first), "Sun 7 Nov 2027, 01:10", "Clocks go back before then.", "First on at 01:50.", "Release at 01:05", "still count from 01:50",
             "01:50 on", "01:55 look, 5 min", "01:00 look, 10 min", "01:05 look, RELEASE, 15 min", "01:10 OFF BY, 20 min",
             # Little fluid takes the gel, three days at most: 72 h from 01:05 EST, at the same clock time.
             "Open by Wed 10 Nov 2027, 01:05", "counted from the release, 01:05")  # fmt: skip
    assert "count from the release, Sun 7 Nov, 01:05" in said(second)


def test_a_blank_is_left_for_the_time_at_which_the_next_bandage_really_went_on() -> None:
    first, second = sides(card())
    blanks = [said(node) for node in first.walk() if "blank" in node.classes]
    assert any(text.endswith("On at") for text in blanks)
    assert "On earlier or later: print again." in said(second)


def test_the_steps_of_the_pressure_bandage_are_all_there_with_their_boxes() -> None:
    first, _ = sides(card())
    text = said(first)
    for step in wound().bandage.steps:
        for words in (step.caution, step.do, step.check, step.if_not):
            assert words is None or words in text
    listed = [node for node in first.walk() if node.tag == "ol"]
    boxes = [node for one in listed for node in one.walk() if node.get("data-ticks")]
    assert len(boxes) == len(wound().bandage.steps)


def test_every_roll_of_both_is_fetched() -> None:
    first, _ = sides(card())
    text = said(first)
    now, after = (
        text[text.index("Fetch now") : text.index("Fetch next")],
        text[text.index("Fetch next") : text.index("Steps:")],
    )
    then = wound().then
    assert then is not None
    for plan, part in ((wound(), now), (then, after)):
        for layer in plan.layers:
            assert f"{int(layer.rolls.number)} " in part
            assert layer.layer.material is not None
            assert layer.layer.material in part


def test_hours_that_the_next_bandage_hangs_on_stand_beside_its_clock() -> None:
    # Tuesday 09:00, release 09:15: the look a day later is booked by 08:45 (tests/reckon/test_sequence.py).
    animal = replace(longest(), applied=datetime(2027, 3, 16, 9, 0))
    first, _ = sides(card(sequence("padded-limb-support", who=animal)))
    in_order(
        said(first),
        "Clock two",
        "Off by Fri 19 Mar 2027, 09:15",
        "Removal: book by Fri 19 Mar, 08:45",
        "First check: book by Wed 17 Mar, 08:45",
    )


# ---- the second side --------------------------------------------------------------------------------------------


def test_the_second_side_is_the_next_bandages_own_card() -> None:
    then = wound().then
    assert then is not None
    _, second = sides(card())
    text = said(second)
    alone = said(next(node for node in body(floor_card(then, templates()).xhtml).walk() if node.tag == "main"))
    in_order(
        text,
        "only once the bleeding has stopped and the clinician has seen the limb",
        "all times below count from the release, Sun 14 Mar, 03:05",
    )
    for words in (
        "Limits",
        "Take the bandage off at once.",
        "Watch log",
        "Mon 15 Mar, 03:05 first check, OPEN BY",
        "Change: 12 h to 24 h",
    ):
        assert words in alone
        assert words in text
    for step in then.bandage.steps:
        assert (step.do or step.check or "") in text


def test_the_pad_is_left_to_the_clinician_in_so_many_words_and_once() -> None:
    _, second = sides(card())
    words = "Leave the haemostatic pad and the clot, do not rinse: only the clinician lifts it and decides whether it stays under the sterile absorbent pad (common practice)."
    assert said(second).count(words) == 1


def test_one_paper_has_one_number_and_each_side_its_own_protocol() -> None:
    feet = [said(next(n for n in side.walk() if n.tag == "footer")) for side in sides(card())]
    assert all(plan_digest(wound()) in foot for foot in feet)
    assert "LB-HAE-001" in feet[0]
    assert "LB-WND-001" in feet[1]
    assert plan_digest(wound()) != plan_digest(replace(wound(), then=None))


# ---- on paper ---------------------------------------------------------------------------------------------------

NEXT = [("open-wound@inflammatory",), ("open-wound@proliferative",), ("padded-limb-support",)]


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("then", NEXT, ids=lambda names: "+".join(names))
def test_each_bandage_has_its_side_whatever_the_names(then: tuple[str, ...], paper: str) -> None:
    document = card(sequence(*then, who=longest()))
    pdf = press(replace(document, paper=paper))
    first, second = sides(document)
    assert {pdf.page_of[name] for name in ids(first) if name in pdf.page_of} == {1}
    assert {pdf.page_of[name] for name in ids(second) if name in pdf.page_of} == {2}
    assert pdf.pages == 2
    assert pdf.size * SCALE["large"].factor >= 11
    assert_sound(pdf.data, margin_mm=10, smallest=9)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("then", ["heavy-padded-limb", "open-fracture-before-fixation"])
def test_the_first_side_stays_one_side_where_the_next_bandages_watch_log_needs_two(then: str, paper: str) -> None:
    # Looked at every four hours on the ward: with these names a card of its own takes two sides as well.
    document = card(sequence(then, who=longest()))
    pdf = press(replace(document, paper=paper))
    first, second = sides(document)
    assert {pdf.page_of[name] for name in ids(first) if name in pdf.page_of} == {1}
    assert 1 not in {pdf.page_of[name] for name in ids(second) if name in pdf.page_of}
    assert pdf.pages <= 3


def test_what_is_read_aloud_comes_in_the_order_of_need() -> None:
    pdf = press(card())
    assert pdf.pages == 2
    in_order(
        printed(pdf, 1),
        "Kestrel",
        "Clock one, now.",
        "03:10",
        "Bleeds again?",
        "Do not wrap again",
        "Clock two, next:",
        "Fetch now",
        "Fetch next",
        "Steps",
        "Take the bandage off at once",
    )
    in_order(printed(pdf, 2), "only once the bleeding has stopped", "Kestrel", "Open by", "Fetch", "Steps", "Watch log")


def test_the_card_is_read_aloud_without_fault_or_going_back() -> None:
    with pikepdf.open(io.BytesIO(press(card()).data)) as pdf:
        assert faults(pdf) == []
        assert backwards(reading_order(pdf)) == 0


def test_clocks_and_what_to_do_if_it_bleeds_again_stand_in_the_upper_third() -> None:
    pdf = press(card())
    words = {"Clock one, now.": None, "Clock two, next:": None, "Bleeds again?": None}
    for line in lines(pdf.data):
        for key in words:
            if line.page == 1 and key in line.text:
                words[key] = line
    found = [line for line in words.values() if line is not None]
    assert len(found) == 3
    assert all(line.baseline > 279.4 * POINTS_PER_MM * 2 / 3 for line in found)
    # Side by side: nobody looks for the second below the first.
    assert abs(found[0].baseline - found[1].baseline) < 6
    assert found[1].x0 > found[0].x1


# ---- as data, as text, for owners -------------------------------------------------------------------------------


def test_the_plan_as_data_holds_what_follows_and_says_from_when_it_counts() -> None:
    data = plan_data(wound())
    then = data["then"]
    assert then["counted_from"] == "release"
    assert then["planned"] is True
    assert then["applied"] == "2027-03-14T03:05-04:00"
    assert then["deadline"] == {"kind": "change", "due": "2027-03-15T03:05-04:00", "slot": None}
    assert [p["slug"] for p in then["protocols"]] == ["open-wound"]
    assert {"layers", "events", "remove_by", "go_home", "decided_by", "notes", "course"} <= set(then)
    assert not {"patient", "digests", "then"} & set(then)
    assert plan_data(replace(wound(), then=None))["then"] is None


def test_the_plan_as_text_tells_both_in_order() -> None:
    text = plan_text(wound())
    in_order(
        text,
        "Kestrel",
        "OFF BY Sun 14 Mar 2027, 03:10",
        "THEN, only once the bleeding has stopped",
        "counted from the release, Sun 14 Mar 2027, 03:05",
        "OPEN BY Mon 15 Mar 2027, 03:05",
    )
    assert text.count("sheet ") == 1


def test_the_working_of_both_is_explained() -> None:
    figures = [row["figure"] for row in explain(wound())]
    assert "release due" in figures
    assert "then change due" in figures


def test_the_owner_gets_no_sheet_and_staff_are_told_which_to_print() -> None:
    with pytest.raises(Refusal) as stopped:
        owner_sheet(wound(), ENGLISH, ENGLISH, templates())
    (problem,) = stopped.value.problems
    assert problem.name == "never-goes-home"
    assert "print the sheet for the bandage that follows once that one is on" in problem.fix
