"""Visits as a calendar file: UTC, stable, with alarms (RFC 5545)."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from icalendar import Calendar

from generator.compose import visits
from generator.compose.calendar_file import MOST_CODE_BYTES, visit_code
from tests.compose.plans import maple
from tests.compose.reading import ENGLISH, spanish


def events(data: bytes) -> list:
    return Calendar.from_ical(data).walk("VEVENT")


def test_visits_are_in_utc_and_in_order():
    found = events(visits(maple(), ENGLISH))
    starts = [event.decoded("dtstart") for event in found]
    # Check due 11:30 -04:00 with no slot: entered half an hour before; change 10:00 -04:00; removal 10:00 -04:00.
    assert starts == [
        datetime(2027, 3, 14, 15, 0, tzinfo=UTC),
        datetime(2027, 3, 20, 14, 0, tzinfo=UTC),
        datetime(2027, 3, 27, 14, 0, tzinfo=UTC),
    ]
    assert b"DTSTART:20270320T140000Z" in visits(maple(), ENGLISH)
    assert b"TZID" not in visits(maple(), ENGLISH)


def test_no_event_ends_after_it_is_due():
    plan = maple()
    due = sorted(event.due for event in plan.events if event.kind in ("check", "change", "removal"))
    ends = [event.decoded("dtend") for event in events(visits(plan, ENGLISH))]
    assert all(end <= limit for end, limit in zip(ends, due, strict=True))


def test_uids_are_stable_and_apart():
    uids = [str(event["uid"]) for event in events(visits(maple(), ENGLISH))]
    assert len(set(uids)) == len(uids) == 3
    assert uids == [str(event["uid"]) for event in events(visits(maple(), spanish()))]


def test_each_visit_rings_beforehand():
    for event in events(visits(maple(), ENGLISH)):
        triggers = [alarm.decoded("trigger") for alarm in event.walk("VALARM")]
        assert triggers == [timedelta(hours=-24), timedelta(hours=-2)]


def test_lines_are_folded_to_75_octets():
    # RFC 5545, 3.1.
    assert all(len(line) <= 75 for line in visits(maple(), spanish()).split(b"\r\n"))


def test_place_is_the_one_that_is_open():
    check, change, _ = events(visits(maple(), ENGLISH))
    assert str(check["location"]) == "Millrace Night Hospital, 200 Dam Road, Tamarind Falls"
    assert str(change["location"]) == "Larkspur Bridge Animal Clinic, 14 Weir Street, Tamarind Falls"


def test_code_for_a_phone_is_short_and_says_which_visit():
    plan = maple()
    assert plan.deadline is not None
    text = visit_code(plan.deadline, plan, ENGLISH)
    assert text is not None
    assert len(text.encode()) <= MOST_CODE_BYTES
    assert "SUMMARY:Maple: New bandage\r\nDTSTART:20270320T140000Z\r\nDTEND:20270320T143000Z" in text


def test_a_long_name_gives_up_the_visit_for_the_telephone():
    from dataclasses import replace

    plan = maple()
    assert plan.deadline is not None
    assert visit_code(plan.deadline, replace(plan, patient=replace(plan.patient, name="M" * 250)), ENGLISH) is None
