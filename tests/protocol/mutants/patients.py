"""Slips in a patient file, judged as `plan` would judge them.

Takes  the shipped patients, each with the protocol that its first line names.
Gives  `judged_patients`: every mutant with the problems, or the notes on the plan, that it brought.
Knows  that a patient is planned only where the file was read; a plan that says the same as before is a survivor.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from typing import Any

from generator.protocol.animal import RECORD, doubts, read_patient
from generator.protocol.model import Protocol
from generator.protocol.rules.reach import parts_of
from generator.reckon import reckon
from generator.reckon.plan import Plan
from generator.source.problem import Refusal
from generator.source.text import read_tree
from tests.conftest import ROOT
from tests.protocol.mutants import by_table
from tests.protocol.mutants.by_trade import book
from tests.protocol.mutants.judge import Judged
from tests.protocol.mutants.mutant import Made, Mutant
from tests.protocol.samples import samples
from tests.protocol.writing import changed, write
from tests.reckon.zones import zone

NOW = datetime(2027, 4, 6, 20, 0, tzinfo=UTC)
NEW_YORK = zone("America/New_York")
_NAMED = re.compile(r"#\s*([a-z0-9-]+(?:@[a-z]+)?):")


@cache
def chosen(file: str) -> tuple[tuple[Protocol, ...], Protocol | None]:
    """The protocols that a patient file names in its first remark, below the line that is for editors."""
    first, second, *_ = (ROOT / file).read_text(encoding="utf-8").split("\n", 2)
    found = _NAMED.match(second if "$schema=" in first else first)
    assert found is not None, f"{file} does not name its protocol in its first remark"
    slug, _, stage = found[1].partition("@")
    protocol = book().protocols[slug]
    if protocol.blend:
        return parts_of(protocol, book()), protocol
    return ((protocol.stages[stage] if stage else protocol),), None


def _by_hand(data: Any) -> Iterator[Made]:
    """What a hurried hand does: girths exchanged, the animal turned into another, the course begun anew."""
    limb = data["limb"]
    if "distal_girth" in limb:
        swapped = limb | {"distal_girth": limb["proximal_girth"], "proximal_girth": limb["distal_girth"]}
        yield "girths exchanged", "limb", "patient", "", changed(data, ("limb",), swapped)
        for unit in ("mm", "in", "m"):
            other = limb | {"distal_girth": limb["distal_girth"].replace("cm", unit)}
            yield "another unit", "limb.distal_girth", "patient", unit, changed(data, ("limb",), other)
    for unit in ("g", "lb"):
        weight = data["patient"]["weight"].replace("kg", unit)
        yield "another unit", "patient.weight", "patient", unit, changed(data, ("patient", "weight"), weight)
    if "began" in data:
        anew = {
            ("first" if key == "began" else key): ("yes" if key == "began" else value) for key, value in data.items()
        }
        yield "course begun anew", "began", "patient", "", anew
        yield "began after applied", "began", "patient", "", changed(data, ("began",), "2027-04-06T15:59")
    yield "applied in the future", "applied", "patient", "", changed(data, ("applied",), "2027-04-08T09:00")
    yield "unknown condition", "condition", "patient", "", {**data, "condition": ["left-handed"]}
    yield "issued by a stranger", "issued_by", "patient", "", {**data, "issued_by": "Dr Nobody"}


def _outcome(file: str, data: Any) -> frozenset[str]:
    """Names of the problems, or of all that the plan notes; and what it fixes, so that a changed plan is seen as such."""
    reading = read_tree(write(data).text.encode(), file)
    if reading.tree is None or reading.problems:
        return frozenset(p.name for p in reading.problems)
    patient, problems = read_patient(reading.tree)
    if patient is None:
        return frozenset(p.name for p in problems)
    parts, stored = chosen(file)
    try:
        plan = reckon(parts, patient, book(), NOW, NEW_YORK, stored=stored)
    except Refusal as refusal:
        return frozenset(p.name for p in refusal.problems)
    return frozenset({*(p.name for p in doubts(patient)), *(f"note {note.code}" for note in plan.notes), *_dues(plan)})


def _dues(plan: Plan) -> Iterator[str]:
    yield f"ends {plan.remove_by.due}" if plan.remove_by else "ends by what the clinician sees"
    yield f"opened {plan.deadline.due}" if plan.deadline else "never opened"
    yield f"home {plan.go_home}"


def _later(mutated: frozenset[str], sound: frozenset[str]) -> bool:
    """Whether the mutated plan ends, or opens, later than the sound one: then nobody was told, and it does harm."""
    for key in ("ends ", "opened "):
        one, other = ([word for word in words if word.startswith(key)] for words in (mutated, sound))
        if one and other and one[0] > other[0]:
            return True
    return False


@cache
def judged_patients() -> tuple[Judged, ...]:
    found = []
    for file, (kind, data) in samples().items():
        if kind != "patient" or file.startswith("extra/"):
            continue
        sound, seen = _outcome(file, data), {write(data).text}
        for how, what, _, detail, mutated in (*by_table.made(data, RECORD), *_by_hand(data)):
            text = write(mutated).text
            if text in seen:
                continue
            seen.add(text)
            outcome = _outcome(file, mutated)
            new = {word for word in outcome - sound if not word.startswith(("ends ", "opened ", "home "))}
            told = new | ({"note plan-changes"} if outcome != sound and not _later(outcome, sound) else set())
            one = Mutant(file, how, what, "patient", detail)
            later = " (later)" if not told and _later(outcome, sound) else ""
            found.append(Judged(replace(one, how=how + later), tuple(sorted(told))))
    return tuple(found)
