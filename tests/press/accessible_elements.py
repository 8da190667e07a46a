"""Judge one element of the structure tree by what it says and what it holds.

Takes  elements of an open pikepdf document's tree.
Gives  faults in words, none for a good element.
Knows  ISO 32000-1, 14.8.4 (which type holds which), RFC 5646 (language tags), WCAG 2.2 failure F30 (alternatives that are
       none); nothing of pages and their content.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pikepdf

_NUMBERED = [f"/H{level}" for level in range(1, 7)]
# ISO 32000-1, tables 333, 334, 336, 337, 338 and 340.
_STANDARD = frozenset({
    "/Document", "/Part", "/Art", "/Sect", "/Div", "/BlockQuote", "/Caption", "/TOC", "/TOCI", "/Index", "/NonStruct", "/Private",
    "/H", *_NUMBERED, "/P", "/L", "/LI", "/Lbl", "/LBody", "/Table", "/TR", "/TH", "/TD", "/THead", "/TBody", "/TFoot",
    "/Span", "/Quote", "/Note", "/Reference", "/BibEntry", "/Code", "/Link", "/Annot", "/Ruby", "/RB", "/RT", "/RP",
    "/Warichu", "/WT", "/WP", "/Figure", "/Formula", "/Form",
})  # fmt: skip
_ONLY_INSIDE = {
    "/TR": ("/THead", "/TBody", "/TFoot", "/Table"), "/TD": ("/TR",), "/TH": ("/TR",), "/LI": ("/L",), "/LBody": ("/LI",),
    "/THead": ("/Table",), "/TBody": ("/Table",),
}  # fmt: skip
_HOLDS_ONLY = {
    "/Table": ("/TR", "/THead", "/TBody", "/TFoot", "/Caption"), "/THead": ("/TR",), "/TBody": ("/TR",), "/TR": ("/TH", "/TD"),
    "/L": ("/LI", "/Caption", "/L"), "/LI": ("/Lbl", "/LBody"),
}  # fmt: skip
# RFC 5646, 2.1: language, script, region, variants; no underscores, no letters but those of English.
_LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Z][a-z]{3})?(-([A-Z]{2}|[0-9]{3}))?(-([a-z0-9]{5,8}|[0-9][a-z0-9]{3}))*")
# WCAG 2.2, F30: the name of a file, or the mere word for a picture, is no alternative for it.
_NO_ALTERNATIVE = re.compile(
    r"\S+\.(png|jpe?g|gif|svg|pdf|tiff?|webp|bmp)|(picture|image|figure|drawing|photo|graphic|icon|img)\W*\d*|\W*\d*",
    re.I,
)


def kids(elem: Any) -> list[Any]:
    """What an element holds: elements, content numbers, references."""
    held = elem.get("/K")
    return [] if held is None else list(held) if isinstance(held, pikepdf.Array) else [held]


def child_elements(elem: Any) -> list[Any]:
    """Those of its kids that are elements."""
    return [kid for kid in kids(elem) if isinstance(kid, pikepdf.Dictionary) and "/S" in kid]


def walk(elem: Any) -> Iterator[Any]:
    """All elements below one, in reading order."""
    for kid in child_elements(elem):
        yield kid
        yield from walk(kid)


def attributes(elem: Any) -> dict[str, Any]:
    """Its attribute dictionaries by their owner."""
    held = elem.get("/A", pikepdf.Array())
    return {str(a.O): a for a in (held if isinstance(held, pikepdf.Array) else [held])}


def language_fault(elem: Any) -> list[str]:
    """A language that no speech program knows."""
    given = str(elem.get("/Lang", ""))
    return [f"{given!r} is no language"] if given and not _LANGUAGE.fullmatch(given) else []


def in_element(elem: Any, parent: Any) -> Iterator[str]:
    """Faults of one element beside its parent and kids."""
    role, outer = str(elem.S), str(parent.get("/S", ""))
    yield from language_fault(elem)
    if role not in _STANDARD:
        yield f"{role} is no standard type"
    if role == "/TH" and "/Scope" not in attributes(elem).get("/Table", {}):
        yield "TH without Scope"
    if role == "/Figure":
        says = str(elem.get("/Alt", "")).strip()
        if not says:
            yield "Figure without Alt"
        elif _NO_ALTERNATIVE.fullmatch(says):
            yield f"Figure whose Alt says nothing: {says!r}"
        if "/BBox" not in attributes(elem).get("/Layout", {}):
            yield "Figure without BBox"
    if role in _ONLY_INSIDE and outer not in _ONLY_INSIDE[role]:
        yield f"{role} inside {outer}"
    for kid in child_elements(elem):
        if role in _HOLDS_ONLY and str(kid.S) not in _HOLDS_ONLY[role]:
            yield f"{role} holds {kid.S}"
    if role == "/LI" and [str(kid.S) for kid in child_elements(elem)].count("/LBody") != 1:
        yield "LI without one LBody"


def empty_headings(root: Any) -> list[str]:
    """Headings in which nothing is said."""
    return [f"{elem.S} says nothing" for elem in walk(root) if str(elem.S) in _NUMBERED and not _says(elem)]


def _says(elem: Any) -> bool:
    return any(
        not isinstance(kid, pikepdf.Dictionary) or kid.get("/Type") == "/MCR" or ("/S" in kid and _says(kid))
        for kid in kids(elem)
    )


def table_faults(root: Any) -> list[str]:
    """Tables without a head cell, and rows that are not as wide as the first."""
    faults = []
    for table in walk(root):
        if str(table.S) != "/Table":
            continue
        rows = [row for row in walk(table) if str(row.S) == "/TR"]
        if not any(str(cell.S) == "/TH" for row in rows for cell in child_elements(row)):
            faults.append("Table without TH")
        widths = _widths(rows)
        if len(set(widths)) > 1:
            faults.append(f"Table with rows of {sorted(set(widths))} cells")
    return faults


def _widths(rows: list[Any]) -> list[int]:
    """Columns that each row fills, cells that hang down from rows above among them."""
    widths = []
    hanging: list[tuple[int, int]] = []  # columns, rows still to come
    for row in rows:
        width = sum(columns for columns, _ in hanging)
        hanging = [(columns, left - 1) for columns, left in hanging if left > 1]
        for cell in child_elements(row):
            spans = attributes(cell).get("/Table", {})
            columns, down = int(spans.get("/ColSpan", 1)), int(spans.get("/RowSpan", 1))
            width += columns
            if down > 1:
                hanging.append((columns, down - 1))
        widths.append(width)
    return widths
