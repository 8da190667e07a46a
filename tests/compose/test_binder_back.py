"""What stands after the chapters: tabs, and forms with numbers of their own.

D11 and D19 are items of a list of what inspectors ask for (D19: copies of forms, EPA QA/G-6, 2007, cited from memory).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.compose.binder_back import form_numbers
from generator.compose.binder_front import book_digest
from generator.compose.binder_words import BACK, FORMS, FRONT
from generator.page.xhtml import Node
from tests.compose.binders import chapters, paper, pressed, rows
from tests.compose.plans import book
from tests.compose.reading import said, with_class

NUMBERS = {"log": "LB-FRM-001", "pick": "LB-FRM-002", "deviation": "LB-FRM-003"}
TABS = ("Support", "Wounds", "Bleeding", "Slings", "Covers", "Blends", "Appendices and forms")


def tab(node: Node) -> tuple[str, str] | None:
    found = with_class(node, "tab")
    return (said(found[0]), found[0].get("data-place")) if found else None


# ---- tabs --------------------------------------------------------------------------------------------------------


def test_every_chapter_behind_a_tab_shows_it_and_front_matter_shows_none():
    # D11: binder tabs by purpose.
    purposes = ("support", "wound", "haemorrhage", "sling", "cover")
    for name, node in chapters().items():
        if name in FRONT:
            assert tab(node) is None
            continue
        protocol = book().protocols.get(name.removeprefix("sop."))
        place = 6 if protocol is None else 5 if protocol.blend else purposes.index(protocol.purpose)
        assert tab(node) == (f"{place + 1} {TABS[place]}", f"{place + 1}/7")


# ---- forms -------------------------------------------------------------------------------------------------------


def test_forms_are_in_the_clinics_numbering_and_in_the_contents():
    # D19: appendices with ids of their own.
    assert form_numbers(book()) == NUMBERS
    listed = {row[0]: row[1] for row in rows(chapters()["contents"]) if len(row) == 4}
    assert {number: listed[number] for number in NUMBERS.values()} == {NUMBERS[id]: BACK[id] for id in FORMS}


def test_a_form_bears_its_number_and_the_content_of_its_binder():
    # D19: the form's revision is that of the whole binder it is printed in.
    for id, number in NUMBERS.items():
        text = paper()[pressed().page_of[id] - 1]
        assert f"{number} as of content {book_digest(book())}" in text
        assert text.count(number) >= 2


def test_each_form_is_one_page():
    places = [pressed().page_of[id] for id in FORMS]
    assert places == [pressed().pages - 2, pressed().pages - 1, pressed().pages]


def test_the_blank_log_has_what_is_looked_at_and_lines_to_write_on():
    head, *lines = rows(chapters()["log"])
    assert head == ["Due", "Done", "By", "Toes warm", "Colour", "Swelling", "Smell", "Slip", "Action"]
    assert len(lines) >= 15
    assert {cell for line in lines for cell in line} == {""}


@pytest.mark.parametrize(
    ("ids", "first"),
    [
        (("KV-1", "KV-2"), "KV-FRM-001"),
        (("KV-1", "OR-2"), "FRM-001"),
        (("17", "18"), "FRM-001"),
        # What the clinic numbers so itself is left to it.
        (("KV-FRM-001", "KV-2"), "KV-FORM-001"),
        (("FRM-7", "FORM-8", "BLANK-9"), "BINDER-FORM-001"),
    ],
)
def test_forms_take_no_number_of_the_clinics(ids: tuple[str, ...], first: str) -> None:
    two = list(book().protocols.items())[: len(ids)]
    numbered = replace(book(), protocols={slug: replace(p, id=id) for (slug, p), id in zip(two, ids, strict=True)})
    found = form_numbers(numbered)
    assert found["log"] == first
    assert not set(found.values()) & set(ids)
