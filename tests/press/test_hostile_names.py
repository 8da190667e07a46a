"""A name is text on every paper and in the file's title, whatever it looks like; and no file or address is opened for it."""

from __future__ import annotations

import io
import sys
from dataclasses import replace
from functools import cache
from typing import Any

import pikepdf
import pytest

from generator.compose import change_card, floor_card, owner_sheet, workings
from generator.page.document import Document
from generator.press import press
from generator.press.text import Run, TextBlock, TextStyle
from generator.source.text import read_tree
from tests.compose.plans import templates
from tests.compose.reading import ENGLISH
from tests.press.accessible import faults
from tests.press.kinds import plan
from tests.press.paper_words import READERS, words

NAMES = [
    "<b>{{7*7}}</b> & {pet}", "<b>Rex", "Rex & Co", "Rex &amp; Co", "<img src='file:///etc/passwd'/>", "<img src='http://127.0.0.1:9/x.png'/>",
    "<a href='http://127.0.0.1:9/'>Rex</a>", "<font size='400'>Rex</font>", "<para leftIndent='300'>Rex", "{{7*7}}", "{{ 7*7 }}",
    "{% for i in range(9) %}Rex{% endfor %}", "{0.__class__}", "%(name)s %d", "]]>Rex", "<!--Rex-->", "<?php Rex ?>", "\\(Rex\\) Tj",
    "(Rex", "Rex) Tj ET", "=HYPERLINK('http://127.0.0.1:9/')",
]  # fmt: skip
# Unicode Standard Annex 9: each turns what stands after it round, in the whole line.
TURNERS = {
    "right-to-left override": "\u202e",
    "left-to-right override": "\u202d",
    "embedding": "\u202b",
    "isolate": "\u2067",
}

_opened: list[Any] | None = None


def _watch(event: str, given: tuple[Any, ...]) -> None:
    if _opened is not None and event in (
        "open",
        "socket.connect",
        "socket.getaddrinfo",
        "subprocess.Popen",
        "os.system",
    ):
        _opened.append((event, given[0]))


@cache
def _hooked() -> None:
    sys.addaudithook(_watch)  # for good: Python has no way to take one off; it is quiet while nobody listens


def papers(name: str) -> dict[str, Document]:
    def of(who: str) -> Any:
        made = plan(who)
        return replace(made, patient=replace(made.patient, name=name, owner_name=name))

    made = {
        "sheet": owner_sheet(of("maple"), ENGLISH, ENGLISH, templates()),
        "card": floor_card(of("kestrel"), templates()),
    }
    if name == NAMES[0]:
        changed = change_card(of("juniper"), templates())
        assert changed is not None
        made |= {"change": changed, "workings": workings(of("maple"), templates())}
    return made


@pytest.mark.parametrize("name", NAMES)
def test_it_is_printed_as_it_is_typed_and_nothing_is_opened_for_it(name: str) -> None:
    global _opened
    _hooked()
    made = papers(name)
    _opened = []
    try:
        printed = {kind: press(document) for kind, document in made.items()}
    finally:
        seen, _opened = _opened, None
    for kind, pdf in printed.items():
        for read in READERS.values():
            assert " ".join(words(name)) in " ".join(words(read(pdf.data))), kind
        with pikepdf.open(io.BytesIO(pdf.data)) as file, file.open_metadata(set_pikepdf_as_editor=False) as meta:
            assert name in str(file.docinfo["/Title"])
            assert name in str(meta["dc:title"])
            assert faults(file) == []
            links = [str(a.A.URI) for page in file.pages for a in page.get("/Annots", []) if "/A" in a]
        assert all(link.startswith("tel:") for link in links)
    assert [(event, what) for event, what in seen if event != "open" or "passwd" in str(what)] == []


def test_the_watch_does_see_what_is_opened() -> None:
    global _opened
    _hooked()
    _opened = []
    with open("/etc/passwd", "rb"):  # noqa: PTH123 - the very call that is watched for
        pass
    seen, _opened = _opened, None
    assert ("open", "/etc/passwd") in seen


@pytest.mark.parametrize("turner", TURNERS)
def test_what_turns_a_line_round_is_refused_at_the_door_and_dropped_from_the_owners_sheet(turner: str) -> None:
    name = f"Ma{TURNERS[turner]}ple"
    line = f'patient: {{name: "{name}", species: dog, weight: 18.4 kg, born: unknown}}'
    assert {problem.name for problem in read_tree(line.encode(), "maple.yaml").problems} == {"hidden-character"}
    data = press(papers(name)["sheet"]).data
    for read in READERS.values():
        found = words(read(data))
        assert "Maple" in found
        assert "dog" in " ".join(found).lower()


@pytest.mark.parametrize("given", ["<b>Keep dry</b>", ["Keep dry"], [Run("Keep"), "dry"]])
def test_no_bare_text_gets_into_a_paragraph(given: Any) -> None:
    with pytest.raises(TypeError, match="Run"):
        TextBlock(given, TextStyle(12, 15), "en")
