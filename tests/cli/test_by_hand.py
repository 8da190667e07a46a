"""The bandage that the README works by hand is the demo's, and the table that was worked before the program is the same."""

from __future__ import annotations

import re

import pytest

from generator.reckon.plan import LayerPlan
from tests.cli.test_readme import README
from tests.compose.reading import DEMO, reckoned
from tests.reckon.hand import redo
from tests.reckon.test_expected import ROWS

COLUMNS = {"padding": 1, "outer": 2}


def worked() -> list[list[str]]:
    """The table's rows: step, padding, outer wrap."""
    section = README.split("## One bandage by hand\n")[1].split("\n## ")[0]
    found = [
        [cell.strip() for cell in line.strip("|").split("|")] for line in section.splitlines() if line.startswith("|")
    ]
    assert found[0] == ["step", "padding", "outer wrap"]
    return found[2:]


def laid(name: str) -> LayerPlan:
    return next(one for one in reckoned("maple", *DEMO["maple"]).layers if one.layer.layer == name)


def result(step: str, name: str) -> float:
    cells = next(cells for cells in worked() if cells[0] == step)
    return redo(f"{step}: {cells[COLUMNS[name]]}")[0].result


@pytest.mark.parametrize("name", COLUMNS)
def test_each_step_comes_out(name: str) -> None:
    cells = [(row[0], row[COLUMNS[name]]) for row in worked() if row[COLUMNS[name]]]
    assert len(cells) >= 9
    for step, sum_ in cells:
        assert redo(f"{step}: {sum_}")[0].wrong == (), step


@pytest.mark.parametrize("name", COLUMNS)
def test_each_step_is_a_line_of_the_tools_own_working(name: str) -> None:
    layer = laid(name)
    assert layer.strip is not None
    assert layer.need is not None
    said = "\n".join((layer.strip.working, layer.need.working, layer.rolls.working)).splitlines()
    for row in worked():
        if row[COLUMNS[name]]:
            assert any(line.endswith(f": {row[COLUMNS[name]]}") for line in said), row[0]


@pytest.mark.parametrize("name", COLUMNS)
def test_the_results_are_the_plans_and_those_worked_before_it(name: str) -> None:
    layer = laid(name)
    assert layer.strip is not None
    assert layer.need is not None
    # tests/expected: worked by hand and by an independent calculation; published check values of the formulas: test_wrap.py.
    table = next(row for row in ROWS if row["patient"] == "01-maple")["layers"]
    want = next(row for row in table if row["layer"] == name)
    for step, figure, worked_before in (
        ("strip", layer.strip, want["strip_cm"]),
        ("need", layer.need, want["need_cm"]),
        ("whole rolls", layer.rolls, want["rolls"]),
    ):
        assert result(step, name) == pytest.approx(float(figure.number), abs=0.0001)
        assert result(step, name) == pytest.approx(worked_before, abs=0.011)
    assert result("rolls", name) == pytest.approx(want["rolls_exact"], abs=0.0002)


def test_the_words_before_the_table_name_the_same_limb_and_materials() -> None:
    plan = reckoned("maple", *DEMO["maple"])
    section = README.split("## One bandage by hand\n")[1].split("|")[0]
    padding, outer = laid("padding"), laid("outer")
    assert padding.material is not None
    assert outer.material is not None
    said = {float(number) for number in re.findall(r"(\d+(?:\.\d+)?) cm", section)}
    limb = plan.limb
    measures = [
        f for f in (limb.distal_girth, limb.proximal_girth, limb.covered_length, padding.width) if f is not None
    ]
    wanted = {float(f.number) for f in measures} | {float(padding.material.thickness), float(outer.material.thickness)}
    under = sum((one.thickness for one in plan.layers if one.layer.layer != "outer"), start=type(padding.thickness)(0))
    assert said == wanted | {float(under)}
    assert (padding.passes, outer.passes, float(outer.material.extension)) == (3, 1, 0.25)
