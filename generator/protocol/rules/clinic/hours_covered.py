"""C01: at every hour of the week somebody answers.

What it looks for: the clinic's hours and those of the emergency place, laid over the 168 hours of a week.
Why it matters: an owner who rings in an uncovered hour reaches nobody.
Stops: an emergency place that answers at night only, beside a clinic that is closed on Sunday.
Write instead: `answers: always`, or the hours that are missing.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Hours
from generator.protocol.rules.rule import ClinicRule
from generator.source.problem import Problem

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY = 24 * 60
WEEK = 7 * DAY


def check(book: Book) -> Iterator[Problem]:
    place = book.clinic.emergency_place
    if place.answers is None:
        return
    gaps = uncovered(book.clinic.hours, place.answers)
    if not gaps:
        return
    first = " to ".join(_said(minute) for minute in gaps[0])
    more = (
        f", and {len(gaps) - 1} more {'stretch' if len(gaps) == 2 else 'stretches'} in the week"
        if len(gaps) > 1
        else ""
    )
    yield Problem(
        "hours-not-covered",
        place.spans["answers"],
        f"nobody answers from {first}{more}",
        "an owner who rings then reaches nobody, and some signs cannot wait",
        "write `answers: always` for a place that does, or add these hours to it",
        severity="warning",
        also=((book.clinic.spans["hours"], "the clinic's own hours are here"),),
    )


def uncovered(*places: Hours) -> list[tuple[int, int]]:
    """The stretches of the week in which none of the places answers, in minutes from Monday 00:00; one over Sunday night is one."""
    open_ = sorted(
        (
            day * DAY + o.opens.hour * 60 + o.opens.minute,
            day * DAY + (o.closes.hour * 60 + o.closes.minute if o.closes else DAY),
        )
        for hours in places
        for day, stretches in hours.items()
        for o in stretches
    )
    gaps, reached = [], 0
    for opens, closes in open_:
        if opens > reached:
            gaps.append((reached, opens))
        reached = max(reached, closes)
    if reached < WEEK:
        gaps.append((reached, WEEK))
    # Sunday's last stretch runs on into Monday's first.
    if len(gaps) > 1 and gaps[0][0] == 0 and gaps[-1][1] == WEEK:
        gaps[-1] = (gaps[-1][0], WEEK + gaps[0][1])
        gaps = gaps[1:]
    return gaps


def _said(minute: int) -> str:
    day, within = divmod(minute, DAY)
    return f"{DAYS[day % 7]} {within // 60:02d}:{within % 60:02d}"


RULE = ClinicRule(
    id="C01",
    name="hours-not-covered",
    looks_for="At every one of the 168 hours of a week the clinic or its emergency place answers.",
    why="An owner who rings in an uncovered hour reaches nobody.",
    source="house rule",
    file="clinic.yaml",
    broken="emergency_place:\n  name: Millrace Night Hospital\n  address: [200 Dam Road]\n  phone: +1 802-555-0178\n"
    "  answers: {mon to sun: 18:30 to 08:00}\n  does_bandage_checks: yes\n",
    mended="emergency_place:\n"
    "  name: Millrace Night Hospital\n"
    "  address: [200 Dam Road]\n"
    "  phone: +1 802-555-0178\n"
    "  answers: always\n"
    "  does_bandage_checks: yes\n",
    check=check,
)
