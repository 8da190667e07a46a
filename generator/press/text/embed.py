"""Put a face into a PDF: by glyph number, cut to what is used, with the text behind every glyph.

Takes  a face, a ReportLab document, and shapes with their text as they are drawn.
Gives  character codes to write into a page, and at saving one Type0 font a face.
Knows  ReportLab's document and HarfBuzz's subsetter; the same shapes in the same order give the same bytes.

Source: ISO 32000-1:2008, 9.7 (composite fonts), 9.10.3 (ToUnicode).
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any
from weakref import WeakKeyDictionary, ref

import uharfbuzz as hb
from reportlab.pdfbase import pdfdoc
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString

from generator.press.text.brackets import MIRROR
from generator.press.text.face import Face, Glyph, apart
from generator.press.text.outline import Cluster, add_clusters
from generator.press.text.paragraph import Item

_DROPPED = ("GSUB", "GPOS", "GDEF", "kern", "name", "OS/2", "post", "cmap", "STAT", "gasp", "meta", "DSIG")
_SYMBOLIC = 4  # ISO 32000-1, table 123: glyphs outside the standard Latin set
_MOST_CODES = 0xFFFF
_CMAP_BLOCK = 100  # entries a bfchar block may hold
_NOTHING = 0.005  # thousandths of an em: too little to move the pen for

_documents: WeakKeyDictionary[Any, EmbeddedFaces] = WeakKeyDictionary()


def embedded_in(document: Any) -> EmbeddedFaces:
    """The faces in a ReportLab document."""
    faces = _documents.get(document)
    if faces is None:
        faces = _documents[document] = EmbeddedFaces(document)
    return faces


class EmbeddedFaces(dict[Face, "EmbeddedFace"]):
    """The one embedding of each face in a document, made at first use."""

    def __init__(self, document: Any) -> None:
        # The document must not be kept alive by what is kept for it.
        self._document = ref(document)

    def __missing__(self, face: Face) -> EmbeddedFace:
        document: Any = self._document()
        made = self[face] = EmbeddedFace(face, f"G{len(self) + 1}")
        # ReportLab asks whatever stands in delayedFonts for its objects when the file is written.
        document.delayedFonts.append(made)
        document.fontMapping[face.name] = f"/{made.resource}"
        return made


@dataclass(frozen=True, slots=True)
class Shape:
    """What one code draws: one glyph as the font has it, or a cluster of glyphs made into one."""

    glyph: int | None
    cluster: Cluster | None

    def glyphs(self) -> set[int]:
        """Numbers of the glyphs it needs."""
        return {number for number, _, _ in self.cluster.components} if self.cluster else {self.glyph or 0}


class EmbeddedFace:
    """A face in one document. One code stands for one pair of shape and text, so copying is exact."""

    def __init__(self, face: Face, resource: str) -> None:
        self.face = face
        self.resource = resource  # its name in the pages' font resources
        self._codes: dict[tuple[Shape, str], int] = {}
        # What `code` has found already for one glyph where the font has it, which is nearly always.
        self._plain: dict[tuple[int, str], tuple[int, float]] = {}
        self._written: dict[tuple[bool, str, str], _Written] = {}

    def written(self, item: Item) -> str:
        """What stands between the brackets `[<` and `>]` of a TJ operator to print an item, from left to right.

        The pen follows the widths written in the font; only kerning moves it besides.
        """
        if item.before or item.after or item.shown is not item.text:
            return self._encoded(item.glyphs, item.text, item.rtl)
        kind = item.rtl, item.script, item.language
        codes = self._written.get(kind)
        if codes is None:
            codes = self._written[kind] = _Written(self, *kind)
        words = apart(item.text)
        if len(words) == 1:
            return codes[item.text]
        if item.rtl:
            words.reverse()
        return codes[" "].join([codes[word] for word in words])

    def _encoded(self, glyphs: Sequence[Glyph], text: str, rtl: bool) -> str:
        out, move = "", 0.0
        for cluster, letters in _clusters(glyphs, text, rtl):
            if abs(move) > _NOTHING:
                out += f"> {move:.2f} <"
            known = self._plain.get((cluster[0].number, letters)) if len(cluster) == 1 else None
            code, width = self.code(cluster, letters) if known is None or cluster[0].dx or cluster[0].dy else known
            out += f"{code:04X}"
            move = width - sum([glyph.advance for glyph in cluster])
        return out + f"> {move:.2f} <" if abs(move) > _NOTHING else out

    def code(self, glyphs: Sequence[Glyph], text: str) -> tuple[int, float]:
        """Two-byte code for the glyphs of one cluster, and the width the font will state for it.

        Args:
            glyphs: from left to right. text: what they stand for.
        Returns:
            Code, and width in thousandths of an em.
        Raises:
            ValueError: glyph 0, the sign for "no glyph": the last guard against vanished characters.
            OverflowError: more pairs than two bytes can number.
        """
        plain = (glyphs[0].number, text) if len(glyphs) == 1 and not glyphs[0].dx and not glyphs[0].dy else None
        if plain is not None and plain in self._plain:
            return self._plain[plain]
        if any(glyph.number == 0 for glyph in glyphs):
            raise ValueError(f"{self.face.name} has no glyph for {text!r}")
        unit = self.face.scale
        if plain is not None:
            shape = Shape(glyphs[0].number, None)
            width = self.face.width(glyphs[0].number)
        else:
            components, x = [], 0.0
            for glyph in glyphs:
                components.append((glyph.number, round((x + glyph.dx) / unit), round(glyph.dy / unit)))
                x += glyph.advance
            shape = Shape(None, Cluster(tuple(components), round(x / unit)))
            width = round(x / unit) * unit
        code = self._codes.setdefault((shape, text), len(self._codes) + 1)
        if code > _MOST_CODES:
            raise OverflowError(f"{self.face.name}: more than {_MOST_CODES} different glyphs in one document")
        if plain is not None:
            self._plain[plain] = code, width
        return code, width

    def addObjects(self, document: Any) -> None:  # noqa: N802 - the name ReportLab calls
        """Write the font's objects into the document; called once, by ReportLab, at saving."""
        shapes = list(dict.fromkeys(shape for shape, _ in self._codes))
        data, number_of = self._file(shapes)
        small = hb.Face(data)
        font = hb.Font(small)
        unit = 1000 / small.upem
        used = [number_of[shape] for shape, _ in self._codes]
        widths = [round(font.get_glyph_h_advance(number) * unit, 2) for number in used]
        numbers = b"".join(number.to_bytes(2, "big") for number in used)
        name = PDFName(f"{_tag(data)}+{self.face.name}")

        file = PDFStream(content=data, filters=[pdfdoc.PDFZCompress])
        file.dictionary["Length1"] = len(data)
        descriptor = PDFDictionary({"Type": PDFName("FontDescriptor"), "FontName": name, **_measures(small, font)})
        descriptor["FontFile2"] = self._reference(document, file, "file")
        if self.face.name.endswith("-Bold"):
            descriptor["StemV"], descriptor["FontWeight"] = 140, 700
        descendant = PDFDictionary(
            {
                "Type": PDFName("Font"),
                "Subtype": PDFName("CIDFontType2"),
                "BaseFont": name,
                "CIDSystemInfo": PDFDictionary(
                    {"Registry": PDFString("Adobe"), "Ordering": PDFString("Identity"), "Supplement": 0}
                ),
                "CIDToGIDMap": self._reference(document, _stream(b"\0\0" + numbers), "glyphs"),
                "DW": 0,
                "FontDescriptor": self._reference(document, descriptor, "descriptor"),
                "W": PDFArray([1, PDFArray(widths)]),
            }
        )
        composite = PDFDictionary(
            {
                "Type": PDFName("Font"),
                "Subtype": PDFName("Type0"),
                "BaseFont": name,
                "Encoding": PDFName("Identity-H"),
                "DescendantFonts": PDFArray([self._reference(document, descendant, "cid")]),
                "ToUnicode": self._reference(document, _stream(_to_unicode([text for _, text in self._codes])), "text"),
            }
        )
        document.idToObject["BasicFonts"].dict[self.resource] = self._reference(document, composite, "font")

    def _reference(self, document: Any, thing: Any, part: str) -> Any:
        return document.Reference(thing, f"gauzeleaf.{self.resource}.{part}")

    def _file(self, shapes: Sequence[Shape]) -> tuple[bytes, dict[Shape, int]]:
        """The cut font, clusters added, and the number each shape has in it."""
        data, renumbered = self._subset({glyph for shape in shapes for glyph in shape.glyphs()})
        number_of = {shape: renumbered[shape.glyph] for shape in shapes if shape.glyph is not None}
        first = int(hb.Face(data).glyph_count)
        clusters: list[Cluster] = []
        for shape in shapes:
            if shape.cluster is not None:
                parts = tuple((renumbered[glyph], x, y) for glyph, x, y in shape.cluster.components)
                number_of[shape] = first + len(clusters)
                clusters.append(Cluster(parts, shape.cluster.advance))
        return add_clusters(data, clusters), number_of

    def _subset(self, glyphs: set[int]) -> tuple[bytes, dict[int, int]]:
        """The font cut to some glyphs at its weight, and their new numbers by the old."""
        source = self.face.font.face
        wanted = hb.SubsetInput()
        wanted.glyph_set.update(glyphs)
        wanted.flags = hb.SubsetFlags.NO_HINTING | hb.SubsetFlags.NO_LAYOUT_CLOSURE | hb.SubsetFlags.NOTDEF_OUTLINE
        wanted.drop_table_tag_set.update({int.from_bytes(tag.encode(), "big") for tag in _DROPPED})
        for axis in source.axis_infos:
            if axis.tag == "wght" and self.face.weight is not None:
                wanted.pin_axis_location(source, "wght", self.face.weight)
            else:
                wanted.pin_axis_to_default(source, axis.tag)
        plan = hb.SubsetPlan(source, wanted)
        data = bytes(plan.execute().blob.data)
        return data, dict(plan.old_to_new_glyph_mapping)


class _Written(dict[str, str]):
    """Words of one kind as they are written in a page; each is encoded when first asked for."""

    def __init__(self, font: EmbeddedFace, rtl: bool, script: str, language: str) -> None:
        self._font = font
        self._rtl = rtl
        self._words = font.face.words(rtl, script, language)

    def __missing__(self, word: str) -> str:
        written = self[word] = self._font._encoded(self._words[word].glyphs, word, self._rtl)
        return written


def _clusters(glyphs: Sequence[Glyph], text: str, rtl: bool) -> list[tuple[tuple[Glyph, ...], str]]:
    """Glyphs of each cluster, from left to right, with the text behind them.

    Right-to-left text is given as it stands on paper (letters of a ligature reversed, brackets turned), for
    programs that copy text out read the page from left to right and then turn the line round.
    """
    if not rtl and [glyph.cluster for glyph in glyphs] == list(range(len(text))):
        return [((glyph,), letter) for glyph, letter in zip(glyphs, text, strict=True)]
    if not glyphs:
        return []
    starts = sorted({glyph.cluster for glyph in glyphs})
    ends = dict(zip(starts, [*starts[1:], len(text)], strict=True))
    out = []
    for cluster, members in groupby(glyphs, key=lambda glyph: glyph.cluster):
        letters = text[cluster : ends[cluster]]
        out.append((tuple(members), letters[::-1].translate(MIRROR) if rtl else letters))
    return out


def _stream(content: bytes) -> Any:
    return PDFStream(content=content, filters=[pdfdoc.PDFZCompress])


def _tag(data: bytes) -> str:
    """Six capitals from the data itself: different subsets differ, the same one always has the same."""
    return "".join(chr(ord("A") + byte % 26) for byte in hashlib.sha256(data).digest()[:6])


def _measures(face: Any, font: Any) -> dict[str, Any]:
    unit = 1000 / face.upem
    extents = font.get_font_extents("ltr")
    head = bytes(face.reference_table("head").data)
    # OpenType `head`: xMin, yMin, xMax, yMax stand at byte 36, signed and big-endian.
    box = [int.from_bytes(head[at : at + 2], "big", signed=True) * unit for at in range(36, 44, 2)]
    return {
        "Flags": _SYMBOLIC,
        "ItalicAngle": 0,
        "StemV": 80,
        "Ascent": round(extents.ascender * unit),
        "Descent": round(extents.descender * unit),
        "CapHeight": 714,  # Noto Sans; the designs that go with it are drawn to match
        "FontBBox": PDFArray([round(side) for side in box]),
    }


def _to_unicode(texts: Sequence[str]) -> bytes:
    rows = [f"<{code:04X}> <{text.encode('utf-16-be').hex().upper()}>" for code, text in enumerate(texts, 1)]
    lines = [
        "/CIDInit /ProcSet findresource begin",
        "12 dict begin",
        "begincmap",
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
        "/CMapName /Adobe-Identity-UCS def",
        "/CMapType 2 def",
        "1 begincodespacerange",
        "<0000> <FFFF>",
        "endcodespacerange",
    ]
    for first in range(0, len(rows), _CMAP_BLOCK):
        block = rows[first : first + _CMAP_BLOCK]
        lines += [f"{len(block)} beginbfchar", *block, "endbfchar"]
    lines += ["endcmap", "CMapName currentdict /CMap defineresource pop", "end", "end"]
    return "\n".join(lines).encode("ascii")
