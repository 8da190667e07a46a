"""Whole binders, composed and pressed once for all tests, and how they are read back."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from generator.compose import binder
from generator.page.document import Document
from generator.page.xhtml import Node
from generator.press import Pdf, press
from generator.protocol.model import Book, Copy, Protocol
from tests.compose.plans import at, book, templates
from tests.compose.reading import body, said, with_class

ISSUED = "2026-11-25T09:00"


@cache
def whole(day: str = ISSUED, number: int | None = None) -> Document:
    return binder(book(), templates(), at(day), copy=copy_of(number))


def copy_of(number: int | None) -> Copy | None:
    return next((copy for copy in book().clinic.copies if copy.number == number), None)


@cache
def pressed(day: str = ISSUED, number: int | None = None) -> Pdf:
    return press(whole(day, number))


@cache
def paper(number: int | None = None) -> tuple[str, ...]:
    """The words of each page, as a program that is not ours copies them out; all spaces alike."""
    import pypdfium2

    file = pypdfium2.PdfDocument(pressed(ISSUED, number).data)
    return tuple(" ".join(page.get_textpage().get_text_range().split()) for page in file)


@cache
def chapters(day: str = ISSUED, number: int | None = None) -> dict[str, Node]:
    found = with_class(body(whole(day, number).xhtml), "chapter")
    return {str(node.id): node for node in found}


def rows(node: Node) -> list[list[str]]:
    """Every row of the tables in a part, as the words of its cells."""
    return [[said(cell) for cell in row.elements("th", "td")] for row in node.walk() if row.tag == "tr"]


def targets(node: Node) -> list[str]:
    """Where the links of a part lead, in order."""
    return [link.get("href").removeprefix("#") for link in node.walk() if link.tag == "a"]


def larger(count: int) -> Book:
    """The demo book with so many protocols, the added ones its own under other numbers."""
    protocols: dict[str, Any] = dict(book().protocols)
    alone = [protocol for protocol in book().protocols.values() if not protocol.blend]
    turn = 0
    while len(protocols) < count:
        one: Protocol = alone[turn % len(alone)]
        slug = f"{one.protocol}-{turn}"
        protocols[slug] = replace(one, protocol=slug, id=f"{one.id[:6]}-{100 + turn}", title=f"{one.title} {turn}")
        turn += 1
    return replace(book(), protocols=protocols)
