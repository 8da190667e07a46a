"""The clinic's own settings in the binder: telephones, hours, what is printed and how, the limits of the house.

Takes  a `Clinic` and a `Writer`.
Gives  `setting_rows`, `house_rows`: names and safe markup, in the order in which they are asked for.
Knows  that whoever opens the binder at night looks for a telephone number first.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.sop_limits import limit_cells
from generator.compose.writer import Writer
from generator.protocol.model import Clinic, Hours, Opening

_UNITS = {"metric": "metric", "us": "US units", "both": "metric and US units"}


def setting_rows(clinic: Clinic, w: Writer) -> list[tuple[str, Markup]]:
    """Each setting with its value."""
    place, spans = clinic.emergency_place, clinic.spans
    closed = Markup("; ").join(_days(first, last, w) for first, last in _runs(clinic.closed))
    visit = Fraction(clinic.visit, 60)
    return [
        ("Telephone", w.authored(clinic.phone, spans.get("phone"), "phone")),
        ("Open", _hours(clinic.hours, w)),
        ("Closed on", closed or escape("no other days")),
        ("When closed", Markup("{}, {}").format(w.authored(place.name, place.spans.get("name"), "place"),
            w.authored(", ".join(place.address), place.spans.get("address"), "place-address"))),
        ("Its telephone", w.authored(place.phone, place.spans.get("phone"), "place-phone")),
        ("It answers", escape("always") if place.answers is None else _hours(place.answers, w)),
        ("It looks at bandages", escape("yes" if place.does_bandage_checks else "no: telephone advice only")),
        ("One visit takes", w.number("visit", visit, hand.measure(visit, "min"))),
        ("Languages, its own first", w.authored(", ".join(clinic.languages), spans.get("languages"), "languages")),
        ("Unsigned translations", escape("printed, marked as drafts" if clinic.drafts else "never printed")),
        ("Owners read", escape(_UNITS[clinic.units])),
        *_control_rows(clinic, w),
        ("Added to each length", w.number("waste", clinic.waste, hand.measure(clinic.waste * 100, "%"))),
    ]  # fmt: skip


def _control_rows(clinic: Clinic, w: Writer) -> list[tuple[str, Markup]]:
    """What the clinic fixed about its documents; nothing where it fixed nothing."""
    rows = []
    if clinic.id_form is not None:
        form = w.authored(clinic.id_form, clinic.spans.get("id_form"), "id-form")
        rows.append(("Numbers of procedures", Markup("{} (? a letter, # a figure)").format(form)))
    if clinic.one_clinician:
        rows.append(("One clinician", escape("there is no second one: who prepared a procedure may also approve it")))
    return rows


def house_rows(clinic: Clinic, w: Writer) -> list[dict[str, Any]]:
    """The house's own limits by purpose or kind; they hold over every protocol that says more."""
    return [
        {"kind": w.authored(kind, clinic.spans.get("house_limits"), "house-limit"), "limits": Markup(", ").join(limit_cells(limits, w))}
        for kind, limits in clinic.house_limits.items()
    ]  # fmt: skip


def _hours(hours: Hours, w: Writer) -> Markup:
    """`Mon to Fri 08:00 to 18:30; Sat 08:30 to 13:00`; days that follow each other with the same hours stand together."""
    groups: list[tuple[list[int], tuple[Opening, ...]]] = []
    for day in sorted(hours):
        if groups and groups[-1][1] == hours[day] and groups[-1][0][-1] == day - 1:
            groups[-1][0].append(day)
        else:
            groups.append(([day], hours[day]))
    words = []
    for days, openings in groups:
        names = hand.WEEKDAYS[days[0]] + (f" to {hand.WEEKDAYS[days[-1]]}" if len(days) > 1 else "")
        words.append(Markup("{} {}").format(names, Markup(" and ").join(_opening(one, w) for one in openings)))
    return Markup("; ").join(words)


def _opening(opening: Opening, w: Writer) -> Markup:
    closes = opening.closes
    end = w.number("closes", "24:00", "24:00") if closes is None else w.clock(closes, f"{closes:%H:%M}", "closes")
    return Markup("{} to {}").format(w.clock(opening.opens, f"{opening.opens:%H:%M}", "opens"), end)


def _runs(days: frozenset[date]) -> list[tuple[date, date]]:
    """Days that follow each other, as the first and the last of them."""
    runs: list[tuple[date, date]] = []
    for day in sorted(days):
        if runs and day - runs[-1][1] == timedelta(days=1):
            runs[-1] = runs[-1][0], day
        else:
            runs.append((day, day))
    return runs


def _days(first: date, last: date, w: Writer) -> Markup:
    begins = w.day(first, hand.iso_day(first), "closed")
    return begins if first == last else Markup("{} to {}").format(begins, w.day(last, hand.iso_day(last), "closed"))
