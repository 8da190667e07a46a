"""What falls due is told by month and in a calendar file that any calendar reads (ISO/IEC 17025:2017 8.3.2 b; RFC 5545)."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date, timedelta
from pathlib import Path

import icalendar
import pytest

from tests.cli.running import run
from tests.conftest import ROOT

Capture = pytest.CaptureFixture[str]
AT = ("--now", "2027-12-20T09:00")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    return tmp_path


def written(name: str) -> dict[str, date]:
    """`review_by` of every protocol as it stands in its file, by number."""
    found = {}
    for file in (ROOT / "protocols").glob("*.yaml"):
        text = file.read_text(encoding="utf-8")
        number, day = re.search(r"^id: (\S+)", text, re.M), re.search(rf"^{name}: (\S+)", text, re.M)
        if number and day:
            found[number[1]] = date.fromisoformat(day[1])
    return found


def rows(book: Path, capsys: Capture, *more: str) -> list[dict[str, object]]:
    ran = run(["reviews", "--format", "json", *more], capsys, book)
    assert ran.status == 0, ran.err
    return list(json.loads(ran.out)["reviews"])


def test_every_review_is_told_on_the_day_that_stands_in_its_file(book: Path, capsys: Capture) -> None:
    told = {row["id"]: row["on"] for row in rows(book, capsys, *AT) if row["what"] == "review"}
    assert told == {number: day.isoformat() for number, day in written("review_by").items()}
    assert len(told) == 24


def test_what_is_overdue_comes_first_and_always_counts(book: Path, capsys: Capture) -> None:
    ran = run(["reviews", "--months", "0", "--now", "2028-02-10T09:00"], capsys, book)
    assert ran.status == 0
    first, *lines = ran.out.split("\n\n")[0].splitlines()
    assert first == "OVERDUE"
    overdue = sorted((day, number) for number, day in written("review_by").items() if day < date(2028, 2, 10))
    assert [tuple(line.split()[:2]) for line in lines] == [(day.isoformat(), number) for day, number in overdue]
    assert "February 2028" in ran.out
    assert "March 2028" not in ran.out


def test_a_month_is_the_whole_of_it(book: Path, capsys: Capture) -> None:
    until = max(row["on"] for row in rows(book, capsys, "--months", "2", *AT))  # type: ignore[type-var]
    assert until == max(day for day in written("review_by").values() if day <= date(2028, 2, 29)).isoformat()


def test_a_revision_that_awaits_approval_keeps_the_review_of_the_words_that_count(book: Path, capsys: Capture) -> None:
    run(["revise", "LB-SUP-002", "--why", "x", "--change", "y", *AT], capsys, book)
    own = {row["what"]: row for row in rows(book, capsys, *AT) if row["id"] == "LB-SUP-002"}
    assert (own["review"]["on"], own["review"]["revision"]) == ("2028-01-31", 4)
    assert (own["approval"]["on"], own["approval"]["revision"]) == ("2027-12-20", 5)


def test_a_revision_to_come_is_told_on_the_day_it_comes_into_force(book: Path, capsys: Capture) -> None:
    run(["revise", "LB-SUP-002", "--why", "x", "--change", "y", *AT], capsys, book)
    run(["approve", "LB-SUP-002", "--by", "Dr M. Tamsin", "--effective", "2028-01-03", *AT], capsys, book)
    own = {row["what"]: row["on"] for row in rows(book, capsys, *AT) if row["id"] == "LB-SUP-002"}
    assert own["in force"] == "2028-01-03"
    assert "approval" not in own


def test_who_is_not_trained_on_the_revision_that_counts_is_named_once_a_document(book: Path, capsys: Capture) -> None:
    (own,) = [row for row in rows(book, capsys, *AT) if row["what"] == "training" and row["id"] == "LB-SUP-002"]
    people = re.findall(
        r"\{name: ([^,]+), protocol: LB-SUP-002, revision: 4, .*competent: ",
        (ROOT / "protocols" / "training.yaml").read_text(encoding="utf-8"),
    )
    assert people
    assert own["revision"] == 4
    assert not [name for name in people if name in str(own["text"])]
    # Trained on revision 3 only, and who has read revision 4 and shown nothing.
    assert "S. Yilmaz" in str(own["text"])
    assert "P. Nakoa" in str(own["text"])
    ran = run(["reviews", *AT], capsys, book)
    assert ran.out.count("Training due") == 1


def events(book: Path) -> list[icalendar.Event]:
    return list(icalendar.Calendar.from_ical((book / "output" / "reviews.ics").read_bytes()).walk("VEVENT"))


def test_the_calendar_holds_what_is_listed_as_whole_days_with_an_alarm(book: Path, capsys: Capture) -> None:
    listed = rows(book, capsys, *AT)
    found = events(book)
    assert [event["dtstart"].dt.isoformat() for event in found] == [row["on"] for row in listed]
    for event in found:
        # RFC 5545, 3.6.1: the end of a whole day is the day after, and is not in it.
        assert event["dtend"].dt - event["dtstart"].dt == timedelta(days=1)
        assert event["dtstart"].params["VALUE"] == "DATE"
        (alarm,) = event.walk("VALARM")
        assert alarm["trigger"].dt == timedelta(days=-14)
    assert len({str(event["uid"]) for event in found}) == len(found)


def test_the_file_keeps_to_the_form_of_its_standard(book: Path, capsys: Capture) -> None:
    rows(book, capsys, *AT)
    data = (book / "output" / "reviews.ics").read_bytes()
    # RFC 5545, 3.1: lines end in CR LF and have at most 75 octets; 3.6: PRODID and VERSION once each.
    assert data.count(b"\n") == data.count(b"\r\n")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert data.count(b"\r\nPRODID:") == data.count(b"\r\nVERSION:2.0") == 1


def test_taken_in_again_an_event_is_moved_not_doubled(book: Path, capsys: Capture) -> None:
    rows(book, capsys, *AT)
    before = {str(event["uid"]): (event["dtstart"].dt, int(event["sequence"])) for event in events(book)}
    rows(book, capsys, "--now", "2027-12-21T09:00")
    after = {str(event["uid"]): (event["dtstart"].dt, int(event["sequence"])) for event in events(book)}
    assert set(before) == set(after)
    assert all(after[uid][1] > before[uid][1] for uid in before)


def test_the_same_day_gives_the_same_bytes(book: Path, capsys: Capture) -> None:
    rows(book, capsys, *AT)
    once = (book / "output" / "reviews.ics").read_bytes()
    rows(book, capsys, *AT)
    assert (book / "output" / "reviews.ics").read_bytes() == once
