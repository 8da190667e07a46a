"""Every shipped protocol in every shipped language says the English facts: no moment, number or telephone more, less or other.

What is printed of each is read back as the sheet is composed (`compose/echo.py`); here sheets are held against one another.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

import pytest

from generator.compose import owner_sheet
from generator.compose.owner import refuse
from generator.page.xhtml import Node
from generator.reckon.plan import Plan
from generator.reckon.reckoner import reckon
from generator.source.problem import Refusal
from generator.words.catalogue import Words
from tests.compose.plans import ROOT, book, patient, templates
from tests.compose.reading import ENGLISH, bare, body, named, said
from tests.press.stand_in import signed_words

LANGUAGES = sorted(path.parent.name.replace("_", "-") for path in (ROOT / "locales").glob("*/owner.po"))
# Each before a night on which clocks change, or at an edge of a day or month; two clocks of 12 hours and one of 24; each way of
# saying lengths. IANA time zone database: 7 November 2027 in New York, 28 March 2027 in Paris; none in Seoul.
SCENES = (
    ("America/New_York", "2027-11-06T18:00", "metric"),
    ("Europe/Paris", "2027-03-27T12:00", "both"),
    ("Asia/Seoul", "2028-02-29T00:00", "us"),
)


# What never leaves the clinic: it stops bleeding, or needs looking at more often than a home can (the book's own limits).
STAYS = {"pressure-bandage", "catheter-cover", "heavy-padded-limb", "open-fracture-before-fixation", "tie-over"}


def bandages() -> Iterator[str]:
    for slug, protocol in book().protocols.items():
        if slug not in STAYS:
            yield from (f"{slug}@{stage}" for stage in protocol.stages) if protocol.stages else (slug,)


BANDAGES = tuple(bandages())


@cache
def plan_of(name: str, scene: int) -> Plan:
    """A plan of a bandage on the first demo patient that may wear it, an unmeasured one if need be."""
    zone, applied, units = SCENES[scene]
    clinic = replace(book().clinic, time_zone=zone, units=units)
    parts, stored = named(name)
    refused: list[Refusal] = []
    for who in ("maple", "juniper", "pollen", "rowan"):
        animal = patient(who)
        on = datetime.fromisoformat(applied)
        # As old as it is in the book, whenever the bandage goes on.
        born = animal.born + (on - animal.applied) if animal.born else None
        animal = replace(animal, applied=on, born=born, visits={}, earlier=())
        for site in (animal.limb.site, "head", "tail", "chest", "left fore"):
            limb = animal.limb if site == animal.limb.site else replace(
                animal.limb, site=site, distal_girth=None, proximal_girth=None, covered_length=None
            )  # fmt: skip
            now = animal.applied.replace(tzinfo=ZoneInfo(zone)) + timedelta(minutes=10)
            try:
                plan = reckon(
                    parts,
                    replace(animal, limb=limb),
                    replace(book(), clinic=clinic),
                    now,
                    ZoneInfo(zone),
                    stored=stored,
                    zone_release="2026b",
                )
                refuse(plan)
            except Refusal as refusal:
                refused.append(refusal)
            else:
                return plan
    raise AssertionError(f"{name} fits no demo patient: {refused}")


def facts(node: Node) -> Iterator[tuple[str, str]]:
    """Machine values, those of the clinic's own words apart: of the list overleaf, of glosses, of the date beside the first."""
    if node.id == "same" or "gloss" in node.classes or "quiet" in node.classes:
        return
    if (node.id or "").startswith("deadline-gloss"):
        return
    if node.tag in ("time", "data"):
        yield node.tag, node.get("datetime") + node.get("value")
    elif node.tag == "a":
        yield node.get("href"), re.sub(r"\D", "", bare(node.plain()))
    else:
        for child in node.children:
            if isinstance(child, Node):
                yield from facts(child)


def composed(name: str, scene: int, words: Words) -> Node:
    return body(owner_sheet(plan_of(name, scene), words, ENGLISH, templates()).xhtml)


@cache
def english(name: str, scene: int) -> Counter[tuple[str, str]]:
    return Counter(facts(composed(name, scene, ENGLISH)))


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_sheet_has_the_facts_of_the_english_one(language: str) -> None:
    # Every bandage in every language; scenes step on, so that each meets every bandage and every language.
    for number, name in enumerate(BANDAGES):
        scene = (number + LANGUAGES.index(language)) % len(SCENES)
        # Signed, a sheet has each line once; a draft has the clinic's words beside each, and both are composed alike.
        words = signed_words(language, (number + LANGUAGES.index(language)) % 4 > 0)
        assert words is not None
        sheet = composed(name, scene, words)
        assert Counter(facts(sheet)) == english(name, scene), name
        text = said(sheet)
        # Never a date in figures alone; a code is no date.
        assert not re.search(r"\b\d{1,4}[/.-]\d{1,2}[/.-]\d{1,4}\b", text), name
        assert not re.search(
            r"(?<!\d)12:00\s*([ap]\.?\s?m|SA|CH|ص|م)|(오전|오후|上午|下午)\s*12:00", text, re.IGNORECASE
        ), name


def test_the_sheets_that_are_compared_say_something() -> None:
    for name in BANDAGES:
        for scene in range(len(SCENES)):
            kinds = {kind for kind, _ in english(name, scene)}
            assert {"time", "data", "tel:+18025550142"} <= kinds
    assert len(BANDAGES) >= 20


@pytest.mark.parametrize("language", ["es", "ar"])
def test_a_sheet_that_loses_a_line_with_a_figure_would_be_seen(language: str) -> None:
    words = signed_words(language, True)
    assert words is not None
    name = "owner-sheet.xhtml.j2"
    cut = (
        templates()[name]
        .replace('{{ line.p(deadline.latest, main, "flush") }}', "")
        .replace('{{ line.short(deadline.latest, main, "flush") }}', "")
    )
    assert "deadline.latest, main" not in cut
    sheet = body(owner_sheet(plan_of("padded-limb-support", 0), words, ENGLISH, {**templates(), name: cut}).xhtml)
    assert {kind for kind, _ in english("padded-limb-support", 0) - Counter(facts(sheet))} == {"time"}
