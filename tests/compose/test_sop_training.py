"""Who was trained on this very revision is found in the chapter, and who is not on one page (ISO 9001:2015 7.2 d; ISO/IEC 17025:2017 6.2)."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from generator import opening
from generator.compose import procedures
from generator.compose.marks import Marks
from generator.page.xhtml import Node
from generator.protocol.model import Book, Staff
from generator.standing import standings
from tests.compose.plans import ROOT, at, book, templates
from tests.compose.reading import body, said, with_class

ISSUED = "2027-03-15T09:00"


def chapters(of: Book) -> dict[str, Node]:
    opened = opening.open_book(str(ROOT / "protocols"))
    marks = Marks({one.protocol.file: one for one in standings(opened, opened.book.protocols.values())})
    document = procedures.binder(of, templates(), at(ISSUED), marks=marks)
    return {str(node.id): node for node in with_class(body(document.xhtml), "chapter")}


@cache
def shipped() -> dict[str, Node]:
    return chapters(book())


def rows_of(table: Node) -> list[list[str]]:
    rows = [node for node in table.walk() if node.tag == "tr"]
    return [[said(cell).strip() for cell in row.children if isinstance(cell, Node)] for row in rows]


def log(chapter: Node) -> list[list[str]]:
    """The read-and-understood table: the one whose head says so."""
    tables = [rows_of(node) for node in chapter.walk() if node.tag == "table"]
    (found,) = [rows for rows in tables if rows[0] == ["Name", "Role", "Read on", "Competent on", "Shown competent to"]]
    return found[1:]


# By hand, from training.yaml and the record of approvals: revision 4 of LB-SUP-002.
PADDED = [
    ["R. Osei-Lund", "head technician", "2026-10-12", "prepared it", ""],
    ["Dr M. Tamsin", "clinician", "2026-10-22", "approved it", ""],
    ["Dr J. Ferrow", "clinician", "2026-10-28", "2026-10-30", "Dr M. Tamsin"],
    ["J. Adeyemi", "technician", "2026-10-26", "2026-10-30", "Dr M. Tamsin"],
    ["L. Marchetti", "technician", "2026-10-27", "2026-10-30", "R. Osei-Lund"],
    # Trained on revision 3 only: nothing of it stands on the page of revision 4.
    ["S. Yilmaz", "night technician", "", "", ""],
    # Read, and not shown competent.
    ["P. Nakoa", "kennel assistant", "2026-11-04", "", ""],
]


def test_a_chapter_has_a_row_for_everybody_and_its_own_revision_only():
    found = log(shipped()["sop.padded-limb-support"])
    assert found[: len(PADDED)] == PADDED
    assert found[len(PADDED) :] == [[""] * 5] * 2


def test_every_chapter_has_a_line_for_everybody_who_works_here():
    here = [person for person in book().clinic.roster if person.works_on(at(ISSUED).date())]
    for name, chapter in shipped().items():
        if name.startswith("sop."):
            assert [row[0] for row in log(chapter) if row[0]] == [person.name for person in here], name


def test_one_page_says_who_knows_which_revision_and_what_is_due():
    tables = [rows_of(node) for node in shipped()["training"].walk() if node.tag == "table"]
    heads = [head for table in tables for head in table[0][2:]]
    cells = [cell for table in tables for row in table[1:] if row[0].startswith("LB-SUP-002") for cell in row[2:]]
    assert len(heads) == len(cells) == 7
    by_name = dict(zip(heads, cells, strict=True))
    assert by_name["S. Yilmaz"] == "due, has 3"
    assert by_name["P. Nakoa"] == "due, read"
    assert by_name["L. Marchetti"] == "4"
    assert (by_name["R. Osei-Lund"], by_name["Dr M. Tamsin"]) == ("4 P", "4 A")
    for table in tables:
        assert len(table) == 1 + len(book().protocols)


def test_what_is_due_is_counted_and_bold():
    page = shipped()["training"]
    bold = [said(node) for node in page.walk() if node.tag == "strong" and said(node) == "due"]
    cells = [cell for node in page.walk() if node.tag == "table" for row in rows_of(node)[1:] for cell in row[2:]]
    count = sum(cell.startswith("due") for cell in cells)
    assert count > 0
    assert len(bold) == count + 1  # the word is explained once
    assert f"Due on the day of issue: {count}." in said(page)


def test_many_people_stand_in_several_tables():
    clinic = book().clinic
    more = tuple(Staff(f"T. Helper-{letter}", "technician", None, None, {}) for letter in "ABCD")
    page = chapters(replace(book(), clinic=replace(clinic, staff=(*clinic.staff, *more))))["training"]
    widths = [len(rows_of(node)[0]) - 2 for node in page.walk() if node.tag == "table"]
    assert widths == [7, 4]
