"""The commands as their users type them: status, words, and files left alone when something is wrong."""

from __future__ import annotations

import json
import os
import re
import shutil
from pathlib import Path

import pytest

from generator import binding, opening
from generator.cli.main import COMMANDS, main
from tests.cli.running import everything_in, run
from tests.conftest import ROOT

MAPLE = [
    "--protocol",
    "padded-limb-support",
    "--patient",
    str(ROOT / "protocols" / "patients" / "maple.yaml"),
    "--now",
    "2027-03-13T10:40",
]
BOOK = ["--book", str(ROOT / "protocols")]
Capture = pytest.CaptureFixture[str]


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_command_has_help_and_an_example(name: str, capsys: Capture) -> None:
    command = main.get_command(None, name)  # type: ignore[arg-type]
    assert command is not None
    assert command.help, f"{name} is missing its help"
    assert "Example: gauzeleaf" in (command.epilog or "")
    assert run([name, "--help"], capsys).status == 0


def test_the_shipped_book_passes_check(capsys: Capture) -> None:
    ran = run(["check", str(ROOT / "protocols")], capsys)
    assert (ran.status, ran.err) == (0, "")


def test_problems_as_data_name_file_line_and_fix(tmp_path: Path, capsys: Capture) -> None:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    file = tmp_path / "protocols" / "padded-limb-support.yaml"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    number = next(i for i, line in enumerate(lines) if line.strip().startswith("change_every:"))
    lines[number] = "  change_every: 7\n"
    file.write_text("".join(lines), encoding="utf-8")
    ran = run(["check", str(tmp_path), "--format", "json"], capsys)
    assert ran.status == 1
    (problem,) = json.loads(ran.out)["problems"]
    assert (problem["name"], problem["line"], problem["column"]) == ("number-without-unit", number + 1, 17)
    assert problem["why"]
    assert "7 d" in problem["fix"]


def test_a_new_book_passes_check_and_prints_the_same_plan(tmp_path: Path, capsys: Capture) -> None:
    book = tmp_path / "our book"
    assert run(["new", str(book)], capsys).status == 0
    assert {path.name for path in book.iterdir()} == {"protocols", "templates", "locales", "output"}
    assert run(["check", str(book)], capsys).status == 0
    here = json.loads(run(["plan", *MAPLE, *BOOK, "--format", "json"], capsys).out)
    there = json.loads(run(["plan", *MAPLE, "--book", str(book), "--format", "json"], capsys).out)
    assert here["layers"] == there["layers"]
    assert here["events"] == there["events"]


def test_every_file_of_a_new_book_leads_an_editor_to_its_schema(tmp_path: Path, capsys: Capture) -> None:
    assert run(["new", str(tmp_path / "our-book")], capsys).status == 0
    files = sorted((tmp_path / "our-book" / "protocols").rglob("*.yaml"))
    assert len(files) > 30
    for file in files:
        first = file.read_text(encoding="utf-8").splitlines()[0]
        place = file.parent / first.removeprefix("# yaml-language-server: $schema=")
        assert json.loads(place.read_text(encoding="utf-8"))["title"].startswith("gauzeleaf ")


def test_schemas_are_written_anew_into_a_folder(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "schema").mkdir()
    (tmp_path / "schema" / "protocol.schema.json").write_text("{}", encoding="utf-8")
    ran = run(["schema", "--into", str(tmp_path / "schema")], capsys)
    assert (ran.status, ran.out) == (0, f"{(tmp_path / 'schema').as_posix()}: 8 schemas.\n")
    written = (tmp_path / "schema" / "protocol.schema.json").read_text(encoding="utf-8")
    assert written == run(["schema"], capsys).out


def test_a_new_book_never_overwrites(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "kept.txt").write_text("kept", encoding="utf-8")
    ran = run(["new", str(tmp_path)], capsys)
    assert ran.status == 1
    assert "folder-in-use" in ran.err
    assert everything_in(tmp_path) == {"kept.txt": b"kept"}


def test_the_plan_keeps_its_contract(capsys: Capture) -> None:
    data = json.loads(run(["plan", *MAPLE, *BOOK, "--format", "json"], capsys).out)
    assert data["plan"] == 1
    assert [set(p) for p in data["protocols"]] == [{"slug", "id", "revision", "stage"}]
    assert set(data["limb"]) == {"distal_girth_cm", "proximal_girth_cm", "covered_length_cm", "trust"}
    layer_keys = {
        "layer",
        "material",
        "width_cm",
        "passes",
        "overlap",
        "strip_cm",
        "need_cm",
        "rolls_exact",
        "rolls",
        "left_over_cm",
        "pressure_mmhg",
    }
    assert all(set(layer) >= layer_keys for layer in data["layers"])
    assert all(set(event) >= {"kind", "opens", "due", "slot", "where"} for event in data["events"])
    assert set(data["deadline"]) >= {"kind", "due", "slot"}
    assert set(data["remove_by"]) >= {"due", "slot"}
    for key in ("finished_girth_cm", "pressure_mmhg", "cost", "go_home", "decided_by", "modifiers", "notes"):
        assert key in data
    # The worked example: 24 h elapsed across the change of the clocks, and the last visit that fits a Saturday.
    check = next(event for event in data["events"] if event["kind"] == "check")
    assert (check["opens"], check["due"], check["slot"], check["where"]) == (
        "2027-03-13T22:30-05:00",
        "2027-03-14T11:30-04:00",
        None,
        "emergency place",
    )
    assert data["deadline"]["slot"] == "2027-03-20T10:00-04:00"


def test_explain_names_the_line_of_every_authored_figure(capsys: Capture) -> None:
    ran = run(["plan", *MAPLE, *BOOK, "--explain"], capsys)
    assert ran.status == 0
    assert "padded-limb-support.yaml:" in ran.out
    assert "maple.yaml:" in ran.out
    assert "stock.yaml:" in ran.out


def test_an_option_stands_before_the_file(capsys: Capture) -> None:
    data = json.loads(run(["plan", *MAPLE, *BOOK, "--distal-girth", "16 cm", "--format", "json"], capsys).out)
    assert data["limb"]["distal_girth_cm"] == 16


def test_a_wrong_option_is_wrong_usage_and_named(capsys: Capture) -> None:
    ran = run(["plan", *MAPLE, *BOOK, "--weight", "12"], capsys)
    assert ran.status == 2
    assert ran.err.startswith("--weight: error: number-without-unit")


def test_a_pressure_bandage_never_goes_home_but_has_a_card(tmp_path: Path, capsys: Capture) -> None:
    kestrel = [
        "--protocol",
        "pressure-bandage",
        "--patient",
        str(ROOT / "protocols" / "patients" / "kestrel.yaml"),
        "--now",
        "2027-03-14T01:51",
    ]
    refused = run(["sheet", *kestrel, *BOOK, "--output", str(tmp_path)], capsys)
    assert refused.status == 1
    assert "why:" in refused.err
    assert everything_in(tmp_path) == {}
    assert run(["card", *kestrel, *BOOK, "--output", str(tmp_path)], capsys).status == 0
    assert len(everything_in(tmp_path)) == 1


def test_a_folder_that_cannot_be_written_is_left_as_it_was(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "output").write_text("a file, not a folder", encoding="utf-8")
    ran = run(["sheet", *MAPLE, *BOOK, "--language", "en", "--output", str(tmp_path / "output")], capsys)
    assert ran.status == 1
    assert "cannot-write" in ran.err
    assert everything_in(tmp_path) == {"output": b"a file, not a folder"}


def test_killed_in_mid_write_the_old_file_stands_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from generator import shelf

    old = {tmp_path / "a.pdf": b"old a", tmp_path / "b.pdf": b"old b"}
    shelf.write_whole(old)

    def dies(_descriptor: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", dies)
    with pytest.raises(KeyboardInterrupt):
        shelf.write_whole(dict.fromkeys(old, b"new"))
    assert everything_in(tmp_path) == {"a.pdf": b"old a", "b.pdf": b"old b"}


def test_a_full_disk_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import errno

    from generator import shelf
    from generator.source.problem import Refusal

    shelf.write_whole({tmp_path / "a.pdf": b"old"})

    def full(_descriptor: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refusal) as refusal:
        shelf.write_whole({tmp_path / "a.pdf": b"new", tmp_path / "b.pdf": b"new"})
    assert refusal.value.problems[0].name == "cannot-write"
    assert "no space left" in refusal.value.problems[0].what
    assert everything_in(tmp_path) == {"a.pdf": b"old"}


def test_a_command_without_a_patient_says_how_to_give_one(capsys: Capture) -> None:
    ran = run(["plan", "--protocol", "padded-limb-support", *BOOK], capsys)
    assert ran.status == 2
    assert "--patient FILE" in ran.err


def test_a_symbolic_link_is_not_written_through(tmp_path: Path) -> None:
    from generator import shelf
    from generator.source.problem import Refusal

    target = tmp_path / "elsewhere.txt"
    target.write_bytes(b"kept")
    (tmp_path / "sheet.pdf").symlink_to(target)
    with pytest.raises(Refusal):
        shelf.write_whole({tmp_path / "sheet.pdf": b"new"})
    assert target.read_bytes() == b"kept"


@pytest.mark.parametrize("name", ["../../x", "CON", "a/b", "C:\\x", "Zoë", "名前", "x" * 300, "  .  ", "%00"])
def test_no_name_leaves_the_output_folder(name: str) -> None:
    from generator.shelf import file_name

    made = file_name(name, "sheet")
    assert made == Path(made).name
    assert made.isascii()
    assert 0 < len(made) <= 120
    assert made.split("-")[0].lower() not in {"con", "prn", "aux", "nul"}


def test_a_language_without_words_is_refused_by_name(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["sheet", *MAPLE, *BOOK, "--owner-language", "tlh", "--output", str(tmp_path)], capsys)
    assert ran.status in (1, 2)
    assert "language-without-catalogue" in ran.err
    assert everything_in(tmp_path) == {}


def test_a_fault_of_ours_is_one_line_and_status_three(capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    from generator import opening

    def breaks(*_: object, **__: object) -> None:
        raise ZeroDivisionError("on purpose")

    monkeypatch.setattr(opening, "open_book", breaks)
    ran = run(["check"], capsys)
    assert ran.status == 3
    assert len(ran.err.strip().splitlines()) == 1
    assert "ours, not yours" in ran.err


def test_a_problem_elsewhere_in_the_book_is_only_a_warning(tmp_path: Path, capsys: Capture) -> None:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    other = tmp_path / "protocols" / "foot-bandage.yaml"
    other.write_text(other.read_text(encoding="utf-8").replace("title:", "titel:"), encoding="utf-8")
    ran = run(["plan", *MAPLE, "--book", str(tmp_path)], capsys)
    assert ran.status == 0
    assert "elsewhere in the book" in ran.err


@pytest.mark.parametrize(
    "name", ["{pet}", "<b>Rex</b>", "50 %", "../../x", "{{ 7*7 }}", "{% raw %}", "Null", "Zoë", "=1+1", "&amp;"]
)
def test_a_name_is_text_and_prints_as_it_was_typed(name: str, tmp_path: Path, capsys: Capture) -> None:
    from pypdf import PdfReader

    ran = run(
        ["sheet", *MAPLE, *BOOK, "--language", "en", "--name", name, "--output", str(tmp_path / "output")], capsys
    )
    assert ran.status == 0, ran.err
    (printed,) = everything_in(tmp_path)
    assert printed.startswith("output/")
    text = PdfReader(tmp_path / printed).pages[0].extract_text()
    assert name in text


def test_a_name_that_turns_text_round_is_refused_by_name(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["sheet", *MAPLE, *BOOK, "--name", "Re\N{RIGHT-TO-LEFT OVERRIDE}x", "--output", str(tmp_path)], capsys)
    assert ran.status == 2
    assert ran.err.startswith("--name: error: hidden-character")
    assert "right-to-left override" in ran.err
    assert everything_in(tmp_path) == {}


def test_a_letter_that_no_font_has_is_named_with_its_place(tmp_path: Path, capsys: Capture) -> None:
    ran = run(
        ["sheet", *MAPLE, *BOOK, "--language", "en", "--name", "Rex \N{GRINNING FACE}", "--output", str(tmp_path)],
        capsys,
    )
    assert ran.err.startswith("--name: error: letter-without-glyph")
    assert "U+1F600" in ran.err
    assert everything_in(tmp_path) == {}


@pytest.mark.parametrize("named", ["open-wound@inflammatory", "open-fracture-before-fixation"])
def test_an_error_in_a_stage_stops_every_plan_that_needs_it(named: str, tmp_path: Path, capsys: Capture) -> None:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    file = tmp_path / "protocols" / "open-wound.yaml"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    number = next(
        i for i, line in enumerate(lines) if line.strip().startswith("change_every: ") and "published" not in line
    )
    lines[number] = lines[number].split("change_every:")[0] + "change_every: 9 d\n"
    file.write_text("".join(lines), encoding="utf-8")
    brindle = ["--patient", str(ROOT / "protocols" / "patients" / "brindle.yaml"), "--now", "2027-03-13T12:30"]
    ran = run(
        ["card", "--protocol", named, *brindle, "--book", str(tmp_path), "--output", str(tmp_path / "out")], capsys
    )
    assert ran.status == 1
    assert f"open-wound.yaml:{number + 1}:" in ran.err
    assert not (tmp_path / "out").exists()


def left_open(tmp_path: Path, name: str, *keys: str) -> Path:
    """The shipped book with some keys of one protocol still to be decided."""
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    file = tmp_path / "protocols" / f"{name}.yaml"
    lines = file.read_text(encoding="utf-8").splitlines(keepends=True)
    file.write_text(
        "".join(f"{line.split(':')[0]}: to decide\n" if line.split(":")[0] in keys else line for line in lines),
        encoding="utf-8",
    )
    return file


def test_what_is_still_to_be_decided_stops_the_plans_of_its_own_protocol(tmp_path: Path, capsys: Capture) -> None:
    left_open(tmp_path, "padded-limb-support", "id", "prepared_by")
    ran = run(["plan", *MAPLE, "--book", str(tmp_path)], capsys)
    assert (ran.status, ran.out) == (1, "")
    assert ran.err.count("error: not-decided") == 2
    assert "why: a sheet that nobody answers for must not go on an animal" in ran.err
    assert "fix: write what was decided, such as `id: LB-SUP-002`" in ran.err


def test_what_is_still_to_be_decided_leaves_other_protocols_alone(tmp_path: Path, capsys: Capture) -> None:
    left_open(tmp_path, "foot-bandage", "id", "revision", "prepared_by")
    ran = run(["plan", *MAPLE, "--book", str(tmp_path)], capsys)
    assert ran.status == 0
    (line,) = ran.err.splitlines()
    assert line.endswith(
        "foot-bandage.yaml:5:5: warning: elsewhere in the book: not-decided: `id` is still to be decided, and 2 more in this file"
    )


def test_a_part_still_to_be_decided_stops_the_blend_it_is_in(tmp_path: Path, capsys: Capture) -> None:
    file = left_open(tmp_path, "splinted-limb", "prepared_by")
    brindle = ["--patient", str(ROOT / "protocols" / "patients" / "brindle.yaml"), "--now", "2027-03-13T12:30"]
    ran = run(["plan", "--protocol", "open-fracture-before-fixation", *brindle, "--book", str(tmp_path)], capsys)
    assert ran.status == 1
    assert f"{file.as_posix()}:9:14: error: not-decided" in ran.err


def test_the_binder_waits_until_everything_is_decided(tmp_path: Path, capsys: Capture) -> None:
    left_open(tmp_path, "foot-bandage", "prepared_by")
    ran = run(["binder", "--book", str(tmp_path), "--output", str(tmp_path / "out")], capsys)
    assert ran.status == 1
    assert "not-decided" in ran.err
    assert not (tmp_path / "out").exists()


def test_numbered_copies_of_the_binder_are_files_of_their_own(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["binder", "--copy", "3", "--copy", "1", "--copy", "3", *BOOK, "--output", str(tmp_path)], capsys)
    assert (ran.status, ran.err) == (0, "")
    assert sorted(everything_in(tmp_path)) == ["binder-copy-1.pdf", "binder-copy-3.pdf"]
    assert ran.out.split() == [f"{tmp_path.as_posix()}/binder-copy-{n}.pdf" for n in (3, 1)]


def test_a_copy_that_nobody_keeps_is_refused_with_those_there_are(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["binder", "--copy", "7", "--copy", "2", *BOOK, "--output", str(tmp_path / "out")], capsys)
    assert (ran.status, ran.out) == (1, "")
    assert re.search(r"clinic\.yaml:\d+:3: error: copy-unknown: the clinic has no copy `7`", ran.err)
    assert "1 (prep room), 2 (ward), 3 (consulting room corridor), 4 (front desk)" in ran.err
    assert not (tmp_path / "out").exists()


def test_all_names_every_copy() -> None:
    opened = opening.open_book(BOOK[1])
    assert binding.copies_named(opened, ["all"]) == opened.book.clinic.copies
    assert binding.copies_named(opened, []) == ()


KESTREL = ["--protocol", "pressure-bandage", "--patient", str(ROOT / "protocols" / "patients" / "kestrel.yaml"), "--now", "2027-03-14T01:51"]  # fmt: skip


def test_a_pressure_bandage_and_the_next_one_are_printed_on_one_card(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["card", *KESTREL, "--then", "open-wound@inflammatory", *BOOK, "--output", str(tmp_path)], capsys)
    assert (ran.status, ran.err) == (0, "")
    assert list(everything_in(tmp_path)) == ["Kestrel-pressure-bandage-then-open-wound-2027-03-14-card.pdf"]


@pytest.mark.parametrize("then", [["open-wound@inflammatory", "splinted-limb"], ["open-fracture-before-fixation"]])
def test_what_follows_may_be_a_bandage_of_several_protocols(then: list[str], capsys: Capture) -> None:
    follows = [word for name in then for word in ("--then", name)]
    data = json.loads(run(["plan", *KESTREL, *follows, *BOOK, "--format", "json"], capsys).out)
    assert {p["slug"] for p in data["then"]["protocols"]} >= {"open-wound", "splinted-limb"}
    # The release, fifteen minutes after ten to two on the night the clocks go forward.
    assert data["then"]["applied"] == "2027-03-14T03:05-04:00"
    assert json.loads(run(["plan", *KESTREL, *BOOK, "--format", "json"], capsys).out)["then"] is None


@pytest.mark.parametrize(
    ("then", "name", "place"),
    [
        ("open-wond@inflammatory", "protocol-unknown", "--then open-wond@inflammatory"),
        ("open-wound", "stage-missing", "--then open-wound"),
        ("pressure-bandage", "pressure-bandage-again", "--then pressure-bandage"),
        ("ehmer-sling", "site-not-covered", "kestrel.yaml"),
    ],
)
def test_a_next_bandage_that_cannot_follow_is_refused(
    then: str, name: str, place: str, tmp_path: Path, capsys: Capture
) -> None:
    ran = run(["card", *KESTREL, "--then", then, *BOOK, "--output", str(tmp_path)], capsys)
    # Wrong usage where the option itself is wrong, a problem where the patient's file does not fit it.
    assert ran.status == (2 if place.startswith("--then") else 1)
    assert name in ran.err
    assert place in ran.err
    assert "fix:" in ran.err
    assert everything_in(tmp_path) == {}


def test_nothing_follows_what_is_no_pressure_bandage(capsys: Capture) -> None:
    ran = run(["plan", *MAPLE, "--then", "open-wound@inflammatory", *BOOK], capsys)
    assert ran.status == 2
    assert "followed-without-bleeding" in ran.err


def test_problems_in_the_file_of_the_next_bandage_stop_the_card(tmp_path: Path, capsys: Capture) -> None:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    file = tmp_path / "protocols" / "open-wound.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("change_every: 24 h to 72 h", "change_every: 24"), "utf-8")
    book = ["--book", str(tmp_path)]
    ran = run(["card", *KESTREL, "--then", "open-wound@inflammatory", *book, "--output", str(tmp_path / "out")], capsys)
    assert ran.status == 1
    assert "open-wound.yaml:" in ran.err
    # The pressure bandage alone is not touched by it: it is printed, with a warning.
    ran = run(["card", *KESTREL, *book, "--output", str(tmp_path / "out")], capsys)
    assert ran.status == 0
    assert "warning" in ran.err


def test_the_sheet_is_refused_and_says_which_sheet_to_print(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["sheet", *KESTREL, *BOOK, "--output", str(tmp_path)], capsys)
    assert ran.status == 1
    assert "print the sheet for the bandage that follows once that one is on" in " ".join(ran.err.split())


def test_what_is_refused_comes_as_data_where_data_was_asked_for(capsys: Capture) -> None:
    ran = run(["plan", *MAPLE, *BOOK, "--weight", "184 kg", "--format", "json"], capsys)
    assert ran.status == 2  # an option is at fault, as with any wrong usage
    [problem] = json.loads(ran.out)["problems"]
    assert (problem["name"], problem["file"]) == ("weight-out-of-range", "--weight")
    assert problem["why"]
    assert problem["fix"]


def test_what_is_shown_beside_a_plan_is_kept_with_it(tmp_path: Path, capsys: Capture) -> None:
    shutil.copytree(ROOT / "protocols", tmp_path / "protocols")
    other = tmp_path / "protocols" / "hobbles.yaml"
    other.write_text(other.read_text(encoding="utf-8").replace("kind: sling.hobbles", "kind: sling.hobbels"), "utf-8")
    exchanged = ["--distal-girth", "22 cm", "--proximal-girth", "14 cm", "--covered-length", "26 cm"]
    ran = run(["plan", *MAPLE, *exchanged, "--book", str(tmp_path), "--format", "json"], capsys)
    assert ran.status == 0
    data = json.loads(ran.out)
    assert [problem["name"] for problem in data["warnings"]] == ["girths-exchanged", "unknown-word"]
    # On the paper too: a doubt is no matter of the screen alone.
    assert "thicker at the toes" in str(next(note for note in data["notes"] if note["code"] == "doubt"))
