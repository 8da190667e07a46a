"""The structure tree of a document: what each stretch of paint is, in reading order.

Takes  roles, languages and alternatives, as the XHTML is walked, before anything is drawn.
Gives  `Elem`, a tree that holds no page state, and `Artifact` for what readers skip.
Knows  the standard structure types (ISO 32000-1, 14.8.4); nothing of pages or operators.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from weakref import ref

# XHTML element -> standard structure type (ISO 32000-1, tables 333 to 340). <aside> has none in PDF 1.7: a Sect.
ROLES: Mapping[str, str] = {
    "body": "Document", "main": "Sect", "section": "Sect", "article": "Art", "header": "Sect", "footer": "Sect",
    "aside": "Sect", "div": "Div", "nav": "Sect", "p": "P", "h1": "H1", "h2": "H2", "h3": "H3", "h4": "H4",
    "ul": "L", "ol": "L", "table": "Table", "thead": "THead", "tbody": "TBody", "tr": "TR", "th": "TH", "td": "TD",
    "dl": "Table", "caption": "Caption", "figcaption": "P", "figure": "Figure",
}  # fmt: skip

# Elements whose place among their parent's children is that of the text, not of the walk.
INLINE = frozenset({"Link", "Span", "Reference"})


class UntaggedContent(ValueError):
    """Something was painted outside every tag and artifact: a fault of the press, never of a document."""


@dataclass(frozen=True, slots=True)
class Artifact:
    """Paint that a reading machine skips: rules, grounds, marks, running heads and feet."""

    kind: str = ""  # "Pagination", "Layout" or nothing
    part: str = ""  # with Pagination: "Header" or "Footer"

    def operator(self) -> str:
        """The operator that opens it in a page's stream."""
        if not self.kind:
            return "/Artifact BMC"
        part = f" /Subtype /{self.part}" if self.part else ""
        return f"/Artifact <</Type /{self.kind}{part}>> BDC"


LAYOUT = Artifact("Layout")


class Elem:
    """One structure element.

    role: a standard structure type. language: BCP 47, None for the parent's. alternative: what a figure says.
    contents: what a link says, for its annotation. attributes: by owner, e.g. {"Table": {"Scope": "/Row"}}.
    """

    __slots__ = ("__weakref__", "_parent", "alternative", "attributes", "contents", "kids", "language", "role")

    def __init__(
        self,
        role: str,
        parent: Elem | None = None,
        *,
        language: str | None = None,
        alternative: str | None = None,
        contents: str | None = None,
        attributes: Mapping[str, Mapping[str, Any]] | None = None,
    ) -> None:
        self.role = role
        # Only those that the text puts in their place ask for it; a tree without rings goes as soon as it is done with.
        self._parent = ref(parent) if parent is not None and role in INLINE else None
        self.language = language
        self.alternative = alternative
        self.contents = contents
        self.attributes: Mapping[str, Mapping[str, Any]] = attributes or {}
        self.kids: Sequence[Elem] = ()
        if parent is not None:
            parent.take(self)

    def take(self, kid: Elem) -> None:
        """One more below; most elements have none, and no list."""
        if isinstance(self.kids, list):
            self.kids.append(kid)
        else:
            self.kids = [kid]

    @property
    def around(self) -> Elem | None:
        """Of an inline element, the one it stands in."""
        return None if self._parent is None else self._parent()
