"""Print who answers when: a column for each telephone line.

Takes  a `Plan` and the voice of its sheet.
Gives  for each line its hours, its name and address, and its number as a link.
Knows  how hours are said; which minute belongs to which line: `compose/telephones.py`.
"""

from __future__ import annotations

import re
from typing import Any

from markupsafe import Markup

from generator.compose.telephones import Days, Line, closed_days, lines
from generator.compose.voice import Voice, phone_link
from generator.protocol.model import Clinic
from generator.reckon.plan import Plan
from generator.words import isolation

_SHORT = 36  # letters that fit beside a telephone number at every size of type
_SPACE = re.compile(r" (?![^<]*>)")  # outside of tags


def phone_columns(plan: Plan, voice: Voice) -> dict[str, Any]:
    """The lines that together answer every hour of the week, and where to go if nobody does."""
    clinic = plan.book.clinic
    last = plan.remove_by or plan.deadline
    assert last is not None
    first, end = plan.now.date(), last.due.date()
    closed = [
        voice.say("hours-closed", dates=voice.day(day, "closed", year=False)) for day in closed_days(clinic, first, end)
    ]
    return {
        "we_answer": voice.say("hours-we"),
        "draft": voice.is_unsigned("hours-days", "hours-span", "hours-other", "hours-always", "hours-closed"),
        "lines": [_column(line, closed, voice, clinic) for line in lines(clinic, first, end)],
    }


def _column(line: Line, closed: list[Any], voice: Voice, clinic: Clinic) -> dict[str, Any]:
    place = clinic.emergency_place
    # The town goes without saying where it is the clinic's own.
    address = ", ".join(part for part in place.address if part not in clinic.address)
    if line.is_clinic:
        hours = [_group(days, voice) for days in line.hours] + closed
    else:
        hours = [voice.say("hours-always" if line.stretches == ((0, 7 * 1440),) else "hours-other")]
    return {
        "hours": hours,
        # Of the words between the figures: the days are written in it too, and the line runs its way.
        "language": (language := voice.language_of("hours-span" if line.is_clinic else "hours-other")),
        "comma": isolation.comma(language),
        "name": None if line.is_clinic else voice.name(line.name, line.span, "line")(voice.local),
        "address": None
        if line.is_clinic
        else voice.name(address, place.spans.get("address"), "line-address")(voice.local),
        "phone": phone_link(voice.writer, line.phone, clinic.phone, line.span),
    }


def _group(days: Days, voice: Voice) -> Markup:
    """`Mon to Fri 8:00 AM to 6:30 PM`: days, then each stretch."""
    first, last = days.days[0], days.days[-1]
    language = voice.language_of("hours-span")
    named = (
        voice.say("hours-days", first=voice.weekday(first), last=voice.weekday(last))
        if first != last
        else voice.weekday(first)(voice.local_in(language))
    )
    spans = [
        voice.say("hours-span", opens=voice.opening(o.opens, "from"), closes=voice.opening(o.closes, "by"))
        for o in days.openings
    ]
    return _whole(Markup("{} {}").format(named, Markup(isolation.comma(language)).join(spans)))


def _whole(said: Markup) -> Markup:
    """Kept on one line where it is short: a day parted from its hours is read with the hours of another."""
    if len(said.striptags()) > _SHORT:
        return said
    return Markup(_SPACE.sub("\N{NO-BREAK SPACE}", said))
