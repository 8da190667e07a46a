"""Write a finished canvas as a file: small objects together and compressed, the identity a digest of all the rest.

Takes  ReportLab's document with all its pages, and its structure tree.
Gives  the file's bytes; the same content gives the same bytes.
Knows  how a PDF file is put together (ISO 32000-1, 7.5: objects, object streams, cross-reference streams).

ReportLab would write each of the many small objects of a structure tree by itself, uncompressed, and the table of where
they stand as text: of a binder that was most of the file, and half the time to write it.
"""

from __future__ import annotations

import hashlib
import struct
import zlib
from collections.abc import Sequence
from itertools import accumulate
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFStream, format

from generator.press.tree import Tree

# The second line tells programs that move files that this one is not text (7.5.2).
_HEAD = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
_TOGETHER = 2000  # objects in one stream: a reader that wants one of them unpacks them all
_ID_PLACE = b"0" * 32


def written(document: Any, canvas: Any) -> bytes:
    """The whole file."""
    for font in document.delayedFonts:
        font.addObjects(document)
    catalogue, info = document.Reference(document.Catalog), document.Reference(document.info)
    document.Outlines.prepare(document, canvas)
    if document.Outlines.ready < 0:
        document.Catalog.Outlines = None
    file = _File()
    tree: tuple[int, Tree] | None = None
    number = 0
    while number < document.objectcounter:  # what is written may ask for more
        number += 1
        thing = document.idToObject[document.numberToId[number]]
        if isinstance(thing, Tree):
            tree = number, thing
        elif isinstance(thing, PDFStream) or thing is document.info:  # whose file it is can be read without unpacking
            file.add(number, format(thing, document, toplevel=1))
        else:
            file.pack(number, format(thing, document, toplevel=1))
    if tree is not None:
        root, *elements = tree[1].bodies(number + 1)
        file.pack(tree[0], root.encode("latin-1"))
        for element in elements:
            number += 1
            file.pack(number, element.encode("latin-1"))
    return file.closed(number, format(catalogue, document), format(info, document))


class _File:
    """A file as it grows."""

    def __init__(self) -> None:
        self._parts = [_HEAD]
        self._length = len(_HEAD)
        self._packed: list[tuple[int, bytes]] = []
        self._where: dict[int, tuple[int, int, int]] = {0: (0, 0, 65535)}  # a row of the cross-references (table 18)

    def add(self, number: int, body: bytes) -> None:
        """An object that stands by itself."""
        self._where[number] = 1, self._length, 0
        self._write(b"%d 0 obj\n%s\nendobj\n" % (number, body.rstrip(b"\n")))

    def pack(self, number: int, body: bytes) -> None:
        """An object that is no stream: it will stand in one with others."""
        self._packed.append((number, body))

    def closed(self, last: int, catalogue: bytes, info: bytes) -> bytes:
        """The bytes, when all objects up to number last are given."""
        for first in range(0, len(self._packed), _TOGETHER):
            last += 1
            self._add_stream(last, self._packed[first : first + _TOGETHER])
        start = self._length
        self._where[last + 1] = 1, start, 0
        rows = b"".join([struct.pack(">BIH", *self._where[number]) for number in range(last + 2)])
        rows = zlib.compress(rows)
        head = b"<</Type/XRef/Size %d/W[1 4 2]/Root %s/Info %s/ID[<%s><%s>]/Filter/FlateDecode/Length %d>>" % (
            last + 2, catalogue, info, _ID_PLACE, _ID_PLACE, len(rows),
        )  # fmt: skip
        self._write(b"%d 0 obj\n%s\nstream\n%s\nendstream\nendobj\n" % (last + 1, head, rows))
        self._write(b"startxref\n%d\n%%%%EOF\n" % start)
        digest = hashlib.sha256()
        for part in self._parts:
            digest.update(part)
        identity = digest.hexdigest()[: len(_ID_PLACE)].encode("ascii")
        self._parts[-2] = self._parts[-2].replace(_ID_PLACE, identity, 2)
        return b"".join(self._parts)

    def _add_stream(self, number: int, packed: Sequence[tuple[int, bytes]]) -> None:
        """An object stream: numbers and offsets first, then the objects (7.5.7)."""
        for place, (inner, _) in enumerate(packed):
            self._where[inner] = 2, number, place
        offsets = accumulate((len(body) + 1 for _, body in packed), initial=0)
        index = b" ".join([b"%d %d" % (inner, at) for (inner, _), at in zip(packed, offsets, strict=False)]) + b"\n"
        data = zlib.compress(index + b"\n".join([body for _, body in packed]), 4)
        head = b"<</Type/ObjStm/N %d/First %d/Filter/FlateDecode/Length %d>>" % (len(packed), len(index), len(data))
        self.add(number, b"%s\nstream\n%s\nendstream" % (head, data))

    def _write(self, part: bytes) -> None:
        self._parts.append(part)
        self._length += len(part)
