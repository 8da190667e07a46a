"""The binder: control of documents, fixed sections, nothing dangling."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

from generator import opening
from generator.compose import binder
from generator.compose.sop import PLACES
from generator.page.document import Document
from generator.page.xhtml import Node
from generator.protocol.citations import CITATIONS
from tests.compose.plans import ROOT, at, book, templates
from tests.compose.reading import body, said, with_class

SECTIONS = (
    "Function", "Scope", "Who may do it", "Kit", "Layers, skin outwards", "Materials by size band", "Steps", "Limits and stop rule", "Watch table",
    "What the owner is told", "Deviations", "Records: read and understood", "References", "Change history",
)  # fmt: skip


@cache
def whole(day: str = "2026-11-25T09:00") -> Document:
    return binder(book(), templates(), at(day))


def chapters(day: str = "2026-11-25T09:00") -> dict[str, Node]:
    found = with_class(body(whole(day).xhtml), "chapter")
    return {str(node.id): node for node in found}


def sop(slug: str, day: str = "2026-11-25T09:00") -> Node:
    return chapters(day)[f"sop.{slug}"]


def test_every_protocol_is_a_chapter():
    assert {name.removeprefix("sop.") for name in chapters() if name.startswith("sop.")} == set(book().protocols)


def test_sections_have_the_same_numbers_everywhere():
    wanted = [f"{number}. {title}" for number, title in enumerate(SECTIONS, 1)]
    for slug in book().protocols:
        assert [said(node) for node in sop(slug).walk() if node.tag == "h2"] == wanted


def test_every_section_is_a_place_that_a_link_can_point_at():
    for slug in book().protocols:
        headings = [node for node in sop(slug).walk() if node.tag == "h2"]
        assert [str(node.id) for node in headings] == [f"sop.{slug}.{place}" for place in PLACES]


def test_number_revision_and_content_stand_on_every_page():
    for slug, protocol in book().protocols.items():
        foot = said(next(node for node in sop(slug).elements("footer")))
        assert f"{protocol.id} revision {protocol.revision}" in foot
        assert re.search(r"content [0-9a-f]{8}", foot)
        head = next(node for node in sop(slug).elements("header"))
        assert with_class(head, "chapter-page")
        assert with_class(head, "chapter-pages")


def test_contents_name_every_chapter():
    targets = {node.get("href").removeprefix("#") for node in chapters()["contents"].walk() if node.tag == "a"}
    assert targets == set(chapters()) - {"contents"}


def test_bands_follow_the_calendar():
    # Effective 2026-11-02, review by 2028-01-31.
    slug = "padded-limb-support"
    assert not with_class(sop(slug), "band")
    assert said(with_class(sop(slug, "2026-11-01T09:00"), "band")[0]).startswith("NOT YET IN FORCE")
    assert not with_class(sop(slug, "2028-01-31T09:00"), "band")
    assert said(with_class(sop(slug, "2028-02-01T09:00"), "band")[0]).startswith("REVIEW OVERDUE since 2028-01-31")


def test_cautions_stand_before_the_step_they_guard():
    items = [node for node in sop("padded-limb-support").walk() if node.tag == "li" and with_class(node, "caution")]
    steps = [step for step in book().protocols["padded-limb-support"].steps if step.caution]
    assert len(items) == len(steps) > 0
    for item, step in zip(items, steps, strict=True):
        texts = [said(node) for node in item.elements("p")]
        assert texts[0] == step.caution
        assert texts[-1] == step.do or step.do in texts


def test_every_source_number_is_in_the_list():
    for slug in book().protocols:
        text = said(sop(slug))
        listed = set(re.findall(r"\[(\d+)\] " + "[A-Z]", text))
        named = set(re.findall(r"\[(\d+)\]", text))
        assert named <= listed | {str(n) for n in CITATIONS}
        assert named == named & listed


def test_history_is_newest_first_and_its_top_row_is_current():
    for slug, protocol in book().protocols.items():
        table = [node for node in sop(slug).walk() if node.tag == "table"][-1]
        numbers = [int(said(node)) for node in table.walk() if node.tag == "th" and node.get("scope") == "row"]
        assert numbers == sorted(numbers, reverse=True)
        assert numbers[0] == protocol.revision


def test_a_blend_prints_its_parts_and_what_wins():
    text = said(sop("open-fracture-before-fixation"))
    assert "Parts of this blend" in text
    assert "Which part decides" in text
    assert "LB-SUP-003" in text
    assert "LB-WND-001" in text
    # What a part sends to this very blend is no reason against it.
    assert "use open-fracture-before-fixation" not in text


def test_estimates_are_called_so():
    bands = chapters()["bands"]
    assert said(with_class(bands, "band")[0]).startswith("ESTIMATES")


def test_rules_in_force_are_all_there():
    from generator.protocol.rules import RULES

    text = said(chapters()["rules"])
    assert all(rule.looks_for in text.replace("\n", " ") or " ".join(rule.looks_for.split()) in text for rule in RULES)


def test_warnings_of_the_check_are_printed_in_front():
    from generator.source.problem import Problem
    from generator.source.span import Span

    problem = Problem("review-overdue", Span("a.yaml", 3, 1), "the review date has passed", "", "", "warning")
    assert "a.yaml:3:1: the review date has passed" in said(
        body(binder(book(), templates(), at("2026-11-25T09:00"), problems=(problem,)).xhtml)
    )


def test_the_stop_rule_is_that_of_the_floor_card():
    # One sign asks for pressure on the bandage, not for its removal: a rule written beside the signs could contradict it.
    boxes = [said(node) for node in with_class(sop("pressure-bandage"), "alarm") if node.tag == "section"]
    assert len(boxes) == 1
    for name in book().protocols["pressure-bandage"].signs:
        sign = book().signs[name]
        if sign.urgency == "emergency":
            assert all(f"{part.rstrip('.')}." in boxes[0] for part in sign.staff.split(". "))
    assert boxes[0].count("Take the bandage off at once.") == 1
    assert "Past any later end of a limit: open it now" in boxes[0]


def test_stages_print_once_what_they_share():
    text = said(sop("open-wound"))
    stages = book().protocols["open-wound"].stages.values()
    assert len(stages) > 1
    # All stages name the same signs and tell the owner the same: one table, one list.
    assert len({stage.signs for stage in stages}) == 1
    sign = book().signs[next(iter(stages)).signs[0]]
    assert text.count(sign.owner.replace("{pet}", "[name]")) == 1
    # Layers differ, so each stage prints its own.
    assert [said(node) for node in sop("open-wound").walk() if node.tag == "h3"].count("Stage: inflammatory") >= 1


def test_a_limit_without_a_source_says_so():
    protocol = book().protocols["padded-limb-support"]
    bare = replace(protocol, sources={key: source for key, source in protocol.sources.items() if key != "change_every"})
    changed = replace(book(), protocols=dict(book().protocols) | {"padded-limb-support": bare})
    chapter = next(
        node
        for node in with_class(body(binder(changed, templates(), at("2026-11-25T09:00")).xhtml), "chapter")
        if node.id == "sop.padded-limb-support"
    )
    sources = {said(row.elements()[0]): said(row.elements()[-1]) for row in chapter.walk() if row.tag == "tr"}
    assert sources["Changed"] == "no source given"
    assert sources["First check"] != "no source given"


def test_no_limit_is_answered_against_its_sense():
    for slug, protocol in book().protocols.items():
        if protocol.stages or protocol.blend:
            continue
        found = {
            said(row.elements()[0]): [said(cell) for cell in row.elements()]
            for row in sop(slug).walk()
            if row.tag == "tr"
        }
        assert ("Always watched" in found) == bool(protocol.limits.supervised)
        if protocol.limits.go_home is not None:
            assert ("insists" in found["May go home"][2]) == (not protocol.limits.go_home)


def test_forms_stand_in_the_binder():
    forms = {name: said(node) for name, node in chapters().items() if name in ("pick", "log")}
    assert set(forms) == {"pick", "log"}
    for layer in ("A stirrups", "B contact", "C padding", "D conforming", "E splint", "F outer"):
        assert layer in forms["pick"]


def test_conditions_that_tighten_alike_stand_on_one_line():
    row = next(node for node in chapters()["modifiers"].walk() if node.tag == "tr" and said(node).startswith("oedema"))
    lines = [said(node) for node in row.walk() if node.tag == "p"]
    assert len(lines) == len({line.partition(": ")[2] for line in lines})


def test_no_number_of_a_source_dangles_in_the_appendices():
    listed = {said(node).split("]")[0].strip("[") for node in chapters()["rules"].walk() if node.tag == "li"}
    named = set(re.findall(r"\[(\d+)\]", said(chapters()["modifiers"])))
    for row in [node for node in chapters()["rules"].walk() if node.tag == "tr"][1:]:
        for run in re.findall(r"published ([\d, ]+)", said(row.elements()[-1])):
            named |= set(re.findall(r"\d+", run))
    for run in re.findall(r"published ([\d, ]+)", said(chapters()["dressings"])):
        named |= set(re.findall(r"\d+", run))
    assert named
    assert named == listed
    assert listed <= {str(n) for n in CITATIONS}


def test_no_field_is_left_open():
    for name, chapter in chapters().items():
        assert not re.search(r"\{[a-z_]+\}", said(chapter)), name


def test_the_digest_of_a_chapter_is_that_of_its_content_wherever_the_book_lies(tmp_path: Path) -> None:
    folder = tmp_path / "some" / "where"
    shutil.copytree(ROOT / "protocols", folder / "protocols")
    there = opening.open_book(str(folder)).book
    for slug, protocol in book().protocols.items():
        assert there.protocols[slug].content == protocol.content
        assert f"content {protocol.content[:8]}" in said(next(node for node in sop(slug).elements("footer")))
