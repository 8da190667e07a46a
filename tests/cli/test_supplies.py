"""`gauzeleaf supplies`: what to order for the plans that lie in a folder."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from generator.cli.main import guarded
from tests.cli.running import everything_in, run
from tests.conftest import ROOT

Capture = pytest.CaptureFixture[str]
ANIMALS = {
    "maple": ("padded-limb-support", "2027-03-13T10:40"),
    "sorrel": ("padded-limb-support", "2027-04-06T09:50"),
    "kestrel": ("pressure-bandage", "2027-03-14T01:51"),
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    """Plans of three animals of the demo, as `plan --format json` writes them."""
    plans = {}
    for name, (protocol, now) in ANIMALS.items():
        out = io.StringIO()
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr("sys.stdout", out)
            patient = str(ROOT / "protocols" / "patients" / f"{name}.yaml")
            book = str(ROOT / "protocols")
            assert (
                guarded(
                    [
                        "plan",
                        "--book",
                        book,
                        "--protocol",
                        protocol,
                        "--patient",
                        patient,
                        "--now",
                        now,
                        "--format",
                        "json",
                    ]
                )
                == 0
            )
        plans[name] = json.loads(out.getvalue())
    return plans


@pytest.fixture
def write(made: dict[str, dict[str, Any]], tmp_path: Path) -> Callable[..., Path]:
    """Write plans into folders of their own, changed by key if asked."""

    def written(*names: str, **changed: Any) -> Path:
        for name in names:
            place = tmp_path / name / "plan.json"
            place.parent.mkdir(exist_ok=True)
            place.write_text(json.dumps({**made[name], **changed}), encoding="utf-8")
        return tmp_path

    return written


def table(out: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(out, newline="")))


def test_maple_alone_is_the_worked_example(write: Callable[..., Path], capsys: Capture) -> None:
    """tests/expected, 01 maple: padding 1.469 rolls, so 2; gauze 1.412, so 2; wrap 0.938, so 1; tape 1; and one pad."""
    ran = run(["supplies", str(write("maple")), "--format", "json"], capsys)
    data = json.loads(ran.out)
    assert [(line["material"], line["width_cm"], line["number"], line["cost"]["amount"]) for line in data["lines"]] == [
        ("porous tape", 2.5, 1, "1.90"),
        ("low-adherent pad", None, 1, "0.50"),
        ("cast padding", 7.5, 2, "2.90"),
        ("conforming gauze", 7.5, 2, "1.40"),
        ("cohesive wrap", 7.5, 1, "2.40"),
    ]
    # 1.90 + 0.50 + 2.90 + 1.40 + 2.40
    assert data["cost"] == {"amount": "9.10", "currency": "USD"}
    assert (data["rolls"], data["pieces"]) == (6, 1)
    assert (ran.status, ran.err) == (0, "")


def test_with_its_one_planned_change_everything_is_twice(write: Callable[..., Path], capsys: Capture) -> None:
    # As worked in tests/expected: the change on day 7 is followed by the removal on day 14. 2 · 9.10 = 18.20.
    ran = run(["supplies", str(write("maple")), "--changes"], capsys)
    padding = next(line for line in ran.out.splitlines() if "cast padding" in line)
    assert padding.split("  ")[1] == "4 rolls (2 now, 2 for changes)"
    assert "cost 18.20 USD, changes estimated" in ran.out
    assert "Changes are an estimate" in ran.out
    assert "Each change gets a plan of its own" in ran.out


def test_three_animals_read_as_an_order(write: Callable[..., Path], capsys: Capture) -> None:
    ran = run(["supplies", str(write("maple", "sorrel", "kestrel"))], capsys)
    lines = ran.out.splitlines()
    # Rolls: maple 6; sorrel, nobody measured, 1 tape, 2 padding, 2 gauze, 2 wrap = 7; kestrel 1 of each = 3.
    assert lines[0] == "Supplies for 3 plans: 16 rolls and 2 pieces"
    padding = next(line for line in lines if "cast padding" in line)
    assert padding.split("   ")[0].strip() == "5 rolls"
    assert "in stock as 5, 7.5, 10 cm" in padding
    assert "7.25 USD" in padding  # 5 · 1.45
    assert padding.endswith("3 plans; estimated for Sorrel")
    pads = next(line for line in lines if "low-adherent pad" in line)
    assert "no size stated" in pads
    assert "in stock as 5 cm by 5 cm, 10 cm by 10 cm" in pads
    # 9.10; sorrel 1.90 + 2.90 + 1.40 + 4.80 = 11.00; kestrel 9.80 + 1.45 + 0.70 + 2.40 = 14.35
    assert "cost 34.45 USD" in ran.out
    plans = [line for line in lines if line.endswith("plan.json")]
    assert [next(name for name in ("Kestrel", "Maple", "Sorrel") if name in line) for line in plans] == [
        "Kestrel",
        "Maple",
        "Sorrel",
    ]
    assert "an opened roll is not shared between animals (common practice)" in ran.out
    assert all(line == line.rstrip() for line in lines)


def test_layers_stand_in_the_trades_order(write: Callable[..., Path], capsys: Capture) -> None:
    out = run(["supplies", str(write("maple", "kestrel"))], capsys).out
    places = [out.index(f"\n{layer}\n") for layer in ("stirrups", "contact", "padding", "conforming", "outer")]
    assert places == sorted(places)


def test_the_table_reads_back(write: Callable[..., Path], capsys: Capture) -> None:
    out = run(["supplies", str(write("maple", "sorrel")), "--format", "csv"], capsys).out
    rows = table(out)
    padding = next(row for row in rows if row["material"] == "cast padding")
    assert padding == {
        "layer": "padding", "material": "cast padding", "width_cm": "7.5", "size": "", "unit": "roll", "now": "4", "for_changes": "0", "number": "4",
        "price_each": "1.45", "cost": "5.80", "currency": "USD", "in_stock_as": "5, 7.5, 10 cm", "estimated_for": "Sorrel",
        "plans": padding["plans"],
    }  # fmt: skip
    assert padding["plans"].startswith("Maple ")
    assert sum(int(row["number"]) for row in rows) == 14


@pytest.mark.parametrize("name", ["=1+1", "+44", "-x", "@now", " =1+1", "＝1+1", '=HYPERLINK("http://x","y")'])
def test_no_cell_is_taken_for_a_formula(
    name: str, write: Callable[..., Path], made: dict[str, Any], capsys: Capture
) -> None:
    patient = {**made["maple"]["patient"], "name": name}
    layers = [{**layer, "material": name, "size": name} for layer in made["maple"]["layers"]]
    rows = table(run(["supplies", str(write("maple", layers=layers, patient=patient)), "--format", "csv"], capsys).out)
    for row in rows:
        assert row["material"] == row["size"] == f"'{name}"
        assert all(cell.lstrip()[:1] not in "=+-@＝" or not cell for cell in row.values())


def test_commas_quotes_lines_and_letters_survive(
    write: Callable[..., Path], made: dict[str, Any], capsys: Capture
) -> None:
    name = 'gaze élastique, "fine"\nlarge 纱布'
    layers = [{**layer, "material": name} for layer in made["maple"]["layers"]]
    folder = write("maple", layers=layers)
    assert {row["material"] for row in table(run(["supplies", str(folder), "--format", "csv"], capsys).out)} == {name}
    text = run(["supplies", str(folder)], capsys).out
    assert 'gaze élastique, "fine"\N{REPLACEMENT CHARACTER}large 纱布' in text, "nothing in a file moves the cursor"


def test_a_price_that_is_missing_is_named_and_nothing_is_summed(
    write: Callable[..., Path], made: dict[str, Any], capsys: Capture
) -> None:
    layers = [{**layer, "price": None} if layer["layer"] == "outer" else layer for layer in made["maple"]["layers"]]
    out = run(["supplies", str(write("maple", layers=layers))], capsys).out
    assert "cost: no sum. No price for: cohesive wrap, 7.5 cm." in out


def test_a_plan_of_an_older_release_is_read(write: Callable[..., Path], made: dict[str, Any], capsys: Capture) -> None:
    """The same form without the keys added since: rolls as before, no prices, a limb that nobody measured still said."""
    added = ("unit", "trust", "price", "size", "stocked_widths_cm", "stocked_sizes")
    layers = [{key: value for key, value in layer.items() if key not in added} for layer in made["sorrel"]["layers"]]
    data = json.loads(run(["supplies", str(write("sorrel", layers=layers)), "--format", "json"], capsys).out)
    assert [(line["number"], line["unit"], len(line["estimated_for"])) for line in data["lines"]] == [
        (1, "roll", 1), (2, "roll", 1), (2, "roll", 1), (2, "roll", 1),
    ]  # fmt: skip
    assert data["cost"] is None
    assert len(data["not_priced"]) == 4


def test_where_no_end_is_set_more_will_follow(write: Callable[..., Path], capsys: Capture) -> None:
    out = run(["supplies", str(write("maple", remove_by=None)), "--changes"], capsys).out
    assert "No end is set for Maple: only the next change is planned, more will follow." in out


@pytest.mark.parametrize(
    ("text", "place", "name"),
    [
        ('{"plan": 1,\n  "layers": [}', ":2:14", "json-broken"),
        ("", ":1:1", "json-broken"),
        ("OPEN BY Sat 20 Mar 2027", ":1:1", "json-broken"),
        ('{"plan": 1, "layers": NaN}', "", "json-broken"),
        ("[" * 100_000, "", "json-broken"),
        ('{"plan": 1, "plan": 2}', "", "key-twice"),
        ('{"plan": 2, "layers": []}', "", "plan-of-another-form"),
        ('{"plan": true}', "", "plan-of-another-form"),
        ('{"problems": [{"name": "course-over"}]}', "", "not-a-plan"),
        ('{"supplies": 1}', "", "not-a-plan"),
        ("[1, 2]", "", "not-a-plan"),
        ('{"plan": 1, "layers": []}', "", "plan-damaged"),
    ],
)
def test_a_file_that_is_no_plan_is_one_problem_in_its_place(
    text: str, place: str, name: str, write: Callable[..., Path], capsys: Capture
) -> None:
    folder = write("maple")
    broken = folder / "broken" / "plan.json"
    broken.parent.mkdir()
    broken.write_text(text, encoding="utf-8")
    before = everything_in(folder)
    ran = run(["supplies", str(folder)], capsys)
    assert (ran.status, ran.out) == (1, "")
    assert ran.err.startswith(f"{broken.as_posix()}{place}: error: {name}: ")
    assert ran.err.count(": error: ") == 1
    assert ran.err.count("why:") == ran.err.count("fix:") == 1
    assert everything_in(folder) == before


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("rolls", 1.5), ("rolls", True), ("rolls", "2"), ("rolls", -1), ("rolls", 10**30), ("rolls", None), ("layer", "socks"), ("layer", None),
        ("material", 7), ("width_cm", "7.5"), ("width_cm", -5), ("width_cm", 1e300), ("unit", "box"), ("trust", "sure"), ("price", "1.45 USD"),
        ("price", {"each": 1.45, "currency": "USD"}), ("price", {"each": "-1.45", "currency": "USD"}), ("price", {"each": "1.45", "currency": "$"}),
        ("stocked_widths_cm", 5), ("stocked_sizes", [1]),
    ],
)  # fmt: skip
def test_a_layer_that_was_changed_by_hand_is_named(
    key: str, value: Any, write: Callable[..., Path], made: dict[str, Any], capsys: Capture
) -> None:
    layers = [{**layer, key: value} if i == 2 else layer for i, layer in enumerate(made["maple"]["layers"])]
    ran = run(["supplies", str(write("maple", layers=layers))], capsys)
    assert (ran.status, ran.out) == (1, "")
    assert "error: plan-damaged:" in ran.err
    assert f"`layers[2].{key}" in ran.err


def test_everything_wrong_is_said_in_one_run(write: Callable[..., Path], tmp_path: Path, capsys: Capture) -> None:
    folder = write("maple", "sorrel")
    (folder / "sorrel" / "plan.json").write_text("{", encoding="utf-8")
    (folder / "empty").mkdir()
    ran = run(
        ["supplies", str(folder), str(folder / "empty"), str(folder / "nowhere.json"), str(folder / "maple")], capsys
    )
    assert ran.status == 1
    names = ("json-broken", "folder-without-plans", "file-unreadable", "plan-twice")
    assert all(ran.err.count(f"error: {name}:") == 1 for name in names)
    assert ran.err.count(": error: ") == len(names)


def test_a_plan_named_twice_is_ordered_once_or_not_at_all(
    write: Callable[..., Path], made: dict[str, Any], capsys: Capture
) -> None:
    folder = write("maple")
    ran = run(["supplies", str(folder), str(folder / "maple" / "plan.json"), "--format", "json"], capsys)
    assert ran.status == 1
    [problem] = json.loads(ran.out)["problems"]
    assert problem["name"] == "plan-twice"
    assert f"sheet {made['maple']['sheet']} (Maple) was read already" in problem["what"]


def test_two_plans_for_one_bandage_are_doubted(
    write: Callable[..., Path], made: dict[str, Any], tmp_path: Path, capsys: Capture
) -> None:
    folder = write("maple")
    again = tmp_path / "again" / "plan.json"
    again.parent.mkdir()
    again.write_text(json.dumps({**made["maple"], "sheet": "0000-00"}), encoding="utf-8")
    ran = run(["supplies", str(folder)], capsys)
    assert ran.status == 0
    assert "warning: bandage-twice: Maple, left hind, Sat 13 Mar 2027, 10:30 has two plans" in ran.err
    assert ran.out.startswith("Supplies for 2 plans: 12 rolls and 2 pieces\n")


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16"])
def test_a_file_redirected_on_another_system_is_read(
    encoding: str, write: Callable[..., Path], made: dict[str, Any], capsys: Capture
) -> None:
    folder = write("maple")
    (folder / "maple" / "plan.json").write_text(json.dumps(made["maple"], ensure_ascii=False), encoding=encoding)
    assert run(["supplies", str(folder)], capsys).status == 0


def test_no_plan_is_wrong_usage(capsys: Capture) -> None:
    assert run(["supplies"], capsys).status == 2
