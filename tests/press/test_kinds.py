"""Every kind of document that is printed can be read aloud, wherever the tests run: no Java is needed here.

Sources: ISO 14289-1 (PDF/UA-1) and ISO 32000-1, 14.6 to 14.9, by our own reading and by pdfua.
"""

from __future__ import annotations

import inspect
import io
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from generator import compose
from generator.page.xhtml import Node, read
from tests.press import kinds
from tests.press.accessible import backwards, faults, reading_order
from tests.press.accessible_elements import walk
from tests.press.kinds import KINDS, PRINTED, document, pressed
from tests.press.outside import by_pdfua


def test_whatever_composes_a_document_has_its_kind() -> None:
    makers = {
        name
        for name in compose.__all__
        if str(inspect.signature(getattr(compose, name)).return_annotation).startswith("Document")
    }
    assert len(makers) >= 6
    source = inspect.getsource(kinds)
    assert [name for name in makers if f" {name}(" not in source] == []


@pytest.mark.parametrize("printed", PRINTED)
def test_it_has_no_fault_and_is_read_in_the_order_of_its_page(printed: str, tmp_path: Path) -> None:
    data = pressed(printed).data
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert faults(pdf) == []
        order = reading_order(pdf)
    assert len(order) >= 9
    # Back to the page before only from the end of a column that ran over it, which sheets and cards have not.
    assert backwards(order) <= printed.startswith("binder")
    assert by_pdfua(tmp_path, data) == []


@pytest.mark.parametrize("kind", KINDS)
def test_every_change_of_language_is_told_and_no_other(kind: str) -> None:
    printed = f"{kind}.a4"
    language = document(printed).language
    body = read(document(printed).xhtml).elements("body")[0]
    with pikepdf.open(io.BytesIO(pressed(printed).data)) as pdf:
        told = Counter(_told(pdf.Root.StructTreeRoot, language))
        assert str(pdf.Root.Lang) == language
    assert told == Counter(_written(body, language))


def _written(node: Node, around: str) -> Iterator[str]:
    """Each language that begins inside another, in what is read; running heads and feet are not read."""
    for child in node.elements():
        if "running" in child.classes:
            continue
        own = child.get("lang") or around
        if own != around:
            yield own
        yield from _written(child, own)


def _told(elem: Any, around: str) -> Iterator[str]:
    kids = elem.get("/K")
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            own = str(kid.get("/Lang", around))
            if own != around:
                yield own
            yield from _told(kid, own)


def test_a_draft_and_a_right_to_left_sheet_do_change_their_language() -> None:
    for kind, most in (("owner-sheet-es-draft", "en"), ("owner-sheet-ar-untranslated", "en"), ("arabic-words", "en")):
        with pikepdf.open(io.BytesIO(pressed(f"{kind}.a4").data)) as pdf:
            assert [str(e.Lang) for e in walk(pdf.Root.StructTreeRoot) if "/Lang" in e].count(most) >= 2
