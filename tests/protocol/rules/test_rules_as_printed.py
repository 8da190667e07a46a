"""What a rule says of itself: the binder prints it, and its broken example must really be stopped."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

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
from tests.protocol.rules.slips import BASE, sound, told

EVERY: tuple[Rule | ClinicRule, ...] = (*RULES, *CLINIC_RULES)
ROOT = Path(__file__).parents[3]
BLOCK = re.compile(r"^([a-z_][a-z0-9 _-]*):.*\n(?:[ -].*\n|\n|#.*\n)*", re.MULTILINE)
INNER = re.compile(r"^  ([a-z_]+):.*\n(?:    .*\n)*", re.MULTILINE)

# Found by a test of its own, since one edit of one file does not bring it about.
ELSEWHERE = {
    "cat-not-warned-of", "carpus-of-growing-animal", "stifle-held-in-growing-animal", "release-not-here", "release-after-removal",
    "size-bands-out-of-order", "no-emergency-sign", "no-urgent-sign", "parts-cannot-be-joined", "parts-share-nothing",
}  # fmt: skip


def overlaid(text: str, lines: str) -> str:
    """Put the lines of an example in place of the same keys of a sound file; of `limits`, key by key unless it is whole."""
    for found in BLOCK.finditer(lines):
        key, block = found[1], found[0]
        own = next((m for m in BLOCK.finditer(text) if m[1] == key), None)
        if key == "limits" and own is not None and "supervised" not in block:
            merged = own[0]
            for row in INNER.finditer(block):
                there = next((m[0] for m in INNER.finditer(merged) if m[1] == row[1]), "")
                merged = merged.replace(there, row[0]) if there else merged + row[0]
            block = merged
        text = text.replace(own[0], block) if own is not None else text + block
    return text


def base_of(rule: Rule) -> str:
    """The sound protocol that a rule's example is laid over: the one of its kind, or the blend."""
    tree = read_tree(rule.broken.encode(), rule.id).tree
    assert isinstance(tree, Entries)
    if tree.get("blend") is not None:
        return "open-fracture.yaml"
    kind = getattr(tree.get("kind"), "text", "")
    return next(name for name, text in sound().items() if f"\nkind: {kind}\n" in text)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_the_broken_example_is_stopped_by_its_rule(rule: Rule) -> None:
    file = base_of(rule)
    changed = {file: overlaid(sound()[file], rule.broken)}
    if rule.name in ("cat-not-warned-of", "carpus-of-growing-animal", "stifle-held-in-growing-animal"):
        changed["modifiers.yaml"] = ""
    assert rule.name in [p.name for p in told(changed) if p.span.file == file]


@pytest.mark.parametrize("rule", CLINIC_RULES, ids=lambda rule: rule.id)
def test_the_broken_settings_are_stopped_by_their_rule(rule: ClinicRule) -> None:
    text = rule.broken if rule.file == "signs.yaml" else overlaid(sound()[rule.file], rule.broken)
    assert rule.name in [p.name for p in told({rule.file: text}) if p.span.file == rule.file]


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
