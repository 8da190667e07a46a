"""Judge the accessibility of a PDF with our own eyes: what PDF/UA-1 asks and a program can see.

Takes  an open pikepdf document.
Gives  `faults`, one line for each thing wrong; `reading_order`, the marked content as the tree orders it.
Knows  ISO 32000-1, 14.7 and 14.8, and ISO 14289-1; nothing of the code that made the file. What one element must
       say or hold is asked by `accessible_elements.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import pikepdf

from tests.press.accessible_elements import empty_headings, in_element, language_fault, table_faults

_PAINT = frozenset({"Tj", "TJ", "'", '"', "f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "sh", "Do"})
_WORDS = frozenset({"Tj", "TJ", "'", '"'})
_HEADINGS = {"/H1": 1, "/H2": 2, "/H3": 3, "/H4": 4}
_MEANINGLESS = frozenset({0x0000, 0xFEFF, 0xFFFE, 0xFFFD})  # ISO 14289-1, 7.21.7, and the sign for "not known"


@dataclass(slots=True)
class _Found:
    faults: list[str] = field(default_factory=list)
    order: list[tuple[int, int]] = field(default_factory=list)
    owner: dict[tuple[int, int], Any] = field(default_factory=dict)
    objects: dict[Any, Any] = field(default_factory=dict)
    headings: list[int] = field(default_factory=list)


def faults(pdf: pikepdf.Pdf) -> list[str]:
    """Everything wrong, in words; empty for a good file."""
    found = _Found()
    _catalogue(pdf, found)
    if "/StructTreeRoot" not in pdf.Root:
        return [*found.faults, "no structure tree"]
    numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
    _element(pdf.Root.StructTreeRoot.K, pdf.Root.StructTreeRoot, None, numbers, found)
    _headings(found)
    found.faults += [*empty_headings(pdf.Root.StructTreeRoot), *table_faults(pdf.Root.StructTreeRoot)]
    if times := backwards_on_a_page(found.order):
        found.faults.append(f"reading goes back to what stands before it, {times} times")
    parents = _parents(pdf, found)
    for number, page in enumerate(pdf.pages):
        _page(number, page, parents, found)
    _fonts(pdf, found)
    return found.faults


def reading_order(pdf: pikepdf.Pdf) -> list[tuple[int, int]]:
    """(page, number) of all marked content in the order of the tree; pages count from 0."""
    found = _Found()
    numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
    _element(pdf.Root.StructTreeRoot.K, pdf.Root.StructTreeRoot, None, numbers, found)
    return found.order


def backwards(order: list[tuple[int, int]]) -> int:
    """Steps in which reading goes back to something painted earlier."""
    return sum(b < a for a, b in pairwise(order))


def backwards_on_a_page(order: list[tuple[int, int]]) -> int:
    """The same, pages taken one by one: of columns that run over a page, the first is read to its end before the next."""
    by_page: dict[int, list[tuple[int, int]]] = {}
    for place in order:
        by_page.setdefault(place[0], []).append(place)
    return sum(map(backwards, by_page.values()))


def _catalogue(pdf: pikepdf.Pdf, found: _Found) -> None:
    root: Any = pdf.Root
    if not _inside(root, "/MarkInfo").get("/Marked", False):
        found.faults.append("not marked as tagged")
    if _inside(root, "/MarkInfo").get("/Suspects", False):
        found.faults.append("says itself that its tags are suspect")
    if not str(root.get("/Lang", "")):
        found.faults.append("no language")
    else:
        found.faults += language_fault(root)
    if not _inside(root, "/ViewerPreferences").get("/DisplayDocTitle", False):
        found.faults.append("the title is not displayed")
    with pdf.open_metadata(set_pikepdf_as_editor=False) as meta:
        if meta.get("pdfuaid:part") != "1":
            found.faults.append("does not say that it is PDF/UA-1")
        if not meta.get("dc:title"):
            found.faults.append("no title")
        elif str(pdf.docinfo.get("/Title", "")) != meta["dc:title"]:
            found.faults.append("two titles that are not alike")


def _element(item: Any, parent: Any, page: int | None, numbers: dict[Any, int], found: _Found) -> None:
    if isinstance(item, pikepdf.Array):
        for kid in item:
            _element(kid, parent, page, numbers, found)
        return
    if not isinstance(item, pikepdf.Dictionary):
        if page is None:
            found.faults.append("content without a page")
            return
        _content((page, int(item)), parent, found)
        return
    own = numbers.get(item.Pg.objgen) if "/Pg" in item else page
    kind = item.get("/Type")
    if kind == "/MCR":
        if own is None:
            found.faults.append("content on a page that is not in the file")
            return
        _content((own, int(item.MCID)), parent, found)
    elif kind == "/OBJR":
        found.objects[item.Obj.objgen] = parent
    else:
        _structure(item, parent, found)
        if "/K" in item:
            _element(item.K, item, own, numbers, found)


def _content(place: tuple[int, int], parent: Any, found: _Found) -> None:
    if place in found.owner:
        found.faults.append(f"page {place[0] + 1}: content {place[1]} is read twice")
    found.order.append(place)
    found.owner[place] = parent.objgen


def _structure(elem: Any, parent: Any, found: _Found) -> None:
    role = str(elem.S)
    found.faults += in_element(elem, parent)
    if elem.P.objgen != parent.objgen:
        found.faults.append(f"{role} names another parent than the one that holds it")
    if role in _HEADINGS:
        found.headings.append(_HEADINGS[role])


def _inside(holder: Any, key: str) -> Any:
    return holder.get(key, pikepdf.Dictionary())


def _headings(found: _Found) -> None:
    level = 0
    for heading in found.headings:
        if heading > level + 1:
            found.faults.append(f"heading level skips from {level} to {heading}")
        level = heading


def _parents(pdf: pikepdf.Pdf, found: _Found) -> dict[int, Any]:
    tree = pdf.Root.StructTreeRoot.get("/ParentTree")
    if tree is None:
        found.faults.append("no parent tree")
        return {}
    numbers = list(tree.Nums)
    return {int(numbers[at]): numbers[at + 1] for at in range(0, len(numbers), 2)}


def _page(number: int, page: pikepdf.Page, parents: dict[int, Any], found: _Found) -> None:
    if "/StructParents" not in page or int(page.StructParents) not in parents:
        found.faults.append(f"page {number + 1} has no place in the parent tree")
        return
    listed = list(parents[int(page.StructParents)])
    seen: set[int] = set()
    for mark in _marks(number, page, found):
        if mark in seen:
            found.faults.append(f"page {number + 1}: content {mark} twice")
        seen.add(mark)
        owner = found.owner.get((number, mark))
        if owner is None:
            found.faults.append(f"page {number + 1}: content {mark} is not in the tree")
        elif mark >= len(listed) or listed[mark].objgen != owner:
            found.faults.append(f"page {number + 1}: the parent tree disagrees about content {mark}")
    for on, mark in found.owner:
        if on == number and mark not in seen:
            found.faults.append(f"page {number + 1}: content {mark} is in the tree and not on the page")
    if page.get("/Annots") is not None and page.get("/Tabs") != "/S":
        found.faults.append(f"page {number + 1}: no tab order")
    for annotation in page.get("/Annots", []):
        _annotation(number, annotation, parents, found)


def _annotation(number: int, annotation: Any, parents: dict[int, Any], found: _Found) -> None:
    if not str(annotation.get("/Contents", "")).strip():
        found.faults.append(f"page {number + 1}: a link that says nothing")
    holder = found.objects.get(annotation.objgen)
    if holder is None or str(holder.S) != "/Link":
        found.faults.append(f"page {number + 1}: a link outside every Link element")
        return
    listed = parents.get(int(annotation.get("/StructParent", -1)))
    if listed is None or listed.objgen != holder.objgen:
        found.faults.append(f"page {number + 1}: the parent tree disagrees about a link")


def _marks(number: int, page: pikepdf.Page, found: _Found) -> Iterator[int]:
    """Numbers of the marked content of a page as it is painted."""
    where = f"page {number + 1}"
    open_: list[str] = []  # "tag", "artifact" or "pagination"
    for instruction in pikepdf.parse_content_stream(page):
        operands: Any = instruction.operands
        name = str(instruction.operator)
        if name in ("BMC", "BDC"):
            given = operands[1] if name == "BDC" and isinstance(operands[1], pikepdf.Dictionary) else {}
            kind = "tag" if str(operands[0]) != "/Artifact" else "artifact"
            if kind == "artifact" and str(given.get("/Type", "")) == "/Pagination":
                kind = "pagination"
            if open_ and (kind == "tag") != (open_[-1] == "tag"):
                found.faults.append(f"{where}: {kind} inside {open_[-1]}")
            open_.append(kind)
            if "/MCID" in given:
                yield int(given["/MCID"])
        elif name == "EMC":
            open_.pop()
        elif name in _PAINT and not open_:
            found.faults.append(f"{where}: {name} outside every tag")
        elif name in _WORDS and "artifact" in open_:
            # Rules and grounds may be passed over, and what every page repeats; never words of the text.
            found.faults.append(f"{where}: words that nobody hears, in an artifact")


def _fonts(pdf: pikepdf.Pdf, found: _Found) -> None:
    for page in pdf.pages:
        for name, font in _inside(_inside(page.obj, "/Resources"), "/Font").items():
            inner = font.DescendantFonts[0] if "/DescendantFonts" in font else font
            if "/FontDescriptor" not in inner or "/FontFile2" not in inner.FontDescriptor:
                found.faults.append(f"font {name} ({font.get('/BaseFont')}) is not embedded")
            if "/ToUnicode" not in font:
                found.faults.append(f"font {name} does not say what its glyphs mean")
            elif meaningless := _meaningless(font.ToUnicode.read_bytes()):
                found.faults.append(f"font {name}: glyphs that mean {meaningless[0]}")


def _meaningless(cmap: bytes) -> list[str]:
    """Code points behind a font's glyphs that say nothing to a reader: none, or private ones."""
    found = []
    for text in re.findall(rb"^<[0-9A-F]+> <([0-9A-F]+)>$", cmap, re.M):
        for letter in bytes.fromhex(text.decode("ascii")).decode("utf-16-be"):
            if ord(letter) in _MEANINGLESS or 0xE000 <= ord(letter) < 0xF900:
                found.append(f"U+{ord(letter):04X}")
    return found
