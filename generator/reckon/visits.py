"""Every visit, look and release of one application, and the end of the course.

Takes  the limits in force, the moments of application and of the beginning, the clinic's hours, booked times.
Gives  the events in order, the deadline of this application, the end of bandaging.
Knows  that `due` is when a thing must be done, and `slot` the last time it can be booked; nothing is ever moved later.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, tzinfo

from generator.protocol.model import Clinic, Limits
from generator.protocol.quantity import Limit, Window
from generator.reckon import hours
from generator.reckon.clock import end_of, later, opening_of
from generator.reckon.plan import Event, EventKind, Note, Where
from generator.source.problem import Problem, Refusal
from generator.source.span import Span

# A course is planned visit by visit to its end; far more visits than any course has means a limit of minutes.
MOST_VISITS = 400


@dataclass(frozen=True, slots=True)
class Basis:
    """What the visits are reckoned from. `goes_home` False: staff see the animal, opening hours do not matter."""

    limits: Limits
    clinic: Clinic
    zone: tzinfo
    applied: datetime
    began: datetime
    goes_home: bool
    booked: Mapping[str, datetime]
    spans: Mapping[str, Span]


@dataclass(frozen=True, slots=True)
class Visits:
    """The outcome. deadline: when this application must be opened. remove_by: when bandaging ends."""

    events: tuple[Event, ...]
    deadline: Event | None
    remove_by: Event | None
    notes: tuple[Note, ...]


def plan_visits(basis: Basis) -> Visits:
    """Reckon all visits.

    Raises:
        Refusal: the course is over, or a booked visit lies outside its window.
    """
    if basis.limits.release is not None:
        return _minutes(basis)
    end = _end(basis)
    changes, removal = _changes(basis, end)
    deadline = changes[0] if changes else removal
    if removal is not None:
        # The removal may take the place of a change, and then ends the course sooner.
        end = removal.due
    events = [*_first_check(basis, end, deadline), *changes, *([removal] if removal else [])]
    events += _rechecks(basis, events, changes, end)
    events += _watches(basis, deadline)
    events.sort(key=lambda e: (e.due.astimezone(UTC), _ORDER[e.kind]))
    problems: list[Problem] = []
    notes: list[Note] = []
    for kind, moment in basis.booked.items():
        if not any(event.booked == moment and event.kind == kind for event in events):
            problems.append(
                Problem(
                    "booked-not-planned",
                    basis.spans.get("visits") or Span("visits"),
                    f"a `{kind}` is booked, but none is planned",
                    "the owner would come for nothing, or the wrong visit would be missing",
                    "delete the booked time, or look at the limits of the protocol",
                )
            )
    for event in events:
        if event.booked is None:
            continue
        problems += _booked_outside(event, basis)
        if not hours.is_open(
            basis.clinic.hours,
            basis.clinic.closed,
            event.booked,
            later(event.booked, basis.clinic.visit, basis.zone),
            basis.zone,
        ):
            notes.append(Note("booked-outside-hours", (("kind", event.kind), ("at", event.booked))))
    if problems:
        raise Refusal(problems)
    for event in events:
        if event.slot is None and event.booked is None and event.where == "clinic":
            notes.append(Note("no-opening", (("kind", event.kind), ("opens", event.opens), ("due", event.due))))
    return Visits(tuple(events), deadline, removal, tuple(notes))


_ORDER = {"watch": 0, "check": 1, "recheck": 2, "change": 3, "release": 4, "removal": 5}


def _limit_span(basis: Basis, key: str) -> str:
    return str(basis.limits.spans.get(key, ""))


def _end(basis: Basis) -> datetime | None:
    removal = basis.limits.remove_by
    if removal is None or removal.plain is None:
        return None
    end = end_of(basis.began, removal.plain, basis.zone)
    if end <= basis.applied:
        raise Refusal(
            [
                Problem(
                    "course-over",
                    basis.spans.get("began")
                    or basis.spans.get("earlier")
                    or basis.spans.get("applied")
                    or Span("began"),
                    f"bandaging had to end {removal.plain} after it began; that is past when this bandage goes on",
                    "re-wrapping never restarts the end: what the first bandage may do, the last may not outlast",
                    "the attending veterinarian decides: leave it off, hold the limb another way, operate or refer; no bandage of this kind goes on again",
                    also=tuple((span, "the limit") for span in [basis.limits.spans.get("remove_by")] if span),
                )
            ]
        )
    return end


def _window(basis: Basis, window: Window, base: datetime) -> tuple[datetime | None, datetime]:
    due = end_of(base, window.upper, basis.zone)
    opens = opening_of(base, window.lower, basis.zone) if window.lower else None
    # After a join the lower end can lie at or past the upper one; it then says nothing any more.
    return (opens if opens is not None and opens < due else None), due


def _counted(kind: EventKind, base: datetime) -> str:
    return f"{kind} counted from {base.isoformat(timespec='minutes')}"


def _event(
    basis: Basis,
    kind: EventKind,
    opens: datetime | None,
    due: datetime,
    base: datetime,
    key: str,
    booked: datetime | None = None,
) -> Event:
    origin, working = _limit_span(basis, key), _counted(kind, base)
    if not basis.goes_home:
        return Event(kind, opens, due, None, "ward", origin, booked=booked, working=working, base=base)
    earliest = opens or base
    clinic = basis.clinic
    slot = hours.last_slot(clinic.hours, clinic.closed, clinic.visit, earliest, due, basis.zone)
    where: Where = "clinic"
    if slot is None and booked is None:
        place = clinic.emergency_place
        if place.does_bandage_checks and hours.answers_in(place.answers, earliest, due, basis.zone):
            where = "emergency place"
    return Event(kind, opens, due, slot, where, origin, booked=booked, working=working, base=base)


def _after(basis: Basis, event: Event) -> datetime:
    """When the visit is over and the next bandage on: booked or slot and its length, else the due moment."""
    start = event.booked or event.slot
    return later(start, basis.clinic.visit, basis.zone) if start is not None else event.due


def _changes(basis: Basis, end: datetime | None) -> tuple[list[Event], Event | None]:
    """The changes up to the end, and the removal. With a clinical end only the next change can be known."""
    window, base = basis.limits.change_every, basis.applied
    changes: list[Event] = []
    early_end = end
    while window is not None and len(changes) < MOST_VISITS:
        opens, due = _window(basis, window, base)
        booked = basis.booked.get("change") if not changes else None
        event = _event(basis, "change", opens, due, base, "change_every", booked)
        if end is not None and due >= end:
            break
        if end is not None and window.lower is not None:
            least = opening_of(_after(basis, event), window.lower, basis.zone)
            if least > end:
                # Too little would be left for another bandage: that visit takes it off.
                early_end = min(due, end)
                break
        changes.append(event)
        if end is None:
            break
        base = _after(basis, event)
    if early_end is None:
        return changes, None
    removal = _event(basis, "removal", None, early_end, base, "remove_by", basis.booked.get("removal"))
    if end is not None and early_end == end:
        # The slot lies after the visit before; the end itself counts from the first bandage.
        removal = replace(removal, base=basis.began, working=_counted("removal", basis.began))
    return changes, removal


def _first_check(basis: Basis, end: datetime | None, deadline: Event | None) -> list[Event]:
    window = basis.limits.first_check
    if window is None:
        return []
    opens, due = _window(basis, window, basis.applied)
    if end is not None and due > end:
        return []
    # A bandage that is opened before then is looked at before then.
    if deadline is not None and due > deadline.due:
        return []
    return [_event(basis, "check", opens, due, basis.applied, "first_check", basis.booked.get("check"))]


def _rechecks(basis: Basis, others: list[Event], changes: list[Event], end: datetime | None) -> list[Event]:
    """Looks by staff between the other visits; each counts from the last time staff saw the bandage."""
    window = basis.limits.recheck_every
    if window is None:
        return []
    rechecks: list[Event] = []
    seen = sorted((e for e in others if e.kind in ("check", "change")), key=lambda e: e.due.astimezone(UTC))
    horizon = end or (changes[0].due if changes else None)
    base = basis.applied
    if seen and seen[0].kind == "check":
        base = _after(basis, seen.pop(0))
    while len(rechecks) < MOST_VISITS:
        opens, due = _window(basis, window, base)
        upcoming = seen[0] if seen else None
        stop = min((moment for moment in (upcoming.due if upcoming else None, end) if moment is not None), default=None)
        if stop is not None and due >= stop:
            if upcoming is None or (end is not None and end <= upcoming.due):
                break
            base = _after(basis, seen.pop(0))
            if not seen and end is None:
                break
            continue
        if horizon is None and rechecks:
            # Nothing known ends the course: the next look is as far as anyone can plan.
            break
        event = _event(
            basis, "recheck", opens, due, base, "recheck_every", basis.booked.get("recheck") if not rechecks else None
        )
        rechecks.append(event)
        base = _after(basis, event)
    return rechecks


def _watches(basis: Basis, deadline: Event | None) -> list[Event]:
    """Looks between visits, at home or on the ward, one interval after another up to the deadline."""
    every = basis.limits.check_every
    if every is None or deadline is None:
        return []
    watches: list[Event] = []
    moment = basis.applied
    where: Where = "home" if basis.goes_home and every.who == "owner" else "ward"
    while len(watches) < MOST_VISITS * 10:
        moment = end_of(moment, Limit(tuple(replace(d, calendar=False) for d in every.interval.durations)), basis.zone)
        if moment >= deadline.due:
            break
        watches.append(
            Event(
                "watch",
                None,
                moment,
                moment if where == "home" else None,
                where,
                _limit_span(basis, "check_every"),
                working=f"every {every.interval} by {every.who}",
            )
        )
    return watches


def _minutes(basis: Basis) -> Visits:
    """A pressure bandage: the release and the removal count from the first application, to the minute."""
    assert basis.limits.release is not None
    end = _end(basis)
    if end is None:
        raise Refusal(
            [
                Problem(
                    "limit-missing",
                    basis.limits.spans.get("release") or Span("release"),
                    "a bandage that is released sets no `remove_by`",
                    "ischaemia is silent",
                    "add `remove_by: 20 min`",
                )
            ]
        )
    release = end_of(basis.began, basis.limits.release, basis.zone)
    if release <= basis.applied:
        raise Refusal(
            [
                Problem(
                    "release-passed",
                    basis.spans.get("began")
                    or basis.spans.get("earlier")
                    or basis.spans.get("applied")
                    or Span("began"),
                    f"the pressure had to be released {basis.limits.release} after the first application; that is past",
                    "ischaemia is silent, and re-wrapping never restarts the minutes",
                    "do not wrap again: hold pressure by hand and call the attending veterinarian",
                )
            ]
        )
    events = []
    every = basis.limits.check_every
    if every is not None:
        moment = end_of(basis.applied, every.interval, basis.zone)
        while moment < end:
            events.append(
                Event(
                    "watch",
                    None,
                    moment,
                    moment,
                    "ward",
                    _limit_span(basis, "check_every"),
                    working=f"every {every.interval} by {every.who}",
                )
            )
            moment = end_of(moment, every.interval, basis.zone)
    events.append(
        Event(
            "release",
            None,
            release,
            release,
            "ward",
            _limit_span(basis, "release"),
            working="counted from the first application",
            base=basis.began,
        )
    )
    removal = Event(
        "removal",
        None,
        end,
        end,
        "ward",
        _limit_span(basis, "remove_by"),
        working="counted from the first application",
        base=basis.began,
    )
    events.append(removal)
    events.sort(key=lambda e: (e.due.astimezone(UTC), _ORDER[e.kind]))
    return Visits(tuple(events), removal, removal, ())


def _booked_outside(event: Event, basis: Basis) -> list[Problem]:
    assert event.booked is not None
    over = later(event.booked, basis.clinic.visit, basis.zone)
    if (event.opens is None or event.opens <= event.booked) and over <= event.due and event.booked >= basis.applied:
        return []
    window = f"{event.opens.isoformat(timespec='minutes')} to " if event.opens else "at the latest "
    return [
        Problem(
            "booked-outside-window",
            basis.spans.get("visits") or Span("visits"),
            f"the booked {event.kind} at {event.booked.isoformat(timespec='minutes')} lies outside its window",
            "a visit that ends after it is due is a bandage that stayed too long",
            f"book a start from {event.opens.isoformat(timespec='minutes') if event.opens else 'now'} that ends by {event.due.isoformat(timespec='minutes')}"
            if window
            else "",
            also=tuple(
                (span, "the limit it must keep")
                for span in [
                    basis.limits.spans.get(
                        {
                            "check": "first_check",
                            "change": "change_every",
                            "recheck": "recheck_every",
                            "removal": "remove_by",
                        }[event.kind]
                    )
                ]
                if span
            ),
        )
    ]
