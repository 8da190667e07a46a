"""What a rule says of itself: the binder prints it, and its broken example must really be stopped."""

from __future__ import annotations

import re
import sys
from functools import cache
from pathlib import Path

import pytest

from generator.explaining import EXAMPLE, Judged, judged_example
from generator.protocol.citations import CITATIONS
from generator.protocol.kinds import KINDS
from generator.protocol.rules import CLINIC_RULES, RULES
from generator.protocol.rules.rule import ClinicRule, Rule
from generator.source.text import read_tree
from generator.source.tree import Entries
from tests.conftest import review
from tests.protocol.rules import (
    test_anatomy_and_slings,
    test_clinic,
    test_harm,
    test_layers_and_materials,
    test_limits,
    test_papers,
    test_steps,
)
from tests.protocol.rules.slips import BASE

EVERY: tuple[Rule | ClinicRule, ...] = (*RULES, *CLINIC_RULES)
ROOT = Path(__file__).parents[3]

# Found by a test of its own, since one edit of one file does not bring it about.
ELSEWHERE = {
    "cat-not-warned-of", "carpus-of-growing-animal", "stifle-held-in-growing-animal", "release-not-here", "release-after-removal",
    "size-bands-out-of-order", "no-emergency-sign", "no-urgent-sign", "parts-cannot-be-joined", "parts-share-nothing",
}  # fmt: skip


@cache
def judged(rule: Rule | ClinicRule, text: str) -> Judged:
    return judged_example(rule, text)


def rule_of(name: str) -> str:
    """The rule that a problem's name belongs to; the name itself where it is no rule's."""
    return next((rule.id for rule in EVERY if name in (rule.name, *rule.also)), name)


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_the_broken_example_is_stopped_by_its_rule_in_its_own_lines(rule: Rule | ClinicRule) -> None:
    found = [p for p in judged(rule, rule.broken).problems if p.name == rule.name]
    assert found, judged(rule, rule.broken)
    assert {p.span.file for p in found} == {EXAMPLE}
    assert max(p.span.line for p in found) <= rule.broken.count("\n")


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_the_mended_example_is_stopped_by_nothing(rule: Rule | ClinicRule) -> None:
    assert rule.mended != rule.broken
    problems = judged(rule, rule.mended).problems
    assert {rule_of(p.name) for p in problems} & {rule_of(p.name) for p in judged(rule, rule.broken).problems} == set()
    assert [f"{p.span}: {p.name}: {p.what}" for p in problems if p.severity == "error"] == []


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_an_example_and_its_mending_are_of_the_same_keys(rule: Rule | ClinicRule) -> None:
    # What a reader compares line by line must start as the same thing; a removed key is not a mended one.
    broken, mended = (read_tree(text.encode(), rule.id).tree for text in (rule.broken, rule.mended))
    assert isinstance(broken, Entries)
    assert isinstance(mended, Entries)
    kept = {key.text for key, _ in broken.entries} & {key.text for key, _ in mended.entries}
    assert kept


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_a_rule_says_what_why_and_whose_word(rule: Rule | ClinicRule) -> None:
    assert rule.looks_for.endswith(".")
    assert rule.why.endswith(".")
    said = re.sub(r"\b(published|common practice|house rule|from memory|ISO)\b", "", rule.source)
    assert said != rule.source, "the source names neither print nor practice nor house"


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_every_citation_number_of_a_rule_resolves(rule: Rule | ClinicRule) -> None:
    numbers = [
        int(n) for group in re.findall(r"published ((?:\d+(?:, )?)+)", rule.source) for n in re.findall(r"\d+", group)
    ]
    assert [n for n in numbers if n not in CITATIONS] == []


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.id)
def test_the_page_of_a_rule_has_its_four_headings(rule: Rule | ClinicRule) -> None:
    page = sys.modules[rule.check.__module__].__doc__ or ""
    assert page.startswith(f"{rule.id}: ")
    for heading in ("What it looks for: ", "Why it matters: ", "Stops: ", "Write instead: "):
        assert f"\n{heading}" in page


def test_ids_and_names_are_given_once() -> None:
    ids = [rule.id for rule in EVERY]
    assert len(set(ids)) == len(ids)
    names = [name for rule in EVERY for name in (rule.name, *rule.also)]
    assert len(set(names)) == len(names)


def test_no_rule_of_the_trade_is_left_out() -> None:
    assert {f"R{n:02d}" for n in range(1, 22)} - {rule.id for rule in RULES} == set()


def test_every_name_is_brought_about_by_a_slip_and_declared_by_its_rule() -> None:
    modules = (
        test_anatomy_and_slings,
        test_clinic,
        test_harm,
        test_layers_and_materials,
        test_limits,
        test_papers,
        test_steps,
    )
    brought = {slip.name for module in modules for slip in module.SLIPS} | ELSEWHERE | {"limit-over-ceiling"}
    declared = {name for rule in EVERY for name in (rule.name, *rule.also)}
    assert declared - brought == set()
    assert brought - declared == set()


def test_every_ceiling_cites_what_is_in_the_list() -> None:
    for kind in KINDS.values():
        for ceiling in kind.ceilings.values():
            numbers = (
                [int(n) for n in re.findall(r"\d+", ceiling.source)] if ceiling.source.startswith("published") else []
            )
            assert [n for n in numbers if n not in CITATIONS] == [], kind.key


@pytest.mark.parametrize("folder", [ROOT / "protocols", BASE], ids=["shipped", "base"])
def test_a_sound_book_brings_no_error(folder: Path) -> None:
    assert [str(p.span) + " " + p.name for p in review(folder).problems if p.severity == "error"] == []
