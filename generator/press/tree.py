"""Write the structure tree, the parent tree and the metadata into the file of a canvas.

Takes  the Elem tree and what the canvas noted: which marked content and which links belong to which element.
Gives  StructTreeRoot, ParentTree, MarkInfo and XMP in the file's catalogue.
Knows  ISO 32000-1, 14.7 and 14.8, and the identification of ISO 14289-1; nothing of layout.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from reportlab.pdfbase.pdfdoc import XMP, DummyDoc, PDFDictionary, PDFString

from generator.press.structure import Elem

if TYPE_CHECKING:
    from generator.press.canvas import TagCanvas

# What belongs to an element, in order: a number of marked content on a page (the page's name, the number), a link on
# one (its name, the annotation's), or an inline element.
Item = tuple[str, int] | tuple[str, str] | Elem


def write(canvas: TagCanvas) -> None:
    """Put what is left of the tree of canvas.root into its file, and where it is found. Call once, after the last page."""
    document, catalogue = canvas._doc, canvas._doc.Catalog
    catalogue.StructTreeRoot = canvas.file.name(canvas.tree.end())
    catalogue.MarkInfo = PDFDictionary({"Marked": "true"})
    metadata = _xmp(canvas)
    catalogue.Metadata = XMP(creator=lambda _: metadata)
    document.Reference(catalogue.Metadata)


class Tree:
    """The structure tree as it is written: a part as soon as it is painted, its root at the end.

    Elements are many and small: made as ReportLab's objects they took longer to write than their pages, and kept to the end
    they were most of what a long document keeps.
    """

    def __init__(self, canvas: TagCanvas) -> None:
        self._canvas = canvas
        self._number_of: dict[Elem, int] = {}  # of those that are written, or named by what is
        self._done: dict[Elem, int | None] = {}  # parts let go; None where nothing of one is on paper
        self._told = 0  # how many of canvas.parents have their numbers

    def let_go(self, part: Elem, parent: Elem) -> None:
        """Write a part of the tree, to which nothing is added any more."""
        below: list[Elem] = []
        number = self._element(part, self._number(parent), below)
        self._tell()
        part.kids = ()
        for elem in below:
            del self._number_of[elem]
        self._done[part] = number

    def end(self) -> int:
        """Write all that is left; the number of the tree's root."""
        canvas = self._canvas
        number = canvas.file.reserve()
        kid = self._element(canvas.root, number, [])
        self._tell()
        numbers = " ".join([f"{key} {held}" for key, held in enumerate(canvas.parents)])
        below = "" if kid is None else f"/K {kid} 0 R"
        canvas.file.pack(
            number,
            f"<</Type/StructTreeRoot{below}/ParentTree<</Nums[{numbers}]>>/ParentTreeNextKey {len(canvas.parents)}>>".encode(
                "latin-1"
            ),
        )
        del self._canvas  # it holds this
        return number

    def _tell(self) -> None:
        """Turn the elements that the parent tree names into their numbers."""
        parents = self._canvas.parents
        for key in range(self._told, len(parents)):
            who = parents[key]
            parents[key] = f"[{' '.join(map(self._reference, who))}]" if isinstance(who, list) else self._reference(who)
        self._told = len(parents)

    def _ours(self, name: str) -> int:
        """The number of an object that ReportLab numbers."""
        return int(self._canvas._doc.idToObjectNumberAndVersion[name][0])

    def _number(self, elem: Elem) -> int:
        number = self._number_of.get(elem)
        if number is None:
            number = self._number_of[elem] = self._canvas.file.reserve()
        return number

    def _reference(self, elem: Elem | str) -> str:
        return elem if isinstance(elem, str) else f"{self._number(elem)} 0 R"

    def _element(self, elem: Elem, parent: int, below: list[Elem]) -> int | None:
        """Write one element and all below it, which are added to below; give its number, None if nothing of it is on paper."""
        if elem in self._done:
            return self._done[elem]
        # An empty cell has no paint, yet the row needs it.
        if not self._says(elem) and elem.role not in ("TD", "TH"):
            return None
        number = self._number(elem)
        below.append(elem)
        noted = self._canvas.content.pop(elem, ())
        page, kids = "", []
        inline = set()
        for item in noted:
            if isinstance(item, Elem):
                inline.add(item)
                kids.append(f"{self._element(item, number, below)} 0 R")
                continue
            on, what = item
            page = page or on
            if isinstance(what, str):
                kids.append(f"<</Type/OBJR/Pg {self._ours(on)} 0 R/Obj {self._ours(what)} 0 R>>")
            elif on == page:
                kids.append(str(what))
            else:
                kids.append(f"<</Type/MCR/Pg {self._ours(on)} 0 R/MCID {what}>>")
        for kid in elem.kids:
            if kid not in inline:
                found = self._element(kid, number, below)
                if found is not None:
                    kids.append(f"{found} 0 R")
        body = f"<</Type/StructElem/S/{elem.role}/P {parent} 0 R"
        if kids:
            body += f"/K {kids[0]}" if len(kids) == 1 else f"/K[{' '.join(kids)}]"
        if page:
            body += f"/Pg {self._ours(page)} 0 R"
        if elem.language:
            body += f"/Lang{_string(elem.language)}"
        if elem.alternative:
            body += f"/Alt{_string(elem.alternative)}"
        self._canvas.file.pack(number, (body + self._attributes(elem) + ">>").encode("latin-1"))
        return number

    def _says(self, elem: Elem) -> bool:
        """Whether anything of an element is on paper, or is written without."""
        if elem in self._canvas.content or self._done.get(elem) is not None:
            return True
        return any(kid.role in ("TD", "TH") or self._says(kid) for kid in elem.kids)

    def _attributes(self, elem: Elem) -> str:
        held = [_attribute(owner, values) for owner, values in elem.attributes.items()]
        sides = self._canvas.boxes.pop(elem, None)
        if sides is not None:
            box = " ".join(f"{side:.2f}" for side in sides)
            held.append(f"<</O/Layout/BBox[{box}]/Placement/Block>>")
        return f"/A[{' '.join(held)}]" if held else ""


def _attribute(owner: str, values: Mapping[str, Any]) -> str:
    """Names among the values begin with a slash."""
    return f"<</O/{owner}{''.join(f'/{key} {value}' for key, value in values.items())}>>"


@lru_cache(maxsize=256)
def _string(text: str) -> str:
    """As ReportLab writes a string; its bytes as the letters that stand for them."""
    written: bytes = PDFString(text).format(DummyDoc())
    return written.decode("latin-1")


def _xmp(canvas: TagCanvas) -> bytes:
    info, moment = canvas._doc.info, canvas.issued.isoformat(timespec="seconds")
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" '
        'xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" '
        'xmlns:xmp="http://ns.adobe.com/xap/1.0/">'
        f'<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{escape(info.title)}</rdf:li></rdf:Alt></dc:title>'
        f"<dc:creator><rdf:Seq><rdf:li>{escape(info.author)}</rdf:li></rdf:Seq></dc:creator>"
        f"<dc:language><rdf:Bag><rdf:li>{escape(canvas.root.language or '')}</rdf:li></rdf:Bag></dc:language>"
        f"<xmp:CreateDate>{moment}</xmp:CreateDate><xmp:ModifyDate>{moment}</xmp:ModifyDate>"
        f"<pdf:Producer>{escape(info.producer)}</pdf:Producer>"
        "<pdfuaid:part>1</pdfuaid:part></rdf:Description></rdf:RDF></x:xmpmeta>\n"
        '<?xpacket end="r"?>'
    ).encode()
