"""Every working leads to its figure: each line is done again by an evaluator that shares no code with the program."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from generator.reckon.plan import Figure, Plan
from tests.compose.reading import DEMO, reckoned
from tests.reckon.hand import PAPER, Unreadable, redo, value_of
from tests.reckon.test_expected import PLANNED, plan_for
from tests.reckon.test_not_stocked import planned, shelf


def plans() -> dict[str, Plan]:
    """The expected table's patients, the demo's, and some with a shelf that lacks what is asked for."""
    return (
        {row["patient"]: plan_for(row) for row in PLANNED}
        | {f"demo {who}": reckoned(who, *names) for who, names in DEMO.items()}
        | {
            "narrow shelf": planned(shelf(conforming_gauze=["5", "15"], cohesive_wrap=["5"], cast_padding=["10"])),
            "wide shelf": planned(shelf(conforming_gauze=["15"], porous_tape=["5"]), slug="heavy-padded-limb"),
        }
    )


PLANS = plans()


def figures(plan: Plan) -> Iterator[tuple[str, Figure]]:
    """Every figure that the plan reckoned, with the layer it belongs to."""
    limb = plan.limb
    yield from (("limb", f) for f in (limb.distal_girth, limb.proximal_girth, limb.covered_length) if f is not None)
    for layer in plan.layers:
        for figure in (layer.width, layer.strip, layer.need, layer.rolls, layer.left_over, *(layer.pressure or ())):
            if figure is not None:
                yield layer.layer.layer, figure
    yield from (("all", f) for f in (*(plan.finished_girth or ()), *(plan.pressure or ())))
    for note in plan.notes:
        for value in dict(note.values).values():
            yield from (
                (note.code, f) for f in (value if isinstance(value, tuple) else (value,)) if isinstance(f, Figure)
            )


@pytest.mark.parametrize("name", PLANS)
def test_every_working_leads_to_its_figure(name: str) -> None:
    for of, figure in figures(PLANS[name]):
        if not figure.working:
            # Only what was read off a file: there is nothing to reckon.
            assert re.fullmatch(r".+\.yaml:\d+:\d+", figure.origin), (of, figure.name)
            continue
        lines = redo(figure.working)
        assert [wrong for line in lines for wrong in line.wrong] == [], (of, figure.name)
        assert lines[-1].result == pytest.approx(float(figure.number), abs=PAPER / 10), (of, figure.name)
        unit = {"cm": "cm", "mm[Hg]": "mmHg", "1": ""}[figure.unit]
        assert lines[-1].unit == unit, (of, figure.name)


@pytest.mark.parametrize("name", PLANS)
def test_the_rolls_of_the_other_width_lead_to_their_count(name: str) -> None:
    for layer in PLANS[name].layers:
        if layer.alternate is not None:
            lines = redo(layer.alternate.working)
            assert [wrong for line in lines for wrong in line.wrong] == []
            assert lines[-1].result == layer.alternate.rolls


@pytest.mark.parametrize("name", PLANS)
def test_the_cost_is_the_sum_of_what_was_taken(name: str) -> None:
    plan = PLANS[name]
    if plan.cost is None:
        assert plan.cost_working == ""
        return
    (line,) = redo(plan.cost_working)
    assert line.wrong == ()
    assert (line.result, line.unit) == (float(plan.cost[0]), plan.cost[1])


@pytest.mark.parametrize("name", PLANS)
def test_a_number_that_a_working_starts_from_was_reckoned_above_it_or_stands_in_a_file(name: str) -> None:
    """What goes into the next figure is what came out of the last one, to the last decimal shown."""
    for layer in PLANS[name].layers:
        if layer.strip is None or layer.need is None or layer.left_over is None:
            continue
        strip = layer.strip.working.split()[-2]
        need = layer.need.working.split()[-2]
        assert layer.need.working.split(": ")[1].startswith(strip)
        assert f"rolls: {need} ÷" in layer.rolls.working
        assert f"− {need} " in layer.left_over.working


def test_nothing_is_hidden() -> None:
    said = "\n".join(figure.working for plan in PLANS.values() for _, figure in figures(plan))
    assert "…" not in said
    assert "..." not in said


def test_the_plans_between_them_use_every_kind_of_line() -> None:
    whats = {
        re.sub(r"\d+", "n", line.partition(":")[0].partition(" (")[0])
        for plan in PLANS.values()
        for _, figure in figures(plan)
        for line in figure.working.splitlines()
    }
    for what in (
        "girth halfway, pass n", "bare girth where it starts", "thickness beneath it", "on the leg", "relaxed, waste in",
        "at the toes, thickness n", "at the top", "sum over the layers", "thickness of all layers", "whole rolls", "pieces", "times the pressure, width asked for ÷ width taken",
    ):  # fmt: skip
        assert what in whats, what


# ---- the evaluator itself, held against sums worked by hand ------------------------------------------------------


@pytest.mark.parametrize(
    ("sum_", "value"),
    [
        ("2 + 3 × 4", 14),
        ("(2 + 3) × 4", 20),
        ("12 ÷ 4 ÷ 3", 1),
        ("10 − 2 − 3", 5),
        # The circle's constants as every table has them.
        ("2π × 1", 6.283185307179586),
        ("18 + 2π × (0.4 ÷ 2)", 19.256637),
        # Thomas 2003: half a kilogram-force, one thickness, 25 cm, 10 cm: 9.24 mmHg.
        ("4620 × 0.5 ÷ (25 × 10)", 9.24),
        ("the lesser of 26 ÷ 2 and 20", 13),
        ("the greater of 4 and 8", 8),
        ("nearest to 2.5 or 5 of 2.5, 5, 7.5", 5),
        ("1.0049 rounded up", 2),
        ("0.0636 rounded up", 1),
    ],
)
def test_the_evaluator_reckons_as_people_do(sum_: str, value: float) -> None:
    assert value_of(sum_) == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize(
    "line", ["strip: 3 × 26 + … = 88 cm", "strip: 3 × (26 = 88 cm", "88 cm", "strip: 3 by 26 = 78 cm"]
)
def test_what_cannot_be_done_again_is_no_working(line: str) -> None:
    with pytest.raises(Unreadable):
        redo(line)


@pytest.mark.parametrize(
    "line",
    [
        "strip: 3 × 26 = 78.1 cm",
        "strip: 2π × 1 ≈ 6.30 cm",
        "whole rolls: 1.0049 rounded up = 1",
        "w: nearest to 5 of 4, 7 = 7 cm",
    ],
)
def test_a_wrong_result_is_seen(line: str) -> None:
    assert [len(one.wrong) for one in redo(line)] == [1]


def test_a_slip_in_any_line_of_a_working_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each number of a whole working in turn, a tenth larger: the working no longer comes out."""
    plan = PLANS["01-maple"]
    padding = next(layer for layer in plan.layers if layer.layer.layer == "padding")
    assert padding.strip is not None
    working = padding.strip.working
    for found in re.finditer(r"(?<=[×÷+−(=≈] )\d+(?:\.\d+)?|(?<=\()\d+(?:\.\d+)?", working):
        slipped = f"{working[: found.start()]}{float(found[0]) * 1.1:g}{working[found.end() :]}"
        lines = redo(slipped)
        off = any(line.wrong for line in lines) or lines[-1].result != pytest.approx(
            float(padding.strip.number), abs=PAPER
        )
        assert off, found[0]
