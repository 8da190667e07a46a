"""What falls due of a clinic's procedures: for the screen by month, as data, and as a calendar file.

Takes  matters that are due, the day or the moment.
Gives  `review_text`, `review_data`; `review_calendar`: an iCalendar file of all-day events.
Knows  RFC 5545; icalendar is loaded on use.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from itertools import groupby
from typing import Any

from generator.protocol.due import Due

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")  # fmt: skip
# Two weeks are enough to find an hour with a clinician (house rule).
_ALARM = timedelta(days=14)
_AFTER_REVIEW = 'After a review: gauzeleaf revise ID --why "review"; where nothing is to be changed, add --change none. Then approve.'
_SAYS = {"review": "Review", "in force": "In force", "approval": "Approve", "training": "Train"}


def review_text(matters: Sequence[Due], today: date) -> str:
    """By month, what is overdue first; each line with its day, number, title and what is to be done."""
    lines: list[str] = []
    # Who is to be trained is a list of its own: it has no month, and would bury what has one.
    matters = sorted(matters, key=lambda one: one.what == "training")
    for head, group in groupby(matters, key=lambda one: _head(one, today)):
        lines += [*([""] if lines else []), head]
        lines += [f"  {one.on}  {one.id} rev {one.revision}  {one.title}: {one.text}" for one in group]
    if any(one.what == "review" for one in matters):
        lines += ["", _AFTER_REVIEW]
    return "\n".join(lines) if lines else "Nothing falls due."


def _head(one: Due, today: date) -> str:
    if one.what == "training":
        return "Training due"
    if one.on < today:
        return "OVERDUE"
    return f"{_MONTHS[one.on.month - 1]} {one.on.year}"


def review_data(matters: Sequence[Due], today: date) -> list[dict[str, Any]]:
    """A row a matter; keys are added, never renamed."""
    return [
        {
            "on": one.on.isoformat(),
            "overdue": one.on < today,
            "what": one.what,
            "id": one.id,
            "revision": one.revision,
            "title": one.title,
            "text": one.text,
            "who": one.who,
        }
        for one in matters
    ]


def review_calendar(matters: Sequence[Due], now: datetime) -> bytes:
    """Each matter as an all-day event with an alarm two weeks before.

    What stands in a calendar already is not doubled: an event is told by what it is about, and moves when its day does.

    Args:
        now: aware.
    Returns:
        An iCalendar file, UTF-8, lines ended by CR LF; the same bytes for the same matters and moment.
    """
    from icalendar import Alarm, Calendar
    from icalendar import Event as Entry

    calendar = Calendar()
    calendar.add("prodid", "-//gauzeleaf//reviews//EN")
    calendar.add("version", "2.0")
    for one in matters:
        entry = Entry()
        summary = f"{_SAYS[one.what]} {one.id} rev {one.revision}: {one.title}"
        entry.add("uid", f"{_uid(one)}@gauzeleaf")
        entry.add("dtstamp", now.astimezone(UTC))
        entry.add("sequence", int(now.timestamp()) // 60)
        entry.add("dtstart", one.on)
        entry.add(
            "dtend", one.on + timedelta(days=1)
        )  # the day after: the end of a whole day is not in it (RFC 5545, 3.6.1)
        entry.add("transp", "TRANSPARENT")
        entry.add("summary", summary)
        entry.add("description", f"{one.text[:1].upper()}{one.text[1:]}. For: {one.who}.")
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", summary)
        alarm.add("trigger", -_ALARM)
        entry.add_component(alarm)
        calendar.add_component(entry)
    return bytes(calendar.to_ical())


def _uid(one: Due) -> str:
    """What an event is about, in letters that any calendar keeps."""
    parts = (one.id, str(one.revision), one.what, one.who if one.what == "training" else "")
    return "-".join(
        "".join(c if c.isascii() and c.isalnum() else f"x{ord(c):x}" for c in part) for part in parts if part
    )
