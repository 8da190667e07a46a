"""Add to a font one glyph for each cluster of several: letter and marks as a single shape.

Takes  a TrueType file and lists of glyphs with the places they are drawn at.
Gives  the same file with composite glyphs at its end, in the order of the lists.
Knows  the tables `glyf`, `loca`, `hmtx`, `maxp`, `hhea` and `head`; nothing of text or PDF.

A cluster drawn as several glyphs copies out of a PDF with spaces and strays between its parts, for programs
take each shift of a mark for a gap. As one glyph with one text it cannot come apart.

Source: OpenType 1.9 (ISO/IEC 14496-22), chapters of the tables named above.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

# Component flags: offsets are words, offsets are distances, another component follows.
_WORDS, _DISTANCES, _MORE = 0x0001, 0x0002, 0x0020
_SCALE_WORDS = ((0x0008, 1), (0x0040, 2), (0x0080, 4))
_CHECKSUM = 0xB1B0AFBA

# Glyph number, x and y of its origin, in font units.
Component = tuple[int, int, int]


class Cluster(NamedTuple):
    """Components in drawing order, and the advance of the whole, in font units."""

    components: tuple[Component, ...]
    advance: int


def add_clusters(data: bytes, clusters: Sequence[Cluster]) -> bytes:
    """Append one glyph a cluster; the first gets the number the font had glyphs before."""
    if not clusters:
        return data
    tables = _read(data)
    outlines = _outlines(tables)
    metrics = _metrics(tables, len(outlines))
    elements = depth = 0
    for cluster in clusters:
        parts = [part for part in cluster.components if outlines[part[0]]]
        left, shape = _composite(parts, outlines)
        outlines.append(shape)
        metrics.append((cluster.advance, left))
        elements = max(elements, len(parts))
    sizes = [_size(number, outlines) for number in range(len(outlines) - len(clusters), len(outlines))]
    depth = max(size[2] for size in sizes)
    _write_outlines(tables, outlines)
    _write_metrics(tables, metrics)
    maxp = bytearray(tables["maxp"])
    struct.pack_into(">H", maxp, 4, len(outlines))
    for at, value in (
        (10, max(size[0] for size in sizes)),  # maxCompositePoints
        (12, max(size[1] for size in sizes)),  # maxCompositeContours
        (28, elements),  # maxComponentElements
        (30, depth),  # maxComponentDepth
    ):
        struct.pack_into(">H", maxp, at, max(value, struct.unpack_from(">H", maxp, at)[0]))
    tables["maxp"] = bytes(maxp)
    return _file(tables)


def _read(data: bytes) -> dict[str, bytes]:
    count = struct.unpack_from(">H", data, 4)[0]
    tables = {}
    for at in range(12, 12 + 16 * count, 16):
        tag, _, start, length = struct.unpack_from(">4sLLL", data, at)
        tables[tag.decode("latin-1")] = data[start : start + length]
    return tables


def _outlines(tables: dict[str, bytes]) -> list[bytes]:
    count = struct.unpack_from(">H", tables["maxp"], 4)[0]
    if struct.unpack_from(">h", tables["head"], 50)[0]:
        places = struct.unpack_from(f">{count + 1}L", tables["loca"])
    else:
        places = tuple(2 * half for half in struct.unpack_from(f">{count + 1}H", tables["loca"]))
    return [tables["glyf"][a:b] for a, b in pairwise(places)]


def _metrics(tables: dict[str, bytes], count: int) -> list[tuple[int, int]]:
    long = struct.unpack_from(">H", tables["hhea"], 34)[0]
    pairs = [struct.unpack_from(">Hh", tables["hmtx"], 4 * i) for i in range(long)]
    bearings = [struct.unpack_from(">h", tables["hmtx"], 4 * long + 2 * i)[0] for i in range(count - long)]
    return [(advance, bearing) for advance, bearing in pairs] + [(pairs[-1][0], left) for left in bearings]


def _composite(parts: Sequence[Component], outlines: Sequence[bytes]) -> tuple[int, bytes]:
    """Left side bearing and glyph data; nothing for a cluster of blanks."""
    if not parts:
        return 0, b""
    boxes = []
    for number, x, y in parts:
        left, low, right, high = struct.unpack_from(">4h", outlines[number], 2)
        boxes.append((left + x, low + y, right + x, high + y))
    left, low = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, high = max(box[2] for box in boxes), max(box[3] for box in boxes)
    shape = struct.pack(">5h", -1, left, low, right, high)
    for place, (number, x, y) in enumerate(parts, 1):
        flags = _WORDS | _DISTANCES | (_MORE if place < len(parts) else 0)
        shape += struct.pack(">HHhh", flags, number, x, y)
    return left, shape


def _size(number: int, outlines: Sequence[bytes]) -> tuple[int, int, int]:
    """Points, contours and depth of a glyph with all its components."""
    shape = outlines[number]
    if not shape:
        return 0, 0, 0
    contours = struct.unpack_from(">h", shape)[0]
    if contours >= 0:
        points = struct.unpack_from(">H", shape, 10 + 2 * (contours - 1))[0] + 1 if contours else 0
        return points, contours, 0
    total = [0, 0, 0]
    at, more = 10, True
    while more:
        flags, part = struct.unpack_from(">HH", shape, at)
        at += 4 + (4 if flags & _WORDS else 2) + 2 * sum(words for bit, words in _SCALE_WORDS if flags & bit)
        more = bool(flags & _MORE)
        points, rings, depth = _size(part, outlines)
        total = [total[0] + points, total[1] + rings, max(total[2], depth + 1)]
    return total[0], total[1], total[2]


def _write_outlines(tables: dict[str, bytes], outlines: Sequence[bytes]) -> None:
    padded = [shape + b"\0" * (-len(shape) % 4) for shape in outlines]
    places = [0]
    for shape in padded:
        places.append(places[-1] + len(shape))
    tables["glyf"] = b"".join(padded)
    tables["loca"] = struct.pack(f">{len(places)}L", *places)
    head = bytearray(tables["head"])
    struct.pack_into(">h", head, 50, 1)  # indexToLocFormat: long
    boxes = [struct.unpack_from(">4h", shape, 2) for shape in outlines if shape]
    struct.pack_into(
        ">4h",
        head,
        36,
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )
    tables["head"] = bytes(head)


def _write_metrics(tables: dict[str, bytes], metrics: Sequence[tuple[int, int]]) -> None:
    tables["hmtx"] = b"".join(struct.pack(">Hh", advance, left) for advance, left in metrics)
    hhea = bytearray(tables["hhea"])
    struct.pack_into(">H", hhea, 10, max(advance for advance, _ in metrics))  # advanceWidthMax
    struct.pack_into(">H", hhea, 34, len(metrics))
    tables["hhea"] = bytes(hhea)


def _file(tables: dict[str, bytes]) -> bytes:
    head = bytearray(tables["head"])
    struct.pack_into(">L", head, 8, 0)
    tables = {**tables, "head": bytes(head)}
    power = len(tables).bit_length() - 1
    search = 16 << power
    header = struct.pack(">LHHHH", 0x00010000, len(tables), search, power, 16 * len(tables) - search)
    directory, body = b"", b""
    start = 12 + 16 * len(tables)
    head_at = 0
    for tag in sorted(tables):
        table = tables[tag]
        if tag == "head":
            head_at = start + len(body)
        directory += struct.pack(">4sLLL", tag.encode("latin-1"), _sum(table), start + len(body), len(table))
        body += table + b"\0" * (-len(table) % 4)
    data = bytearray(header + directory + body)
    struct.pack_into(">L", data, head_at + 8, (_CHECKSUM - _sum(bytes(data))) & 0xFFFFFFFF)
    return bytes(data)


def _sum(table: bytes) -> int:
    padded = table + b"\0" * (-len(table) % 4)
    words: tuple[int, ...] = struct.unpack(f">{len(padded) // 4}L", padded)
    return sum(words) & 0xFFFFFFFF
