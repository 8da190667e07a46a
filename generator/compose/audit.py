"""See that no digit reached a document on any way but that of a figure.

Takes  the XHTML of a document and the ids that stand for authored text.
Gives  the document as it was read, or `LeakedFigureError` naming every stray digit.
Knows  `<data>`, `<time>` and authored text; any other digit is a number nobody can trace.
"""

from __future__ import annotations

from collections.abc import Container, Iterator

from generator.page.xhtml import Node, read, read_parts

_TRACED = ("data", "time")


class LeakedFigureError(ValueError):
    """Digits outside figures and authored text: a number whose origin is lost. A fault of a template or of compose."""

    def __init__(self, found: tuple[tuple[int, str], ...]) -> None:
        self.found = found
        super().__init__("; ".join(f"line {line}: {words!r}" for line, words in found))


def audit(xhtml: str, authored: Container[str]) -> Node:
    """Check a finished document.

    Returns:
        The `html` node.
    Raises:
        OutsideVocabulary: it is no document at all.
        LeakedFigureError: a digit, in any script, stands outside `<data>`, `<time>` and elements with an authored id.
    """
    document = read(xhtml)
    found = tuple(_stray(document, authored))
    if found:
        raise LeakedFigureError(found)
    return document


def audit_parts(xhtml: str, authored: Container[str]) -> None:
    """The same of a long document, which is never whole in memory.

    Raises:
        OutsideVocabulary, LeakedFigureError: as `audit`.
    """
    found = tuple(stray for _, part in read_parts(xhtml) for stray in _stray(part, authored))
    if found:
        raise LeakedFigureError(found)


def _stray(node: Node, authored: Container[str]) -> Iterator[tuple[int, str]]:
    if node.tag in _TRACED or node.tag == "head" or (node.id is not None and node.id in authored):
        return
    for child in node.children:
        if isinstance(child, Node):
            yield from _stray(child, authored)
        elif any(character.isdigit() for character in child.text):
            yield child.line, " ".join(child.text.split())
