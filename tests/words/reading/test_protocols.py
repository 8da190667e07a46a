"""`check` reads each protocol's text as an owner would, and names the lines that are too hard."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generator import opening, proof
from generator.compose.phrases import PHRASES
from generator.source.problem import Problem
from generator.words.reading import measure
from tests.cli.running import run

ROOT = Path(__file__).parents[3]
# Grade 9 to 23 by the formula; none has over 110 letters.
HARD = {
    "It holds the bones still to heal.": "Rigid immobilisation of the fractured extremity facilitates osseous consolidation.",
    "Look at the toes once for each box.": "Systematically examine the visible extremities for discolouration or abnormal temperature.",
    "Feel the toes. Warm and soft is right.": "Palpate the extremities periodically, verifying temperature and the absence of oedema.",
    "Smell the bandage at both ends.": "Evaluate the proximal and distal margins for malodorous exudation.",
    "Keep {pet} in a crate when alone.": "Confinement of {pet} is compulsory whenever continuous supervision is unavailable.",
    "Keep the cone on, also at night.": "The protective collar necessitates continuous application, including overnight.",
    "Give only the medicine we gave you.": "Administer exclusively the pharmaceutical preparations dispensed by our practice.",
    "Put a cover over the foot to go out.": "Apply a waterproof protective covering over the extremity before every excursion.",
    "Take the cover off once indoors.": "Subsequently remove the protective covering immediately after returning indoors.",
    "Do not tie the cover with rubber bands.": "Do not secure the covering utilising elasticated circumferential ligatures.",
    "Do not cut, loosen, tighten or tape it.": "Do not manipulate, reposition or otherwise compromise the immobilisation.",
}


@pytest.fixture
def book(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "protocols", tmp_path / "book")
    return tmp_path / "book"


def spoil(file: Path, lines: dict[str, str]) -> None:
    text = file.read_text(encoding="utf-8")
    for before, after in lines.items():
        assert before in text
        text = text.replace(before, after)
    file.write_text(text, encoding="utf-8")


def found(book: Path) -> tuple[Problem, ...]:
    return proof.reading_problems(opening.open_book(str(book)))


def line_of(file: Path, words: str) -> tuple[int, int]:
    return next(
        (n, row.index(words) + 1)
        for n, row in enumerate(file.read_text(encoding="utf-8").split("\n"), 1)
        if words in row
    )


def test_all_shipped_protocols_pass():
    assert found(ROOT / "protocols") == ()


def test_a_spoilt_text_is_told_at_its_key_with_the_five_worst_lines(book: Path):
    file = book / "splinted-limb.yaml"
    spoil(file, HARD)
    problems = found(book)
    [whole] = [p for p in problems if p.name == "owner-text-hard-to-read"]
    assert whole.severity == "error"
    assert (whole.span.file, (whole.span.line, whole.span.column)) == (file.as_posix(), line_of(file, "owner:"))
    assert "Flesch-Kincaid grade" in whole.what
    assert "(6 at most)" in whole.what
    assert len(whole.also) == 5
    rows = file.read_text(encoding="utf-8").split("\n")
    named = [rows[span.line - 1][span.column - 1 :] for span, _ in whole.also]
    assert set(named) <= set(HARD.values())
    grades = [float(words.rsplit(" ", 1)[1]) for _, words in whole.also]
    assert grades == sorted(grades, reverse=True)
    # By hand: sys-tem-at-ic(al)-ly ex-am-ine the vis-i-ble ex-trem-i-ties for dis-col-our-a-tion or ab-nor-mal
    # tem-per-a-ture, 10 words of 30 syllables: 3.9 + 35.4 - 15.59.
    assert "this line is at grade 23.7" in {words for _, words in whole.also}
    # Lines over grade 8 that are not among the five are warned of; one that is told there is not told again.
    others = [p for p in problems if p.name == "owner-line-hard-to-read"]
    assert {p.severity for p in others} == {"warning"}
    assert not {p.span for p in others} & {span for span, _ in whole.also}
    assert len(others) + 5 == len(HARD)


def test_one_hard_line_is_a_warning_where_it_stands(book: Path):
    file = book / "tail-bandage.yaml"
    line = "Periodically palpate the caudal appendage."
    spoil(file, {"Feel the tail. Warm and soft is right.": line})
    [problem] = found(book)
    assert (problem.name, problem.severity) == ("owner-line-hard-to-read", "warning")
    assert (problem.span.line, problem.span.column) == line_of(file, line)
    # 5 words, 5 + 2 + 1 + 2 + 3 syllables, filled up by one: 0.39 x 6 + 11.8 x 14 / 6 - 15.59.
    assert "grade 14.3" in problem.what
    assert "filled up to six words" in problem.what


def test_a_sign_of_many_protocols_is_told_once(book: Path):
    line = "Extremities discoloured and hypothermic."
    spoil(book / "signs.yaml", {"The toes are cold, blue, grey or white.": line})
    [problem] = found(book)
    assert problem.span.file == (book / "signs.yaml").as_posix()
    assert (problem.span.line, problem.span.column) == line_of(book / "signs.yaml", line)


def test_a_wound_of_three_stages_is_told_once(book: Path):
    spoil(book / "open-wound.yaml", {before: after for before, after in HARD.items() if "bones" not in before and "crate" not in before})  # fmt: skip
    assert [p.name for p in found(book)].count("owner-text-hard-to-read") == 1


def test_a_stored_blend_is_read_with_the_signs_of_its_parts(book: Path):
    line = "The immobilisation occasionally deteriorates."
    spoil(book / "sling-after-incision.yaml", {"Look for stains on the bandage.": line})
    [problem] = found(book)
    assert problem.span.file == (book / "sling-after-incision.yaml").as_posix()


def test_what_cannot_be_read_is_told_elsewhere_and_hides_nothing(book: Path):
    spoil(book / "splinted-limb.yaml", {"Look at the toes once for each box.": "Look " + "at the toes " * 20})
    spoil(book / "tail-bandage.yaml", {"Feel the tail. Warm and soft is right.": "Periodically palpate the caudal appendage."})  # fmt: skip
    (book / "cast-adult.yaml").write_text("protocol: [", encoding="utf-8")
    assert [Path(p.span.file).name for p in found(book)] == ["tail-bandage.yaml"]
    (book / "signs.yaml").write_text("wet: 3\n", encoding="utf-8")
    found(book)
    (book / "signs.yaml").unlink()
    assert found(book) == ()


def test_the_command_tells_it_with_the_lines_themselves(book: Path, capsys: pytest.CaptureFixture[str]):
    file = book / "splinted-limb.yaml"
    spoil(file, HARD)
    ran = run(["check", str(book), "--no-fit"], capsys)
    assert ran.status == 1
    line, column = line_of(file, "owner:")
    assert f"{file.as_posix()}:{line}:{column}: error: owner-text-hard-to-read: " in ran.err
    assert ran.err.count("    also ") == 5
    assert "Traceback" not in ran.err


def test_no_animal_waits_for_a_formula(book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """A sheet is printed all the same: words that read hard are better than none."""
    spoil(book / "padded-limb-support.yaml", {b: a for b, a in HARD.items() if "bones" not in b and "Do not" not in b})
    assert any(p.severity == "error" for p in found(book))
    patient = ["--patient", str(ROOT / "protocols" / "patients" / "maple.yaml"), "--now", "2027-03-13T10:40"]
    ran = run(
        [
            "sheet",
            "--protocol",
            "padded-limb-support",
            *patient,
            "--book",
            str(book),
            "--output",
            str(tmp_path / "out"),
            "--trial",  # nobody has approved these words either
        ],
        capsys,
    )
    assert ran.status == 0, ran.err
    assert list((tmp_path / "out").rglob("*.pdf"))


def test_the_phrases_beside_are_those_there_are():
    assert set(proof.SAID_BESIDE + proof.SAID_OF_REST) <= set(PHRASES)


def test_no_fixed_phrase_of_a_sheet_is_too_hard():
    reading = measure([PHRASES[name] for name in proof.SAID_BESIDE + proof.SAID_OF_REST], "en")
    assert reading.passed
    assert not reading.too_hard
