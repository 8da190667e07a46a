"""Write the structure tree, the parent tree and the metadata into a finished canvas.

Takes  the Elem tree and what the canvas noted: which marked content and which links belong to which element.
Gives  StructTreeRoot, ParentTree, MarkInfo and XMP in the file's catalogue.
Knows  ISO 32000-1, 14.7 and 14.8, and the identification of ISO 14289-1; nothing of layout.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from reportlab.pdfbase.pdfdoc import XMP, DummyDoc, PDFDictionary, PDFObject, PDFString

from generator.press.structure import Elem

if TYPE_CHECKING:
    from generator.press.canvas import TagCanvas

# What belongs to an element, in order: a number of marked content on a page (the page's name, the number), a link on
# one (its name, the annotation's), or an inline element.
Item = tuple[str, int] | tuple[str, str] | Elem


def write(canvas: TagCanvas) -> None:
    """Put the tree of canvas.root into its file. Call once, after the last page."""
    document, catalogue = canvas._doc, canvas._doc.Catalog
    catalogue.StructTreeRoot = Tree(canvas)
    document.Reference(catalogue.StructTreeRoot, "StructTreeRoot")
    catalogue.MarkInfo = PDFDictionary({"Marked": "true"})
    metadata = _xmp(canvas)
    catalogue.Metadata = XMP(creator=lambda _: metadata)


class Tree(PDFObject):  # type: ignore[misc]
    """The root, in ReportLab's eyes; `file.py` writes it last, and its elements as objects after all others.

    The elements are many and small: made as ReportLab's objects they took longer to write than their pages.
    """

    __RefOnly__ = 1

    def __init__(self, canvas: TagCanvas) -> None:
        self._canvas = canvas
        self._bodies: list[str] = []
        self._number_of: dict[Elem, int] = {}
        self._first = 0

    def bodies(self, first: int) -> list[str]:
        """The root's object and then the elements', which will have the numbers from first on."""
        self._first = first
        document = self._canvas._doc
        root = self._element(self._canvas.root, self._ours("StructTreeRoot"))
        numbers = []
        for key, who in enumerate(self._canvas.parents):
            held = f"[{' '.join(map(self._reference, who))}]" if isinstance(who, list) else self._reference(who)
            numbers.append(f"{key} {held}")
        kid = "" if root is None else f"/K {root} 0 R"
        struct = (
            f"<</Type/StructTreeRoot{kid}/ParentTree<</Nums[{' '.join(numbers)}]>>"
            f"/ParentTreeNextKey {len(self._canvas.parents)}>>"
        )
        assert document.objectcounter == first - 1
        del self._canvas  # it holds the document, which holds this
        return [struct, *self._bodies]

    def _ours(self, name: str) -> int:
        """The number of an object that ReportLab numbers."""
        return int(self._canvas._doc.idToObjectNumberAndVersion[name][0])

    def _reference(self, elem: Elem) -> str:
        return f"{self._number_of[elem]} 0 R"

    def _element(self, elem: Elem, parent: int) -> int | None:
        """Write one element and all below it; give its number, None if nothing of it is on paper."""
        place, number = len(self._bodies), self._first + len(self._bodies)
        self._bodies.append("")
        self._number_of[elem] = number
        noted = self._canvas.content.get(elem, ())
        page, kids = "", []
        inline = set()
        for item in noted:
            if isinstance(item, Elem):
                inline.add(item)
                kids.append(f"{self._element(item, number)} 0 R")
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
                below = self._element(kid, number)
                if below is not None:
                    kids.append(f"{below} 0 R")
        # An empty cell has no paint, yet the row needs it.
        if not kids and elem.role not in ("TD", "TH"):
            self._bodies.pop()
            return None
        body = f"<</Type/StructElem/S/{elem.role}/P {parent} 0 R"
        if kids:
            body += f"/K {kids[0]}" if len(kids) == 1 else f"/K[{' '.join(kids)}]"
        if page:
            body += f"/Pg {self._ours(page)} 0 R"
        if elem.language:
            body += f"/Lang{_string(elem.language)}"
        if elem.alternative:
            body += f"/Alt{_string(elem.alternative)}"
        self._bodies[place] = body + self._attributes(elem) + ">>"
        return number

    def _attributes(self, elem: Elem) -> str:
        held = [_attribute(owner, values) for owner, values in elem.attributes.items()]
        if elem in self._canvas.boxes:
            box = " ".join(f"{side:.2f}" for side in self._canvas.boxes[elem])
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
