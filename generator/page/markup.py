"""Read markup into a tree that knows its lines; what the markup may say is judged elsewhere.

Takes  the text of one document.
Gives  `parse`: a tree of `Node` and `Text`, and what is broken in the markup itself as `Fault` values; `Parts`: the same of a
       long document, part by part.
Knows  the standard library's expat; follows no document type, no entity and no instruction.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple
from xml.parsers import expat

# White space that a template's layout leaves behind; the no-break spaces are text and stay.
_LAYOUT_SPACE = " \t\r\n\f"
_SLICE = 1 << 15  # letters of a long document read at a time
_STRETCH = re.compile(f"[{_LAYOUT_SPACE}]+")


class Text(NamedTuple):
    """A stretch of text as written, white space and all; `line` is that of its first character to be seen."""

    text: str
    line: int


class Node(NamedTuple):
    """One element. `line` and `column` count from 1 and point at its `<`."""

    tag: str
    attributes: Mapping[str, str]
    classes: frozenset[str]
    children: tuple[Node | Text, ...]
    line: int
    column: int

    @property
    def id(self) -> str | None:
        return self.attributes.get("id")

    def get(self, name: str, default: str = "") -> str:
        """Value of an attribute, or the default."""
        return self.attributes.get(name, default)

    def elements(self, *tags: str) -> tuple[Node, ...]:
        """Children that are elements, only those with the given tags if any are given."""
        return tuple(c for c in self.children if isinstance(c, Node) and (not tags or c.tag in tags))

    def walk(self) -> Iterator[Node]:
        """This node and every element below it, in document order."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting += [child for child in reversed(node.children) if isinstance(child, Node)]

    def plain(self) -> str:
        """All text below, white space collapsed."""
        return collapse("".join(self._texts())).strip(_LAYOUT_SPACE)

    def _texts(self) -> Iterator[str]:
        for child in self.children:
            if isinstance(child, Text):
                yield child.text
            elif child.tag == "br":
                yield " "
            else:
                yield from child._texts()


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing outside the vocabulary: its place, its kebab-case name, and what was found."""

    line: int
    column: int
    name: str
    what: str

    def __str__(self) -> str:
        return f"line {self.line}, column {self.column}: {self.name}: {self.what}"


def collapse(text: str) -> str:
    """Turn each stretch of layout white space into one space; no-break spaces stay."""
    if "  " not in text and text.isprintable():
        return (
            text  # line feeds and tabs are not printable, nor are the no-break spaces, which the next line lets stand
        )
    return _STRETCH.sub(" ", text)


def is_blank(text: str) -> bool:
    """Nothing but layout white space."""
    return not text.strip(_LAYOUT_SPACE)


def parse(xhtml: str) -> tuple[Node | None, list[Fault]]:
    """The root and what is wrong with the markup; no root where it breaks off."""
    return _Reader().run(xhtml)


class Parts:
    """A document read a part at a time: what stands straight in the body is given as soon as it ends, and not kept.

    Once exhausted: root, the document without those parts (None where the markup breaks off); faults, of the markup.
    """

    def __init__(self, xhtml: str) -> None:
        self.root: Node | None = None
        self.faults: list[Fault] = []
        self._xhtml = xhtml

    def __iter__(self) -> Iterator[tuple[Node, Node | Text]]:
        """Each part, and the document as far as it is read: html, head and a body with nothing in it."""
        reader = _Reader(by_parts=True)
        for slice_ in _slices(self._xhtml.removeprefix("\ufeff")):
            alive = reader.feed(slice_)
            for part in reader.parts:
                yield reader.frame(), part
            reader.parts.clear()
            if not alive:
                break
        else:
            reader.end()
        self.root, self.faults = reader.closed()


def _slices(text: str) -> Iterator[str]:
    for at in range(0, len(text), _SLICE):
        yield text[at : at + _SLICE]


@dataclass(slots=True)
class _Open:
    tag: str
    attributes: Mapping[str, str]
    line: int
    column: int
    children: list[Node | Text] = field(default_factory=list)

    def closed(self) -> Node:
        attributes = self.attributes
        if "id" not in attributes:  # what has no name is like many others
            attributes = _attributes(tuple(attributes.items()))
        classes = _classes(attributes.get("class", ""))
        return Node(self.tag, attributes, classes, tuple(self.children), self.line, self.column)


@lru_cache(maxsize=4096)
def _attributes(items: tuple[tuple[str, str], ...]) -> Mapping[str, str]:
    return MappingProxyType(dict(items))


@lru_cache(maxsize=1024)  # many elements, few combinations
def _classes(text: str) -> frozenset[str]:
    return frozenset(text.split())


class _Reader:
    """Markup to nodes; knows nothing of the vocabulary."""

    def __init__(self, *, by_parts: bool = False) -> None:
        self.root: Node | None = None
        self.faults: list[Fault] = []
        self.parts: list[Node | Text] = []
        self._by_parts = by_parts
        self._open: list[_Open] = []
        self._parser = expat.ParserCreate("utf-8")  # whatever the text itself says of its encoding
        self._parser.ordered_attributes = False
        self._parser.buffer_text = False  # else a stretch of text is told with the line of its end
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._text
        self._parser.StartDoctypeDeclHandler = self._doctype
        self._parser.ProcessingInstructionHandler = self._instruction

    def run(self, xhtml: str) -> tuple[Node | None, list[Fault]]:
        self.feed(xhtml.removeprefix("\ufeff"), last=True)
        return self.closed()

    def feed(self, xhtml: str, *, last: bool = False) -> bool:
        """Read on; whether there is any sense in going on."""
        try:
            self._parser.Parse(xhtml, last)
        except expat.ExpatError as error:
            what = expat.errors.messages.get(error.code, str(error)) if error.code else str(error)
            self.faults.append(Fault(error.lineno, error.offset + 1, "broken-markup", what))
            return False
        except _Stop:
            return False
        return True

    def end(self) -> None:
        """Nothing follows."""
        self.feed("", last=True)

    def closed(self) -> tuple[Node | None, list[Fault]]:
        """What was read."""
        del self._parser  # it holds this and this it: neither would go, nor the tree, until the collector comes
        return self.root, self.faults

    def frame(self) -> Node:
        """The document as far as it is read, its parts left out."""
        if self.root is not None:
            return self.root
        node: Node | None = None
        for opened in reversed(self._open[:2]):
            node = replace(opened, children=[*opened.children, *([node] if node is not None else [])]).closed()
        assert node is not None
        return node

    def _is_part(self) -> bool:
        """Whether what ends now stands straight in the body."""
        return self._by_parts and len(self._open) == 2 and self._open[1].tag == "body"

    def _here(self) -> tuple[int, int]:
        return self._parser.CurrentLineNumber, self._parser.CurrentColumnNumber + 1

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        self._open.append(_Open(tag, attributes, *self._here()))

    def _end(self, tag: str) -> None:
        node = self._open.pop().closed()
        if self._is_part():
            self.parts.append(node)
        elif self._open:
            self._open[-1].children.append(node)
        else:
            self.root = node

    def _text(self, text: str) -> None:
        if not self._open:
            return
        if self._is_part():
            if not is_blank(text):
                self.parts.append(Text(text, self._parser.CurrentLineNumber))
            return
        children, line = self._open[-1].children, self._parser.CurrentLineNumber
        before = children[-1] if children else None
        if isinstance(before, Text):
            # The line is that of the first thing there is to see.
            children[-1] = Text(before.text + text, line if is_blank(before.text) else before.line)
        else:
            children.append(Text(text, line))

    def _doctype(self, *_: object) -> None:
        # A document type can define entities that swell without bound or name files: never followed, never allowed.
        self.faults.append(Fault(*self._here(), "document-type", "a document carries no <!DOCTYPE>"))
        raise _Stop

    def _instruction(self, target: str, data: str) -> None:
        self.faults.append(Fault(*self._here(), "processing-instruction", f"<?{target}…?> has no meaning here"))


class _Stop(Exception):
    """Reading ended early; the fault is already noted."""
