"""Write the visits of a plan as a calendar file, and one visit for a code.

Takes  a `Plan` and the words of a language.
Gives  `visits`: an iCalendar file in UTC; `visit_code`: one event short enough for a QR code.
Knows  RFC 5545; icalendar is loaded on use.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from generator.compose.data import plan_digest
from generator.compose.phrases import PHRASES
from generator.reckon.plan import Event, Plan
from generator.words.catalogue import Words
from generator.words.fields import plain

VISITS = {
    "check": "visit-first-check",
    "recheck": "visit-recheck",
    "change": "visit-change",
    "removal": "visit-removal",
}
# The alarms before a visit: the day before, to find a lift; two hours before, to set out.
_ALARMS = (timedelta(hours=24), timedelta(hours=2))
MOST_CODE_BYTES = 250  # a QR code of module 0.4 mm stays under 25 mm


def visits(plan: Plan, words: Words) -> bytes:
    """Every visit of the plan as an event; a visit without a slot is entered at the moment it is due, at the latest.

    Returns:
        An iCalendar file, UTF-8, lines ended by CR LF; the same bytes for the same plan.
    """
    from icalendar import Alarm, Calendar
    from icalendar import Event as Entry

    calendar = Calendar()
    calendar.add("prodid", "-//gauzeleaf//visits//EN")
    calendar.add("version", "2.0")
    sheet = plan_digest(plan)
    for index, event in enumerate(planned_visits(plan)):
        start, end = _span(event, plan)
        entry = Entry()
        entry.add("uid", f"{sheet}-{index}-{event.kind}@gauzeleaf")
        entry.add("dtstamp", plan.now.astimezone(UTC))
        entry.add("dtstart", start)
        entry.add("dtend", end)
        entry.add("sequence", int(plan.now.timestamp()) // 60)
        entry.add("summary", _summary(event, plan, words))
        entry.add("location", ", ".join(_place(event, plan)))
        for before in _ALARMS:
            alarm = Alarm()
            alarm.add("action", "DISPLAY")
            alarm.add("description", _summary(event, plan, words))
            alarm.add("trigger", -before)
            entry.add_component(alarm)
        calendar.add_component(entry)
    return bytes(calendar.to_ical())


def planned_visits(plan: Plan) -> tuple[Event, ...]:
    """The visits somebody must bring the animal to, in order of time."""
    found = [event for event in plan.events if event.kind in VISITS and event.where in ("clinic", "emergency place")]
    return tuple(sorted(found, key=lambda event: event.headline.astimezone(UTC)))


def visit_code(event: Event, plan: Plan, words: Words) -> str | None:
    """One event as text for a code; None where it would need more than 250 bytes."""
    start, end = _span(event, plan)
    summary = _summary(event, plan, words).translate({ord(c): f"\\{c}" for c in "\\;,"})
    text = f"BEGIN:VEVENT\r\nSUMMARY:{summary}\r\nDTSTART:{_utc(start)}\r\nDTEND:{_utc(end)}\r\nEND:VEVENT\r\n"
    return text if len(text.encode()) <= MOST_CODE_BYTES else None


def _summary(event: Event, plan: Plan, words: Words) -> str:
    """`Maple: new bandage`; the name first, since a phone shows only the start."""
    return f"{plan.patient.name}: {plain(words.say(PHRASES[VISITS[event.kind]]).text, {})}"


def _span(event: Event, plan: Plan) -> tuple[datetime, datetime]:
    """From the hour to come until the visit is over, never past the moment it is due; at least a minute."""
    visit = timedelta(seconds=plan.book.clinic.visit)
    due = event.due.astimezone(UTC)
    start = event.headline.astimezone(UTC)
    if event.booked is None and event.slot is None:
        start = max(due - visit, event.opens.astimezone(UTC)) if event.opens else due - visit
    return start, max(min(start + visit, due), start + timedelta(minutes=1))


def _place(event: Event, plan: Plan) -> tuple[str, ...]:
    place = plan.book.clinic.emergency_place if event.where == "emergency place" else plan.book.clinic
    return place.name, *place.address


def _utc(moment: datetime) -> str:
    return moment.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
