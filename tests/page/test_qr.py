"""A camera reads the printed code, also when the print is poor."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.page.lettering import TooNarrow
from generator.page.qr import QUIET, QrCode, draw_qr

TEL = "tel:+18025550142"


def matrix(text, error="m"):
    segno = pytest.importorskip("segno")
    made = segno.make_qr(text, error=error, boost_error=False)
    return tuple(tuple(bool(module) for module in row) for row in made.matrix)


def painted(picture, dots_per_inch, oversample=4):
    """The picture as a grey raster: what a printer and a scanner of that resolution leave of it."""
    image = pytest.importorskip("PIL.Image")
    draw = pytest.importorskip("PIL.ImageDraw")
    scale = dots_per_inch / 72 * oversample
    side = round(picture.width * scale)
    canvas = image.new("L", (side, side), 128)
    pen = draw.Draw(canvas)
    for path in picture.operations:
        for corners in rectangles(path):
            (x0, y0), (x1, y1) = corners
            grey = 255 if path.fill == "white" else 0
            pen.rectangle((x0 * scale, side - y1 * scale, x1 * scale - 1, side - y0 * scale - 1), fill=grey)
    return canvas.resize((side // oversample, side // oversample), image.Resampling.BOX)


def rectangles(path):
    """Lower left and upper right corner of each box in an outline."""
    found, points = [], []
    for segment in path.segments:
        if segment[0] == "Z":
            xs, ys = [x for x, _ in points], [y for _, y in points]
            found.append(((min(xs), min(ys)), (max(xs), max(ys))))
            points = []
        else:
            points.append(segment[1:])
    return found


def read(raster):
    zxing = pytest.importorskip("zxingcpp")
    return [result.text for result in zxing.read_barcodes(raster)]


@pytest.mark.parametrize("text", [TEL, "BEGIN:VEVENT\nSUMMARY:Maple\nDTSTART:20270320T140000Z\nEND:VEVENT"])
def test_it_reads_at_print_size_from_150_dots_an_inch(measure, text):
    picture = draw_qr(QrCode(modules=matrix(text), alternative="x"), 200, measure)
    assert read(painted(picture, 150)) == [text]


def test_it_reads_after_a_smudge_over_a_seventh_of_each_side(measure):
    picture = draw_qr(QrCode(modules=matrix(TEL), alternative="x"), 200, measure)
    raster = painted(picture, 150)
    side = round(raster.width * 0.15)
    # A thumb's worth of mud in the middle, clear of the three finder patterns.
    raster.paste(90, (raster.width // 2, raster.height // 2, raster.width // 2 + side, raster.height // 2 + side))
    assert read(raster) == [TEL]


def mudded(raster, count, share, seed):
    """The raster with an opaque square over `share` of the code's area, somewhere clear of the three finder patterns."""
    draw = random.Random(seed)
    unit = raster.width / (count + 2 * QUIET)
    low, high, finder, side = QUIET * unit, (count + QUIET) * unit, 8 * unit, count * unit * share**0.5
    finders = ((low, low), (high - finder, low), (low, high - finder))
    while True:
        x, y = draw.uniform(low, high - side), draw.uniform(low, high - side)
        if all(x + side < fx or x > fx + finder or y + side < fy or y > fy + finder for fx, fy in finders):
            break
    copy = raster.copy()
    copy.paste(draw.choice((0, 90, 255)), (round(x), round(y), round(x + side), round(y + side)))
    return copy


# Codewords that may be lost: 15 % at level M, 25 % at Q, 30 % at H (ISO/IEC 18004, 7.5.1). A blot of that share of the area
# costs more of them, for it hits every codeword that it touches: what is really read is about half of it.
@pytest.mark.parametrize(("error", "share"), [("m", 0.03), ("q", 0.06), ("h", 0.10)])
def test_mud_over_part_of_its_area_is_borne_by_what_the_level_is_for(measure, error, share):
    modules = matrix(TEL, error)
    raster = painted(draw_qr(QrCode(modules=modules, alternative="x"), 200, measure), 150)
    assert [read(mudded(raster, len(modules), share, seed)) for seed in range(25)] == [[TEL]] * 25


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 25), st.integers(0, 2**32))
def test_dark_boxes_cover_the_dark_modules_once_each(measure, count, seed):
    draw = random.Random(seed)
    modules = tuple(tuple(draw.random() < 0.5 for _ in range(count)) for _ in range(count))
    _, dark = draw_qr(QrCode(modules=modules, alternative="x", module=2), 500, measure).operations
    covered = {}
    for (x0, y0), (x1, y1) in rectangles(dark) if any(map(any, modules)) else ():
        for column in range(round(x0 / 2), round(x1 / 2)):
            for row in range(round(y0 / 2), round(y1 / 2)):
                covered[column, row] = covered.get((column, row), 0) + 1
    wanted = {
        (column + 4, count - 1 - row + 4): 1  # four modules of quiet on each side: ISO/IEC 18004
        for row in range(count)
        for column in range(count)
        if modules[row][column]
    }
    assert covered == wanted


def test_the_code_has_a_white_ground_of_its_own_with_four_quiet_modules(measure):
    picture = draw_qr(QrCode(modules=matrix(TEL), alternative="x", module=1.5), 200, measure)
    ground, dark = picture.operations
    assert (ground.fill, dark.fill, QUIET) == ("white", "black", 4)
    assert rectangles(ground) == [((0, 0), (picture.width, picture.height))]
    boxes = rectangles(dark)
    assert min(low[0] for low, _ in boxes) == pytest.approx(6)
    assert max(high[1] for _, high in boxes) == pytest.approx(picture.height - 6)


def test_a_module_under_four_tenths_of_a_millimetre_is_refused():
    # 0.4 mm is 1.134 points.
    with pytest.raises(ValueError, match=r"0\.4 mm"):
        QrCode(modules=((True,),), alternative="x", module=1.13)


def test_a_code_wider_than_its_room_is_not_shrunk(measure):
    with pytest.raises(TooNarrow):
        draw_qr(QrCode(modules=matrix(TEL), alternative="x"), 30, measure)


def test_a_ragged_matrix_is_refused():
    with pytest.raises(ValueError, match="square"):
        QrCode(modules=((True, False), (True,)), alternative="x")
