"""Judge the accessibility of a PDF with our own eyes: what PDF/UA-1 asks and a program can see.

Takes  an open pikepdf document.
Gives  `faults`, one line for each thing wrong; `reading_order`, the marked content as the tree orders it.
Knows  ISO 32000-1, 14.7 and 14.8, and ISO 14289-1; nothing of the code that made the file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import pikepdf

_PAINT = frozenset({"Tj", "TJ", "'", '"', "f", "F", "f*", "B", "B*", "b", "b*", "S", "s", "sh", "Do"})
_HEADINGS = {"/H1": 1, "/H2": 2, "/H3": 3, "/H4": 4}


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


def _catalogue(pdf: pikepdf.Pdf, found: _Found) -> None:
    root: Any = pdf.Root
    if not _inside(root, "/MarkInfo").get("/Marked", False):
        found.faults.append("not marked as tagged")
    if not str(root.get("/Lang", "")):
        found.faults.append("no language")
    if not _inside(root, "/ViewerPreferences").get("/DisplayDocTitle", False):
        found.faults.append("the title is not displayed")
    with pdf.open_metadata(set_pikepdf_as_editor=False) as meta:
        if meta.get("pdfuaid:part") != "1":
            found.faults.append("does not say that it is PDF/UA-1")
        if not meta.get("dc:title"):
            found.faults.append("no title")


def _element(item: Any, parent: Any, page: int | None, numbers: dict[Any, int], found: _Found) -> None:
    if isinstance(item, pikepdf.Array):
        for kid in item:
            _element(kid, parent, page, numbers, found)
        return
    if not isinstance(item, pikepdf.Dictionary):
        if page is None:
            found.faults.append("content without a page")
            return
        found.order.append((page, int(item)))
        found.owner[(page, int(item))] = parent.objgen
        return
    own = numbers.get(item.Pg.objgen) if "/Pg" in item else page
    kind = item.get("/Type")
    if kind == "/MCR":
        if own is None:
            found.faults.append("content on a page that is not in the file")
            return
        found.order.append((own, int(item.MCID)))
        found.owner[(own, int(item.MCID))] = parent.objgen
    elif kind == "/OBJR":
        found.objects[item.Obj.objgen] = parent
    else:
        _structure(item, parent, found)
        if "/K" in item:
            _element(item.K, item, own, numbers, found)


def _structure(elem: Any, parent: Any, found: _Found) -> None:
    role = str(elem.S)
    if elem.P.objgen != parent.objgen:
        found.faults.append(f"{role} names another parent than the one that holds it")
    if role in _HEADINGS:
        found.headings.append(_HEADINGS[role])
    attributes = _attributes(elem)
    if role == "/TH" and "/Scope" not in attributes.get("/Table", {}):
        found.faults.append("TH without Scope")
    if role == "/Figure" and not str(elem.get("/Alt", "")).strip():
        found.faults.append("Figure without Alt")
    if role == "/Figure" and "/BBox" not in attributes.get("/Layout", {}):
        found.faults.append("Figure without BBox")
    outer = str(parent.get("/S", ""))
    allowed = {
        "/TR": ("/THead", "/TBody", "/Table"),
        "/TD": ("/TR",),
        "/TH": ("/TR",),
        "/LI": ("/L",),
        "/LBody": ("/LI",),
    }
    if role in allowed and outer not in allowed[role]:
        found.faults.append(f"{role} inside {outer}")


def _inside(holder: Any, key: str) -> Any:
    return holder.get(key, pikepdf.Dictionary())


def _attributes(elem: Any) -> dict[str, Any]:
    held = elem.get("/A", pikepdf.Array())
    return {str(a.O): a for a in (held if isinstance(held, pikepdf.Array) else [held])}


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
    depth: list[bool] = []
    for instruction in pikepdf.parse_content_stream(page):
        operands: Any = instruction.operands
        name = str(instruction.operator)
        if name in ("BMC", "BDC"):
            depth.append(True)
            if name == "BDC" and isinstance(operands[1], pikepdf.Dictionary) and "/MCID" in operands[1]:
                yield int(operands[1].MCID)
        elif name == "EMC":
            depth.pop()
        elif name in _PAINT and not depth:
            found.faults.append(f"page {number + 1}: {name} outside every tag")


def _fonts(pdf: pikepdf.Pdf, found: _Found) -> None:
    for page in pdf.pages:
        for name, font in _inside(_inside(page.obj, "/Resources"), "/Font").items():
            inner = font.DescendantFonts[0] if "/DescendantFonts" in font else font
            if "/FontDescriptor" not in inner or "/FontFile2" not in inner.FontDescriptor:
                found.faults.append(f"font {name} ({font.get('/BaseFont')}) is not embedded")
            if "/ToUnicode" not in font:
                found.faults.append(f"font {name} does not say what its glyphs mean")
