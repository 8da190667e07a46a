from __future__ import annotations

from pathlib import Path

import pytest

from generator.press.text.bidi import levels, visual_order

SAMPLE = Path(__file__).parent / "data" / "BidiCharacterTest-sample.txt"
# Debian package unicode-data, 15.0.0-1 when the sample was taken.
WHOLE = Path("/usr/share/unicode/BidiCharacterTest.txt")


def failures(path: Path) -> tuple[int, list[str]]:
    """Cases read, and those whose base level, levels or visual order are not the file's (fields 3 to 5)."""
    cases, failed = 0, []
    for row in path.read_text(encoding="utf-8").splitlines():
        row = row.split("#")[0].strip()
        if not row:
            continue
        characters, direction, base, expected, order = row.split(";")
        text = "".join(chr(int(code, 16)) for code in characters.split())
        found_base, found = levels(text, {"0": 0, "1": 1}.get(direction))
        wanted = expected.split()
        shown = ["x" if want == "x" else str(level) for level, want in zip(found, wanted, strict=True)]
        kept = [place for place, want in enumerate(wanted) if want != "x"]
        visual = [kept[place] for place in visual_order([found[place] for place in kept])]
        cases += 1
        if shown != wanted or str(found_base) != base or visual != [int(place) for place in order.split()]:
            failed.append(row)
    return cases, failed


def test_sample_of_unicodes_own_cases_passes():
    cases, failed = failures(SAMPLE)
    assert cases > 2000
    assert failed == []


@pytest.mark.skipif(not WHOLE.exists(), reason="Debian package unicode-data is not installed")
def test_every_one_of_unicodes_own_cases_passes():
    cases, failed = failures(WHOLE)
    assert cases > 90_000
    assert failed == []


def test_a_bare_phone_number_in_arabic_is_turned_round_and_an_isolated_one_is_not():
    # UAX 9, W4 and N1: a hyphen joins no figures that follow Arabic letters, so the groups swap; that is why
    # every number goes through an isolate (U+2066 ... U+2069).
    bare = "\u0627 555-0142"
    found = levels(bare, 1)[1]
    assert "".join(bare[place] for place in visual_order(found)).startswith("0142-555")
    isolated = "\u0627 \u2066555-0142\u2069"
    found = levels(isolated, 1)[1]
    assert "555-0142" in "".join(isolated[place] for place in visual_order(found))
