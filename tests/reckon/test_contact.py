"""The wound chooses its dressing: every use of every family as trade texts give it, and what rules it out.

Sources beside the rows: Campbell 2015 (published 30), K9 guideline 14 (31), Winkler 2023 (34), Birchard 2014 (37), sugar and
honey (38); "from memory" and "common practice" where the table in `contacts.py` says so too.
"""

from __future__ import annotations

from datetime import datetime
from functools import cache
from zoneinfo import ZoneInfo

import pytest

from generator.protocol.animal import read_patient
from generator.protocol.book import Reviewed
from generator.protocol.contacts import USES
from generator.protocol.kinds import EXUDATES, FAMILIES, STAGES, WOUND_FEATURES
from generator.protocol.model import Book, Patient
from generator.reckon import reckon
from generator.reckon.plan import Plan
from generator.source.problem import Refusal
from generator.source.text import read_tree
from tests.conftest import ROOT, review_texts

ZONE = ZoneInfo("America/New_York")
# One material of each family, so that the shelf rules nothing out.
SHELF = {family: family.replace(" ", "-") + " piece" for family in FAMILIES}


def _stage(name: str, prefer: tuple[str, ...], change: str) -> str:
    return f"""
  {name}:
    layers:
      - {{layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}}
      - {{layer: contact, material: by the wound, prefer: [{", ".join(prefer)}], count: 1}}
      - {{layer: padding, material: cast padding, passes: 2, overlap: 50 %, firmness: even}}
      - {{layer: conforming, material: conforming gauze, passes: 1, overlap: 50 %, firmness: light}}
      - {{layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}}
    steps: [{{do: Lay it.}}]
    limits: {{first_check: 12 h to 24 h, check_every: {{interval: 12 h, who: owner}}, change_every: {change}, remove_when: it is closed, supervised: no, go_home: yes}}
    sources: {{change_every: common practice}}
"""


@cache
def reviewed(prefer: tuple[str, ...] = tuple(SHELF.values()), without: tuple[str, ...] = ()) -> Reviewed:
    """The shipped book with one protocol of ours and a shelf of every family but those left out."""
    files = {f.name: f.read_text(encoding="utf-8") for f in (ROOT / "protocols").glob("*.yaml")}
    head = (
        files["open-wound.yaml"]
        .split("stages:")[0]
        .replace("protocol: open-wound", "protocol: a-wound")
        .replace("LB-WND-001", "X-1")
    )
    tail = files["open-wound.yaml"][files["open-wound.yaml"].index("signs: [") :]
    stages = "".join(
        _stage(name, prefer, "12 h to 7 d" if name != "inflammatory" else "12 h to 72 h") for name in STAGES
    )
    files["a-wound.yaml"] = f"{head}stages:{stages}\n{tail}"
    shelf = "".join(
        f"\n  {name}:\n    layer: contact\n    family: {family}\n    sizes: [10 cm by 10 cm]\n"
        for family, name in SHELF.items()
        if family not in without
    )
    files["stock.yaml"] += shelf
    return review_texts(files)


def book(**more: tuple[str, ...]) -> Book:
    found = reviewed(**more).book
    assert found is not None
    return found


def patient(wound: str | None, more: str = "first: yes") -> Patient:
    text = f"""
patient: {{name: Juniper, species: dog, weight: 18 kg, born: 2020-09-12}}
owner: {{name: M. Quillane, language: en}}
limb: {{site: right fore, distal_girth: 12 cm, proximal_girth: 17 cm, covered_length: 22 cm}}
skin: wound
applied: 2027-03-09T10:00
{more}
issued_by: Dr M. Tamsin
{f"wound: {wound}" if wound else ""}
"""
    tree = read_tree(text.encode(), "juniper.yaml").tree
    assert tree is not None
    found, problems = read_patient(tree)
    assert found is not None, problems
    return found


def plan(stage: str, wound: str | None, *, in_book: Book | None = None, more: str = "first: yes") -> Plan:
    here = in_book or book()
    now = datetime(2027, 3, 9, 10, 10, tzinfo=ZONE)
    return reckon([here.protocols["a-wound"].stages[stage]], patient(wound, more), here, now, ZONE)


def refusal(stage: str, wound: str | None, **more: Book) -> list[tuple[str, str]]:
    with pytest.raises(Refusal) as caught:
        plan(stage, wound, **more)
    return [(p.name, p.what) for p in caught.value.problems]


# Unsuitable for the wound, or the wound does not show the stage that was named.
REFUSED = {"contact-unsuitable", "stage-contradicted"}


def names(stage: str, wound: str) -> set[str]:
    found = {name for name, _ in refusal(stage, wound)}
    assert found
    return found


# family, stage, fluid that it serves, longest time, features: written from the sources, not from the table under test.
PRINTED = (
    (
        "calcium alginate",
        "inflammatory",
        {"high"},
        "72 h",
    ),  # Campbell 2015: 20 to 30 times its weight; two to three days
    ("calcium alginate", "proliferative", {"high"}, "72 h"),  # Campbell 2015: starts granulation
    ("polyurethane foam", "inflammatory", {"low", "moderate", "high"}, "72 h"),  # Campbell 2015: two to three days
    ("polyurethane foam", "proliferative", {"low", "moderate", "high"}, "7 d"),  # Campbell 2015: up to seven days
    # Much fluid is no sign of new skin: there the stage is contradicted before any dressing is judged.
    ("polyurethane foam", "maturation", {"low", "moderate"}, "7 d"),
    ("hydrogel", "inflammatory", {"none", "low"}, "72 h"),  # Campbell 2015: gives water to a dry wound
    ("hypertonic saline gauze", "inflammatory", {"high"}, "24 h"),  # use K9 guideline 14; time common practice
    ("medical honey", "inflammatory", {"moderate", "high"}, "24 h"),  # stage dvm360; time common practice
    ("sugar", "inflammatory", {"high"}, "24 h"),  # Birchard 2014: flushed out within twenty-four hours
    ("petrolatum gauze", "proliferative", {"low", "moderate"}, "72 h"),  # Winkler 2023
    ("low-adherent absorbent pad", "maturation", {"low"}, "72 h"),  # K9 guideline 14; Winkler 2023
    ("sterile absorbent pad", "inflammatory", {"moderate", "high"}, "24 h"),  # K9 guideline 14; Birchard 2014
    ("antimicrobial ointment under pad", "inflammatory", {"low"}, "24 h"),  # K9 guideline 14
)


@pytest.mark.parametrize(("family", "stage", "fluids", "longest"), PRINTED, ids=lambda v: str(v))
def test_a_family_fits_the_fluid_it_is_printed_for_and_no_other(
    family: str, stage: str, fluids: set[str], longest: str
) -> None:
    for exudate in EXUDATES:
        wound = f"{{exudate: {exudate}, contact: {SHELF[family]}}}"
        if exudate not in fluids:
            assert names(stage, wound) <= REFUSED
            continue
        made = plan(stage, wound)
        assert made.limits.change_every is not None
        assert str(made.limits.change_every.upper) == longest
        contact = next(layer for layer in made.layers if layer.layer.layer == "contact")
        assert contact.layer.material == SHELF[family]


@pytest.mark.parametrize("family", ["wet-to-dry gauze", "dry-to-dry gauze"])
@pytest.mark.parametrize("stage", STAGES)
def test_what_dries_on_is_for_the_inflammatory_stage_with_a_reason_and_an_objection(family: str, stage: str) -> None:
    """Campbell 2015, K9 guideline 14 and WSAVA 2018 p. 572: it strips granulation and new skin."""
    named = f"{{exudate: high, contact: {SHELF[family]}"
    assert names(stage, named + "}") <= REFUSED
    with_reason = named + ", because: nothing else takes the slough off}"
    if stage != "inflammatory":
        assert names(stage, with_reason) <= REFUSED
        return
    made = plan(stage, with_reason)
    note = next(note for note in made.notes if note.code == "contact-objection")
    assert "Campbell 2015" in dict(note.values)["objection"]
    assert made.limits.change_every is not None
    assert made.limits.change_every.upper.shortest.seconds == 24 * 3600


def test_what_dries_on_is_never_taken_by_itself() -> None:
    prefer = (SHELF["wet-to-dry gauze"], SHELF["dry-to-dry gauze"], SHELF["sterile absorbent pad"])
    made = plan("inflammatory", "{exudate: high, because: it is dirty}", in_book=book(prefer=prefer))
    assert made.choice is not None
    assert made.choice.material == SHELF["sterile absorbent pad"]


@pytest.mark.parametrize(
    ("family", "stage", "feature"),
    [
        ("calcium alginate", "inflammatory", "bare bone or tendon"),  # dries it out: from memory
        ("calcium alginate", "proliferative", "dry dead tissue"),  # from memory
        ("hydrocolloid", "inflammatory", "infected"),  # from memory
        ("hydrocolloid", "maturation", "infected"),
        ("sugar", "inflammatory", "large"),  # loss of fluid and protein: from memory
    ],
)
def test_a_feature_of_the_wound_rules_a_family_out(family: str, stage: str, feature: str) -> None:
    exudate = "moderate" if family == "hydrocolloid" else "high"
    chosen = f"contact: {SHELF[family]}, exudate: {exudate}"
    assert plan(stage, f"{{{chosen}}}").choice is not None
    assert names(stage, f"{{{chosen}, features: [{feature}]}}") <= REFUSED


@pytest.mark.parametrize(
    ("family", "stage", "feature"),
    [
        ("silver dressing", "inflammatory", "infected"),
        ("silver dressing", "proliferative", "infected"),
        ("silicone net", "proliferative", "graft"),
    ],
)
def test_some_families_have_a_place_only_with_a_feature(family: str, stage: str, feature: str) -> None:
    chosen = f"contact: {SHELF[family]}, exudate: low"
    assert [name for name, _ in refusal(stage, f"{{{chosen}}}")] == ["contact-unsuitable"]
    assert plan(stage, f"{{{chosen}, features: [{feature}]}}").choice is not None


def test_the_clinics_order_decides_among_those_that_fit() -> None:
    one, other = SHELF["calcium alginate"], SHELF["polyurethane foam"]
    for prefer in ((one, other), (other, one)):
        made = plan("inflammatory", "{exudate: high}", in_book=book(prefer=prefer))
        assert made.choice is not None
        assert made.choice.material == prefer[0]
    # Moderate fluid: alginate drops out, whatever the order.
    made = plan("inflammatory", "{exudate: moderate}", in_book=book(prefer=(one, other)))
    assert made.choice is not None
    assert made.choice.material == other
    assert any(note.code == "contact-wetted" for note in made.notes)


def test_every_other_family_says_what_rules_it_out() -> None:
    made = plan("proliferative", "{exudate: moderate}")
    assert made.choice is not None
    assert {offer.family for offer in made.choice.offers} == set(FAMILIES)
    assert all(offer.fits or offer.against for offer in made.choice.offers)
    against = {offer.family: " ".join(offer.against) for offer in made.choice.offers}
    assert "inflammatory stage" in against["wet-to-dry gauze"]
    assert "bleeding only" in against["haemostatic pad"]
    assert "much fluid" in against["calcium alginate"]


def test_what_the_shelf_lacks_is_said() -> None:
    lacking = book(without=("hydrogel",), prefer=(SHELF["polyurethane foam"],))
    # The shipped shelf has a gel of its own; whatever family it lacks must say so.
    missing = set(FAMILIES) - {one.family for one in lacking.stock.values()}
    made = plan("inflammatory", "{exudate: moderate}", in_book=lacking)
    assert made.choice is not None
    for offer in made.choice.offers:
        assert (offer.material is None) == (offer.family in missing)


def test_an_undescribed_wound_and_one_that_nothing_fits_are_refused_with_both_places() -> None:
    assert [name for name, _ in refusal("inflammatory", None)] == ["exudate-missing"]
    few = book(prefer=(SHELF["calcium alginate"], SHELF["sugar"]))
    [(name, what)] = refusal("inflammatory", "{exudate: low}", in_book=few)
    assert name == "no-contact-fits"
    assert SHELF["sugar"] in what
    assert SHELF["calcium alginate"] in what
    with pytest.raises(Refusal) as caught:
        plan("inflammatory", "{exudate: low}", in_book=few)
    assert caught.value.problems[0].span.file == "juniper.yaml"
    assert caught.value.problems[0].also[0][0].file == "a-wound.yaml"
    # What does fit and is on the shelf is offered.
    assert SHELF["polyurethane foam"] in caught.value.problems[0].fix


def test_the_window_of_the_dressing_is_named_where_it_decides() -> None:
    made = plan("inflammatory", f"{{exudate: high, contact: {SHELF['sugar']}}}")
    by = {decision.key: decision.by for decision in made.decisions}
    assert by["change_every"] == f"contact:{SHELF['sugar']}"
    loose = plan("proliferative", f"{{exudate: low, contact: {SHELF['polyurethane foam']}}}")
    # Seven days are the protocol's own end too: on a tie the protocol keeps it.
    assert {d.key: d.by for d in loose.decisions}["change_every"] == "a-wound@proliferative"


def test_no_count_of_days_moves_the_choice() -> None:
    """The stage is read from the wound by a clinician (WSAVA 2018 p. 572: stages overlap)."""
    young = plan("inflammatory", "{exudate: moderate}")
    old = plan("inflammatory", "{exudate: moderate}", more="began: 2027-02-01T10:00")
    assert young.choice == old.choice


def test_the_table_names_known_words_only() -> None:
    for family, uses in USES.items():
        assert family in FAMILIES
        for use in uses:
            assert use.stage in STAGES
            assert set(use.exudates) <= set(EXUDATES)
            assert set(use.wetted) <= set(use.exudates)
            assert {feature for feature, _ in use.bars} <= set(WOUND_FEATURES)
            assert use.needs is None or use.needs in WOUND_FEATURES


def test_an_infected_wound_brings_its_condition_about_unticked() -> None:
    """Infected: opened every 12 h to 24 h (common practice)."""
    clean = plan("inflammatory", f"{{exudate: high, contact: {SHELF['polyurethane foam']}}}")
    foul = plan("inflammatory", f"{{exudate: high, features: [infected], contact: {SHELF['polyurethane foam']}}}")
    assert "infected wound" not in [used.modifier.name for used in clean.modifiers]
    [used] = [used for used in foul.modifiers if used.modifier.name == "infected wound"]
    assert ("change_every", "12 h to 72 h", "12 h to 24 h") in used.changed
    told = next(one for one in clean.considered if one.modifier.name == "infected wound")
    assert told.because == "not ticked"
    assert ("change_every", "12 h to 72 h", "12 h to 24 h") in told.would_change


@pytest.mark.parametrize(
    ("stage", "wound", "said"),
    [
        ("proliferative", "{exudate: moderate, features: [dry dead tissue]}", "dry dead tissue"),
        ("maturation", "{exudate: low, features: [infected]}", "infected"),
        ("maturation", "{exudate: low, features: [bare bone or tendon, dead space]}", "bare bone or tendon and dead space"),
        ("maturation", "{exudate: high}", "much fluid"),
    ],
)  # fmt: skip
def test_a_wound_that_does_not_show_the_stage_named_is_read_again(stage: str, wound: str, said: str) -> None:
    """Granulation has no dead tissue left, new skin no open bed (WSAVA 2018 p. 572; Campbell 2015)."""
    with pytest.raises(Refusal) as caught:
        plan(stage, wound)
    problem = next(p for p in caught.value.problems if p.name == "stage-contradicted")
    assert said in problem.what
    assert "read the wound again" in problem.fix
