"""Blends, row by row of the trade's table of what wins: each row joins as it says, or is refused with both lines named.

Sources of the rows: bleeding first, open fractures opened daily (A practitioner's guide to fracture management 2015; K9 guideline on
fractures), the wound's stage decides the contact layer (Campbell 2015), padding thin under a splint (Clinician's Brief how-to; common
practice), the outer wrap as light as serves (K9 guideline 14). The shortest interval, the earliest end and "home only if every part
allows it" are house rules.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest

from generator.protocol.animal import read_patient
from generator.protocol.joining import Joined, blend
from generator.protocol.kinds import FIRMNESS
from generator.protocol.model import Book, Patient, Protocol
from generator.protocol.quantity import limit
from generator.reckon.modify import in_force
from generator.source.problem import Problem, Refusal
from generator.source.text import read_tree
from tests.conftest import ROOT, review
from tests.protocol.test_joining import PATIENT, book, parts_of

SHIPPED = ROOT / "protocols"


@cache
def part(name: str) -> Protocol:
    slug, _, stage = name.partition("@")
    protocol = book(SHIPPED).protocols[slug]
    return protocol.stages[stage] if stage else protocol


def joined(*names: str) -> Joined:
    return blend([part(name) for name in names])


def refused(*parts: Protocol) -> tuple[Problem, ...]:
    with pytest.raises(Refusal) as refusal:
        blend(parts)
    return tuple(refusal.value.problems)  # type: ignore[arg-type]


def lines_of(problem: Problem) -> set[str]:
    return {problem.span.file, *(span.file for span, _ in problem.also)}


def pairs() -> list[tuple[Protocol, Protocol, Joined]]:
    found = []
    for one, other in combinations(parts_of(book(SHIPPED)), 2):
        if one.protocol != other.protocol:
            try:
                found.append((one, other, blend([one, other])))
            except Refusal:
                continue
    assert len(found) > 20
    return found


def test_row_1_bleeding_comes_first_and_alone() -> None:
    for other in parts_of(book(SHIPPED)):
        if other.purpose != "haemorrhage":
            names = {problem.name: problem for problem in refused(part("pressure-bandage"), other)}
            assert names["haemorrhage-blended"].span == part("pressure-bandage").span("kind")
            assert "the bandage after it" in names["haemorrhage-blended"].fix


def test_row_2_an_open_fracture_is_opened_for_its_wound_every_day() -> None:
    stored = book(SHIPPED).protocols["open-fracture-before-fixation"]
    whole = blend([part("splinted-limb"), part("open-wound@inflammatory")], stored)
    assert whole.limits.change_every is not None
    assert whole.limits.change_every.upper.shortest.seconds <= limit("24 h").shortest.seconds
    # The splint is seated again at each change: it stays among the layers, over thin padding.
    assert "splint" in [layer.layer for layer in whole.layers]
    assert whole.limits.remove_when == "fixation of the fracture"


def test_row_3_the_wound_is_covered_before_anything_holds_and_never_in_shock() -> None:
    steps = book(SHIPPED).protocols["open-fracture-before-fixation"].steps
    laid = [step.layer for step in steps if step.layer is not None]
    assert laid.index("contact") < laid.index("padding") < laid.index("splint")
    shock = next(number for number, step in enumerate(steps) if "shock" in f"{step.caution} {step.do}")
    assert shock < next(number for number, step in enumerate(steps) if step.layer is not None)
    # Joined without steps of its own the parts keep that order.
    own = [step.layer for step in joined("splinted-limb", "open-wound@inflammatory").steps if step.layer is not None]
    assert own.index("contact") < own.index("padding") < own.index("splint")


def test_row_4_the_shortest_interval_never_a_mean() -> None:
    for one, other, whole in pairs():
        for key in ("first_check", "change_every", "recheck_every"):
            given = [getattr(p.limits, key) for p in (one, other) if getattr(p.limits, key) is not None]
            if given:
                least = min(window.upper.shortest.seconds for window in given)
                assert getattr(whole.limits, key).upper.shortest.seconds == least, (one.name, other.name, key)


def test_row_5_the_earliest_removal() -> None:
    for one, other, whole in pairs():
        plain = [
            p.limits.remove_by.plain.shortest.seconds
            for p in (one, other)
            if p.limits.remove_by is not None and p.limits.remove_by.plain is not None
        ]
        if plain:
            assert whole.limits.remove_by is not None
            assert whole.limits.remove_by.plain is not None
            assert whole.limits.remove_by.plain.shortest.seconds == min(plain)
            assert all(end.shortest.seconds <= min(plain) for end in whole.limits.remove_by.by_reason.values())


def test_row_6_the_wounds_stage_decides_the_contact_layer_and_support_never_removes_it() -> None:
    for stage in ("inflammatory", "proliferative", "maturation"):
        wound = part(f"open-wound@{stage}")
        for support in ("padded-limb-support", "splinted-limb", "heavy-padded-limb"):
            whole = blend([wound, part(support)])
            contact = next(layer for layer in whole.layers if layer.layer == "contact")
            assert contact == wound.layer("contact"), (stage, support)


def test_row_6_two_contact_layers_that_both_touch_the_wound_are_refused_with_both_lines() -> None:
    wound, foot = part("open-wound@proliferative"), part("foot-bandage")
    always = replace(
        foot, layers=tuple(replace(row, needed_if=None) if row.layer == "contact" else row for row in foot.layers)
    )
    problem = next(p for p in refused(wound, always) if p.name == "blend-conflict")
    assert lines_of(problem) == {wound.file, foot.file}


def test_row_7_padding_is_bulk_if_heavy_and_thin_if_splinted() -> None:
    wound = "open-wound@inflammatory"
    for support in ("heavy-padded-limb", "splinted-limb"):
        padding = next(row for row in joined(wound, support).layers if row.layer == "padding")
        assert padding == part(support).layer("padding")


def test_row_7_bulk_and_a_splint_are_refused_with_both_lines() -> None:
    splint, heavy = part("splinted-limb"), part("heavy-padded-limb")
    problem = next(p for p in refused(splint, heavy) if p.name == "blend-conflict")
    assert {problem.span, *(span for span, _ in problem.also)} == {
        row.spans["layer"] for p in (splint, heavy) if (row := p.layer("padding")) is not None
    }
    assert "settles:" in problem.fix


def test_row_8_the_outer_wrap_is_the_lightest_that_serves() -> None:
    for one, other, whole in pairs():
        if "sling" in (one.purpose, other.purpose):
            continue  # A sling's own turns are the outer layer, and hold it.
        outer = [p.layer("outer") for p in (one, other)]
        words = [FIRMNESS.index(str(row.tightness)) for row in outer if row is not None]
        found = next(row for row in whole.layers if row.layer == "outer")
        assert FIRMNESS.index(str(found.tightness)) == min(words), (one.name, other.name)


def test_row_9_a_sling_over_a_wound_is_opened_at_the_wounds_interval() -> None:
    wound, sling = part("open-wound@proliferative"), part("carpal-flexion-sling")
    whole = blend([wound, sling])
    assert wound.limits.change_every is not None
    assert whole.limits.change_every is not None
    assert whole.limits.change_every.upper == wound.limits.change_every.upper


@pytest.mark.parametrize("name", ["ehmer-sling", "hobbles"])
def test_row_9_a_sling_that_is_not_opened_is_refused_over_a_wound_with_both_lines(name: str) -> None:
    wound = part("open-wound@inflammatory")
    problem = next(p for p in refused(wound, part(name)) if p.name == "sling-cannot-be-opened")
    assert lines_of(problem) == {wound.file, part(name).file}
    assert problem.span == wound.limits.spans["change_every"]


def test_row_10_home_only_if_every_part_allows_it_and_watched_if_one_asks() -> None:
    seen = set()
    for one, other, whole in pairs():
        assert whole.limits.go_home is (one.limits.go_home and other.limits.go_home)
        assert whole.limits.supervised is (one.limits.supervised or other.limits.supervised)
        seen.add(whole.limits.go_home)
    assert seen == {True, False}
    watched = replace(part("padded-limb-support"), limits=replace(part("padded-limb-support").limits, supervised=True))
    assert blend([watched, part("open-wound@maturation")]).limits.supervised is True


def test_row_11_no_rigid_cast_on_a_limb_that_swells() -> None:
    cast = book(ROOT / "tests" / "expected" / "book").protocols["cast-limb"]
    house: Book = replace(book(SHIPPED), protocols={"cast-limb": cast})
    with pytest.raises(Refusal) as refusal:
        in_force(blend([cast]), swollen(), house, swollen().applied.date())
    (problem,) = refusal.value.problems
    assert problem.name == "forbidden-for-this-animal"  # type: ignore[union-attr]
    # A splint is what is laid instead: the same animal has it, looked at sooner.
    limits, _, applied = in_force(blend([part("splinted-limb")]), swollen(), book(SHIPPED), swollen().applied.date())
    assert "oedema" in [one.modifier.name for one in applied]
    assert limits.check_every is not None
    assert limits.check_every.interval.shortest.seconds == limit("8 h").shortest.seconds


def swollen() -> Patient:
    tree = read_tree(PATIENT + b"condition: [oedema]\n", "quince.yaml").tree
    assert tree is not None
    patient, problems = read_patient(tree)
    assert patient is not None, problems
    return patient


def test_every_stored_blend_of_the_book_joins_as_the_table_says() -> None:
    for stored in review(SHIPPED).book.protocols.values():  # type: ignore[union-attr]
        if stored.blend:
            whole = blend([part(name) for name in stored.blend], stored)
            for name in stored.blend:
                own = part(name).limits
                for key in ("first_check", "change_every", "recheck_every"):
                    if getattr(own, key) is not None:
                        assert getattr(whole.limits, key).upper.shortest <= getattr(own, key).upper.shortest
