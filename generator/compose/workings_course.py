"""Whose bandage it is, its visits, what is not known about it, and what the plan was made from.

Takes  a `Plan` and a `Writer`.
Gives  `whose_section`, `visits_section`, `unknown_section`, `record_section`.
Knows  that a plan is only as good as the files it was made from, and names each by its digest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import PurePath

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.card_parts import patient_line
from generator.compose.data import plan_digest
from generator.compose.not_known import plan_unknowns, unknown_lines
from generator.compose.notes import notes_of
from generator.compose.sop_limits import citation_rows
from generator.compose.workings_parts import Cell, Row, Section, Table, cell, numbers_named, said
from generator.compose.writer import Writer
from generator.reckon.plan import Event, Plan
from generator.source.problem import Problem

# Files that every plan reads, beside its protocols.
_SETTINGS = ("clinic.yaml", "modifiers.yaml", "signs.yaml", "stock.yaml")
_DIGEST = 12
_KINDS = {
    "check": "first check",
    "recheck": "recheck",
    "change": "change",
    "removal": "off for good",
    "release": "release",
}

# ---- whose ------------------------------------------------------------------------------------------------------


def whose_section(plan: Plan, writer: Writer) -> Section:
    """The animal, its bandage, the papers and the people."""
    patient = plan.patient
    line, _ = patient_line(plan, writer)
    owner = said(patient.owner_name, writer, patient.spans.get("owner.name"))
    if patient.file_number:
        number = said(patient.file_number, writer, patient.spans.get("patient.file_number"))
        owner = Markup("{}, file {}").format(owner, number)
    told = patient.explained_by
    pairs: list[tuple[str, Cell]] = [
        ("Patient", cell(line)),
        ("Owner", cell(owner)),
        ("Skin", cell(patient.skin + (f"; reason: {patient.reason}" if patient.reason else ""))),
        ("Bandage", cell(said(plan.bandage.title, writer))),
        ("Protocols", tuple(_protocols(plan, writer))),
        ("Planned for" if patient.is_planned else "Went on", cell(_moment(plan.applied, writer, "applied"))),
        ("Bandaging began", cell(_moment(plan.began, writer, "began"))),
        *([("Bandages before", tuple(_earlier(plan, writer)))] if plan.earlier else []),
        ("Sheet", cell(Markup("{}, issued {} by {}").format(
            writer.number("sheet", plan_digest(plan), plan_digest(plan)), writer.moment(plan.now, hand.stamp(plan.now), "issued"),
            said(patient.issued_by, writer, patient.spans.get("issued_by"))))),
        *([("Explained by", cell(said(told, writer, patient.spans.get("explained_by"))))] if told else []),
    ]  # fmt: skip
    return Section("Whose", pairs=tuple(pairs), blanks=() if told else ("Explained to the owner by, on",))


def _protocols(plan: Plan, writer: Writer) -> Iterator[Markup]:
    stored = plan.bandage.stored
    for one in (*((stored,) if stored is not None else ()), *plan.bandage.parts):
        number = said(one.id, writer, one.span("id"))
        revision = writer.number("revision", one.revision, str(one.revision))
        part = " (part)" if stored is not None and one is not stored else ""
        yield Markup("{} revision {}, {}{}").format(
            number, revision, said(one.name, writer, one.span("protocol")), part
        )


def _earlier(plan: Plan, writer: Writer) -> Iterator[Markup]:
    for one in plan.earlier:
        counts = "counts towards the end" if one.counts else "does not count towards the end"
        yield Markup("{}: {} to {}; {}").format(
            said(one.title, writer), _moment(one.on, writer, "on"), _moment(one.off, writer, "off"), counts
        )


def _moment(at: datetime, writer: Writer, name: str) -> Markup:
    return writer.moment(at, hand.moment(at), name)


# ---- visits -----------------------------------------------------------------------------------------------------


def visits_section(plan: Plan, writer: Writer) -> Section:
    """Every visit with its window and what it counts from; looks between them in one row."""
    rows = [_visit(event, plan, writer) for event in plan.events if event.kind != "watch"]
    looks = [event for event in plan.events if event.kind == "watch"]
    if looks:
        first, last, number = looks[0], looks[-1], str(len(looks))
        rows.append(
            Row((
                cell(Markup("look, {} times").format(writer.number("looks", number, number))), cell(Markup("first {}").format(_short(first.due, writer, "first"))),
                cell(Markup("last {}").format(_short(last.due, writer, "last"))), (), cell(first.where), cell(said(first.working, writer)),
            ))
        )  # fmt: skip
    columns = ("Visit", "Not before", "Done by", "Start", "Where", "Counted from")
    ends = tuple(
        Markup("No time ends it; bandaging ends when: {}").format(said(end, writer, span))
        for end, span in plan.bandage.clinical_ends
    )
    return Section(
        "Visits",
        before=tuple(_rule(plan, writer)),
        tables=(Table(columns, "0.9 1.45 1.4 1.55 1.6 1.4", tuple(rows)),),
        points=ends,
    )


def _rule(plan: Plan, writer: Writer) -> Iterator[Markup]:
    if plan.bandage.is_haemorrhage:
        yield escape("Minutes elapse and count from the first application. Wrapping again restarts nothing.")
        return
    visit = str(plan.book.clinic.visit // 60)
    yield Markup(
        "Hours elapse. Whole days end at the same clock time or when as many hours have elapsed, whichever is sooner. A start leaves the {} of a visit "
        "inside the window and inside opening hours; a closed day moves it earlier, never later."
    ).format(writer.number("visit", visit, f"{visit}{hand.NO_BREAK}min"))


def _short(at: datetime, writer: Writer, name: str) -> Markup:
    return writer.moment(at, hand.moment(at, year=False), name)


def _visit(event: Event, plan: Plan, writer: Writer) -> Row:
    opens = cell(_short(event.opens, writer, "opens")) if event.opens is not None else cell("at any time")
    if event.booked is not None:
        start = Markup("booked {}").format(_short(event.booked, writer, "booked"))
    elif event.where == "ward":
        start = escape("by staff")
    elif event.slot is not None:
        start = Markup("by {}").format(_short(event.slot, writer, "slot"))
    else:
        start = escape("no opening")
    where: Markup | str = event.where
    if event.where == "emergency place":
        emergency = plan.book.clinic.emergency_place
        where = said(emergency.name, writer, emergency.spans.get("name"))
    elif event.slot is None and event.booked is None and event.where == "clinic":
        where = "admit, or apply at another time"
    base = cell(_short(event.base, writer, "base")) if event.base is not None else ()
    return Row((cell(_KINDS.get(event.kind, event.kind)), opens, cell(_short(event.due, writer, "due")), cell(start), cell(where), base))  # fmt: skip


# ---- what is not known ------------------------------------------------------------------------------------------


def unknown_section(plan: Plan, writer: Writer) -> Section:
    return Section("What is not known", points=tuple(unknown_lines(plan_unknowns(plan), writer)))


# ---- record -----------------------------------------------------------------------------------------------------


def record_section(plan: Plan, writer: Writer, warnings: Sequence[Problem], above: Sequence[Section]) -> Section:
    """What the plan was made from, what staff must know, and the published sources that the sections above name."""
    told = (said(f"{one.span}: {one.what}", writer, one.span) for one in warnings if _is_used(one.span.file, plan))
    notes = (*notes_of(plan, writer), *told)
    pairs = [
        (
            "Time zone rules",
            cell(said(f"{plan.book.clinic.time_zone}, release {plan.zone_release or 'unknown'}", writer)),
        )
    ]
    digests = _digests(plan)
    if digests:
        named = (
            Markup("{} {}").format(said(file, writer), writer.number("file-digest", digest, digest))
            for file, digest in digests
        )
        pairs.append(("Files, by the start of their digests", cell(Markup("; ").join(named))))
    pairs.append(("Notes and warnings", notes or cell("none")))
    sources = citation_rows(numbers_named(above), writer)
    listed = tuple(
        Markup("{}\u00a0{}{}").format(one["number"], one["text"], f" ({one['seen']})" if one["seen"] else "")
        for one in sources
    )
    heading = escape("Published sources named above, by number; the passage was read unless it says otherwise: ")
    return Section("Record", pairs=tuple(pairs), after=(heading + Markup(" ").join(listed),) if listed else ())


def _files(plan: Plan) -> tuple[str, ...]:
    """The names of the files that the plan was made from; the patient may have none."""
    stored = plan.bandage.stored
    own = (PurePath(one.file).name for one in (*((stored,) if stored is not None else ()), *plan.bandage.parts))
    return tuple(dict.fromkeys((*own, *_SETTINGS)))


def _is_used(file: str, plan: Plan) -> bool:
    return PurePath(file).name in _files(plan)


def _digests(plan: Plan) -> list[tuple[str, str]]:
    """The files that the plan was made from, with the start of each one's digest."""
    digests = plan.book.digests
    return [(file, digests[file][:_DIGEST]) for file in _files(plan) if file in digests]
