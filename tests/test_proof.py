"""What `check` proves before anything is printed: every sheet fits its sides, every letter has a glyph."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from generator import flow, opening, proof
from generator.page.tokens import PAPERS
from generator.press import press
from generator.protocol.model import Protocol
from generator.source.span import Span

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def opened() -> opening.OpenBook:
    return opening.open_book(str(ROOT / "protocols"))


def going_home(opened: opening.OpenBook) -> Iterator[Protocol]:
    for protocol in opened.book.protocols.values():
        if not protocol.blend:
            for one in tuple(protocol.stages.values()) or (protocol,):
                if one.limits.go_home:
                    yield one


@pytest.mark.parametrize("paper", PAPERS)
def test_the_longest_sheet_of_every_protocol_keeps_what_is_urgent_on_side_one(
    opened: opening.OpenBook, paper: str
) -> None:
    found = {}
    for protocol in going_home(opened):
        plan = flow.make_plan(opened, flow.Chosen((protocol,)), proof.longest_patient(protocol), proof.A_SATURDAY)
        pdf = press(replace(flow.sheet(opened, plan, "en"), paper=paper))
        found[protocol.protocol, protocol.stage] = (pdf.pages <= 2, pdf.page_of["alarm"], pdf.page_of["look"])
        assert pdf.size >= 12  # RNIB clear print
    assert len(found) > 15
    assert {name: got for name, got in found.items() if got[:2] != (True, 1)} == {}
    # A strip of ten days in two rows or thirteen signs, beside a name of thirty letters that every line of the kind repeats:
    # the days turn over there, whom to ring does not.
    turned = {name for name, got in found.items() if got[2] != 1}
    assert turned <= {("ehmer-sling", None), ("hobbles", None), ("cast-growing", None)}


def test_what_is_taken_to_fit_without_a_layout_does_fit(opened: opening.OpenBook) -> None:
    """A sheet just under the weight from which sheets are laid out, made of the longest lines that a book may hold."""
    protocol = opened.book.protocols["padded-limb-support"]
    assert protocol.owner is not None
    long = "Look at the whole leg and at both ends of the bandage, and tell us of anything that looks strange now"
    lines = list(protocol.owner.every_day)
    while (
        proof._weight(opened.book, heavier := _with(protocol, (*lines, f"{long} {'ab' * len(lines)}."[:110])))
        <= proof._LIGHT
    ):
        lines = list(heavier.owner.every_day)  # type: ignore[union-attr]
    plan = flow.make_plan(
        opened, flow.Chosen((_with(protocol, tuple(lines)),)), proof.longest_patient(protocol), proof.A_SATURDAY
    )
    assert len(lines) > len(protocol.owner.every_day)
    for paper in PAPERS:
        assert press(replace(flow.sheet(opened, plan, "en"), paper=paper)).pages <= 2


def _with(protocol: Protocol, lines: tuple[str, ...]) -> Protocol:
    assert protocol.owner is not None
    return replace(protocol, owner=replace(protocol.owner, every_day=lines))


# ---- letters -------------------------------------------------------------------------------------------------------

# U+1F43E PAW PRINTS is in none of the fonts; U+8DB3 is in the Chinese fonts of an extra.
PLACES = [
    ("padded-limb-support.yaml", "Smell the bandage at both ends.", "Smell the bandage {} at both ends."),
    ("padded-limb-support.yaml", "Dry the limb fully", "Dry {} the limb fully"),
    ("padded-limb-support.yaml", "title: Padded limb bandage", "title: Padded {} limb bandage"),
    ("signs.yaml", "The bandage is wet, for any reason.", "The bandage is wet {}, for any reason."),
    ("clinic.yaml", "name: Larkspur Bridge Animal Clinic", "name: Larkspur {} Bridge Animal Clinic"),
    ("stock.yaml", "porous tape", "porous {} tape"),
]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "protocols", tmp_path / "book" / "protocols")
    return tmp_path / "book"


def told(book: Path) -> list[tuple[str, int, int, str, str]]:
    found = proof.glyph_problems(opening.open_book(str(book), patients=True))
    assert {problem.name for problem in found} <= {"letter-without-glyph"}
    return [(Path(p.span.file).name, p.span.line, p.span.column, p.what, p.fix) for p in found]


@pytest.mark.parametrize(("file", "before", "after"), PLACES, ids=lambda value: value[:24])
def test_a_letter_that_cannot_be_printed_is_told_at_its_own_place(
    book: Path, file: str, before: str, after: str
) -> None:
    path = book / "protocols" / file
    text = path.read_text(encoding="utf-8")
    assert before in text
    text = text.replace(before, after.format("\U0001f43e"), 1)
    path.write_text(text, encoding="utf-8")
    line, column = next(
        (n, row.index("\U0001f43e") + 1) for n, row in enumerate(text.split("\n"), 1) if "\U0001f43e" in row
    )
    [(name, at, where, what, fix)] = told(book)
    assert (name, at, where) == (file, line, column)
    assert "U+1F43E PAW PRINTS" in what
    assert "language en" in what
    assert fix == "write the text without this character"


def test_each_letter_has_its_own_remedy(monkeypatch: pytest.MonkeyPatch) -> None:
    from generator.press.text import fonts

    monkeypatch.setattr(fonts, "_cjk_folder", lambda: None)  # also where the extra is installed
    fix = flow.unprintable(("\u8db3", "\U0001f43e"), "en", Span("clinic.yaml", 3, 8)).fix
    assert "pip install 'gauzeleaf[cjk]'` (U+8DB3" in fix
    assert "write the text without this character (U+1F43E" in fix


def test_a_catalogue_is_looked_through_with_the_line_of_its_file(book: Path) -> None:
    own = book / "locales" / "es" / "owner.po"
    own.parent.mkdir(parents=True)
    text = (ROOT / "locales" / "es" / "owner.po").read_text(encoding="utf-8")
    text = text.replace('msgstr "Perro"', 'msgstr "Perro \U0001f43e"', 1)
    own.write_text(text, encoding="utf-8")
    [(name, line, column, what, _)] = told(book)
    rows = text.split("\n")
    assert (name, rows[line - 1][column - 1]) == ("owner.po", "\U0001f43e")
    assert "language es" in what


def test_the_shipped_book_and_its_catalogues_can_be_printed(opened: opening.OpenBook) -> None:
    assert proof.glyph_problems(opened) == ()
