"""Read a document's XHTML and refuse whatever lies outside the closed vocabulary.

Takes  the text of one document.
Gives  `read`: a tree of `Node` and `Text` with their lines, or `OutsideVocabulary` naming every fault and its line;
       `read_parts`: the same of a long document, never all of it at once.
Knows  `page/vocabulary.py` and the rules that a table of names cannot say; nothing of pages, fonts or browsers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from generator.page.markup import Fault, Node, Parts, Text, collapse, is_blank, parse
from generator.page.vocabulary import (
    ATTRIBUTES,
    BLOCKS,
    CLASSES,
    ELEMENTS,
    GLOBAL_ATTRIBUTES,
    PHRASES,
)

__all__ = ["Fault", "Node", "OutsideVocabulary", "Text", "collapse", "is_blank", "read", "read_parts"]

_COUNTERS = frozenset({"page-number", "page-count", "chapter-page", "chapter-pages"})
_FURNITURE = frozenset({"running", "band", "tab"})
_KINDS = frozenset({"sheet", "card", "binder"})


class OutsideVocabulary(ValueError):
    """The document uses something that no document may use; carries every fault found."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        self.faults = faults
        super().__init__("\n".join(map(str, faults)))


@lru_cache(maxsize=1)  # what was composed is read to be looked at, and then read to be pressed
def read(xhtml: str) -> Node:
    """Read one document.

    Returns:
        The `html` node; every node below is within the vocabulary.
    Raises:
        OutsideVocabulary: with every fault, each with line and column; one only where the markup itself is broken.
    """
    root, faults = parse(xhtml)
    if root is not None and not faults:
        faults = sorted(_Judge().judged(root))
    if faults or root is None:
        raise OutsideVocabulary(tuple(faults))
    return root


def read_parts(xhtml: str) -> Iterator[tuple[Node, Node]]:
    """Read one document, a part of its body at a time; who takes the next lets the last go.

    Yields:
        Each element that stands straight in the body, with the `html` node as it is without them: its head and body say what
        they are, and hold nothing. None from the first fault on.
    Raises:
        OutsideVocabulary: with every fault, when all has been read: what was made of the parts before is then worth nothing.
    """
    known = _sound(xhtml)
    judge, faults = _Judge(), list[Fault]()
    parts = Parts(xhtml)
    last: Node | None = None
    for html, part in parts:
        body = html.elements("body")[0]
        if not known:
            if last is None:
                judge.frame(html)
            judge.child(part, body)
        if isinstance(part, Node) and not judge.faults:
            yield html, part
        last = html
    faults = parts.faults
    if parts.root is not None and not faults and not known:
        if last is None:
            judge.frame(parts.root)
        faults = sorted(judge.ended(parts.root))
    if faults or parts.root is None:
        raise OutsideVocabulary(tuple(faults))
    _judged.clear()
    _judged.append(xhtml)


# The last long document found sound: what was composed is read to be looked at, and then read to be pressed.
_judged: list[str] = []


def _sound(xhtml: str) -> bool:
    return bool(_judged) and _judged[0] == xhtml


class _Judge:
    """Holds a tree against the vocabulary."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self._ids: dict[str, int] = {}
        self._targets: list[tuple[Node, str]] = []
        self._level = 0
        self._has_content = False  # what stands straight in the body, furniture left out

    def judged(self, root: Node) -> list[Fault]:
        """Every fault of a whole document."""
        self.frame(root)
        return self.ended(root)

    def frame(self, root: Node) -> None:
        """Judge the root and all in it."""
        if root.tag != "html":
            self._fault(root, "misplaced-element", f"the root is <html>, not <{root.tag}>")
        self._node(root, None)

    def ended(self, root: Node) -> list[Fault]:
        """Every fault, when all has been judged."""
        for node, target in self._targets:
            if target not in self._ids:
                self._fault(node, "broken-reference", f"nothing here has the id {target!r}")
        if not any(c.tag == "body" for c in root.elements()):
            self._fault(root, "missing-element", "<html> needs a <body>")
        return self.faults

    def _fault(self, node: Node, name: str, what: str) -> None:
        self.faults.append(Fault(node.line, node.column, name, what))

    def _node(self, node: Node, parent: Node | None) -> None:
        element = ELEMENTS.get(node.tag)
        if element is None:
            self._fault(node, "unknown-element", f"<{node.tag}> is not in the vocabulary")
            return
        self._attributes(node)
        self._classes(node)
        self._special(node, parent)
        for child in node.children:
            self.child(child, node)

    def child(self, child: Node | Text, node: Node) -> None:
        """Judge what stands straight in a node of the vocabulary."""
        if isinstance(child, Text):
            if ELEMENTS[node.tag].holds in ("blocks", "listed", "empty") and not is_blank(child.text):
                where = Fault(child.line, 1, "misplaced-text", f"text straight inside <{node.tag}>")
                self.faults.append(where)
            return
        if child.tag in ELEMENTS and child.tag not in _inside(node.tag):
            self._fault(child, "misplaced-element", f"<{child.tag}> may not stand inside <{node.tag}>")
        self._node(child, node)

    def _attributes(self, node: Node) -> None:
        element = ELEMENTS[node.tag]
        for name, value in node.attributes.items():
            if name not in GLOBAL_ATTRIBUTES and name not in element.attributes:
                self._fault(node, "unknown-attribute", f"<{node.tag}> takes no {name}")
            elif _has_form(name, value):
                continue
            elif name == "href":
                self._fault(node, "link-scheme", f"{value[:60]!r} is not #id, tel:, https: or mailto:")
            else:
                self._fault(node, "unreadable-attribute", f"{name}={value[:60]!r} on <{node.tag}>")
        for name in element.required:
            if name not in node.attributes and (node.tag, name) not in _NAMED_ELSEWHERE:
                self._fault(node, "missing-attribute", f"<{node.tag}> needs {name}")
        if node.id is not None:
            if node.id in self._ids:
                self._fault(node, "repeated-id", f"{node.id!r} is already used on line {self._ids[node.id]}")
            self._ids.setdefault(node.id, node.line)
        if node.get("href").startswith("#"):
            self._targets.append((node, node.get("href")[1:]))

    def _classes(self, node: Node) -> None:
        groups: dict[str, str] = {}
        for name in sorted(node.classes):
            known = CLASSES.get(name)
            if known is None:
                self._fault(node, "unknown-class", f"{name!r} is not in the vocabulary")
            elif node.tag not in known.on:
                self._fault(node, "misplaced-class", f"{name!r} has no meaning on <{node.tag}>")
            elif known.group and groups.setdefault(known.group, name) != name:
                self._fault(node, "classes-that-disagree", f"{groups[known.group]!r} and {name!r}: only one of them")

    def _special(self, node: Node, parent: Node | None) -> None:
        """Rules that one table cannot say."""
        tag, classes = node.tag, node.classes
        if tag == "th" and "scope" not in node.attributes:
            self._fault(node, "header-cell-without-scope", '<th> needs scope="col" or scope="row"')
        if tag == "figure" and is_blank(node.get("data-alt")):
            self._fault(node, "figure-without-alternative", "<figure> needs data-alt: what it says, in words")
        if tag == "li" and "data-drawing" in node.attributes and "data-alt" not in node.attributes:
            self._fault(
                node, "figure-without-alternative", "a drawing as mark needs data-alt, empty if the line says it"
            )
        if tag in ("h1", "h2", "h3", "h4"):
            level = int(tag[1])
            if level > self._level + 1:
                before = f"after h{self._level}" if self._level else "as the first heading"
                self._fault(node, "skipped-heading-level", f"<{tag}> {before}")
            self._level = level
            if not node.plain():
                self._fault(node, "empty-heading", f"<{tag}> says nothing")
        if tag == "body" and not classes & _KINDS:
            self._fault(node, "missing-class", "<body> needs class sheet, card or binder")
        if classes & _FURNITURE and not _opens(node, parent):
            self._fault(node, "misplaced-furniture", "furniture stands straight in <body> or in a chapter")
        if "tab" in classes:
            self._tab(node)
        if parent is not None and parent.tag == "body":
            if classes & _FURNITURE and self._has_content:
                self._fault(node, "misplaced-furniture", "furniture of the whole document stands before its first page")
            self._has_content = self._has_content or not classes & _FURNITURE
        if (classes & _COUNTERS or "page-of" in classes) and node.children:
            self._fault(node, "filled-by-the-press", f"<{tag}> with this class is left empty")
        if "page-of" in classes and not node.get("href").startswith("#"):
            self._fault(node, "link-scheme", 'class page-of needs href="#id"')
        self._widths(node)

    def _tab(self, node: Node) -> None:
        if "data-place" not in node.attributes:
            self._fault(node, "missing-attribute", "a tab needs data-place: which place down the edge, and of how many")
            return
        place, _, places = node.get("data-place").partition("/")
        if place.isdigit() and places.isdigit() and int(place) > int(places):
            self._fault(
                node, "unreadable-attribute", f"data-place={node.get('data-place')!r}: there are {places} places"
            )
        if len(node.elements()) != 1 or node.elements()[0].tag != "p" or not node.plain():
            self._fault(node, "misplaced-element", "a tab holds one <p>, which says what it is")

    def _widths(self, node: Node) -> None:
        if "data-widths" not in node.attributes:
            return
        given = len(node.get("data-widths").split())
        if node.tag == "table":
            rows = [n for n in node.walk() if n.tag == "tr"]
            needed = max((sum(int(c.get("colspan", "1")) for c in r.elements("td", "th")) for r in rows), default=0)
        elif node.tag == "dl":
            needed = 2
        else:
            needed = len(node.elements())
        if given != needed:
            self._fault(node, "widths-do-not-match", f"{given} widths for {needed} columns")


@cache
def _inside(tag: str) -> frozenset[str]:
    """Elements that may stand in one."""
    element = ELEMENTS[tag]
    return frozenset({
        "flow": (*BLOCKS, *PHRASES), "blocks": BLOCKS, "phrase": PHRASES, "empty": (), "listed": element.inside,
    }[element.holds])  # fmt: skip


@lru_cache(maxsize=2048)  # classes and widths come again and again
def _has_form(name: str, value: str) -> bool:
    return re.fullmatch(ATTRIBUTES[name].form, value) is not None


# These absences have a name of their own, given by `_special`.
_NAMED_ELSEWHERE = frozenset({("th", "scope"), ("figure", "data-alt"), ("body", "class")})


def _opens(node: Node, parent: Node | None) -> bool:
    return parent is not None and (parent.tag == "body" or "chapter" in parent.classes)
