"""Taking protocols over from the library: nobody's signature comes along, every comment does, and the figures stay the same."""

from __future__ import annotations

import errno
import json
import os
import re
import shutil
import tempfile
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from generator import flow, opening
from generator.cli.demo import SCENES
from generator.source.text import read_tree
from tests.cli.running import Ran, everything_in, run
from tests.conftest import ROOT
from tests.protocol.writing import plain, write

LIBRARY = ROOT / "protocols"
SETTINGS = {"clinic", "stock", "signs", "modifiers", "pictures", "training"}
SLUGS = sorted(path.stem for path in LIBRARY.glob("*.yaml") if path.stem not in SETTINGS)
BLEND = "open-fracture-before-fixation"
PARTS = ("splinted-limb", "open-wound")
NOW = ("--now", "2027-01-04T09:00")
Capture = pytest.CaptureFixture[str]

# What the clinic's people decide, by key.
DECIDED = {
    "effective": "2027-02-01",
    "review_by": "2028-02-01",
    "prepared_by": "{name: R. Osei-Lund, role: head technician, date: 2027-01-08}",
    "approved_by": "{name: Dr M. Tamsin, role: clinician, date: 2027-01-20}",
    "why": "our own book",
    "by": "R. Osei-Lund",
    "decided_by": "Dr J. Ferrow",
}
# A shelf of one's own: two materials of names that the library knows too, one that it does not.
OWN_STOCK = """\
# Ours, measured here.
materials:
    porous tape: {layer: stirrups, widths: [2.5 cm, 5 cm], roll: 9 m inelastic}   # by the door
    cast padding:
        layer: padding
        widths: [5 cm, 7.5 cm, 10 cm]
        roll: 3 m relaxed
        thickness: 3 mm
    prep room wrap: {layer: outer, widths: [5 cm], roll: 4 m relaxed}
# no more shelves"""
OWN_SIGNS = """\
# Ours.
toes-cold-or-discoloured: {urgency: emergency, staff: Cold toes., owner: The toes feel cold.}
wet: {urgency: urgent, staff: Wet. Change it., owner: It is wet.}
"""


@pytest.fixture
def book(tmp_path: Path, capsys: Capture) -> Path:
    """A new book, emptied of its protocols."""
    folder = tmp_path / "our-book"
    assert run(["new", str(folder)], capsys).status == 0
    for slug in SLUGS:
        (folder / "protocols" / f"{slug}.yaml").unlink()
    return folder


@pytest.fixture
def own_book(book: Path) -> Path:
    """The same with a stock and signs of its own."""
    (book / "protocols" / "stock.yaml").write_text(OWN_STOCK, encoding="utf-8")
    (book / "protocols" / "signs.yaml").write_text(OWN_SIGNS, encoding="utf-8")
    return book


def adopt(book: Path, names: list[str], capsys: Capture, *more: str) -> Ran:
    return run(["adopt", *names, "--book", str(book), *NOW, *more], capsys)


def checked(book: Path, capsys: Capture) -> list[dict[str, Any]]:
    problems = json.loads(run(["check", str(book), "--no-fit", "--format", "json"], capsys).out)["problems"]
    return [problem for problem in problems if problem["severity"] == "error" or problem["name"] == "not-decided"]


def decide(book: Path, capsys: Capture) -> None:
    """Write what was decided wherever the check says that something is to be."""
    for number, problem in enumerate(
        sorted(checked(book, capsys), key=lambda p: (p["line"], p["column"]), reverse=True)
    ):
        assert problem["name"] == "not-decided", problem
        key = problem["what"].split("`")[1]
        file = Path(problem["file"])
        lines = file.read_text(encoding="utf-8").split("\n")
        line, at = lines[problem["line"] - 1], problem["column"] - 1
        assert line[at : at + 9] == "to decide"
        lines[problem["line"] - 1] = line[:at] + DECIDED.get(key, f"LB-OWN-{number:03}") + line[at + 9 :]
        file.write_text("\n".join(lines), encoding="utf-8")


def of_library(slug: str) -> Any:
    return plain(read_tree((LIBRARY / f"{slug}.yaml").read_bytes(), "").tree)  # type: ignore[arg-type]


def with_parts(slug: str) -> list[str]:
    """A protocol and, of a stored blend, the parts that must come with it."""
    return [slug, *(part.partition("@")[0] for part in of_library(slug).get("blend", ()))]


def comments(text: str) -> list[str]:
    return re.findall(r"(?<=\s)#(?=\s).*", text)


@pytest.mark.parametrize("slug", SLUGS)
def test_all_that_is_wrong_with_an_adopted_protocol_is_that_it_is_undecided(
    slug: str, book: Path, capsys: Capture
) -> None:
    ran = adopt(book, with_parts(slug), capsys)
    assert (ran.status, ran.err) == (0, "")
    problems = checked(book, capsys)
    assert {problem["name"] for problem in problems} == {"not-decided"}
    for problem in problems:
        assert f"{problem['file']}:{problem['line']}:{problem['column']}: {problem['what']}" in ran.out
    mine = [p["what"].split("`")[1] for p in problems if Path(p["file"]).stem == slug]
    settled = ["decided_by"] * len(of_library(slug).get("settles", ()))
    assert mine == ["id", "effective", "review_by", "prepared_by", "approved_by", *settled, "why", "by"]
    assert f"gauzeleaf check {book}" in ran.out
    decide(book, capsys)
    assert run(["check", str(book), "--no-fit"], capsys).status == 0


@pytest.mark.parametrize("slug", SLUGS)
def test_every_line_that_is_nobodys_signature_stays_as_its_author_wrote_it(
    slug: str, book: Path, capsys: Capture
) -> None:
    assert adopt(book, SLUGS, capsys).status == 0
    theirs = (LIBRARY / f"{slug}.yaml").read_text(encoding="utf-8")
    ours = (book / "protocols" / f"{slug}.yaml").read_text(encoding="utf-8")
    signed = r"(id|revision|effective|review_by|prepared_by|approved_by|reviewed_against): .*|  - \{revision: .*"
    mark = r"  # to decide: .*$"

    def kept(text: str) -> list[str]:
        lines = [re.sub(mark, "", line) for line in text.split("\n") if not re.fullmatch(signed, line)]
        return [re.sub(r"decided_by: (Dr J. Ferrow|to decide)", "decided_by:", line) for line in lines]

    # The line for editors stays the first; what is to be done stands below it.
    assert [kept(ours)[0], *kept(ours)[5:]] == kept(theirs)
    assert set(comments(theirs)) <= set(comments(re.sub(mark, "", ours, flags=re.M)))
    assert ours.split("\n")[1].startswith("# Adopted on 2027-01-04 from the shipped library (LB-")
    head = " ".join(ours.split("\n")[:5])
    assert "the attending veterinarian and local law come first" in head
    assert "Every figure is that of the shipped book until your own people have read it" in head


def test_all_at_once_and_decided_the_book_is_clean_and_plans_the_same_figures(book: Path, capsys: Capture) -> None:
    assert adopt(book, SLUGS, capsys).status == 0
    decide(book, capsys)
    (told,) = json.loads(run(["check", str(book), "--format", "json"], capsys).out)["problems"]
    assert (told["name"], told["severity"]) == ("nothing-approved", "warning")
    signed = ["approve", "--all", "--book", str(book), "--output", str(book / "output"), "--now", "2027-01-20T17:00"]
    assert run(signed, capsys).status == 0
    ran = run(["check", str(book)], capsys)
    assert (ran.status, ran.err) == (0, "")
    for scene in SCENES:
        typed = [
            "--patient",
            str(LIBRARY / "patients" / f"{scene.patient}.yaml"),
            "--now",
            scene.now,
            "--format",
            "json",
        ]
        typed += [word for slug in scene.protocols for word in ("--protocol", slug)]
        theirs = json.loads(run(["plan", *typed, "--book", str(LIBRARY)], capsys).out)
        ours = json.loads(run(["plan", *typed, "--book", str(book)], capsys).out)
        assert {p["revision"] for p in ours["protocols"]} == {1}
        assert all(p["id"].startswith("LB-OWN-") for p in ours["protocols"])
        for key in set(theirs) - {"protocols", "sheet", "digests", "approvals"}:
            assert ours[key] == theirs[key], (scene.patient, key)


def test_nothing_prints_from_it_before_it_is_decided(book: Path, capsys: Capture) -> None:
    assert adopt(book, ["padded-limb-support"], capsys).status == 0
    maple = ["--patient", str(LIBRARY / "patients" / "maple.yaml"), "--now", "2027-03-13T10:40", "--book", str(book)]
    ran = run(["card", "--protocol", "padded-limb-support", *maple, "--output", str(book / "output")], capsys)
    assert ran.status == 1
    assert "not-decided" in ran.err
    assert everything_in(book / "output") == {}


@pytest.mark.parametrize("slug", SLUGS)
def test_into_a_stock_of_ones_own_all_that_is_missing_is_added(slug: str, own_book: Path, capsys: Capture) -> None:
    ran = adopt(own_book, with_parts(slug), capsys, "--with-needs")
    assert (ran.status, ran.err) == (0, "")
    assert {problem["name"] for problem in checked(own_book, capsys)} == {"not-decided"}
    protocols = own_book / "protocols"
    stock, signs = ((protocols / f"{name}.yaml").read_text(encoding="utf-8") for name in ("stock", "signs"))
    assert stock.startswith(OWN_STOCK)
    assert signs.startswith(OWN_SIGNS)
    assert re.search(r"\b(price:|tension:|USD|kgf|measured:)", stock) is None
    decide(own_book, capsys)
    assert run(["check", str(own_book), "--no-fit"], capsys).status == 0


def test_what_is_added_says_the_same_of_a_material_as_the_library(own_book: Path, capsys: Capture) -> None:
    assert adopt(own_book, SLUGS, capsys, "--with-needs").status == 0
    theirs, ours = (
        plain(read_tree((folder / "stock.yaml").read_bytes(), "").tree)["materials"]  # type: ignore[arg-type]
        for folder in (LIBRARY, own_book / "protocols")
    )
    assert {"prep room wrap", "porous tape", "cast padding"} < set(ours)
    assert ours["cast padding"]["thickness"] == "3 mm"
    added = set(ours) - {"prep room wrap", "porous tape", "cast padding"}
    assert len(added) > 5
    for name in added:
        assert ours[name] == {k: v for k, v in theirs[name].items() if k not in ("price", "tension")}


def test_without_leave_to_add_them_the_missing_lines_are_shown_and_can_be_pasted(
    own_book: Path, capsys: Capture
) -> None:
    before = {name: data for name, data in everything_in(own_book).items() if "stock" in name or "signs" in name}
    ran = adopt(own_book, ["velpeau-sling"], capsys)
    assert (ran.status, ran.err) == (0, "")
    assert before.items() <= everything_in(own_book).items()
    assert {problem["name"] for problem in checked(own_book, capsys)} == {
        "not-decided",
        "material-unknown",
        "sign-unknown",
    }
    for stem in ("stock", "signs"):
        file = own_book / "protocols" / f"{stem}.yaml"
        shown = ran.out.split(f"Missing in {file}. Add these lines")[1].split("\n", 1)[1].split("\n\n")[0]
        file.write_text(file.read_text(encoding="utf-8").rstrip("\n") + "\n" + shown + "\n", encoding="utf-8")
    assert {problem["name"] for problem in checked(own_book, capsys)} == {"not-decided"}


def test_a_clinics_file_with_other_line_ends_keeps_them(own_book: Path, capsys: Capture) -> None:
    file = own_book / "protocols" / "stock.yaml"
    file.write_bytes(OWN_STOCK.replace("\n", "\r\n").encode())
    assert adopt(own_book, ["velpeau-sling"], capsys, "--with-needs").status == 0
    data = file.read_bytes()
    assert data.startswith(OWN_STOCK.replace("\n", "\r\n").encode())
    assert data.count(b"\n") == data.count(b"\r\n") > OWN_STOCK.count("\n") + 5


@pytest.mark.parametrize(
    "stock",
    [
        "materials: {porous tape: {layer: stirrups, widths: [2.5 cm], roll: 9 m inelastic}}\n",
        OWN_STOCK + "\n...\n",
        "materials: {}\n",
    ],
    ids=["in braces", "ended", "empty braces"],
)
def test_where_nothing_can_be_added_at_the_end_nothing_is_written(stock: str, own_book: Path, capsys: Capture) -> None:
    (own_book / "protocols" / "stock.yaml").write_text(stock, encoding="utf-8")
    before = everything_in(own_book)
    ran = adopt(own_book, ["velpeau-sling"], capsys, "--with-needs")
    assert ran.status == 1
    assert "stock.yaml:1:1: error: no-room-at-the-end" in ran.err
    assert everything_in(own_book) == before


def test_an_empty_stock_is_filled(own_book: Path, capsys: Capture) -> None:
    (own_book / "protocols" / "stock.yaml").write_text("materials:\n", encoding="utf-8")
    assert adopt(own_book, ["velpeau-sling"], capsys, "--with-needs").status == 0
    assert {problem["name"] for problem in checked(own_book, capsys)} == {"not-decided"}


def test_a_sign_that_would_read_like_one_of_theirs_is_not_added(own_book: Path, capsys: Capture) -> None:
    # Every plan of a book hangs on its settings: one more error there would stop them all.
    signs = own_book / "protocols" / "signs.yaml"
    signs.write_text(
        OWN_SIGNS
        + 'short-of-breath: {urgency: emergency, staff: Cut it., owner: "Breathing is hard, fast or noisy."}\n',
        encoding="utf-8",
    )
    before = everything_in(own_book)
    ran = adopt(own_book, ["velpeau-sling"], capsys, "--with-needs")
    assert ran.status == 1
    assert "sign-words-twice" in ran.err
    assert everything_in(own_book) == before


def test_a_blend_asks_for_its_parts_with_the_command_to_type(book: Path, capsys: Capture) -> None:
    before = everything_in(book)
    ran = adopt(book, ["LB-BLD-001"], capsys, "--with-needs")
    assert ran.status == 1
    assert "part-not-in-book" in ran.err
    command = re.search(r"`gauzeleaf (adopt .*?)`", ran.err)
    assert command is not None
    assert command[1] == f"adopt splinted-limb open-wound LB-BLD-001 --book {book} --with-needs"
    assert everything_in(book) == before
    assert run(command[1].split(), capsys).status == 0
    tree = plain(read_tree((book / "protocols" / f"{BLEND}.yaml").read_bytes(), "").tree)  # type: ignore[arg-type]
    assert tree["reviewed_against"] == {"splinted-limb": "1", "open-wound": "1"}
    assert [row["decided_by"] for row in tree["settles"]] == ["to decide"]


def test_a_blend_of_parts_that_the_clinic_has_names_their_revisions(book: Path, capsys: Capture) -> None:
    for part in PARTS:
        shutil.copy(LIBRARY / f"{part}.yaml", book / "protocols")
    assert adopt(book, [BLEND], capsys).status == 0
    tree = plain(read_tree((book / "protocols" / f"{BLEND}.yaml").read_bytes(), "").tree)  # type: ignore[arg-type]
    revisions = {
        part: plain(read_tree((LIBRARY / f"{part}.yaml").read_bytes(), "").tree)["revision"]  # type: ignore[arg-type]
        for part in PARTS
    }
    assert tree["reviewed_against"] == revisions
    assert set(revisions.values()) != {"1"}


def test_a_part_without_the_stage_that_the_blend_needs_is_named(book: Path, capsys: Capture) -> None:
    assert adopt(book, list(PARTS), capsys).status == 0
    wound = book / "protocols" / "open-wound.yaml"
    wound.write_text(
        re.sub(r"  inflammatory:\n.*?\n\n(?=  proliferative)", "", wound.read_text(encoding="utf-8"), flags=re.S),
        encoding="utf-8",
    )
    ran = adopt(book, [BLEND], capsys)
    assert ran.status == 1
    assert "your own `open-wound` has no stage `inflammatory`" in ran.err


def test_a_protocol_named_instead_that_the_book_lacks_becomes_a_comment(book: Path, capsys: Capture) -> None:
    assert adopt(book, ["hobbles"], capsys).status == 0
    text = (book / "protocols" / "hobbles.yaml").read_text(encoding="utf-8")
    (line,) = (line for line in text.split("\n") if "craniodorsal" in line)
    assert line == (
        '  - {case: a craniodorsal hip luxation, because: "the hip must be held bent and turned, not only kept from sliding"}'
        "  # in the shipped library, `instead: ehmer-sling`; write it here once your book has that"
    )
    assert "instead-unknown" not in run(["check", str(book), "--no-fit"], capsys).err
    # The other way round it is kept: hobbles are there now.
    assert adopt(book, ["ehmer-sling"], capsys).status == 0
    assert "instead: hobbles}\n" in (book / "protocols" / "ehmer-sling.yaml").read_text(encoding="utf-8")


def test_figures_that_rest_on_a_house_rule_are_marked_where_they_stand(book: Path, capsys: Capture) -> None:
    ran = adopt(book, SLUGS, capsys)
    marked = 0
    for slug in SLUGS:
        tree = plain(read_tree((LIBRARY / f"{slug}.yaml").read_bytes(), "").tree)  # type: ignore[arg-type]
        text = (book / "protocols" / f"{slug}.yaml").read_text(encoding="utf-8").split("\n")
        for part in (tree, *tree.get("stages", {}).values()):
            for name, source in part.get("sources", {}).items():
                found = [
                    line
                    for line in text
                    if re.match(rf" +{name}: ", line)
                    and line.endswith("# to decide: house rule of the shipped book; confirm or change")
                ]
                if source == "house rule":
                    marked += 1
                    assert found, (slug, name)
        words = [
            source for part in (tree, *tree.get("stages", {}).values()) for source in part.get("sources", {}).values()
        ]
        assert sum("# to decide: house rule of" in line for line in text) == words.count("house rule")
        # Rolls by weight are marked at each layer that has them.
        for word, said in (("clinic's own", ", own figure of"), ("from memory", "from memory in")):
            assert any("# to decide: " in line and said in line for line in text) == (word in words), (slug, word)
    assert marked >= 8
    assert ran.out.count("# to decide: house rule of the shipped book") == marked


def test_an_existing_file_is_never_overwritten(book: Path, capsys: Capture) -> None:
    mine = book / "protocols" / "velpeau-sling.yaml"
    mine.write_text("not: finished\n", encoding="utf-8")
    before = everything_in(book)
    ran = adopt(book, ["hobbles", "velpeau-sling", "hoblles"], capsys)
    assert ran.status == 1
    assert "velpeau-sling.yaml: error: protocol-in-book: your book has a protocol `velpeau-sling` already" in ran.err
    assert "the nearest is `hobbles`" in ran.err
    assert "2 errors. Nothing was written." in ran.err
    assert everything_in(book) == before


def test_a_protocol_of_that_name_in_a_file_of_another_is_seen(book: Path, capsys: Capture) -> None:
    shutil.copy(LIBRARY / "hobbles.yaml", book / "protocols" / "loops.yaml")
    ran = adopt(book, ["hobbles"], capsys)
    assert ran.status == 1
    assert re.search(r"loops\.yaml:2:11: error: protocol-in-book", ran.err)


def test_what_the_library_does_not_have_names_the_nearest(book: Path, capsys: Capture) -> None:
    for typed, nearest in (
        ("velpeau", "velpeau-sling"),
        ("velpaeu-sling", "velpeau-sling"),
        ("lb-slg-01", "LB-SLG-001"),
    ):
        ran = adopt(book, [typed], capsys)
        assert ran.status == 1
        assert f"adopt {typed}: error: protocol-unknown" in ran.err
        assert f"the nearest is `{nearest}`" in ran.err
    assert "settings" not in adopt(book, ["stock"], capsys).err


def test_a_document_number_is_as_good_as_a_name_and_either_counts_once(book: Path, capsys: Capture) -> None:
    assert adopt(book, ["lb-slg-001", "velpeau-sling", "LB-SLG-001"], capsys).status == 0
    assert (book / "protocols" / "velpeau-sling.yaml").is_file()


def test_a_folder_that_is_closed_is_left_as_it_was(
    own_book: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = everything_in(own_book)

    def closed(**typed: object) -> tuple[int, str]:
        raise PermissionError(errno.EACCES, "Permission denied", str(typed["dir"]))

    monkeypatch.setattr(tempfile, "mkstemp", closed)
    ran = adopt(own_book, ["velpeau-sling"], capsys, "--with-needs")
    assert ran.status == 1
    assert f"{own_book}/protocols: error: cannot-write: the file cannot be written: permission denied" in ran.err
    assert "nothing was written" in ran.err
    assert everything_in(own_book) == before


def test_a_disk_that_fills_up_leaves_book_and_stock_as_they_were(
    own_book: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = everything_in(own_book)
    calls = []

    def full(descriptor: int) -> None:
        calls.append(descriptor)
        if len(calls) == 2:
            raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    ran = adopt(own_book, ["velpeau-sling"], capsys, "--with-needs")
    assert ran.status == 1
    assert "cannot-write" in ran.err
    assert everything_in(own_book) == before


def test_the_library_takes_nothing_over_from_itself(tmp_path: Path, book: Path, capsys: Capture) -> None:
    for typed, folder in (
        (["adopt", "velpeau-sling"], tmp_path),
        (["adopt", "velpeau-sling", "--book", str(LIBRARY)], tmp_path),
        (["adopt", "velpeau-sling", "--book", str(ROOT)], tmp_path),
        (["adopt", "velpeau-sling"], ROOT),
        (["adopt", "velpeau-sling", "--book", str(book), "--from", str(book / "protocols")], tmp_path),
    ):
        ran = run(typed, capsys, folder)
        assert ran.status == 1
        assert "book-is-library" in ran.err or "protocol-unknown" in ran.err
    assert "book-is-library" in ran.err


def test_a_folder_that_is_no_book_is_not_made_one(tmp_path: Path, capsys: Capture) -> None:
    ran = adopt(tmp_path, ["velpeau-sling"], capsys)
    assert ran.status == 1
    assert ran.err.count("file-missing") == 3
    assert everything_in(tmp_path) == {}


def test_settings_that_are_no_yaml_stop_it_and_a_slip_in_a_value_does_not(book: Path, capsys: Capture) -> None:
    clinic = book / "protocols" / "clinic.yaml"
    text = clinic.read_text(encoding="utf-8")
    clinic.write_text(text.replace("America/New_York", "Nowhere/At_All"), encoding="utf-8")
    assert adopt(book, ["hobbles"], capsys).status == 0
    clinic.write_text(text.replace("waste:", "waste"), encoding="utf-8")
    ran = adopt(book, ["velpeau-sling"], capsys)
    assert ran.status == 1
    assert "clinic.yaml:" in ran.err
    assert not (book / "protocols" / "velpeau-sling.yaml").exists()


def test_without_a_name_it_lists_what_there_is(book: Path, capsys: Capture) -> None:
    shutil.copy(LIBRARY / "hobbles.yaml", book / "protocols")
    ran = run(["adopt", "--book", str(book)], capsys)
    assert (ran.status, ran.err) == (0, "")
    rows = {line.split()[0]: line for line in ran.out.split("\n")[1 : len(SLUGS) + 1]}
    assert sorted(rows) == SLUGS
    for slug, row in rows.items():
        tree = plain(read_tree((LIBRARY / f"{slug}.yaml").read_bytes(), "").tree)  # type: ignore[arg-type]
        assert tree["title"] in row
        assert tree["id"] in row
        assert row.endswith("  yes" if slug == "hobbles" else "  no")
    assert "heavy padded bandage" in rows["heavy-padded-limb"]
    assert "open wound, by stage" in rows["open-wound"]
    assert "stored blend" in rows[BLEND]


def test_without_a_book_it_lists_and_says_how_to_start_one(tmp_path: Path, capsys: Capture) -> None:
    ran = run(["adopt"], capsys, tmp_path)
    assert ran.status == 0
    assert "gauzeleaf new our-book" in ran.out
    assert "in your book" not in ran.out


@pytest.mark.parametrize("slug", SLUGS)
def test_from_another_book_in_another_layout_the_same_comes_out(
    slug: str, tmp_path: Path, book: Path, capsys: Capture
) -> None:
    other = tmp_path / "other"
    shutil.copytree(LIBRARY, other)
    for name in SLUGS:
        tree = read_tree((LIBRARY / f"{name}.yaml").read_bytes(), "").tree
        assert tree is not None
        (other / f"{name}.yaml").write_text(write(plain(tree)).text, encoding="utf-8")
    assert adopt(book, with_parts(slug), capsys, "--from", str(other)).status == 0
    block = (book / "protocols" / f"{slug}.yaml").read_text(encoding="utf-8")
    for name in with_parts(slug):
        (book / "protocols" / f"{name}.yaml").unlink()
    assert adopt(book, with_parts(slug), capsys).status == 0
    flowing = (book / "protocols" / f"{slug}.yaml").read_text(encoding="utf-8")
    assert block.count("# to decide: house rule of another clinic's book; confirm or change") == flowing.count(
        "# to decide: house rule of the shipped book; confirm or change"
    )
    assert block.count("`instead: ") == flowing.count("`instead: ")
    ours, theirs = (plain(read_tree(text.encode(), "").tree) for text in (block, flowing))  # type: ignore[arg-type]
    assert "another clinic's book" in ours["history"][0].pop("change")
    assert "the shipped library" in theirs["history"][0].pop("change")
    assert ours == theirs


def test_a_library_that_cannot_be_read_says_why(tmp_path: Path, book: Path, capsys: Capture) -> None:
    other = tmp_path / "other"
    shutil.copytree(LIBRARY, other)
    (other / "hobbles.yaml").write_text("protocol: hobbles\n\tkind: x\n", encoding="utf-8")
    before = everything_in(book)
    ran = adopt(book, ["hobbles", "velpeau-sling"], capsys, "--from", str(other))
    assert ran.status == 1
    assert f"{other.as_posix()}/hobbles.yaml:2:1: error: tab" in ran.err
    assert everything_in(book) == before


def test_the_day_is_the_clinics(book: Path, capsys: Capture) -> None:
    # 03:30 in Greenwich is still the evening before in New York.
    assert run(["adopt", "hobbles", "--book", str(book), "--now", "2027-03-14T03:30Z"], capsys).status == 0
    text = (book / "protocols" / "hobbles.yaml").read_text(encoding="utf-8")
    assert text.split("\n")[1].startswith("# Adopted on 2027-03-13 ")
    assert "{revision: 1, date: 2027-03-13, change: adopted from the shipped library (LB-SLG-004 revision " in text


def test_an_adopted_protocol_stops_no_other(book: Path, capsys: Capture) -> None:
    shutil.copy(LIBRARY / "padded-limb-support.yaml", book / "protocols")
    assert adopt(book, ["hobbles", "velpeau-sling"], capsys).status == 0
    opened = opening.open_book(str(book))
    chosen = flow.choose(opened, ["padded-limb-support"])
    patient = flow.patient_from(read_tree((LIBRARY / "patients" / "maple.yaml").read_bytes(), "maple.yaml").tree)  # type: ignore[arg-type]
    assert flow.make_plan(opened, chosen, patient, datetime(2027, 3, 13, 10, 40)).layers


def test_a_material_that_is_another_thing_in_this_clinic_is_shown_as_an_error(own_book: Path, capsys: Capture) -> None:
    stock = own_book / "protocols" / "stock.yaml"
    stock.write_text(OWN_STOCK.replace("layer: padding", "layer: outer"), encoding="utf-8")
    ran = adopt(own_book, ["velpeau-sling"], capsys, "--with-needs")
    assert ran.status == 0
    assert "velpeau-sling.yaml:33:32: error: material-of-another-layer" in ran.err
    assert "stock.yaml: added at its end: low-adherent pad, conforming gauze, cohesive wrap\n" in ran.out


def test_what_the_library_itself_lacks_is_named(tmp_path: Path, own_book: Path, capsys: Capture) -> None:
    other = tmp_path / "other"
    shutil.copytree(LIBRARY, other)
    stock = (other / "stock.yaml").read_text(encoding="utf-8")
    (other / "stock.yaml").write_text(stock.replace("  low-adherent pad:", "  some pad:"), encoding="utf-8")
    ran = adopt(own_book, ["velpeau-sling"], capsys, "--with-needs", "--from", str(other))
    assert ran.status == 0
    assert (
        f"Missing in {own_book}/protocols/stock.yaml: the material `low-adherent pad`; write it there yourself."
        in ran.out
    )
    assert {p["name"] for p in checked(own_book, capsys)} == {"not-decided", "material-unknown"}


def test_what_is_adopted_leads_an_editor_to_its_schema(book: Path, capsys: Capture) -> None:
    schemas = book / "protocols" / "schema"
    (schemas / "protocol.schema.json").unlink()
    (schemas / "stock.schema.json").write_text("{}", encoding="utf-8")
    assert adopt(book, ["hobbles"], capsys).status == 0
    lines = (book / "protocols" / "hobbles.yaml").read_text(encoding="utf-8").splitlines()
    assert lines[0] == "# yaml-language-server: $schema=schema/protocol.schema.json"
    assert [line for line in lines[1:] if "yaml-language-server" in line] == []
    assert json.loads((schemas / "protocol.schema.json").read_text(encoding="utf-8"))["title"] == "gauzeleaf protocol"
    # Whoever keeps a schema of their own keeps it.
    assert (schemas / "stock.schema.json").read_text(encoding="utf-8") == "{}"
