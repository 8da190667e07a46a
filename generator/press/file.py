"""Write a file as its canvas is painted: what is finished is put in it and let go, the identity a digest of all of it.

Takes  ReportLab's document, page by page, and at the end whatever is left of it.
Gives  `File`, and in the end the file's bytes; the same content gives the same bytes.
Knows  how a PDF file is put together (ISO 32000-1, 7.5: objects, object streams, cross-reference streams).

ReportLab would keep every object to the end, and write each of the many small ones of a structure tree by itself,
uncompressed, and the table of where they stand as text: of a binder that was most of the file, and half the time to write it.
"""

from __future__ import annotations

import hashlib
import io
import struct
import zlib
from collections.abc import Sequence
from itertools import accumulate
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFObjectReference, PDFStream, format

# The second line tells programs that move files that this one is not text (7.5.2).
_HEAD = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
_TOGETHER = 2000  # objects in one stream: a reader that wants one of them unpacks them all
_ID_PLACE = b"0" * 32
_ROW = struct.Struct(">BIH")  # of the cross-references (table 18)


class File:
    """A file as it grows. Objects have the numbers that ReportLab gives, and those that `reserve` takes from the same count."""

    def __init__(self, document: Any) -> None:
        self._document = document
        self._out = io.BytesIO()
        self._out.write(_HEAD)
        self._packed: list[tuple[int, bytes]] = []
        self._rows = bytearray(_ROW.pack(0, 0, 65535))
        self._count = 1  # objects written, that of number 0 among them

    def reserve(self) -> int:
        """A number for an object that ReportLab does not know."""
        self._document.objectcounter += 1
        return int(self._document.objectcounter)

    def name(self, number: int) -> Any:
        """A reference to a reserved number, for ReportLab's objects."""
        name = f"Reserved{number}"
        self._document.idToObjectNumberAndVersion[name] = number, 0
        return PDFObjectReference(name)

    def add(self, number: int, body: bytes) -> None:
        """An object that stands by itself."""
        self._note(number, 1, self._out.tell(), 0)
        self._out.write(b"%d 0 obj\n%s\nendobj\n" % (number, body.rstrip(b"\n")))

    def pack(self, number: int, body: bytes) -> None:
        """An object that is no stream: it stands in one with others."""
        self._packed.append((number, body))
        if len(self._packed) >= _TOGETHER:
            self._add_packed()

    def settle(self, name: str) -> None:
        """Write one of ReportLab's objects, to which nothing is added any more, and let it go."""
        document = self._document
        number = document.idToObjectNumberAndVersion[name][0]
        thing = document.idToObject[name]
        document.idToObject[name] = _GONE
        self._settle(number, thing)

    def _settle(self, number: int, thing: Any) -> None:
        body = format(thing, self._document, toplevel=1)
        # Whose file it is can be read without unpacking.
        put = self.add if isinstance(thing, PDFStream) or thing is self._document.info else self.pack
        put(number, body)

    def closed(self, canvas: Any) -> bytes:
        """The bytes, when all that ReportLab still holds is written."""
        document = self._document
        for font in document.delayedFonts:
            font.addObjects(document)
        catalogue, info = document.Reference(document.Catalog), document.Reference(document.info)
        document.Outlines.prepare(document, canvas)
        if document.Outlines.ready < 0:
            document.Catalog.Outlines = None
        number = 0
        while number < document.objectcounter:  # what is written may ask for more
            number += 1
            thing = document.idToObject.get(document.numberToId.get(number), _GONE)
            if thing is not _GONE:
                self._settle(number, thing)
        return self._ended(format(catalogue, document), format(info, document))

    def _ended(self, catalogue: bytes, info: bytes) -> bytes:
        if self._packed:
            self._add_packed()
        last, start = self.reserve(), self._out.tell()
        self._note(last, 1, start, 0)
        assert self._count == last + 1, "an object was announced and never written"
        rows = zlib.compress(self._rows)
        head = b"<</Type/XRef/Size %d/W[1 4 2]/Root %s/Info %s/ID[<%s><%s>]/Filter/FlateDecode/Length %d>>" % (
            last + 1, catalogue, info, _ID_PLACE, _ID_PLACE, len(rows),
        )  # fmt: skip
        self._out.write(b"%d 0 obj\n%s\nstream\n%s\nendstream\nendobj\n" % (last, head, rows))
        self._out.write(b"startxref\n%d\n%%%%EOF\n" % start)
        with self._out.getbuffer() as whole:
            identity = hashlib.sha256(whole).hexdigest()[: len(_ID_PLACE)].encode("ascii")
            first = start + len(b"%d 0 obj\n" % last) + head.index(_ID_PLACE)
            for place in (first, first + len(_ID_PLACE) + len(b"><")):
                whole[place : place + len(_ID_PLACE)] = identity
        return self._out.getvalue()

    def _add_packed(self) -> None:
        """An object stream: numbers and offsets first, then the objects (7.5.7)."""
        packed, self._packed = self._packed, []
        number = self.reserve()
        for place, (inner, _) in enumerate(packed):
            self._note(inner, 2, number, place)
        self.add(number, _object_stream(packed))

    def _note(self, number: int, kind: int, where: int, place: int) -> None:
        missing = (number + 1) * _ROW.size - len(self._rows)
        if missing > 0:
            self._rows.extend(bytes(missing))
        _ROW.pack_into(self._rows, number * _ROW.size, kind, where, place)
        self._count += 1


_GONE = object()


def _object_stream(packed: Sequence[tuple[int, bytes]]) -> bytes:
    offsets = accumulate((len(body) + 1 for _, body in packed), initial=0)
    index = b" ".join([b"%d %d" % (inner, at) for (inner, _), at in zip(packed, offsets, strict=False)]) + b"\n"
    data = zlib.compress(index + b"\n".join([body for _, body in packed]), 4)
    head = b"<</Type/ObjStm/N %d/First %d/Filter/FlateDecode/Length %d>>" % (len(packed), len(index), len(data))
    return b"%s\nstream\n%s\nendstream" % (head, data)
