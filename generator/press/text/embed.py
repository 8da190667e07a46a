"""Put a face into a PDF: by glyph number, cut to what is used, with the text behind every glyph.

Takes  a face, a ReportLab document, and shapes with their text as they are drawn.
Gives  character codes to write into a page, and at saving one Type0 font a face.
Knows  ReportLab's document and HarfBuzz's subsetter; the same shapes in the same order give the same bytes.

Source: ISO 32000-1:2008, 9.7 (composite fonts), 9.10.3 (ToUnicode).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from operator import attrgetter
from typing import Any, NamedTuple
from weakref import WeakKeyDictionary, ref

import uharfbuzz as hb
from reportlab.pdfbase import pdfdoc
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString

from generator.press.text.brackets import MIRROR
from generator.press.text.face import Face, Glyph, apart
from generator.press.text.fontfile import measures, subset, tag, to_unicode
from generator.press.text.outline import Cluster, add_clusters
from generator.press.text.paragraph import Item

_MOST_CODES = 0xFFFF
_NUMBER = attrgetter("number")
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


class Shape(NamedTuple):
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
        # Code, as it is written, and width of what one glyph draws where the font has it.
        self._plain: dict[tuple[int, str], tuple[str, float]] = {}
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
        # Nearly every word is a glyph a letter, each where the font has it.
        if len(glyphs) == len(text):
            letters = text[::-1].translate(MIRROR) if rtl else text  # see `_clusters`
            first, step = (len(text) - 1, -1) if rtl else (0, 1)
            out, move = "", 0.0
            for place, (number, cluster, advance, dx, dy) in enumerate(glyphs):
                if cluster != first + step * place or dx or dy:
                    break
                known = self._plain.get((number, letters[place]))
                if known is None:
                    code, width = self.code(glyphs[place : place + 1], letters[place])
                    known = f"{code:04X}", width
                if move > _NOTHING or move < -_NOTHING:
                    out += f"> {move:.2f} <"
                out += known[0]
                move = known[1] - advance
            else:
                return out + f"> {move:.2f} <" if abs(move) > _NOTHING else out
        out, move = "", 0.0
        for members, letters in _clusters(glyphs, text, rtl):
            if abs(move) > _NOTHING:
                out += f"> {move:.2f} <"
            code, width = self.code(members, letters)
            out += f"{code:04X}"
            move = width - sum([glyph.advance for glyph in members])
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
        first = glyphs[0]
        is_plain = len(glyphs) == 1 and not first.dx and not first.dy
        if 0 in map(_NUMBER, glyphs):
            raise ValueError(f"{self.face.name} has no glyph for {text!r}")
        if is_plain:
            shape, width = Shape(first.number, None), self.face.width(first.number)
        else:
            unit, components, x = self.face.scale, [], 0.0
            for glyph in glyphs:
                components.append((glyph.number, round((x + glyph.dx) / unit), round(glyph.dy / unit)))
                x += glyph.advance
            shape = Shape(None, Cluster(tuple(components), round(x / unit)))
            width = round(x / unit) * unit
        code = self._codes.setdefault((shape, text), len(self._codes) + 1)
        if code > _MOST_CODES:
            raise OverflowError(f"{self.face.name}: more than {_MOST_CODES} different glyphs in one document")
        if is_plain:
            self._plain[first.number, text] = f"{code:04X}", width
        return code, width

    def addObjects(self, document: Any) -> None:  # noqa: N802 - the name ReportLab calls
        """Write the font's objects into the document; called once, by ReportLab, at saving."""
        shapes = list(dict.fromkeys(shape for shape, _ in self._codes))
        data, number_of = self._file(shapes)
        small = hb.Face(data)
        font = hb.Font(small)
        unit = 1000 / small.upem
        used = [number_of[shape] for shape, _ in self._codes]
        widths = " ".join([f"{font.get_glyph_h_advance(number) * unit:.6g}" for number in used])
        numbers = b"".join(number.to_bytes(2, "big") for number in used)
        name = PDFName(f"{tag(data)}+{self.face.name}")

        file = PDFStream(content=data, filters=[pdfdoc.PDFZCompress])
        file.dictionary["Length1"] = len(data)
        descriptor = PDFDictionary({"Type": PDFName("FontDescriptor"), "FontName": name, **measures(small, font)})
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
                "W": f"[1 [{widths}]]",
            }
        )
        composite = PDFDictionary(
            {
                "Type": PDFName("Font"),
                "Subtype": PDFName("Type0"),
                "BaseFont": name,
                "Encoding": PDFName("Identity-H"),
                "DescendantFonts": PDFArray([self._reference(document, descendant, "cid")]),
                "ToUnicode": self._reference(document, _stream(to_unicode([text for _, text in self._codes])), "text"),
            }
        )
        document.idToObject["BasicFonts"].dict[self.resource] = self._reference(document, composite, "font")

    def _reference(self, document: Any, thing: Any, part: str) -> Any:
        return document.Reference(thing, f"gauzeleaf.{self.resource}.{part}")

    def _file(self, shapes: Sequence[Shape]) -> tuple[bytes, dict[Shape, int]]:
        """The cut font, clusters added, and the number each shape has in it."""
        data, renumbered = subset(self.face, {glyph for shape in shapes for glyph in shape.glyphs()})
        number_of = {shape: renumbered[shape.glyph] for shape in shapes if shape.glyph is not None}
        first = int(hb.Face(data).glyph_count)
        clusters: list[Cluster] = []
        for shape in shapes:
            if shape.cluster is not None:
                parts = tuple((renumbered[glyph], x, y) for glyph, x, y in shape.cluster.components)
                number_of[shape] = first + len(clusters)
                clusters.append(Cluster(parts, shape.cluster.advance))
        return add_clusters(data, clusters), number_of


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
