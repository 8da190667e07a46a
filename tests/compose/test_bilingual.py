"""Staff and owner point at the same line: one number in every language, the clinic's words beneath or overleaf."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest

from generator import flow, opening
from generator.compose import owner_sheet
from generator.compose.owner_copy import _numbers
from generator.compose.owner_parts import Parts
from generator.compose.voice import Voice
from generator.compose.writer import Writer
from generator.page.document import Document
from generator.page.xhtml import Node
from generator.source.problem import Refusal
from generator.words.isolation import bare
from generator.words.local import Local
from tests.compose.plans import maple, templates
from tests.compose.reading import DEMO, ENGLISH, body, main, reckoned, said, with_class
from tests.press.stand_in import signed_words

LANGUAGES = ("es", "ar", "zh-Hans", "ht")


@cache
def sheet(who: str, language: str, signed: bool = False, clinic_copy: bool = False) -> Document:
    words = ENGLISH if language == "en" else signed_words(language, signed)
    assert words is not None
    return owner_sheet(reckoned(who, *DEMO[who]), words, ENGLISH, templates(), clinic_copy=clinic_copy)


def in_english(node: Node) -> str:
    """The English words of a line: its own, or those beneath or before it."""
    parts = [n for n in node.walk() if n.get("lang") == "en"]
    return bare(said(parts[0])) if parts else bare(said(node))


def items(root: Node) -> Mapping[int, str]:
    """English words by number, of lists and of acts, which carry their number in the line."""
    found: dict[int, str] = {}
    for node in root.walk():
        if node.tag == "ol":
            for number, item in enumerate(node.elements("li"), int(node.get("start", "1"))):
                found[number] = in_english(item)
        children = node.elements()
        for index, child in enumerate(children):
            number = next((n for n in child.walk() if n.tag == "data" and (n.id or "").startswith("item")), None)
            if child.tag == "li" and number is not None and child.elements("p")[:1] != child.elements()[:1]:
                beneath = next((n for n in child.elements() if "gloss" in n.classes), None)
                own = re.sub(r"^\d+\.\s*", "", bare(said(child)))
                found[int(number.get("value"))] = bare(said(beneath)) if beneath is not None else own
            elif child.tag == "p" and number is not None:
                beneath = children[index + 1] if index + 1 < len(children) else None
                own = re.sub(r"^\d+\.\s*", "", bare(said(child)))
                is_gloss = beneath is not None and "gloss" in beneath.classes
                found[int(number.get("value"))] = bare(said(beneath)) if is_gloss and beneath is not None else own
    return found


@pytest.mark.parametrize("who", ["maple", "rowan", "juniper"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_number_is_the_same_line_in_every_language(who: str, language: str) -> None:
    english = items(main(sheet(who, "en").xhtml))
    assert len(english) > 20
    assert sorted(english) == list(range(1, len(english) + 1))
    draft = items(main(sheet(who, language).xhtml))
    assert sorted(draft) == sorted(english)
    assert draft == english


@pytest.mark.parametrize("language", LANGUAGES)
def test_signed_words_stand_alone_and_the_clinics_overleaf_with_the_same_numbers(language: str) -> None:
    document = sheet("maple", language, signed=True)
    root = main(document.xhtml)
    assert not document.is_draft
    assert not with_class(body(document.xhtml), "band")
    assert not with_class(root, "draft")
    assert not with_class(root, "gloss")
    [overleaf] = [node for node in root.walk() if node.id == "same"]
    assert overleaf.get("lang") == "en"
    numbers = {}
    for node in overleaf.walk():
        if node.tag == "ol":
            for number, item in enumerate(node.elements("li"), int(node.get("start"))):
                numbers[number] = bare(said(item)).strip()
    english = items(main(sheet("maple", "en").xhtml))
    # Lines that share a picture share its number: overleaf they stand in one item.
    assert sorted(numbers) == sorted(english)
    assert all(numbers[number].startswith(text) for number, text in english.items())
    assert any(node.get("href") == "tel:+18025550178" for node in overleaf.walk())


def test_a_draft_says_each_line_beneath_and_an_english_sheet_only_once() -> None:
    for language in ("en", "es"):
        assert not [node for node in main(sheet("maple", language).xhtml).walk() if node.id == "same"]


def test_hours_are_said_in_the_clinics_words_too() -> None:
    root = main(sheet("maple", "es").xhtml)
    box = next(node for node in root.walk() if node.id == "alarm")
    hours = [node for node in box.walk() if node.tag == "p" and "gloss" in node.classes and "8:00" in said(node)]
    assert [bare(said(node)) for node in hours] == ["Mon to Fri 8:00 AM to 6:30 PM, Sat 8:30 AM to 1:00 PM"]


@pytest.mark.parametrize("signed", [True, False])
def test_questions_are_asked_in_both_languages_with_the_numbers_that_answer_them(signed: bool) -> None:
    document = sheet("maple", "ht", signed, clinic_copy=True)
    text = bare(said(main(document.xhtml)))
    words = signed_words("ht", signed)
    assert words is not None
    for question in ("Show me where you will look.", "What would make you ring at night?"):
        assert question in text
        assert words.say(question).text in text
    english = items(main(sheet("maple", "en").xhtml))
    first, last = next(iter(re.findall(r"ring at night\?.*?Answer: (\d+)\u2013(\d+)", text)))
    signs = [english[number] for number in range(int(first), int(last) + 1)]
    assert "The bandage is wet, for any reason." in signs
    assert "Smell the bandage at both ends." not in signs
    assert "Interpreter" in text
    assert document.is_draft is not signed
    assert (document.language, document.beside) == ("en", "ht")


@pytest.mark.parametrize("who", ["maple", "pollen", "juniper"])
def test_the_numbers_that_answer_are_those_of_the_lines(who: str) -> None:
    text = bare(said(main(sheet(who, "en", clinic_copy=True).xhtml)))
    english = items(main(sheet(who, "en").xhtml))
    [answer] = re.findall(r"keep \w+ quiet\?.*?Answer: ([\d\u2013, ]+)", text)
    told = set()
    for stretch in answer.strip().split(", "):
        first, _, last = stretch.partition("\u2013")
        told |= set(range(int(first), int(last or first) + 1))
    quiet = [n for n, line in english.items() if re.match(r"Do not|Came off|Walk|Keep \w+ indoors", line)]
    assert sorted(told) == sorted(quiet)


def test_groups_with_others_between_them_are_told_apart() -> None:
    local = Local("en")
    parts = Parts(maple(), Voice(ENGLISH, ENGLISH, local, local, Writer()))
    for asked, shown in (((5, 6), "5\u20136, 10\u201312"), ((7, 9), "7\u201312"), ((8, 8), "8, 10\u201312")):
        parts.asked = {"never": (10, 12), "rest": asked}
        line = _numbers(parts, "never", "rest")
        assert line is not None
        assert bare(str(line.text.striptags())) == f"Answer: {shown}"


def test_no_template_can_take_the_band_away() -> None:
    whole = templates()["owner-sheet.xhtml.j2"]
    start, end = whole.index("{% if band %}"), whole.index("<header")
    own = templates() | {"owner-sheet.xhtml.j2": whole[:start] + whole[end:]}
    words = signed_words("es", False)
    assert words is not None
    with pytest.raises(Refusal) as refused:
        owner_sheet(maple(), words, ENGLISH, own)
    assert [problem.name for problem in refused.value.problems] == ["draft-unmarked"]
    # Signed words need none.
    signed = signed_words("es", True)
    assert signed is not None
    owner_sheet(maple(), signed, ENGLISH, own)


def test_a_clinic_that_forbids_drafts_is_asked_about_the_sheets_own_words(tmp_path: Path) -> None:
    import shutil

    from tests.conftest import ROOT

    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    clinic = tmp_path / "protocols" / "clinic.yaml"
    text = clinic.read_text(encoding="utf-8")
    assert re.search(r"^drafts:", text, re.MULTILINE)
    clinic.write_text(re.sub(r"^drafts:.*$", "drafts: forbid", text, flags=re.MULTILINE), encoding="utf-8")
    opened = opening.open_book(str(tmp_path / "protocols"))
    with pytest.raises(Refusal) as refused:
        flow.sheets(opened, maple(), ["es", "ar", "en"])
    assert [problem.name for problem in refused.value.problems] == ["drafts-forbidden", "drafts-forbidden"]
    assert [made.language for made, _ in flow.sheets(opened, maple(), ["en"])] == ["en"]
