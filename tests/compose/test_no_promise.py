"""No page promises anything, names a risk for this animal, or stands in for the attending veterinarian.

What may never be printed is this house's own line (an estimate is never called safe); that complication rates of published series
are no risk of this patient is said in the table of facts that the rules rest on (Meeson 2011, Clayton 2025: rates differ by
definition, species and device).
"""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache
from pathlib import Path

import pytest

from generator import binding, flow, opening
from generator.cli.demo import SCENES
from generator.cli.patient import tree_of
from generator.page.document import Document
from generator.page.xhtml import read
from generator.source.problem import Refusal
from tests.conftest import ROOT

PROMISES = re.compile(
    r"\b(safe|safely|harmless|guarantee\w*|risk-free|no risk|no danger|cannot fail|will heal|sure to|certain to|100 ?%)\b",
    re.IGNORECASE,
)
# A share of animals that came to harm, as published series give it.
RATES = re.compile(
    r"\b\d+(\.\d+)? ?% (of|risk|complication|chance)|\b(risk|chance|odds) of \d|\bone in (two|three|four|ten)\b",
    re.IGNORECASE,
)
# Said of what nobody may do or nobody promises.
_DENIED = (
    "promises nothing",
    "Which pressure is harmless: no line transfers",
    "promise of safety",
    "It promises",
    "as safe as the eyes on it",
)


@cache
def papers() -> dict[str, str]:
    """Every paper of the demo as plain text, by what it is and whose."""
    opened = opening.open_book((ROOT / "protocols").as_posix())
    found = {"binder": _text(binding.binder(opened, datetime(2027, 3, 15, 9)))}
    for scene in SCENES:
        patient = flow.patient_from(tree_of(Path(ROOT / "protocols" / "patients" / f"{scene.patient}.yaml"), {}))
        then = flow.choose(opened, scene.then, "--then") if scene.then else None
        plan = flow.make_plan(
            opened, flow.choose(opened, scene.protocols), patient, datetime.fromisoformat(scene.now), then
        )
        found[f"card {scene.patient}"] = _text(flow.card(opened, plan))
        change = flow.change_card(opened, plan)
        if change is not None:
            found[f"change card {scene.patient}"] = _text(change)
        found[f"workings {scene.patient}"] = _text(flow.workings(opened, plan))
        try:
            for copy in (False, True):
                found[f"sheet {scene.patient} {copy}"] = _text(flow.sheet(opened, plan, "en", clinic_copy=copy))
        except Refusal:
            continue
    return found


def _text(document: Document) -> str:
    return " ".join(read(document.xhtml).plain().split())


def test_every_kind_of_paper_is_read() -> None:
    assert {name.split()[0] for name in papers()} == {"binder", "card", "change", "workings", "sheet"}


@pytest.mark.parametrize("name", sorted(papers()))
def test_no_paper_promises_anything(name: str) -> None:
    text = papers()[name]
    for said in _DENIED:
        text = text.replace(said, "")
    assert [text[max(0, m.start() - 40) : m.end() + 40] for m in PROMISES.finditer(text)] == []


@pytest.mark.parametrize("name", sorted(name for name in papers() if not name.startswith(("binder", "workings"))))
def test_no_paper_of_an_animal_names_a_rate(name: str) -> None:
    assert RATES.search(papers()[name]) is None


@pytest.mark.parametrize("name", sorted(papers()))
def test_every_paper_says_who_decides(name: str) -> None:
    assert re.search(r"attending veterinarian decides|clinician decides|Your vet decides", papers()[name])
    assert re.search(r"local law", papers()[name], re.IGNORECASE)
