"""Cut a face to what a document uses, and say of it what a PDF must be told.

Takes  a face and the numbers of its glyphs, or the cut font and the texts behind its codes.
Gives  `subset`, and what stands beside the font in a file: `tag`, `measures`, `to_unicode`.
Knows  HarfBuzz's subsetter; nothing of documents and codes.

Source: ISO 32000-1:2008, 9.6.4 (tags), 9.8 (descriptors), 9.10.3 (ToUnicode).
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any

import uharfbuzz as hb
from reportlab.pdfbase.pdfdoc import PDFArray

from generator.press.text.face import Face

_DROPPED = ("GSUB", "GPOS", "GDEF", "kern", "name", "OS/2", "post", "cmap", "STAT", "gasp", "meta", "DSIG")
_SYMBOLIC = 4  # ISO 32000-1, table 123: glyphs outside the standard Latin set
_CMAP_BLOCK = 100  # entries a bfchar block may hold


def subset(face: Face, glyphs: set[int]) -> tuple[bytes, dict[int, int]]:
    """The font cut to some glyphs at its weight, and their new numbers by the old."""
    source = face.font.face
    wanted = hb.SubsetInput()
    wanted.glyph_set.update(glyphs)
    wanted.flags = hb.SubsetFlags.NO_HINTING | hb.SubsetFlags.NO_LAYOUT_CLOSURE | hb.SubsetFlags.NOTDEF_OUTLINE
    wanted.drop_table_tag_set.update({int.from_bytes(tag.encode(), "big") for tag in _DROPPED})
    for axis in source.axis_infos:
        if axis.tag == "wght" and face.weight is not None:
            wanted.pin_axis_location(source, "wght", face.weight)
        else:
            wanted.pin_axis_to_default(source, axis.tag)
    plan = hb.SubsetPlan(source, wanted)
    data = bytes(plan.execute().blob.data)
    return data, dict(plan.old_to_new_glyph_mapping)


def tag(data: bytes) -> str:
    """Six capitals from the data itself: different subsets differ, the same one always has the same."""
    return "".join(chr(ord("A") + byte % 26) for byte in hashlib.sha256(data).digest()[:6])


def measures(face: Any, font: Any) -> dict[str, Any]:
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


def to_unicode(texts: Sequence[str]) -> bytes:
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
