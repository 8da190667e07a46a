"""Clusters made into one glyph look like their parts, and the file stays a sound font."""

from __future__ import annotations

import io
import struct

import pytest
import uharfbuzz as hb

from generator.press.text import fonts
from generator.press.text.outline import Cluster, add_clusters

from .lines import CJK, LINES
from .sheet import block, pdf

# Sources of several clusters: Latin composites, Thai and Hebrew marks.
FILES = ("NotoSans-Regular.ttf", "NotoSansThai-Bold.ttf", "NotoSansHebrew-Regular.ttf")


def font_of(data: bytes) -> hb.Font:
    return hb.Font(hb.Face(data))


def points(font: hb.Font, glyph: int, x: int = 0, y: int = 0) -> list[tuple[str, tuple[float, ...]]]:
    """Outline as HarfBuzz draws it, moved by x, y."""
    out: list[tuple[str, tuple[float, ...]]] = []

    def note(name: str):
        def put(*numbers):
            pairs = numbers[:-1] if len(numbers) % 2 else numbers
            out.append((name, tuple(n + (x if i % 2 == 0 else y) for i, n in enumerate(pairs))))

        return put

    draw = hb.DrawFuncs()
    draw.set_move_to_func(note("M"))
    draw.set_line_to_func(note("L"))
    draw.set_quadratic_to_func(note("Q"))
    draw.set_close_path_func(note("Z"))
    font.draw_glyph(glyph, draw)
    return out


@pytest.mark.parametrize("file", FILES)
def test_a_cluster_is_drawn_as_its_parts_are(file):
    data = (fonts.FOLDER / file).read_bytes()
    font = font_of(data)
    count = font.face.glyph_count
    drawn = [glyph for glyph in range(1, count) if points(font, glyph)]
    clusters = [
        Cluster(((drawn[i], 0, 0), (drawn[-1 - i], 35 + i, -120), (drawn[i + 1], -40, 250)), 700 + i) for i in range(12)
    ]
    made = font_of(add_clusters(data, clusters))
    assert made.face.glyph_count == count + len(clusters)
    for place, cluster in enumerate(clusters):
        parts = [step for part in cluster.components for step in points(font, *part)]
        assert points(made, count + place) == parts
        assert made.get_glyph_h_advance(count + place) == cluster.advance
    for glyph in range(0, count, 7):  # what was there before is as it was
        assert points(made, glyph) == points(font, glyph)
        assert made.get_glyph_h_advance(glyph) == font.get_glyph_h_advance(glyph)


def test_a_cluster_of_blanks_is_blank():
    data = (fonts.FOLDER / "NotoSans-Regular.ttf").read_bytes()
    font = font_of(data)
    space = font.get_nominal_glyph(0x20)
    made = font_of(add_clusters(data, [Cluster(((space, 0, 0), (space, 9, 9)), 520)]))
    assert points(made, made.face.glyph_count - 1) == []
    assert made.get_glyph_h_advance(made.face.glyph_count - 1) == 520


def test_the_files_checksums_are_right():
    # OpenType 1.9, `head`: the sum of the whole file as 32-bit numbers is 0xB1B0AFBA.
    data = (fonts.FOLDER / "NotoSans-Regular.ttf").read_bytes()
    made = add_clusters(data, [Cluster(((40, 0, 0), (50, 10, 10)), 600)])
    assert len(made) % 4 == 0
    assert sum(struct.unpack(f">{len(made) // 4}L", made)) & 0xFFFFFFFF == 0xB1B0AFBA
    for at in range(12, 12 + 16 * struct.unpack_from(">H", made, 4)[0], 16):
        tag, checksum, start, length = struct.unpack_from(">4sLLL", made, at)
        table = made[start : start + length] + b"\0" * (-length % 4)
        if tag != b"head":
            assert sum(struct.unpack(f">{len(table) // 4}L", table)) & 0xFFFFFFFF == checksum, tag


def test_widths_in_the_pdf_are_those_of_the_embedded_font():
    # ISO 14289-1 (PDF/UA-1), 7.21.5: the two must agree.
    pikepdf = pytest.importorskip("pikepdf")
    data = pdf([block(LINES[language], language) for language in LINES if language not in CJK])
    seen = 0
    with pikepdf.open(io.BytesIO(data)) as document:
        for thing in document.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Subtype") == "/CIDFontType2":
                font = font_of(thing.FontDescriptor.FontFile2.read_bytes())
                numbers = thing.CIDToGIDMap.read_bytes()
                for code, width in enumerate(thing.W[1], 1):
                    glyph = int.from_bytes(numbers[2 * code : 2 * code + 2], "big")
                    assert float(width) == pytest.approx(
                        font.get_glyph_h_advance(glyph) * 1000 / font.face.upem, abs=0.01
                    )
                    seen += 1
    assert seen > 300
