"""Lay the days of a bandage out on a strip.

Takes  a `Plan` and the voice of its sheet.
Gives  a `DayStrip`: a cell a day from the application to the deadline, with boxes, visits and clock changes.
Knows  which event falls on which day; how a cell looks: `page/day_strip.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta, tzinfo

from generator.compose.calendar_file import VISITS
from generator.compose.voice import Voice
from generator.page.day_strip import Day, DayStrip
from generator.page.marks import MarkKind, Visit
from generator.reckon.plan import Event, Plan
from generator.words import moments
from generator.words.local import Local

_MARKS: dict[str, MarkKind] = {"check": "check", "recheck": "check", "change": "change", "removal": "removal"}


def day_strip(plan: Plan, voice: Voice, from_right: bool, shows_toes: bool) -> DayStrip:
    """The strip; its last day is that of the deadline, as it is printed."""
    assert plan.deadline is not None
    last = moments.shown_day(plan.deadline.headline, voice.local)
    first = plan.applied.date()
    days, month = [], 0
    for offset in range((last - first).days + 1):
        day = first + timedelta(days=offset)
        days.append(Day(
            weekday=moments.short_weekday(day, voice.local), number=str(day.day),
            month=moments.month_name(day, voice.local) if day.month != month and (first.month, last.month) != (month or day.month, day.month) else "",
            boxes=len(_looks(plan, day, voice.local)), visits=_visits(plan, voice, day), clocks=_clocks(plan, voice, day),
        ))  # fmt: skip
        month = day.month
    return DayStrip(
        days=tuple(days), title=voice.label("picture-days"), language=voice.local.language, from_right=from_right,
        tick_words=voice.label("tick-toe-check" if shows_toes else "tick-look") if any(day.boxes for day in days) else "",
    )  # fmt: skip


def _looks(plan: Plan, day: date, local: Local) -> list[Event]:
    """The looks at home before the bandage is opened, on the day under which their time is said: 11:59 PM for a midnight."""
    assert plan.deadline is not None
    end = plan.deadline.headline.astimezone(UTC)
    return [
        e
        for e in plan.events
        if e.kind == "watch"
        and e.where == "home"
        and moments.shown_day(e.due, local) == day
        and e.due.astimezone(UTC) < end
    ]


def _visits(plan: Plan, voice: Voice, day: date) -> tuple[Visit, ...]:
    assert plan.deadline is not None
    found = []
    for event in plan.events:
        if event.kind not in VISITS or is_past(event, plan) or moments.shown_day(event.headline, voice.local) != day:
            continue
        at = "at-moment" if event.booked or event.slot else "by-moment"
        said = f"{moments.short_weekday(day, voice.local)} {day.day}, {voice.label(at, moment=_clock(event.headline))}"
        # The headline says when the bandage is opened, the line below the strip when it is first checked.
        is_said = event.kind == "check" or event.due == plan.deadline.due
        found.append(Visit(
            kind=_MARKS[event.kind], words=voice.label(VISITS[event.kind]), when="" if is_said else said, spoken=said,
        ))  # fmt: skip
    return tuple(found)


def is_past(event: Event, plan: Plan) -> bool:
    """Whether a first check was due before the sheet is printed: it was made here, and nobody comes back for it."""
    return event.kind == "check" and event.due.astimezone(UTC) <= plan.now.astimezone(UTC)


def _clock(at: datetime) -> Callable[[Local], str]:
    """The clock time as the reader of the line says it: a draft's line is said twice."""
    return lambda local: moments.clock(at.timetz(), local)


def _clocks(plan: Plan, voice: Voice, day: date) -> str:
    """Words if the clocks change in the night that ends on this day, or on the day itself."""
    change = clock_change(plan.applied, day, plan.zone)
    return "" if change == 0 else voice.label("clocks-forward" if change > 0 else "clocks-back")


def clock_change(moment: datetime, day: date, zone: tzinfo) -> int:
    """1 if clocks go forward in the night that ends on a day, -1 if back, 0 if they stay; in the zone.

    On the day of the moment itself only what comes after it counts.
    """
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=zone)
    before = max(noon - timedelta(days=1), moment.astimezone(zone), key=lambda at: at.astimezone(UTC)).utcoffset()
    after = noon.utcoffset()
    assert before is not None
    assert after is not None
    return (after > before) - (after < before)
