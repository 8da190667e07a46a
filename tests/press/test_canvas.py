"""Nothing is painted that belongs to nobody."""

from __future__ import annotations

import pytest

from generator.press.canvas import TagCanvas
from generator.press.structure import LAYOUT, Artifact, Elem, UntaggedContent
from tests.press.papers import ISSUED


@pytest.fixture
def canvas() -> TagCanvas:
    return TagCanvas(Elem("Document", language="en"), (200, 200), title="T", author="", issued=ISSUED)


def test_paint_outside_every_scope_is_refused(canvas: TagCanvas) -> None:
    canvas.rect(0, 0, 10, 10)
    with pytest.raises(UntaggedContent, match="page 1"):
        canvas.showPage()


def test_stock_text_is_refused(canvas: TagCanvas) -> None:
    canvas.drawString(10, 10, "BT (untagged) EMC")
    with pytest.raises(UntaggedContent):
        canvas.finish()


def test_words_that_look_like_operators_are_not(canvas: TagCanvas) -> None:
    with canvas.scope(Elem("P", canvas.root)):
        canvas.drawString(10, 10, "EMC f S \\) BMC")
    assert canvas.finish().startswith(b"%PDF-1.7")


def test_a_scope_needs_an_owner(canvas: TagCanvas) -> None:
    for nobody in (None, "P", "Artifact"):
        with pytest.raises(UntaggedContent, match="no structure element"), canvas.scope(nobody):
            pass


def test_a_link_needs_its_link_element(canvas: TagCanvas) -> None:
    for mark in (None, Elem("P", canvas.root), LAYOUT):
        with pytest.raises(UntaggedContent, match="without a Link element"):
            canvas.link((0, 0, 10, 10), "tel:+18025550142", mark)


def test_a_scope_inside_another_suspends_it(canvas: TagCanvas) -> None:
    outer, inner = Elem("P", canvas.root), Elem("P", canvas.root)
    with canvas.scope(outer):
        canvas.rect(0, 0, 5, 5)
        with canvas.scope(inner):
            canvas.rect(5, 5, 5, 5)
        canvas.rect(9, 9, 5, 5)
    assert [len(canvas.content[e]) for e in (outer, inner)] == [2, 1]
    canvas.finish()


def test_what_is_repeated_is_an_artifact(canvas: TagCanvas) -> None:
    elem = Elem("P", canvas.root)
    with canvas.repeated(Artifact("Pagination", "Header")), canvas.scope(elem):
        canvas.rect(0, 0, 5, 5)
    assert elem not in canvas.content
    canvas.finish()
