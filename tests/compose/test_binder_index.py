"""The glossary and the index of terms: made of the data, sorted, nothing that leads nowhere."""

from __future__ import annotations

import re
from functools import cache

import pytest

from generator.compose.binder_index import index_pages
from generator.compose.finder import Chapter
from generator.compose.glossary import GLOSSARY
from generator.compose.tabs import in_binder_order, reference_values
from generator.compose.writer import Writer
from generator.page.xhtml import Node
from generator.protocol.kinds import SITES
from tests.compose.binders import chapters, larger, paper, pressed, targets
from tests.compose.plans import book
from tests.compose.reading import said


@cache
def entries() -> list[tuple[str, str, Node]]:
    """Term, the whole line, the line's element: in reading order, without the letters that head them."""
    lines = [node for node in chapters()["index"].walk() if node.tag == "p" and targets(node)]
    return [(said(line.elements("strong")[0]), said(line), line) for line in lines]


def leads(term: str, remark: str = "") -> set[str]:
    begins = f"{term} ({remark})" if remark else term
    return {
        target
        for word, line, node in entries()
        if word == term and line.startswith(begins) and ("(" in line.split(":")[0]) == bool(remark)
        for target in targets(node)
    }


# ---- glossary ----------------------------------------------------------------------------------------------------


def test_each_word_is_explained_once_in_one_sentence():
    # D14: definitions. One word per thing.
    assert list(GLOSSARY) == sorted(GLOSSARY, key=str.casefold)
    shown = [said(node) for node in chapters()["glossary"].walk() if node.tag == "dt"]
    assert shown == list(GLOSSARY)
    for word, means in GLOSSARY.items():
        assert re.fullmatch(r"[A-Z][^.?!]*\.", means), word
        assert not re.search(r"\d", means), word


@pytest.mark.parametrize(
    ("word", "says"),
    [
        # Margins of meaning that the rest of the binder rests on, in the trade's common use.
        ("overlap", "under the next turn"),
        ("pass", "One trip of a roll up the limb"),
        ("turn", "Once round the limb"),
        ("estimate", "not measured"),
        ("ceiling", "only stay below"),
    ],
)
def test_words_that_are_easily_taken_for_each_other_say_different_things(word: str, says: str) -> None:
    assert says in GLOSSARY[word]


# ---- index -------------------------------------------------------------------------------------------------------


def test_the_index_is_in_order_of_the_alphabet():
    terms = [term for term, _, _ in entries()]
    assert len(terms) > 150
    assert terms == sorted(terms, key=str.casefold)


def test_no_link_of_the_index_leads_nowhere():
    # D11: links resolve.
    assert {target for _, _, node in entries() for target in targets(node)} <= set(chapters())


def test_every_material_sign_site_condition_and_word_can_be_looked_up():
    terms = {term for term, _, _ in entries()}
    wanted = {*book().stock, *(name.replace("-", " ") for name in book().signs), *SITES, *book().modifiers, *GLOSSARY}
    assert wanted <= terms


def test_a_material_leads_to_the_procedures_that_use_it_and_to_the_stock():
    # Roll cotton is laid only in the heavy padded bandage.
    assert leads("roll cotton") == {"sop.heavy-padded-limb", "stock"}
    # A dressing that the wound may choose leads to the procedures that offer it.
    assert "sop.open-wound" in leads("alginate sheet")


def test_a_site_leads_to_what_goes_on_there():
    assert leads("tail") == {"sop.tail-bandage"}
    assert leads("chest") == {f"sop.{slug}" for slug, p in book().protocols.items() if "chest" in p.sites}


def test_a_case_in_which_not_to_use_a_bandage_says_so():
    assert leads("hip dysplasia", "do not use") == {"sop.ehmer-sling"}
    assert leads("hip dysplasia") == set()


def test_a_sign_of_every_procedure_behind_a_tab_leads_to_the_tab():
    # All slings watch for it; six numbers in a row would be read by nobody.
    (line,) = [line for term, line, _ in entries() if term == "toes cold or discoloured"]
    slings = [p for p in book().protocols.values() if p.purpose == "sling" and not p.blend]
    assert all("toes-cold-or-discoloured" in p.signs for p in slings)
    assert "4: all" in line
    assert "LB-SLG" not in line


def test_pages_in_the_index_are_those_of_the_chapters():
    # D11, read from the paper.
    text = " ".join(paper()[pressed().page_of["index"] - 1 : pressed().page_of["log"] - 1])
    assert f"LB-SUP-004 {pressed().page_of['sop.heavy-padded-limb']}" in text
    assert f"stock {pressed().page_of['stock']}" in text


def test_two_columns_of_the_index_stand_on_one_page():
    pages = [
        node for node in chapters()["index"].walk() if node.tag == "div" and "columns" in node.classes and targets(node)
    ]
    printed = pressed().page_of["log"] - pressed().page_of["index"]
    assert printed == len(pages)


def test_a_letter_that_runs_on_is_named_again_at_the_head_of_the_next_column():
    letters = [said(n) for n in chapters()["index"].walk() if n.tag == "p" and "large" in n.classes]
    assert any(letter.endswith(", continued") for letter in letters)
    firsts = [letter for letter in letters if not letter.endswith("continued")]
    assert len(firsts) == len(set(firsts))
    assert firsts[1:] == sorted(firsts[1:])


def test_the_index_of_a_large_book_names_each_procedure():
    big = larger(60)
    writer = Writer()
    listed: list[Chapter] = [
        (p, {"id": f"sop.{p.protocol}", **reference_values(p, writer)}) for p in in_binder_order(big.protocols.values())
    ]
    places = {
        place["id"]
        for columns in index_pages(listed, big, writer)
        for column in columns
        for group in column["groups"]
        for row in group["rows"]
        for part in row["where"]
        for place in part["places"]
    }
    # All that stop bleeding watch for the same signs and go on at the same sites: they are led to as a tab.
    assert {f"sop.{slug}" for slug, p in big.protocols.items() if p.purpose != "haemorrhage"} <= places
