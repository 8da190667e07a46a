"""The watch log of a floor card: every clock time printed, the deadline last and bold.

Takes  a `Plan` and a `Writer`.
Gives  `log_table`: columns and rows. What the owner does at home stands in one line of its own.
Knows  that each look has its own box to tick in each column, and that looks of one day share a row; that a log of many
       days is a table of its own, which may need the card's second side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.looks import AT_BLEEDING, EVERYWHERE, first_look
from generator.compose.writer import Writer
from generator.reckon.plan import Event, Plan

# So many looks share a row, a box for each; in a log longer than `MOST_ROWS` a day is one row whatever its looks.
A_ROW = 3
MOST_ROWS = 8
_WORDS = {
    "check": "first check",
    "recheck": "recheck",
    "change": "change",
    "removal": "OFF",
    "release": "RELEASE",
    "watch": "look",
}


@dataclass(frozen=True, slots=True)
class _Moment:
    """A clock time, all that is due then, and whether it is the deadline."""

    at: datetime
    words: tuple[str, ...]
    bold: bool = False


def log_table(plan: Plan, writer: Writer) -> dict[str, Any]:
    """Columns and rows, in order of time; each row: when, what, its boxes, whether it is the deadline."""
    first, key = first_look([part.kind for part in plan.bandage.parts], plan.patient.limb.group)
    end = plan.deadline.due.timestamp() if plan.deadline else float("inf")
    events = [e for e in plan.events if e.where != "home" and (e.due.timestamp() <= end or e is plan.deadline)]
    moments = _moments(events, plan)
    if plan.bandage.is_haemorrhage:
        return {
            "title": "Minutes", "tall": False, "long": False, "columns": ["Toes" if first == "Toes" else "Skin", *(name for name, _ in AT_BLEEDING)],
            "rows": [_minute(writer, moment, plan) for moment in (_Moment(plan.began, ("on",)), *moments)], "key": "", "home": None,
        }  # fmt: skip
    moments = [_Moment(plan.applied, ("on",)), *moments]
    groups = list(_grouped(moments, A_ROW))
    is_long = len(groups) > MOST_ROWS
    if is_long:
        groups = list(_grouped(moments, len(moments)))
    # A tall log leaves no room beneath it to sign: that is then done elsewhere on the card.
    tall = sum(len(group) for group in groups) > A_ROW + 1
    return {
        "title": "Watch log", "tall": tall, "long": is_long, "columns": [first, *(name for name, _ in EVERYWHERE)], "rows": [_row(writer, group) for group in groups], "key": f"{first}: {key}.",
        "home": _home(plan, writer),
    }  # fmt: skip


def _moments(events: list[Event], plan: Plan) -> list[_Moment]:
    """Each moment once, with all that is due then."""
    found: dict[float, _Moment] = {}
    for event in sorted(events, key=lambda e: (_at(e, plan).timestamp(), e is plan.deadline)):
        is_last = event is plan.deadline
        word = ("OPEN BY" if event.kind == "change" else "OFF BY") if is_last else _WORDS[event.kind]
        at = _at(event, plan)
        before = found.get(at.timestamp(), _Moment(at, ()))
        words = before.words if word in before.words else (*before.words, word)
        found[at.timestamp()] = _Moment(before.at, words, before.bold or is_last)
    return [found[key] for key in sorted(found)]


def _at(event: Event, plan: Plan) -> datetime:
    """When it is looked at: a visit at its appointment, so that log and headline agree; the deadline when it is due."""
    return event.due if event is plan.deadline else event.headline


def _minute(writer: Writer, moment: _Moment, plan: Plan) -> dict[str, Any]:
    """A row of the minute table: the clock, what is done, the minutes elapsed since the first application."""
    minutes = round((moment.at.timestamp() - plan.began.timestamp()) / 60)
    what = Markup("on")
    if minutes:
        shown = writer.number("log-minutes", minutes, f"{minutes}\u00a0min")
        words = [Markup("<strong>{}</strong>").format(w) if w.isupper() else escape(w) for w in moment.words]
        what = Markup("{}, {}").format(Markup(", ").join(words), shown)
    return {
        "when": writer.moment(moment.at, hand.clock(moment.at), "log"),
        "what": what,
        "bold": moment.bold,
        "boxes": 1,
    }


def _grouped(moments: list[_Moment], most: int) -> Iterator[list[_Moment]]:
    """Neighbouring looks of one day, at most so many together; the deadline by itself."""
    group: list[_Moment] = []
    for moment in moments:
        is_new = moment.bold or not group or len(group) == most or group[-1].bold
        if group and (is_new or moment.at.date() != group[-1].at.date()):
            yield group
            group = []
        group.append(moment)
    if group:
        yield group


def _row(writer: Writer, group: list[_Moment]) -> dict[str, Any]:
    first = group[0]
    if first.bold:
        when, what = writer.moment(first.at, hand.moment(first.at, year=False), "log"), ", ".join(first.words)
        return {"when": when, "what": what, "bold": True, "boxes": 1}
    clocks = Markup(", ").join(_clock(writer, moment, len(group)) for moment in group)
    when = Markup("{}: {}").format(writer.day(first.at.date(), hand.short(first.at), "log-day"), clocks)
    what = "look" if len(group) > 1 and any(moment.words == ("look",) for moment in group) else ""
    return {"when": when, "what": what, "bold": False, "boxes": len(group) if len(group) <= A_ROW else 1}


def _clock(writer: Writer, moment: _Moment, together: int) -> Markup:
    """A clock time and what is due; a mere look among others is said once, at the row's end."""
    shown = writer.moment(moment.at, hand.clock(moment.at), "log")
    words = [word for word in moment.words if word != "look" or together == 1]
    return Markup("{} {}").format(shown, ", ".join(words)) if words else shown


def _home(plan: Plan, writer: Writer) -> Markup | None:
    """The looks at home with their times, neighbouring days with the same times together."""
    days: dict[date, list[datetime]] = {}
    for event in plan.events:
        if event.kind == "watch" and event.where == "home":
            days.setdefault(event.due.date(), []).append(event.due)
    runs: list[list[date]] = []
    for day in sorted(days):
        is_next = runs and day == runs[-1][-1] + timedelta(days=1)
        if is_next and _clocks(days[day]) == _clocks(days[runs[-1][-1]]):
            runs[-1].append(day)
        else:
            runs.append([day])
    return Markup("; ").join(_times(writer, run[0], run[-1], days[run[0]]) for run in runs) if runs else None


def _clocks(times: list[datetime]) -> list[str]:
    return [hand.clock(at) for at in times]


def _times(writer: Writer, first: date, last: date, times: list[datetime]) -> Markup:
    clocks = Markup(", ").join(writer.moment(at, hand.clock(at), "log") for at in times)
    day = writer.day(first, hand.short(first), "log-day")
    if last != first:
        day = Markup("{} to {}").format(day, writer.day(last, hand.short(last), "log-day"))
    return Markup("{}: {}").format(day, clocks)
