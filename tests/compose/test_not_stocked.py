"""The sentence on a width that is not in stock, wherever staff read it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from generator.compose import binder, floor_card, plan_data, plan_text
from generator.compose.explain import explain
from generator.compose.notes import notes_of
from generator.compose.render import Templates
from generator.compose.writer import Writer
from generator.shelf import Kept, shipped
from tests.compose.plans import at, templates
from tests.compose.reading import body, main, said
from tests.reckon.test_not_stocked import planned, shelf

# Maple's gauze: 22 cm to cover, 22 ÷ 2.5 = 8.8 turns, 22 ÷ 3.75 = 5.87; 7.5 ÷ 5 = 1.5.
GAUZE = (
    "Conforming 7.5 cm wide (by the mean girth of 18 cm) is not in stock; nearest 5 cm: about 8.8 turns a pass, not 5.9; "
    "at the same pull 1.5 times the pressure (mmHg not estimated)."
)


def test_plan_and_card_say_the_same_once():
    plan = planned(shelf(conforming_gauze=["5", "15"]))
    assert f"note: {GAUZE}" in plan_text(plan)
    card = said(main(floor_card(plan, templates()).xhtml))
    assert card.count(GAUZE) == 1
    # That a strip of 5 cm is narrow for that girth is what the sentence says with a figure.
    assert "narrow-elastic" in {note.code for note in plan.notes}
    assert "narrow for a girth" not in card


def test_a_clinics_card_without_a_place_for_it_has_it_among_the_notes():
    own = dict(templates())
    name = "floor-card.xhtml.j2"
    own[name] = "\n".join(line for line in own[name].splitlines() if "not_stocked" not in line)
    plan = planned(shelf(conforming_gauze=["5", "15"]))
    card = floor_card(plan, Templates(own, frozenset(), Kept(shipped("templates"), ".jinja")))
    assert said(main(card.xhtml)).count(GAUZE) == 1


def test_a_narrow_strip_whose_pressure_was_reckoned_is_still_warned_of():
    # The wrap's pulls are stated in step with its widths (0.12 at 5 cm, 0.18 at 7.5 cm): the same pressure, but a narrow strip.
    words = [str(note.striptags()) for note in notes_of(planned(shelf(cohesive_wrap=["5"])), Writer())]
    assert any(line.startswith("The outer is 5") and "narrow for a girth of 26.9" in line for line in words)
    (line,) = (line.replace("\u00a0", " ") for line in words if line.startswith("Outer"))
    assert line.endswith(
        "by the pulls stated the same pressure under this layer alone, an estimate: 10 mmHg at the toes and 7 mmHg at the top."
    )


def test_figures_stand_in_plan_json_and_in_the_explanation():
    plan = planned(shelf(conforming_gauze=["5", "15"]))
    (note,) = (note for note in plan_data(plan)["notes"] if note["code"] == "not-stocked")
    assert (note["wanted"], note["taken"], note["turns_taken"], note["pressure_factor"]) == (7.5, 5.0, 8.8, 1.5)
    assert note["pressure_taken"] is None
    rows = {row["figure"]: row for row in explain(plan)}
    assert rows["conforming turns a pass at 5 cm"]["working"].endswith("22 ÷ (5 × (1 − 0.5)) = 8.8")
    assert rows["conforming pressure factor"]["standing"] == "Thomas 2003"


def test_the_binder_says_it_beside_the_shelf():
    """heavy-padded-limb asks, for large dogs, for 15 cm gauze; 15 ÷ 10 = 1.5 times the turns and, at the same pull, the pressure."""
    of = shelf(conforming_gauze=["7.5", "10"], roll_cotton=["7.5", "20"])
    chapter = said(body(binder(of, templates(), at("2027-03-15T09:00")).xhtml))
    assert (
        "conforming gauze: 7.5, 10 cm; 15 cm is asked for, not in stock; nearest 10 cm: 1.5 times the turns; "
        "at the same pull 1.5 times the pressure (mmHg not estimated)" in chapter
    )
    # Padding is laid without a pull: 15 ÷ 20 of the turns, and no word on pressure.
    assert "roll cotton: 7.5, 20 cm; 15 cm is asked for, not in stock; nearest 20 cm: 0.75 times the turns" in chapter
    whole = replace(
        of,
        stock={
            **of.stock,
            "conforming gauze": replace(
                of.stock["conforming gauze"], widths=(Fraction("7.5"), Fraction(10), Fraction("15.24"))
            ),
        },
    )
    assert "15.2 cm; 15" not in said(body(binder(whole, templates(), at("2027-03-15T09:00")).xhtml))
