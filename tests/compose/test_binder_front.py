"""What stands before the chapters of the binder: who keeps it, which copy it is, where everything is.

The items D4, D9, D11, D16, D18 and D20 are those of a list of what inspectors ask for, made from ISO 9001:2015 7.5.2 and 7.5.3 and
ISO/IEC 17025:2017 8.3.2 (published, read in reproductions); signal words are those of ANSI Z535.4 (read in reproductions).
"""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest

from generator.compose import binder
from generator.compose.copies import UNCONTROLLED
from generator.page.xhtml import Node
from generator.press import press
from generator.protocol.kinds import SITES
from tests.compose.binders import ISSUED, chapters, larger, paper, pressed, rows, targets, whole
from tests.compose.plans import at, book, templates
from tests.compose.reading import body, said, with_class

SOPS = {f"sop.{slug}": protocol for slug, protocol in book().protocols.items()}


def page(name: str) -> Node:
    return chapters()[name]


# ---- the control page --------------------------------------------------------------------------------------------


def test_the_control_page_is_the_second_page_and_lists_every_procedure_in_order():
    # D16 (ISO 9001:2015 7.5.3): equals the data, sorted by number, each with its state.
    assert pressed().page_of["control"] == 2
    found = [row for row in rows(page("control")) if len(row) == 8][1:]
    wanted = [
        [p.id, p.title, str(p.revision), p.effective.isoformat(), p.review_by.isoformat(), p.approved_by.name]
        for p in sorted(book().protocols.values(), key=lambda p: p.id)
    ]
    assert [[*row[:5], row[6]] for row in found] == wanted
    assert all(re.fullmatch("[0-9a-f]{8}", row[7]) for row in found)


@pytest.mark.parametrize(("day", "state"), [("2026-10-31", "not yet in force"), ("2028-02-01", "review overdue")])
def test_what_is_not_in_force_or_overdue_is_flagged(day: str, state: str) -> None:
    # D16. The padded bandage is in force from 2026-11-02 and reviewed by 2028-01-31.
    flagged = {
        said(row.elements("th")[0]): [said(node) for node in with_class(row, "alarm")]
        for row in chapters(f"{day}T09:00")["control"].walk()
        if row.tag == "tr" and row.elements("td")
    }
    assert flagged["LB-SUP-002"] == [state]


def test_what_nobody_approved_has_no_approver_on_the_control_page():
    # D6, D16: whoever prepared it must not stand where the approver is asked for.
    slug = "padded-limb-support"
    unapproved = replace(book().protocols[slug], approved_by=None)
    changed = replace(book(), protocols={**book().protocols, slug: unapproved})
    control = next(n for n in body(binder(changed, templates(), at(ISSUED)).xhtml).walk() if n.id == "control")
    assert {row[0]: row[6] for row in rows(control) if len(row) == 8}["LB-SUP-002"] == "nobody yet"


def test_the_digests_on_the_control_page_are_those_on_the_pages():
    # D3, D18 (ISO 9001:2015 7.5.3.1 b): the same signs in the index and in the foot of each chapter.
    for number, *_, digest in [row for row in rows(page("control")) if len(row) == 8][1:]:
        slug = next(name for name, protocol in SOPS.items() if protocol.id == number)
        assert f"content {digest}" in said(page(slug).elements("footer")[0])


# ---- copies ------------------------------------------------------------------------------------------------------


def test_the_list_of_copies_has_a_line_for_each_and_room_to_write():
    # D9 (ISO/IEC 17025:2017 8.3.2 d): number, place, holder, put in, taken out, initials.
    head, *found = rows(page("copies"))
    assert head == ["Copy", "Place", "Holder", "Put in, date", "Taken out, date", "Initials"]
    assert found == [[str(c.number), c.place, c.holder, "", "", ""] for c in book().clinic.copies]


def test_a_numbered_copy_says_so_on_every_page():
    # D9: the number of the copy on each page.
    assert len(paper(2)) > 100
    assert [n for n, text in enumerate(paper(2), 1) if "Controlled copy 2 of 4, ward" not in text] == []
    assert [n for n, text in enumerate(paper(2), 1) if UNCONTROLLED in text] == []


def test_any_other_page_says_that_it_is_uncontrolled():
    # D9, in the words of a laboratory under document control (EPA New England OEME, 2004, as reproduced).
    assert [n for n, text in enumerate(paper(), 1) if UNCONTROLLED not in text] == []
    assert not any("Controlled copy" in text for text in paper())


# ---- finding -----------------------------------------------------------------------------------------------------


def test_the_finder_is_one_page():
    # D11: a one-page finder.
    assert pressed().page_of["contents"] - pressed().page_of["finder"] == 1


def test_the_finder_leads_to_every_procedure_by_what_is_in_front_of_the_technician():
    by_case = {row[0]: target for row, target in zip(_case_rows(), _case_targets(), strict=True)}
    assert set(by_case.values()) == set(SOPS)
    for words, target in by_case.items():
        protocol = SOPS[target]
        assert protocol.title in words
        assert protocol.id in words
        if protocol.use_when:
            assert words.startswith(protocol.use_when[0])


def test_no_two_procedures_answer_the_same_question():
    # Two blends of the same procedures at different stages of the wound.
    cases = [row[0].partition(":")[0] for row in _case_rows()]
    assert len(cases) == len(set(cases))


def test_the_finder_knows_every_site():
    found: dict[str, set[str]] = {}
    for row in _tables("Where it goes on"):
        words = said(row)
        listed = {protocol.id for protocol in SOPS.values() if protocol.id in words}
        names = [site for site in SITES if re.search(rf"(^|, ){site}(,| \d:)", words)]
        found |= dict.fromkeys(names, listed)
    assert set(found) == set(SITES)
    for site, listed in found.items():
        alone = {p.id for p in SOPS.values() if site in p.sites}
        assert {number for number in listed if not number.startswith("LB-BLD")} == alone
    # Both parts of it go on below the elbow, one of them nowhere else.
    assert "LB-BLD-003" in found["distal forelimb"]
    assert "LB-BLD-003" not in found["distal hindlimb"]


@pytest.mark.parametrize("paper_size", ["a4", "letter"])
def test_a_finder_of_sixty_procedures_is_looked_up_by_two_tables_that_follow_each_other(paper_size: str) -> None:
    book = larger(60)
    book = replace(book, clinic=replace(book.clinic, paper=paper_size))
    document = binder(book, templates(), at(ISSUED))
    finder = next(node for node in body(document.xhtml).walk() if node.id == "finder")
    assert len([node for node in finder.walk() if node.tag == "table"]) == 2
    assert len(set(targets(finder))) == 60
    # By purpose first, then by site on a page of its own; neither is set small.
    assert with_class(finder, "small") == []
    assert len(with_class(finder, "new-page")) == 1
    found = press(document).page_of
    assert 2 <= found["contents"] - found["finder"] <= 5


def _tables(heading: str) -> list[Node]:
    """The rows of the finder's tables that begin with these words."""
    tables = [node for node in page("finder").walk() if node.tag == "table"]
    return [row for t in tables if said(t).startswith(heading) for row in t.elements("tbody")[0].elements("tr")]


def _case_rows() -> list[list[str]]:
    return [[said(cell) for cell in row.elements("td")] for row in _tables("What is in front")]


def _case_targets() -> list[str]:
    return [target for row in _tables("What is in front") for target in targets(row)]


# ---- contents ----------------------------------------------------------------------------------------------------


def test_contents_stand_by_tab_then_by_number():
    wanted = ("support", "wound", "haemorrhage", "sling", "cover", "")
    listed = [SOPS[target] for target in targets(page("contents")) if target in SOPS]
    keys = [(wanted.index("" if p.blend else p.purpose), p.id) for p in listed]
    assert keys == sorted(keys)
    assert {p.protocol for p in listed} == set(book().protocols)
    # And so do the chapters.
    assert [name for name in chapters() if name in SOPS] == [f"sop.{p.protocol}" for p in listed]


def test_contents_tell_the_page_on_which_each_chapter_begins():
    # D11: every id in the contents with the right page, read from the paper.
    entries = [row for row in rows(page("contents"))[1:] if len(row) == 4]
    text = " ".join(paper()[pressed().page_of["contents"] - 1 : pressed().page_of["use"] - 1])
    for (number, title, revision, _), target in zip(entries, targets(page("contents")), strict=True):
        first = pressed().page_of[target]
        assert title in paper()[first - 1]
        line = " ".join(part for part in (number, title, revision) if part)
        assert f"{line} {first}" in text
        if target in SOPS:
            assert "page 1 of" in paper()[first - 1]


def test_bookmarks_are_the_contents():
    # D11: bookmarks = contents.
    import pypdf

    outline = pypdf.PdfReader(io.BytesIO(pressed().data)).outline
    top = [str(item.title) for item in outline if not isinstance(item, list)]
    listed = [row[1] for row in rows(page("contents"))[1:] if len(row) == 4]
    listed.insert(list(chapters()).index("contents"), "Contents")
    assert top == listed


def test_every_link_of_the_binder_resolves():
    places = {node.id for node in body(whole().xhtml).walk() if node.id}
    assert set(targets(body(whole().xhtml))) <= places


# ---- dates -------------------------------------------------------------------------------------------------------


def test_days_are_written_in_one_way_and_the_time_of_printing_has_its_offset():
    # D4: one date style through the binder; D20: ISO 8601 with offset.
    for node in body(whole().xhtml).walk():
        if node.tag == "time" and "T" not in node.get("datetime") and "-" in node.get("datetime"):
            assert said(node) == node.get("datetime")
    assert [n for n, text in enumerate(paper(), 1) if "issued 2026-11-25 09:00 -05:00" not in text] == []


# ---- warning -----------------------------------------------------------------------------------------------------


def test_the_legend_has_the_standards_words_and_keeps_them_from_the_animal():
    # ANSI Z535.4: DANGER, WARNING, CAUTION, NOTICE, in this order, of harm to persons.
    words = [row[0] for row in rows(page("legend"))]
    assert words[words.index("Word") + 1 :][:4] == ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    assert "say nothing about the animal" in said(page("legend"))
    assert words[1:4] == ["LIFE OR LIMB AT RISK", "SKIN AT RISK", "COMFORT"]


def test_whoever_looks_for_help_finds_whom_to_ask():
    text = said(page("use"))
    clinic = book().clinic
    for name in (clinic.head_technician, *clinic.clinicians, clinic.phone, clinic.emergency_place.phone):
        assert name in text
    # A bleeding bandage is pressed on, not taken off: how to act is for the stop rule alone to say.
    assert "do at once what it says" in text
    for band in ("TRIAL", "NOT YET IN FORCE", "REVIEW OVERDUE", "WITHDRAWN"):
        assert band in text


def test_front_matter_stands_on_single_pages():
    for name, after in (("cover", "control"), ("copies", "finder"), ("use", "legend"), ("legend", "telephones")):
        assert pressed().page_of[after] - pressed().page_of[name] == 1, name


def test_the_binder_is_the_same_bytes_twice():
    # D18 (ISO 9001:2015 7.5.3.1 b): the same book at the same moment.
    assert press(whole()).data == pressed().data
