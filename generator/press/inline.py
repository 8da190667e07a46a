"""Turn the inside of a paragraph into pieces of text, each with its owner in the structure tree.

Takes  the children of a text element, its Look and its element in the tree.
Gives  `Piece` values; white space collapsed as in a browser, `br` a line feed.
Knows  the inline elements of the vocabulary; nothing of lines and pages.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from generator.page.xhtml import Node, Text, collapse
from generator.press.look import Look, look_of
from generator.press.prose import Piece
from generator.press.structure import Elem
from generator.press.text import Run, is_rtl

_COUNTERS = ("page-number", "page-count", "chapter-page", "chapter-pages")
_BREAK = "\n"


class _Around(NamedTuple):
    """What the inline elements around a stretch of text give it."""

    bold: bool = False
    colour: str | None = None
    language: str | None = None
    mark: Elem | None = None
    link: str | None = None


def pieces(children: Iterable[Node | Text], look: Look, elem: Elem) -> list[Piece]:
    """The paragraph's pieces in reading order, without white space at its ends; none if it says nothing."""
    children = tuple(children)
    if len(children) == 1 and isinstance(children[0], Text):  # most are no more than that
        text = collapse(children[0].text).strip(" ")
        return [Piece(Run(text))] if text else []
    found: list[Piece] = []
    _gather(children, look, elem, _Around(), found)
    return _trimmed(found)


def _gather(children: Iterable[Node | Text], look: Look, elem: Elem, around: _Around, found: list[Piece]) -> None:
    for child in children:
        if isinstance(child, Text):
            _add(Piece(_run(collapse(child.text), around)), found)
        elif child.tag == "br":
            found[:] = _trimmed(found, ends=(-1,))
            found.append(Piece(Run(_BREAK)))
        else:
            _element(child, look, elem, around, found)


def _element(node: Node, look: Look, elem: Elem, around: _Around, found: list[Piece]) -> None:
    inner = around
    if node.tag in ("strong", "em"):
        inner = inner._replace(bold=True)
    toned = look_of(node, look)
    if toned.colour != look.colour:
        inner = inner._replace(colour=toned.colour)
    owner = around.mark or elem
    if "lang" in node.attributes:
        inner = inner._replace(language=node.get("lang"))
    if node.tag == "a":
        target = node.get("href")
        said = node.get("title") or node.plain() or target.lstrip("#")
        link = Elem("Link", owner, language=node.attributes.get("lang"), contents=said)
        inner = inner._replace(mark=link, link=target)
        if "page-of" in node.classes:
            found.append(Piece(_run("", inner), page_of=target[1:]))
            return
    elif "lang" in node.attributes:
        inner = inner._replace(mark=Elem("Span", owner, language=node.get("lang")))
    for name in _COUNTERS:
        if name in node.classes:
            found.append(Piece(_run("", inner), counter=name))
            return
    if (direction := _turns(node, around, look)) is not None:
        isolate = "\N{RIGHT-TO-LEFT ISOLATE}" if direction == "rtl" else "\N{LEFT-TO-RIGHT ISOLATE}"
        _add(Piece(_run(isolate, inner)), found)
        _gather(node.children, toned, elem, inner, found)
        _add(Piece(_run("\N{POP DIRECTIONAL ISOLATE}", inner)), found)
        return
    _gather(node.children, toned, elem, inner, found)


def _turns(node: Node, around: _Around, look: Look) -> str | None:
    """The direction of an element that runs against what is around it: as it says, else as its language does.

    A browser isolates a `lang` only where `dir` stands beside it; without, the full stop that ends an English sentence in
    an Arabic paragraph would stand before it.
    """
    outer = around.language or look.language
    if "dir" in node.attributes:
        inner = node.attributes.get("lang") or outer
        return (
            node.get("dir") if (node.get("dir") == "rtl") != is_rtl(inner) or is_rtl(inner) != is_rtl(outer) else None
        )
    if "lang" in node.attributes and is_rtl(node.get("lang")) != is_rtl(outer):
        return "rtl" if is_rtl(node.get("lang")) else "ltr"
    return None


def _run(text: str, around: _Around) -> Run:
    return Run(text, around.bold, around.colour, around.language, around.mark, around.link)


def _add(piece: Piece, found: list[Piece]) -> None:
    """Append; a space after a space, even in another run, is the same space."""
    text = piece.run.text
    if found and text.startswith(" ") and _ends_in_space(found[-1]):
        text = text[1:]
    if text:
        found.append(piece if text == piece.run.text else piece._replace(run=piece.run._replace(text=text)))


def _ends_in_space(piece: Piece) -> bool:
    return not (piece.counter or piece.page_of) and piece.run.text.endswith((" ", _BREAK))


def _trimmed(line: list[Piece], ends: tuple[int, ...] = (0, -1)) -> list[Piece]:
    """Without the white space at its ends: 0 the start, -1 the end."""
    kept = list(line)
    for end in ends:
        while kept and not (kept[end].counter or kept[end].page_of):
            text = kept[end].run.text.strip(" " if end else " \n")
            stripped = kept[end].run.text.lstrip(" ") if end == 0 else kept[end].run.text.rstrip(" ")
            if text:
                kept[end] = kept[end]._replace(run=kept[end].run._replace(text=stripped))
                break
            if end == -1 and stripped:
                break  # a line feed: an empty line that was asked for
            del kept[end]
    return kept
