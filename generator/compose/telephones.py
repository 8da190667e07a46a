"""Who answers when: every hour of the week on exactly one line.

Takes  the clinic's hours and the emergency place's.
Gives  `Line`s for the owner's sheet; which one answers at a given minute; a refusal if an hour would have none.
Knows  weeks of minutes; nothing of words.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time, timedelta

from generator.protocol.model import Clinic, Hours, Opening
from generator.source.problem import Problem, Refusal
from generator.source.span import Span

WEEK = 7 * 24 * 60  # minutes
Stretch = tuple[int, int]  # minutes from Monday 00:00, half-open


@dataclass(frozen=True, slots=True)
class Days:
    """Days of the week (Monday is 0, in order) that share the same stretches."""

    days: tuple[int, ...]
    openings: tuple[Opening, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One telephone line and when to ring it. hours: by groups of days; empty means all hours no other line has."""

    name: str
    address: tuple[str, ...]
    phone: str
    is_clinic: bool
    hours: tuple[Days, ...]
    stretches: tuple[Stretch, ...]
    span: Span

    def answers(self, weekday: int, clock: time) -> bool:
        """Whether this is the line to ring at that minute of the week."""
        minute = weekday * 1440 + clock.hour * 60 + clock.minute
        return any(start <= minute < end for start, end in self.stretches)


def lines(clinic: Clinic, first: date, last: date) -> tuple[Line, ...]:
    """The clinic's line, then the emergency place's for all other hours; together each minute of the week once.

    Args:
        first, last: the days the sheet serves: on a closed day among them the emergency place answers day and night.
    Raises:
        Refusal: `hours-without-answer`, for an hour in which nobody would pick up.
    """
    own = _stretches(clinic.hours)
    place = clinic.emergency_place
    rest = _others(own)
    closed = closed_days(clinic, first, last)
    wanted = rest if not closed else ((0, WEEK),)
    if place.answers is not None and not _covers(_stretches(place.answers), wanted):
        gap = _first_gap(_stretches(place.answers), wanted)
        raise Refusal((_unanswered(clinic, gap),))
    found = []
    if own:
        found.append(
            Line(
                clinic.name,
                clinic.address,
                clinic.phone,
                True,
                _grouped(clinic.hours),
                own,
                clinic.spans.get("phone", clinic.spans[""]),
            )
        )
    if rest or closed or not own:
        found.append(
            Line(place.name, place.address, place.phone, False, (), rest, place.spans.get("phone", place.spans[""]))
        )
    return tuple(found)


def closed_days(clinic: Clinic, first: date, last: date) -> tuple[date, ...]:
    """Days from first to last, both included, that the clinic keeps closed although it is open on that weekday."""
    days = (first + timedelta(days=n) for n in range((last - first).days + 1))
    return tuple(day for day in days if day in clinic.closed and clinic.hours.get(day.weekday()))


def _unanswered(clinic: Clinic, minute: int) -> Problem:
    place = clinic.emergency_place
    day = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")[minute // 1440]
    return Problem(
        "hours-without-answer",
        place.spans.get("answers", place.spans[""]),
        f"neither the clinic nor the emergency place answers on {day} at {minute % 1440 // 60:02d}:{minute % 60:02d}",
        "an owner whose animal's toes turn cold would ring a telephone that nobody picks up",
        "name an emergency place that answers whenever the clinic does not, or write `answers: always`",
    )


def _stretches(hours: Hours) -> tuple[Stretch, ...]:
    """The minutes of the week, in order and joined; a stretch past midnight goes on, on Sunday into Monday."""
    found: list[Stretch] = []
    for weekday, openings in hours.items():
        for opening in openings:
            start = weekday * 1440 + opening.opens.hour * 60 + opening.opens.minute
            closes = opening.closes
            end = weekday * 1440 + (1440 if closes is None else closes.hour * 60 + closes.minute)
            end += 1440 if end <= start else 0
            found.append((start, min(end, WEEK)))
            if end > WEEK:
                found.append((0, end - WEEK))
    return _joined(found)


def _joined(stretches: Iterable[Stretch]) -> tuple[Stretch, ...]:
    out: list[Stretch] = []
    for start, end in sorted(stretches):
        if out and start <= out[-1][1]:
            out[-1] = out[-1][0], max(end, out[-1][1])
        else:
            out.append((start, end))
    return tuple(out)


def _others(stretches: Iterable[Stretch]) -> tuple[Stretch, ...]:
    found, at = [], 0
    for start, end in stretches:
        if start > at:
            found.append((at, start))
        at = end
    return (*found, (at, WEEK)) if at < WEEK else tuple(found)


def _covers(have: Iterable[Stretch], wanted: Iterable[Stretch]) -> bool:
    held = tuple(have)
    return all(any(a <= start and end <= b for a, b in held) for start, end in wanted)


def _first_gap(have: Iterable[Stretch], wanted: Iterable[Stretch]) -> int:
    held = tuple(have)
    for start, end in wanted:
        at = start
        while at < end:
            inside = next((b for a, b in held if a <= at < b), None)
            if inside is None:
                return at
            at = inside
    return 0


def _grouped(hours: Hours) -> tuple[Days, ...]:
    """Neighbouring days with the same hours together: Mon to Fri, then Sat."""
    groups: list[tuple[list[int], tuple[Opening, ...]]] = []
    for weekday in range(7):
        openings = hours.get(weekday, ())
        if not openings:
            continue
        if groups and groups[-1][1] == openings and groups[-1][0][-1] == weekday - 1:
            groups[-1][0].append(weekday)
        else:
            groups.append(([weekday], openings))
    return tuple(Days(tuple(days), openings) for days, openings in groups)
