"""A book found sound is not judged again, and nothing that is read, refused or printed differs for it.

The judgement that a kept note stands in for is the outside measure here: each test judges the same files afresh beside it.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from generator import flow, opening, shelf
from generator.cli.demo import SCENES
from generator.cli.patient import tree_of
from generator.protocol import rules
from generator.source.on_demand import OnDemand
from generator.source.problem import Refusal
from tests.cli.running import run
from tests.conftest import ROOT

SHIPPED = ROOT / "protocols"
MAPLE = ["--protocol", "padded-limb-support", "--patient", str(SHIPPED / "patients" / "maple.yaml"), "--now", "2027-03-13T10:40"]  # fmt: skip


@pytest.fixture
def kept(tmp_path, monkeypatch) -> Path:
    """The folder that Python's compiled code, and so the note, is kept in for this test."""
    folder = tmp_path / "kept"
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", str(folder))
    return folder


@pytest.fixture
def book(tmp_path) -> Path:
    folder = tmp_path / "clinic" / "protocols"
    shutil.copytree(SHIPPED, folder, ignore=shutil.ignore_patterns("patients"))
    return folder


@pytest.fixture
def judgements(monkeypatch) -> list[str]:
    """Each protocol that the rules were run over."""
    seen: list[str] = []
    problems_of = rules.problems_of
    monkeypatch.setattr(
        rules, "problems_of", lambda protocol, book: (seen.append(protocol.file), problems_of(protocol, book))[1]
    )
    return seen


def changed(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def is_judged(book: Path, judgements: list[str]) -> bool:
    judgements.clear()
    opening.open_to_plan(str(book))
    return bool(judgements)


def test_a_sound_book_is_judged_once(kept, book, judgements):
    assert is_judged(book, judgements)
    assert not is_judged(book, judgements)
    assert len(list(kept.rglob("*.sound"))) == 1


def test_the_same_files_in_another_folder_are_the_same_book(kept, book, judgements):
    opening.open_to_plan(str(SHIPPED))
    assert not is_judged(book, judgements)


@pytest.mark.parametrize("name", sorted(path.name for path in SHIPPED.glob("*.yaml")))
def test_any_change_of_any_file_is_judged(kept, book, judgements, name):
    opening.open_to_plan(str(book))
    file = book / name
    data, draw = file.read_bytes(), random.Random(name)
    for _ in range(3):
        at = draw.randrange(len(data))
        file.write_bytes(data[:at] + bytes([data[at] ^ 1 << draw.randrange(8)]) + data[at + 1 :])
        assert opening._digests({file.name: file.read_bytes()}) != opening._digests({file.name: data})
    file.write_bytes(data + b"\n")
    assert is_judged(book, judgements)
    assert not is_judged(book, judgements)


def test_a_file_more_a_file_less_and_a_file_renamed_are_judged(kept, book, judgements):
    opening.open_to_plan(str(book))
    (book / "hobbles.yaml").rename(book / "hobble.yaml")
    assert is_judged(book, judgements)
    (book / "hobble.yaml").rename(book / "hobbles.yaml")
    assert not is_judged(book, judgements)
    (book / "modifiers.yaml").rename(book.parent / "aside.yaml")
    assert is_judged(book, judgements)


# What is wrong, where, and whether the plan of the padded limb support uses that file.
WRONG = {
    "a rule is broken elsewhere": ("splinted-limb.yaml", "  change_every: ", "  change_every: 90 d #"),
    "a key is misspelt elsewhere": ("foot-bandage.yaml", "title:", "titel:"),
    "elsewhere is no YAML": ("foot-bandage.yaml", "title:", "title: ["),
    "something is to be decided elsewhere": ("foot-bandage.yaml", "prepared_by:", "prepared_by: to decide #"),
    "a rule is broken in the plan's own file": ("padded-limb-support.yaml", "  change_every: ", "  change_every: 90 d #"),
    "a setting cannot be read": ("stock.yaml", "roll:", "rol:"),
    "there is no such time zone": ("clinic.yaml", "time_zone: ", "time_zone: Nowhere/At_All #"),
    "a warning only": ("foot-bandage.yaml", "title: ", "title: a #1 "),
}  # fmt: skip


@pytest.mark.parametrize("what", WRONG)
def test_a_book_with_anything_wrong_is_judged_each_time_and_says_the_same(kept, book, judgements, capsys, what):
    opening.open_to_plan(str(book))
    changed(book / WRONG[what][0], *WRONG[what][1:])
    found = opening.open_book(str(book)).problems
    assert found
    said = []
    for _ in range(3):
        assert is_judged(book, judgements)
        assert opening.open_to_plan(str(book)).problems == found
        ran = run(["plan", *MAPLE, "--book", str(book)], capsys)
        said.append((ran.status, ran.out, ran.err))
    assert said[0] == said[1] == said[2]
    assert said[0][2] or all(problem.severity == "warning" for problem in found)


def test_a_book_that_was_sound_once_is_known_again_when_it_is_mended(kept, book, judgements):
    opening.open_to_plan(str(book))
    data = (book / "foot-bandage.yaml").read_bytes()
    changed(book / "foot-bandage.yaml", "title:", "titel:")
    assert is_judged(book, judgements)
    (book / "foot-bandage.yaml").write_bytes(data)
    assert not is_judged(book, judgements)


def test_a_time_zone_that_is_no_longer_known_is_found_without_judging(kept, book, monkeypatch):
    opening.open_to_plan(str(book))
    monkeypatch.setattr(shelf, "_zone_rules", lambda name: None)
    opened = opening.open_to_plan(str(book))
    assert [problem.name for problem in opened.problems] == ["unknown-time-zone"]
    with pytest.raises(Refusal):
        flow.choose(opened, ["padded-limb-support"])


def test_a_patient_file_among_the_protocols_keeps_nothing(kept, book, judgements):
    shutil.copy(SHIPPED / "patients" / "maple.yaml", book / "maple.yaml")
    for _ in range(2):
        assert is_judged(book, judgements)
    assert list(kept.rglob("*.sound")) == []


@pytest.mark.parametrize("note", [b"", b"\0\xff nonsense", b"0" * 64, b"{}"])
def test_a_note_that_says_nothing_of_this_book_is_passed_over(kept, book, judgements, note):
    opening.open_to_plan(str(book))
    [file] = kept.rglob("*.sound")
    file.write_bytes(note)
    assert is_judged(book, judgements)
    assert not is_judged(book, judgements)


def test_where_python_keeps_nothing_every_plan_judges(kept, book, judgements, monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    for _ in range(2):
        assert is_judged(book, judgements)
    assert not kept.exists()


def test_only_the_last_books_are_remembered(kept, book, judgements):
    first = (book / "hobbles.yaml").read_bytes()
    for number in range(18):
        (book / "hobbles.yaml").write_bytes(first + b"# %d\n" % number)
        opening.open_to_plan(str(book))
    [file] = kept.rglob("*.sound")
    assert len(file.read_bytes().split()) == 16
    (book / "hobbles.yaml").write_bytes(first + b"# 0\n")
    assert is_judged(book, judgements)


def test_check_judges_always(kept, book, judgements, capsys):
    opening.open_to_plan(str(book))
    judgements.clear()
    assert run(["check", str(book)], capsys).status == 0
    assert len(judgements) > 10


def test_the_second_sheet_loads_no_rule(tmp_path):
    text = """
import sys
from generator.cli.main import guarded
status = guarded(sys.argv[1:])
print(status, sum(name.startswith("generator.protocol.rules") for name in sys.modules))
"""
    command = [sys.executable, "-c", text, "sheet", *MAPLE, "--book", str(SHIPPED), "--language", "en", "--output", str(tmp_path)]  # fmt: skip
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    kept["PYTHONPYCACHEPREFIX"] = str(tmp_path / "kept")
    said = [subprocess.run(command, cwd=ROOT, env=kept, capture_output=True, text=True, check=True) for _ in range(2)]
    first, second = (ran.stdout.split("\n")[-2].split() for ran in said)
    assert first[0] == second[0] == "0"
    assert int(first[1]) > 50
    assert int(second[1]) == 0
    assert said[0].stderr == said[1].stderr == ""


# ---- what the judgement hangs on ----------------------------------------------------------------------------------


def test_reading_and_judging_run_nothing_but_what_the_digest_covers():
    judge = """
import sys
from pathlib import Path
from generator.protocol.book import read_book
from generator.source.text import read_tree
folder = Path(sys.argv[1])
trees = {p.name: read_tree(p.read_bytes(), p.name).tree for p in folder.rglob("*.yaml")}
read_book(trees, "book")
print(*(name for name in sys.modules if name.startswith("generator.")))
"""
    ran = subprocess.run([sys.executable, "-c", judge, str(SHIPPED)], cwd=ROOT, capture_output=True, text=True, check=True)  # fmt: skip
    names = ran.stdout.split()
    assert len(names) > 70
    assert {name.split(".")[1] for name in names} == {"source", "protocol"}


@pytest.fixture
def program(tmp_path, monkeypatch) -> Path:
    """A copy of the program, so that it can be changed."""
    here = tmp_path / "program"
    for room in ("source", "protocol"):
        shutil.copytree(ROOT / "generator" / room, here / room, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(shelf, "_HERE", here)
    return here


def test_any_change_of_any_rule_or_reader_gives_another_digest(program):
    before = shelf.program_digest("source", "protocol")
    for file in sorted(program.rglob("*.py")):
        text, status = file.read_bytes(), file.stat()
        if text:
            # One letter, and the file as long and as old as it was.
            file.write_bytes(bytes([text[0] ^ 1]) + text[1:])
            os.utime(file, ns=(status.st_atime_ns, status.st_mtime_ns))
            assert shelf.program_digest("source", "protocol") != before, file
        file.write_bytes(text)
        os.utime(file, ns=(status.st_atime_ns, status.st_mtime_ns))
        assert shelf.program_digest("source", "protocol") == before


def test_a_rule_more_a_rule_less_a_rule_renamed_or_touched_gives_another_digest(program):
    seen = {shelf.program_digest("source", "protocol")}
    rule = program / "protocol" / "rules" / "toes_shown.py"
    (rule.parent / "new_rule.py").write_text("", encoding="utf-8")
    seen.add(shelf.program_digest("source", "protocol"))
    rule.rename(rule.with_name("toes_are_shown.py"))
    seen.add(shelf.program_digest("source", "protocol"))
    rule.with_name("toes_are_shown.py").unlink()
    seen.add(shelf.program_digest("source", "protocol"))
    (rule.parent / "new_rule.py").touch()
    seen.add(shelf.program_digest("source", "protocol"))
    assert len(seen) == 5


def test_a_changed_rule_judges_again_whatever_was_kept(kept, book, judgements, program):
    assert is_judged(book, judgements)
    assert not is_judged(book, judgements)
    rule = program / "protocol" / "rules" / "toes_shown.py"
    rule.write_text(rule.read_text(encoding="utf-8") + "# stricter\n", encoding="utf-8")
    assert is_judged(book, judgements)


def test_a_program_without_its_text_keeps_nothing(kept, book, judgements, program):
    shutil.rmtree(program)
    for _ in range(2):
        assert is_judged(book, judgements)
    assert not kept.exists()


@pytest.mark.parametrize("name", ["READ_BY", "sys"])
def test_another_parser_or_python_judges_again(kept, book, judgements, monkeypatch, name):
    opening.open_to_plan(str(book))
    if name == "sys":
        monkeypatch.setattr(sys, "version", "3.99")
    else:
        monkeypatch.setattr(opening, name, "another parser")
    assert is_judged(book, judgements)


# ---- what is made of it -------------------------------------------------------------------------------------------


def papers(opened: opening.OpenBook, scene) -> dict[str, object]:
    patient = flow.patient_from(tree_of(SHIPPED / "patients" / f"{scene.patient}.yaml", {}))
    chosen = flow.choose(opened, scene.protocols)
    then = flow.choose(opened, scene.then, "--then") if scene.then else None
    plan = flow.make_plan(opened, chosen, patient, datetime.fromisoformat(scene.now), then)
    made: dict[str, object] = {
        "data": json.dumps(flow.plan_data(plan)),
        "explained": flow.explained(plan),
        "workings": flow.workings_text(opened, plan),
        "card": flow.card(opened, plan).xhtml,
        "elsewhere": flow.elsewhere(opened, chosen, then),
        "digest": opened.digest,
    }
    try:
        made["sheet"] = flow.sheet(opened, plan, "en").xhtml
    except Refusal as refusal:
        made["sheet"] = refusal.problems
    return made


@pytest.mark.parametrize("scene", SCENES, ids=lambda scene: scene.patient)
def test_every_paper_of_the_demo_is_the_same_letter_for_letter(kept, judgements, scene):
    opening.open_to_plan(str(SHIPPED))
    judgements.clear()
    known = opening.open_to_plan(str(SHIPPED))
    made = papers(known, scene)
    assert judgements == []
    assert made == papers(opening.open_book(str(SHIPPED)), scene)


def test_every_protocol_and_setting_is_read_the_same(kept):
    opening.open_to_plan(str(SHIPPED))
    known, afresh = opening.open_to_plan(str(SHIPPED)), opening.open_book(str(SHIPPED))
    assert isinstance(known.book.protocols, OnDemand)
    # No plan asks who was trained on what.
    assert known.book == replace(afresh.book, training=())
    assert dict(known.readings) == dict(afresh.readings)
    assert (known.problems, known.digest, known.folder) == (afresh.problems, afresh.digest, afresh.folder)


@pytest.mark.parametrize(
    "names", [["hobles"], ["open-wound"], ["open-wound@never"], ["hobbles@maturation"], ["stock"], ["patients"]]
)
def test_a_protocol_that_is_not_there_is_refused_in_the_same_words(kept, names):
    opening.open_to_plan(str(SHIPPED))
    said = []
    for opened in (opening.open_to_plan(str(SHIPPED)), opening.open_book(str(SHIPPED))):
        with pytest.raises(Refusal) as refused:
            flow.choose(opened, names)
        said.append(refused.value.problems)
    assert said[0] == said[1]


@pytest.mark.parametrize(
    "file", ["clinic.yaml", "stock.yaml", "signs.yaml", "modifiers.yaml", "pictures.yaml", "padded-limb-support.yaml"]
)
@pytest.mark.parametrize("broken", [b"title: [\n", b"colour: red\n", b"- a\n", b""])
def test_even_a_wrong_note_never_lets_a_file_through_that_cannot_be_read(kept, book, monkeypatch, file, broken):
    opening.open_to_plan(str(book))
    # The same name for everything: as if the digest had failed.
    [note] = kept.rglob("*.sound")
    monkeypatch.setattr(opening, "_judged_from", lambda digests: note.read_bytes().split()[0])
    (book / file).write_bytes(broken)
    with pytest.raises(Refusal):
        flow.choose(opening.open_to_plan(str(book)), ["padded-limb-support"])


def test_a_fault_in_making_a_value_is_not_taken_for_a_key_that_is_not_there():
    def make(key: str) -> str:
        raise KeyError("a fault")

    with pytest.raises(RuntimeError, match="a fault"):
        OnDemand(["a"], make).get("a")
    assert OnDemand(["a"], str.upper).get("b") is None
    assert dict(OnDemand(["a"], str.upper)) == {"a": "A"}
