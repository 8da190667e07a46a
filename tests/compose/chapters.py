"""Chapters of the demo book's binder, section by section, as tests read them."""

from __future__ import annotations

from functools import cache

from generator.compose import binder
from generator.page.document import Document
from generator.page.xhtml import Node
from tests.compose.plans import at, book, templates
from tests.compose.reading import body, said, with_class


@cache
def document() -> Document:
    return binder(book(), templates(), at("2026-11-25T09:00"))


@cache
def chapters() -> dict[str, Node]:
    """By slug of the protocol."""
    found = with_class(body(document().xhtml), "chapter")
    return {str(node.id).removeprefix("sop."): node for node in found if str(node.id).startswith("sop.")}


def section(slug: str, number: int) -> list[Node]:
    """The blocks between one heading and the next."""
    blocks = chapters()[slug].elements()
    heads = [index for index, node in enumerate(blocks) if node.tag == "h2"]
    return blocks[heads[number - 1] + 1 : heads[number] if number < len(heads) else None]


def inside(slug: str, number: int, tag: str) -> list[Node]:
    """Every element of a kind in a section."""
    return [node for block in section(slug, number) for node in block.walk() if node.tag == tag]


def rows(table: Node) -> list[list[str]]:
    return [[said(cell) for cell in row.elements()] for row in table.walk() if row.tag == "tr"]
