"""The workings: every figure can be done again, every decision has a name, and what nobody knows is said."""

from __future__ import annotations

import hashlib
import io
import re
from dataclasses import replace
from functools import cache

import pikepdf
import pytest

from generator import flow, opening
from generator.compose import plan_data, workings, workings_text
from generator.compose.not_known import plan_unknowns, protocol_unknowns
from generator.page.document import Document
from generator.press import Pdf, press
from generator.protocol.citations import CITATIONS
from generator.protocol.kinds import KINDS
from generator.protocol.model import Wound
from generator.protocol.unknowns import FACTS, UNKNOWNS, unknowns_for
from generator.reckon.plan import Plan
from generator.reckon.reckoner import reckon
from generator.source.span import Span
from tests.compose.plans import ROOT, ZONE, at, book, patient, templates
from tests.compose.reading import DEMO, main, named, reckoned, said
from tests.compose.test_sequence_card import sequence
from tests.press.accessible import backwards, faults, reading_order
from tests.press.geometry import assert_sound, lines
from tests.reckon.hand import redo


@cache
def paper(who: str) -> Document:
    return workings(reckoned(who, *DEMO[who]), templates())


def rows(document: Document) -> list[list[str]]:
    """Every row of every table, cell by cell."""
    return [[said(cell) for cell in node.elements()] for node in main(document.xhtml).walk() if node.tag == "tr"]


def row(document: Document, first: str) -> list[str]:
    return next(cells for cells in rows(document) if cells[0].startswith(first))


def text_of(document: Document) -> str:
    return said(main(document.xhtml))


def sections(document: Document) -> list[str]:
    return [said(node) for node in main(document.xhtml).walk() if node.tag == "h2"]


# ---- on paper ---------------------------------------------------------------------------------------------------


@cache
def pressed(who: str, size: str) -> Pdf:
    return press(replace(paper(who), paper=size))


@pytest.mark.parametrize("who", DEMO)
@pytest.mark.parametrize("size", ["letter", "a4"])
def test_pages_are_sound_and_few(who: str, size: str) -> None:
    pdf = pressed(who, size)
    assert_sound(pdf.data, smallest=9)
    assert pdf.pages <= 6


@pytest.mark.parametrize("who", DEMO)
def test_pages_can_be_read_aloud_in_order(who: str) -> None:
    opened = pikepdf.open(io.BytesIO(pressed(who, "letter").data))
    assert faults(opened) == []
    assert backwards(reading_order(opened)) == 0


@pytest.mark.parametrize("who", DEMO)
@pytest.mark.parametrize("size", ["letter", "a4"])
def test_no_heading_is_the_last_line_of_a_page(who: str, size: str) -> None:
    found = [line for line in lines(pressed(who, size).data) if not line.furniture and line.text.strip()]
    heads = (
        *sections(paper(who)),
        "A stirrups",
        "B contact",
        "C padding",
        "D conforming",
        "E splint",
        "F outer",
        "The whole bandage",
        "The limb",
    )
    for page in {line.page for line in found}:
        lowest = min(line.baseline for line in found if line.page == page)
        last = "".join(line.text for line in found if line.page == page and line.baseline == lowest).strip()
        assert not last.startswith(heads), (page, last)


def test_the_head_of_the_table_is_repeated() -> None:
    on = [line.page for line in lines(pressed("maple", "letter").data) if line.text.startswith("Working; from where")]
    assert len(on) >= 2
    assert len(on) == len(set(on))


@pytest.mark.parametrize("who", DEMO)
def test_it_says_on_every_page_that_it_is_for_staff(who: str) -> None:
    pdf = pressed(who, "letter")
    on = {line.page for line in lines(pdf.data) if "not to be handed to owners" in line.text}
    assert on == set(range(1, pdf.pages + 1))


# ---- what it says -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("who", DEMO)
def test_every_line_of_every_working_is_on_the_paper_and_comes_out(who: str) -> None:
    plan = reckoned(who, *DEMO[who])
    text = text_of(paper(who))
    count = 0
    for layer in plan.layers:
        figures = (layer.width, layer.strip, layer.need, layer.rolls, layer.left_over, *(layer.pressure or ()))
        for figure in figures:
            for line in figure.working.splitlines() if figure is not None else ():
                assert line in text, line
                assert redo(line)[0].wrong == ()
                count += 1
    assert count >= len(plan.layers)


@pytest.mark.parametrize("who", DEMO)
def test_paper_and_screen_say_the_same(who: str) -> None:
    plan = reckoned(who, *DEMO[who])
    screen = workings_text(plan)
    assert all(line == line.rstrip() for line in screen.splitlines())
    squeezed = re.sub(r"\s+", "", screen)
    found = main(paper(who).xhtml)
    cells = [
        cell for table in found.walk() if table.tag == "tbody" for cell in table.walk() if cell.tag in ("th", "td")
    ]
    texts = [said(p) for cell in cells for p in (cell.elements("p") or [cell])]
    texts += [said(item) for item in found.walk() if item.tag in ("li", "dt")]
    assert len(texts) > 60
    for text in texts:
        assert re.sub(r"\s+", "", text) in squeezed, text
    for head in sections(paper(who)):
        assert f"\n{head}\n" in screen


@pytest.mark.parametrize("who", DEMO)
def test_each_limit_in_force_has_who_decided_whose_word_and_a_line(who: str) -> None:
    plan = reckoned(who, *DEMO[who])
    ours = [cells for cells in rows(paper(who)) if len(cells) == 5 and re.search(r"\.yaml:\d+$", cells[4])]
    in_force = [one for one in ("first_check", "check_every", "change_every", "recheck_every", "release", "remove_by", "remove_when", "supervised", "go_home")
                if getattr(plan.limits, one) is not None]  # fmt: skip
    assert len(ours) == len(in_force)
    for cells in ours:
        assert all(cells), cells
        file, line = cells[4].rsplit(":", 1)
        written = (ROOT / "protocols" / file).read_text(encoding="utf-8").splitlines()[int(line) - 1]
        # The later end of a window, the interval, yes or no, or the words: whatever binds is written in that very line.
        binding = re.findall(r"\d+ (?:min|h|d)", cells[1])
        assert (binding[-1] if binding else cells[1]) in written, (cells, written)


def test_a_house_limit_and_what_it_overrules_stand_side_by_side() -> None:
    # The demo clinic ends every sling at ten days; the protocol's own word is fourteen.
    cells = row(paper("rowan"), "Off for good")
    assert cells[1:3] == ["10 d", "house limit for slingelse LB-SLG-001: 14 d"]
    assert cells[3] == "the clinic's own rule"


def test_a_blend_says_whose_layer_and_whose_limit_it_is() -> None:
    document = paper("brindle")
    change = row(document, "Changed")
    assert change[2].startswith("LB-BLD-001")
    assert "LB-SUP-003: 5 d to 7 d" in change[2]
    assert "cast padding, 2 passes" in row(document, "padding")[1]
    assert "Settled: padding" in text_of(document)


def test_a_condition_says_what_it_changed_and_the_others_what_they_would_have() -> None:
    document = paper("pollen")
    growing = row(document, "growing")
    assert growing[1:3] == ["by itself", "changed: 5 d to 7 d → 3 d to 4 d"]
    oedema = next(cells for cells in rows(document) if "oedema" in cells[0])
    assert len(oedema) == 2
    assert "→" in oedema[1]


def test_the_end_counts_from_the_first_bandage() -> None:
    # Rowan's first sling went on on the fourth; whatever is put on since, ten days end on the fourteenth.
    cells = row(paper("rowan"), "off for good")
    assert cells[2] == "Sun 14 Mar, 11:30"
    assert cells[-1] == "Thu 4 Mar, 11:30"


def test_files_are_named_with_the_start_of_their_digests() -> None:
    opened = opening.open_book(str(ROOT / "protocols"))
    plan = flow.make_plan(
        opened, flow.choose(opened, ["padded-limb-support"]), patient("maple"), at("2027-03-13T10:40")
    )
    text = text_of(flow.workings(opened, plan))
    for name in ("padded-limb-support", "clinic", "stock", "signs", "modifiers"):
        digest = hashlib.sha256((ROOT / "protocols" / f"{name}.yaml").read_bytes()).hexdigest()
        assert f"{name}.yaml {digest[:12]}" in text
    assert "velpeau-sling.yaml" not in text


def test_who_explained_it_is_named_or_has_a_line_to_write_on() -> None:
    assert "Explained to the owner by, on" in text_of(paper("maple"))
    plan = reckoned("maple", *DEMO["maple"])
    told = replace(plan, patient=replace(plan.patient, explained_by="R. Osei-Lund"))
    text = text_of(workings(told, templates()))
    assert "R. Osei-Lund" in text
    assert "Explained to the owner by, on" not in text


def test_it_promises_nothing() -> None:
    for who in DEMO:
        text = text_of(paper(who))
        assert text.rstrip().endswith(
            "Nothing here is a promise of safety. The attending veterinarian decides, within local law."
        )
        assert not re.search(r"\bis safe\b|\bsafely\b", text)


# ---- the dressing -----------------------------------------------------------------------------------------------


def wounded(**wound: object) -> Plan:
    """Juniper's wound in its first days, as this clinician reads it."""
    given = {"exudate": "high", "features": (), "contact": None, "because": None} | wound
    animal = replace(
        patient("juniper"),
        wound=Wound(**given, spans=dict.fromkeys(("exudate", "contact", "because", ""), Span("juniper.yaml", 6, 1))),
    )  # type: ignore[arg-type]
    parts, _ = named("open-wound@inflammatory")
    return reckon(parts, animal, book(), at("2027-03-10T15:50"), ZONE)


def test_no_dressing_is_shown_where_no_wound_chooses() -> None:
    assert not any("dressing" in head for head in sections(paper("maple")))


def test_every_dressing_on_the_shelf_is_named_with_what_rules_it_out() -> None:
    plan = wounded()
    document = workings(plan, templates())
    text = text_of(document)
    for name, material in book().stock.items():
        if material.layer == "contact" and material.family is not None:
            assert name in text, name
    assert plan.choice is not None
    first = next(cells for cells in rows(document) if cells[0].startswith(plan.choice.material))
    assert first[1] == "yes"
    # Campbell 2015 gives hydrogel to dry wounds.
    assert row(document, "wound gel sheet")[1].startswith("no: it serves no fluid or little fluid")


def test_a_dressing_that_dries_on_is_printed_with_the_objection_and_the_clinicians_reason() -> None:
    stock = {
        **book().stock,
        "gauze swab": replace(book().stock["low-adherent pad"], name="gauze swab", family="wet-to-dry gauze"),
    }
    animal = patient("juniper")
    spans = dict.fromkeys(("exudate", "contact", "because", ""), Span("juniper.yaml", 6, 1))
    wound = Wound("high", (), "gauze swab", "thick pus that nothing else takes up", spans)
    parts, _ = named("open-wound@inflammatory")
    plan = reckon(parts, replace(animal, wound=wound), replace(book(), stock=stock), at("2027-03-10T15:50"), ZONE)
    document = workings(plan, templates())
    text = text_of(document)
    assert "Present-day opinion is against it" in text
    assert "The clinician's reason: thick pus that nothing else takes up" in text
    assert row(document, "gauze swab")[1] == "yes"
    assert "wet-to-dry" in {one.id for one in plan_unknowns(plan)}
    # Without a reason of the clinician's nobody is told that one would fit.
    folded = text_of(workings(wounded(), templates()))
    assert not re.search(r"Would fit, not on the shelf: [^.]*gauze", folded)


# ---- what is not known ------------------------------------------------------------------------------------------


def ids(plan: Plan) -> set[str]:
    return {one.id for one in plan_unknowns(plan)}


def test_the_table_is_sound() -> None:
    names = [one.id for one in UNKNOWNS]
    assert len(names) == len(set(names))
    for one in UNKNOWNS:
        assert one.words.endswith(".")
        assert one.published or one.source, one.id
        assert set(one.published) <= set(CITATIONS)
        assert set(one.facts) <= set(FACTS)
        assert all(any(kind.startswith(begun) for kind in KINDS) for begun in one.kinds), one.id


def test_each_matters_to_some_kind_of_bandage() -> None:
    shown = {one.id for kind in KINDS for one in unknowns_for([kind], FACTS)}
    assert shown == {one.id for one in UNKNOWNS}


def test_only_what_matters_here_is_said() -> None:
    measured, guessed = ids(reckoned("maple", *DEMO["maple"])), ids(reckoned("sorrel", *DEMO["sorrel"]))
    assert "girth-error" in measured - guessed
    assert "girth-bands" in guessed - measured
    # Without a tension stated or a limb measured there is no estimate to explain.
    assert "pressure-measured" in measured - guessed
    assert "pressure-minutes" in ids(reckoned("kestrel", *DEMO["kestrel"])) - measured
    assert "velpeau-duration" in ids(reckoned("rowan", *DEMO["rowan"])) - measured
    assert "granulation-interval" in ids(reckoned("juniper", *DEMO["juniper"])) - measured
    assert "pressure-small" in ids(reckoned("juniper", *DEMO["juniper"])) - measured
    assert "wet-overnight" not in ids(reckoned("kestrel", *DEMO["kestrel"]))
    for who in DEMO:
        assert "rates" in ids(reckoned(who, *DEMO[who]))


@pytest.mark.parametrize("who", DEMO)
def test_every_number_of_a_source_has_its_line(who: str) -> None:
    text = text_of(paper(who))
    above, _, listed = text.partition("Published sources named above")
    wanted = set(re.findall(r"\[(\d+)\]", above))
    assert set(re.findall(r"\[(\d+)\]", listed)) == wanted
    assert wanted


def test_a_procedure_says_what_is_not_known_of_it() -> None:
    every = book().protocols
    velpeau = every["velpeau-sling"]
    assert "velpeau-duration" in {one.id for one in protocol_unknowns([velpeau], [velpeau.limits], book())}
    ehmer = every["ehmer-sling"]
    assert "ehmer-duration" in {one.id for one in protocol_unknowns([ehmer], [ehmer.limits], book())}
    assert "tension" not in {one.id for one in protocol_unknowns([ehmer], [ehmer.limits], book())}


def test_a_limit_that_the_dressing_sets_is_the_dressings() -> None:
    # Honey's interval in the inflammatory stage is a lone day (common practice): shorter than the protocol's three.
    plan = wounded(contact="wound honey gauze")
    assert plan_data(plan)["decided_by"]["change_every"] == "contact:wound honey gauze"
    cells = row(workings(plan, templates()), "Changed")
    assert cells[1] == "24 h"
    assert cells[2].startswith("dressing: wound honey gauze")
    assert cells[3] == "published [38]; time common practice"


def test_the_bandage_that_follows_a_pressure_bandage_has_its_own_sections() -> None:
    plan = sequence("open-wound@inflammatory")
    assert plan.then is not None
    heads = sections(workings(plan, templates()))
    after = [head for head in heads if "The bandage after it" in head]
    assert len(after) >= 7
    text = text_of(workings(plan, templates()))
    for layer in plan.then.layers:
        for line in layer.strip.working.splitlines() if layer.strip is not None else ():
            assert line in text
    assert text.count("Explained to the owner by, on") == 1


def test_no_pressure_is_valid_under_a_splint() -> None:
    said_so = "no pressure here is valid under it"
    assert said_so in text_of(paper("brindle"))
    assert said_so not in text_of(paper("maple"))
