"""The watch log of a floor card: every clock time printed, the deadline last and bold.

Takes  a `Plan` and a `Writer`.
Gives  `log_table`: columns and rows. What the owner does at home stands in one row of its own.
Knows  that rows no hand can fill in are no help: many looks become a row a day with its times.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.writer import Writer
from generator.reckon.plan import Event, Plan

MOST_ROWS = 5
_WORDS = {
    "check": "first check",
    "recheck": "recheck",
    "change": "change",
    "removal": "OFF",
    "release": "RELEASE",
    "watch": "look",
}


def log_table(plan: Plan, writer: Writer) -> dict[str, Any]:
    """Columns and rows, in order of time; each row: when, what, whether it is the deadline."""
    is_limb = " " in plan.patient.limb.site
    end = plan.deadline.due.timestamp() if plan.deadline else float("inf")
    events = [e for e in plan.events if e.where != "home" and (e.due.timestamp() <= end or e is plan.deadline)]
    moments = _moments(events, plan)
    if plan.bandage.is_haemorrhage:
        columns = ["Toes" if is_limb else "Skin", "Breath", "Blood", "Done, by"]
        rows = [_minute(writer, at, words, bold, plan) for at, words, bold in [(plan.began, ["on"], False), *moments]]
        return {"title": "Minutes", "columns": columns, "rows": rows, "key": "", "home": None}
    columns = ["Toes" if is_limb else "Breath", "Place", "Dry", "Smell", "Done, by"]
    key = "warm, together, flinch" if is_limb else "easy and quiet"
    rows = [_row(writer, plan.applied, ["on"], False)]
    rows += (
        _by_day(writer, moments)
        if len(moments) > MOST_ROWS
        else [_row(writer, at, words, bold) for at, words, bold in moments]
    )
    return {
        "title": "Watch log",
        "columns": columns,
        "rows": rows,
        "key": f"{columns[0]}: {key}.",
        "home": _home(plan, writer),
    }


def _minute(writer: Writer, at: datetime, words: list[str], bold: bool, plan: Plan) -> dict[str, Any]:
    """A row of the minute table: the clock, then the minutes elapsed since the first application."""
    minutes = round((at.timestamp() - plan.began.timestamp()) / 60)
    what = (
        Markup("{} ({})").format(", ".join(words), writer.number("log-minutes", minutes, f"{minutes}\u00a0min"))
        if minutes
        else Markup("on")
    )
    return {"when": writer.moment(at, hand.clock(at), "log"), "what": what, "bold": bold}


def _moments(events: list[Event], plan: Plan) -> list[tuple[datetime, list[str], bool]]:
    """Each moment once, with all that is due then."""
    found: dict[float, tuple[datetime, list[str], bool]] = {}
    for event in sorted(events, key=lambda e: (e.due.timestamp(), e is plan.deadline)):
        is_last = event is plan.deadline
        word = ("OPEN BY" if event.kind == "change" else "OFF BY") if is_last else _WORDS[event.kind]
        at, words, bold = found.get(event.due.timestamp(), (event.due, [], False))
        if word not in words:
            words.append(word)
        found[event.due.timestamp()] = at, words, bold or is_last
    return [found[key] for key in sorted(found)]


def _row(writer: Writer, at: datetime, words: list[str], bold: bool) -> dict[str, Any]:
    shown = hand.moment(at, year=False) if bold else f"{hand.short(at)}, {hand.clock(at)}"
    return {"when": writer.moment(at, shown, "log"), "what": ", ".join(words), "bold": bold}


def _by_day(writer: Writer, moments: list[tuple[datetime, list[str], bool]]) -> list[dict[str, Any]]:
    """A row a day; what stands out keeps a row of its own."""
    rows: list[dict[str, Any]] = []
    looks: dict[date, list[datetime]] = {}
    for at, words, _ in moments:
        if words == ["look"]:
            looks.setdefault(at.date(), []).append(at)
    for at, words, bold in moments:
        day = at.date()
        if words == ["look"] and at is looks[day][0]:
            rows.append({"when": _times(writer, day, day, looks[day]), "what": "look", "bold": False})
        if words != ["look"]:
            rows.append(_row(writer, at, words, bold))
    return rows


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
