"""The owner's sheet: what stands where, what never stands there, and what is refused."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.compose import owner_sheet, plan_digest
from generator.compose.days import day_strip
from generator.compose.voice import Voice
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.reckon.plan import Event, Plan
from generator.source.problem import Refusal
from generator.words.local import Local
from tests.compose.plans import at, book, kestrel, maple, templates
from tests.compose.reading import (
    DEMO,
    ELSEWHERE,
    ENGLISH,
    GOES_HOME,
    bare,
    body,
    main,
    reckoned,
    said,
    texts_outside,
    with_class,
)


def sheet(plan: Plan, **more: bool) -> Document:
    return owner_sheet(plan, ENGLISH, ENGLISH, templates(), **more)


def test_first_things_first():
    # Order of need: whose, by when, go now, ring now, whom to ring, the days (common practice for go-home sheets).
    text = said(main(sheet(maple()).xhtml))
    order = ["Maple", "Bandage on the left back leg", "We must change this bandage by", "Saturday, March 20, 2027", "Go now, day or night", "Ring now, day or night",
             "(802) 555-0142", "First check", "Every day", "Do not tie the cover"]  # fmt: skip
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_deadline_box_gives_slot_latest_and_end():
    # Worked example: change slot 10:00, due 10:30 on Saturday 20 March; off by Saturday 27 March.
    box = said(with_class(main(sheet(maple()).xhtml), "deadline")[0])
    assert "Come at 10:00 AM. Never later than 10:30 AM." in box
    assert "The last bandage comes off by Saturday, March 27." in box
    assert "Cannot come? Ring us. It cannot wait." in said(main(sheet(maple()).xhtml))


def test_deadline_moment_survives_as_iso_time():
    times = [
        node.get("datetime")
        for node in main(sheet(maple()).xhtml).walk()
        if node.tag == "time" and node.id == "deadline"
    ]
    assert times == ["2027-03-20T10:00-04:00"]


def test_booked_time_goes_before_the_slot():
    plan = maple()
    assert plan.deadline is not None
    booked = replace(plan.deadline, booked=at("2027-03-19T15:00"))
    box = said(with_class(main(sheet(replace(plan, deadline=booked)).xhtml), "deadline")[0])
    assert "Friday, March 19, 2027" in box
    assert "Come at 3:00 PM. Never later than Saturday, March 20, 10:30 AM." in box


def test_removal_has_a_headline_of_its_own():
    text = said(main(sheet(reckoned("rowan", *DEMO["rowan"])).xhtml))
    assert "This bandage comes off by" in text
    assert "We must change" not in text


def test_first_check_on_a_closed_day_names_the_emergency_place_and_its_address():
    text = said(main(sheet(maple()).xhtml))
    assert "First check: by Sunday, March 14, 2027, 11:30 AM, at Millrace Night Hospital." in text
    assert "Millrace Night Hospital, 200 Dam Road" in text


def test_no_opening_is_said_plainly():
    plan = maple()
    assert plan.deadline is not None
    shut = replace(plan.deadline, slot=None, where="clinic")
    assert "We have no opening in time. Ask us before you go home." in said(
        main(sheet(replace(plan, deadline=shut)).xhtml)
    )


def test_strip_tells_of_the_change_of_clocks():
    from generator.page.paths import Label

    document = sheet(maple())
    name = next(
        node.get("data-drawing")
        for node in main(document.xhtml).walk()
        if node.get("data-drawing").startswith("drawing.days")
    )
    picture = document.drawings[name](480, lambda text, size, bold: len(text) * size * 0.5)
    words = [operation.text for operation in picture.operations if isinstance(operation, Label)]
    # New York, 14 March 2027: clocks go forward (IANA time zone database).
    assert "Clocks go forward" in words
    assert words.count("13") == words.count("20") == 1


def test_a_look_at_midnight_has_its_box_on_the_day_it_is_said_for():
    # Bandaged at midnight, looked at every twelve hours: the look at 11:59 PM on Tuesday is Tuesday's second (and not a
    # third on the day that the bandage comes off at six, before which that day has a noon alone).
    looks = [at(f"2028-03-0{day}T{clock}") for day in (1, 2, 3) for clock in ("00:00", "12:00")]
    plan = maple()
    assert plan.deadline is not None
    watches = tuple(
        Event("watch", None, when, when, "home", "check_every") for when in (at("2028-02-29T12:00"), *looks)
    )
    off = replace(plan.deadline, due=at("2028-03-03T18:00"), slot=at("2028-03-03T17:30"))
    on = at("2028-02-29T00:00")
    plan = replace(plan, applied=on, began=on, now=on, events=(*watches, off), deadline=off)
    local = Local("en", "US")
    strip = day_strip(plan, Voice(ENGLISH, ENGLISH, local, local, Writer()), from_right=False, shows_toes=True)
    assert [(day.number, day.boxes) for day in strip.days] == [("29", 2), ("1", 2), ("2", 2), ("3", 1)]
    assert "Times to look: 12:00 noon, 11:59 PM." in said(main(sheet(plan).xhtml))


@pytest.mark.parametrize("who", GOES_HOME)
def test_english_stays_under_350_words(who):
    # Limit of the house for an owner's sheet; names and figures are not words to read.
    text = re.sub(
        "\u2068[^\u2069]*\u2069",
        "",
        " ".join(texts_outside(main(sheet(reckoned(who, *DEMO[who])).xhtml), "time", "data", "a")),
    )
    assert len(re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)?", text)) <= 350


@pytest.mark.parametrize("who", GOES_HOME)
def test_no_pressure_no_rolls_no_material_reaches_an_owner(who):
    plan = reckoned(who, *DEMO[who])
    text = said(body(sheet(plan).xhtml))
    assert "mmHg" not in text
    assert " roll" not in text
    for layer in plan.layers:
        assert not layer.layer.material or layer.layer.material not in text


def test_every_sign_of_the_plan_is_there_once():
    # All of the book's signs, of every urgency: none may be lost for want of a place.
    plan = replace(maple(), signs=tuple(book().signs.values()))
    lines = [said(node) for node in main(sheet(plan).xhtml).walk() if node.tag == "li"]
    for sign in plan.signs:
        assert lines.count(sign.owner.replace("{pet}", "Maple")) == 1


def test_one_telephone_link_for_each_line_with_the_printed_digits():
    links = {bare(node.plain()): node.get("href") for node in main(sheet(maple()).xhtml).walk() if node.tag == "a"}
    assert links == {"(802) 555-0142": "tel:+18025550142", "(802) 555-0178": "tel:+18025550178"}


def test_foot_identifies_the_sheet():
    foot = said(next(node for node in body(sheet(maple()).xhtml).walk() if node.tag == "footer"))
    assert "LB-SUP-002 revision 4" in foot
    assert f"sheet {plan_digest(maple())}" in foot
    assert "issued 10:40 AM UTC-05:00" in foot
    assert "Going home Saturday, March 13, 2027" in said(body(sheet(maple()).xhtml))
    assert "T. Arkady" in foot


def test_a_later_sheet_says_that_older_ones_are_void():
    assert "This sheet replaces the earlier one." not in said(body(sheet(maple()).xhtml))
    again = replace(maple(), began=at("2027-03-06T09:00"))
    assert "This sheet replaces the earlier one." in said(body(sheet(again).xhtml))


def test_rest_is_spelled_out_in_numbers():
    text = said(main(sheet(maple()).xhtml))
    assert "Walk on a lead only: 4 a day." in text
    assert "Each walk: 5 minutes at most." in text
    assert "Keep the lead short: 2 m at most." in text


def test_a_cat_stays_in_and_walks_on_no_lead():
    text = said(main(sheet(reckoned("juniper", *DEMO["juniper"])).xhtml))
    assert "Keep Juniper indoors." in text
    assert "lead" not in text


def test_clinics_copy_asks_back_and_has_room_to_sign():
    text = said(main(sheet(maple(), clinic_copy=True).xhtml))
    for words in (
        "Show me where you will look.",
        "When do you bring Maple back?",
        "What would make you ring at night?",
        "Owner",
        "The clocks change",
    ):
        assert words in text


def test_nothing_that_stops_bleeding_goes_home():
    with pytest.raises(Refusal) as stopped:
        sheet(kestrel())
    (problem,) = stopped.value.problems
    assert problem.name == "never-goes-home"
    assert problem.span.file == "protocols/pressure-bandage.yaml"


def test_what_stays_in_the_clinic_gets_no_sheet():
    with pytest.raises(Refusal) as stopped:
        sheet(reckoned("brindle", *DEMO["brindle"]))
    assert [problem.name for problem in stopped.value.problems] == ["stays-in-the-clinic"]


def test_what_is_only_planned_gets_no_sheet():
    plan = maple()
    with pytest.raises(Refusal) as stopped:
        sheet(replace(plan, patient=replace(plan.patient, is_planned=True)))
    assert [problem.name for problem in stopped.value.problems] == ["not-on-yet"]


def test_a_hostile_name_stays_text():
    plan = maple()
    evil = replace(plan.patient, name="<b>{{ 7*7 }}</b> & {pet}")
    document = sheet(replace(plan, patient=evil))
    assert "<b>{{ 7*7 }}</b> & {pet}" in said(main(document.xhtml))


def test_same_plan_same_bytes():
    assert sheet(maple()).xhtml == sheet(maple()).xhtml


def pictures(document: Document) -> list[str]:
    return [node.get("data-drawing").split(".")[1] for node in main(document.xhtml).walk() if node.get("data-drawing")]


@pytest.mark.parametrize(("site", "slug"), ELSEWHERE.items())
def test_where_there_are_no_toes_none_are_asked_for(site, slug):
    document = sheet(reckoned("maple", slug, site=site))
    text = said(main(document.xhtml))
    days = next(n for n in main(document.xhtml).walk() if n.get("data-drawing").startswith("drawing.days"))
    assert "toes" not in pictures(document)
    assert "toe" not in days.get("data-alt").lower()
    # A figure-of-eight round the forelimbs can strangle the paws: their signs stay.
    for sign in (
        "The toes swell, or the nails spread apart.",
        "The toes are cold, blue, grey or white.",
        "The toes do not move when touched.",
    ):
        text = text.replace(sign, "")
    assert "toe" not in text.lower()
    assert "Look and sniff once for each box." in text


@pytest.mark.parametrize(
    ("site", "slug"), [*ELSEWHERE.items(), ("left hind", "splinted-limb"), ("left hind", "robinson-sling")]
)
def test_the_code_for_a_phone_is_there_once(site, slug):
    assert pictures(sheet(reckoned("maple", slug, site=site))).count("code") == 1


def test_a_first_check_that_is_over_sends_nobody_back():
    # The first look under a head bandage is within the hour (common practice): before the animal leaves.
    before = said(main(sheet(reckoned("maple", "head-bandage", site="head")).xhtml))
    after = said(main(sheet(reckoned("maple", "head-bandage", site="head", minutes=90)).xhtml))
    assert "Maple stays here until the first check at 11:30 AM." in before
    assert "come to us" not in before
    assert "irst check" not in after
