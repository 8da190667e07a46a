"""Write the structure tree, the parent tree and the metadata into a finished canvas.

Takes  the Elem tree and what the canvas noted: which marked content and which links belong to which element.
Gives  StructTreeRoot, ParentTree, MarkInfo and XMP in the file's catalogue.
Knows  ISO 32000-1, 14.7 and 14.8, and the identification of ISO 14289-1; nothing of layout.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from reportlab.pdfbase.pdfdoc import XMP, PDFArray, PDFDictionary, PDFName, PDFObjectReference, PDFString

from generator.press.structure import Elem

if TYPE_CHECKING:
    from generator.press.canvas import TagCanvas

# What belongs to an element, in order: ("mc", page, number), ("obj", page, annotation), or an inline element.
Item = tuple[str, str, Any] | Elem


def write(canvas: TagCanvas) -> None:
    """Put the tree of canvas.root into its file. Call once, after the last page."""
    writer = _Writer(canvas)
    root = writer.element(canvas.root, "StructTreeRoot")
    numbers: list[Any] = []
    for key, who in enumerate(canvas.parents):
        held = PDFArray([writer.reference(e) for e in who]) if isinstance(who, list) else writer.reference(who)
        numbers += [key, held]
    struct = PDFDictionary(
        {
            "Type": PDFName("StructTreeRoot"),
            "K": root,
            "ParentTree": PDFDictionary({"Nums": PDFArray(numbers)}),
            "ParentTreeNextKey": len(canvas.parents),
        }
    )
    canvas._doc.Reference(struct, "StructTreeRoot")
    catalogue = canvas._doc.Catalog
    catalogue.StructTreeRoot = struct
    catalogue.MarkInfo = PDFDictionary({"Marked": "true"})
    catalogue.Metadata = XMP(creator=lambda _: _xmp(canvas))


class _Writer:
    def __init__(self, canvas: TagCanvas) -> None:
        self.canvas = canvas
        self._names: dict[Elem, str] = {}
        self._live: dict[Elem, bool] = {}

    def reference(self, elem: Elem) -> Any:
        return PDFObjectReference(self._name(elem))

    def _name(self, elem: Elem) -> str:
        return self._names.setdefault(elem, f"Struct{len(self._names)}")

    def _is_live(self, elem: Elem) -> bool:
        # An empty cell has no paint, yet the row needs it.
        if elem not in self._live:
            self._live[elem] = (
                elem in self.canvas.content or elem.role in ("TD", "TH") or any(map(self._is_live, elem.kids))
            )
        return self._live[elem]

    def element(self, elem: Elem, parent: str) -> Any:
        """Write one element and all below it; give the reference to it."""
        items: list[Item] = list(self.canvas.content.get(elem, ()))
        inline = {id(i) for i in items if isinstance(i, Elem)}
        items += [kid for kid in elem.kids if id(kid) not in inline and self._is_live(kid)]
        page, kids = None, []
        for item in items:
            if isinstance(item, Elem):
                kids.append(self.element(item, self._name(elem)))
                continue
            kind, on, what = item
            page = page or on
            if kind == "obj":
                kids.append(_dictionary(Type="/OBJR", Pg=PDFObjectReference(on), Obj=PDFObjectReference(what)))
            elif on == page:
                kids.append(what)
            else:
                kids.append(_dictionary(Type="/MCR", Pg=PDFObjectReference(on), MCID=what))
        entries: dict[str, Any] = {
            "Type": PDFName("StructElem"),
            "S": PDFName(elem.role),
            "P": PDFObjectReference(parent),
        }
        if kids:
            entries["K"] = kids[0] if len(kids) == 1 else PDFArray(kids)
        if page:
            entries["Pg"] = PDFObjectReference(page)
        for key, value in (("Lang", elem.language), ("Alt", elem.alternative)):
            if value:
                entries[key] = PDFString(value)
        attributes = dict(elem.attributes)
        if elem in self.canvas.boxes:
            box = PDFArray([round(v, 2) for v in self.canvas.boxes[elem]])
            attributes["Layout"] = {"BBox": box, "Placement": "/Block"}
        if attributes:
            entries["A"] = PDFArray([_dictionary(O=f"/{owner}", **held) for owner, held in attributes.items()])
        self.canvas._doc.Reference(PDFDictionary(entries), self._name(elem))
        return self.reference(elem)


def _dictionary(**entries: Any) -> Any:
    """A PDF dictionary; strings that begin with a slash are names."""
    return PDFDictionary(
        {
            key: PDFName(value[1:]) if isinstance(value, str) and value.startswith("/") else value
            for key, value in entries.items()
        }
    )


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
