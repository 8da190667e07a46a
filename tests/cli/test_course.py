"""`gauzeleaf course`, as the clinician reads it before another sling goes on."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import run

SLING = ("--protocol", "velpeau-sling", "--now", "2027-03-11T11:10")


def animal(folder: Path, earlier: str, applied: str = "2027-03-11T11:00") -> str:
    file = folder / "rowan.yaml"
    file.write_text(
        f"""patient: {{name: Rowan, species: dog, weight: 31 kg, born: 2019-08-07}}
owner: {{name: L. Farrance, language: en}}
limb: {{site: left fore}}
skin: intact
applied: {applied}
earlier:
{earlier}
issued_by: Dr J. Ferrow
""",
        encoding="utf-8",
    )
    return str(file)


def test_every_bandage_stands_in_order_and_the_end_counts_from_the_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ten days for slings is the shipped book's house limit: 4 Mar 11:30 + 10 d, the clocks going forward on 14 Mar 2027."""
    two = (
        "  - {protocol: velpeau-sling, on: 2027-03-04T11:30, off: 2027-03-08T09:00}\n"
        "  - {protocol: carpal-flexion-sling, on: 2027-03-08T09:30, off: 2027-03-11T10:40}"
    )
    result = run(("course", *SLING, "--patient", animal(tmp_path, two)), capsys)
    assert result.status == 0, result.err
    lines = result.out.splitlines()
    assert [line.split("   ")[0] for line in lines[2:5]] == ["1", "2", "3"]
    assert "3 d 21 h 30 min" in lines[2]
    assert "Bandaging ends by Sun 14 Mar 2027, 11:30" in result.out
    assert "6 d 23 h 30 min of 9 d 23 h were used and 2 d 23 h 30 min were left" in result.out
    assert "last bandage of the course" in result.out


def test_a_course_that_is_over_is_refused_with_what_is_to_be_decided(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    over = "  - {protocol: velpeau-sling, on: 2027-03-01T10:00, off: 2027-03-11T10:00}"
    result = run(("course", *SLING, "--patient", animal(tmp_path, over)), capsys)
    assert result.status == 1
    assert "course-over" in result.err
    assert "rowan.yaml:7:" in result.err
    assert "attending veterinarian decides" in result.err
