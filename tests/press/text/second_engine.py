"""Set and paint a line of text with an engine that is not ours, and say where its ink differs from ours.

Takes  a line of `lines.py`, its language, a weight.
Gives  `ours`, the ink of our one-line PDF as pdfium paints it; `theirs`, the ink of the same text as Pillow sets it by raqm
       (FriBidi for order, its own HarfBuzz for shapes) and FreeType paints it; `lost`, ink that the other has not.
Knows  how both are called. Raqm sets a line in one font only, so for a line in two scripts the two fonts are made one by
       fontTools first: what stands where is then decided by raqm alone.

Tried with Pillow 13.0.0, raqm 0.11.0, HarfBuzz 14.5.0, FriBidi 1.0.8, FreeType 2.14.3, pypdfium2 5.15.2, fontTools 4.68.0.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pypdfium2
from fontTools import merge, subset
from fontTools.ttLib import TTFont
from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageFont, features
from reportlab.pdfgen.canvas import Canvas

from generator.press.text import Run, TextBlock, TextStyle, fonts

from .lines import RTL
from .sheet import COLOURS

EM = 64  # pixels
FINER = 4  # their glyphs sit on whole pixels: painted this many times larger, then made smaller
# Four hundredths of an em, about half the thickness of a stroke: what a line of a hundred glyphs may drift by rounding, and
# by a space that is taken from the one font or the other (Hebrew's own is a hundredth wider).
NEAR = round(EM * 0.04)
_SIZE = 20  # points
_NATIVE = {
    "ar": "Arabic", "fa": "Arabic", "ur": "Arabic", "he": "Hebrew", "hi": "Devanagari", "pa": "Gurmukhi", "th": "Thai",
}  # fmt: skip
# As a sheet is set: no ornamental joins, figures of one width; spelling's own joins (`rlig`, `akhn`, ...) stay.
_PLAIN = ["-liga", "-clig", "-dlig", "tnum", "lnum"]
_SPELT_BY_LIGA = ("hi", "pa", "th")
IS_HERE = features.check("raqm") and features.check("fribidi") and features.check("harfbuzz")
WHY_NOT = "Pillow's raqm is not usable here: on Debian, libfribidi0 brings what it lacks"


def ours(text: str, language: str, bold: bool = False) -> Image.Image:
    """Ink of one line, cut to its edges."""
    block = TextBlock([Run(text, bold)], TextStyle(size=_SIZE, leading=2 * _SIZE), language, colours=COLOURS)
    width = block.natural_width()
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(width + 2 * _SIZE, 4 * _SIZE), invariant=1)
    block.wrap(width + 0.5, 999)
    block.draw_on(canvas, _SIZE, _SIZE)
    canvas.save()
    document = pypdfium2.PdfDocument(file.getvalue())
    page = document[0]
    picture = page.render(scale=EM / _SIZE, grayscale=True).to_pil().convert("L")
    page.close()
    document.close()
    return _ink(ImageChops.invert(picture))


def theirs(
    text: str, language: str, bold: bool = False, *, shaped: bool = True, rtl: bool | None = None
) -> Image.Image:
    """Ink of one line, cut to its edges. shaped: False is what an engine without shaping prints."""
    engine = ImageFont.Layout.RAQM if shaped else ImageFont.Layout.BASIC
    font = ImageFont.truetype(io.BytesIO(_font(_NATIVE.get(language, ""), bold)), EM * FINER, layout_engine=engine)
    how: dict[str, object] = {}
    if shaped:
        right = language in RTL if rtl is None else rtl
        chosen = ["-dlig", "tnum", "lnum"] if language in _SPELT_BY_LIGA else _PLAIN
        how = {"direction": "rtl" if right else "ltr", "language": language, "features": chosen}
    width = int(font.getlength(text, **how)) + 2 * EM * FINER
    picture = Image.new("L", (width, 3 * EM * FINER), 0)
    ImageDraw.Draw(picture).text((EM * FINER, 2 * EM * FINER), text, fill=255, font=font, anchor="ls", **how)
    return _ink(picture.resize((picture.width // FINER, picture.height // FINER), Image.Resampling.BOX))


def lost(one: Image.Image, other: Image.Image) -> int:
    """Pixels of ink in either that the other has nowhere near."""
    size = (max(one.width, other.width), max(one.height, other.height))
    pair = [Image.new("L", size, 0), Image.new("L", size, 0)]
    for sheet, ink in zip(pair, (one, other), strict=True):
        sheet.paste(ink, (0, 0))
    wide = [sheet.filter(ImageFilter.MaxFilter(2 * NEAR + 1)) for sheet in pair]
    missing = (ImageChops.subtract(pair[0], wide[1]), ImageChops.subtract(pair[1], wide[0]))
    return max(each.histogram()[255] for each in missing)


def _ink(picture: Image.Image) -> Image.Image:
    ink = picture.point(lambda value: 255 if value > 100 else 0)
    return ink.crop(ink.getbbox())


@cache
def _font(native: str, bold: bool) -> bytes:
    """Noto Sans, or Noto Sans of a script with the figures and signs of Noto Sans put into it."""
    weight = "Bold" if bold else "Regular"
    latin = fonts.FOLDER / f"NotoSans-{weight}.ttf"
    if not native:
        return latin.read_bytes()
    own = _cut(fonts.FOLDER / f"NotoSans{native}-{weight}.ttf", lambda code: not _is_latins(code))
    has = set(TTFont(own).getBestCmap())
    own.seek(0)
    out = io.BytesIO()
    merge.Merger().merge([own, _cut(latin, lambda code: (code < 0x80 or code == 0xA0) and code not in has)]).save(out)
    return out.getvalue()


def _is_latins(code: int) -> bool:
    """What a sheet takes from Noto Sans even where the other font has it: a number looks the same on every sheet."""
    return code == 0xA0 or (code < 0x80 and (chr(code).isalnum() or chr(code) in "+-"))


def _cut(path: Path, keep: Callable[[int], bool]) -> io.BytesIO:
    options = subset.Options(layout_features=["*"], glyph_names=True, notdef_outline=True, hinting=False)
    font = subset.load_font(io.BytesIO(path.read_bytes()), options)
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[code for code in font.getBestCmap() if keep(code)])
    cutter.subset(font)
    out = io.BytesIO()
    font.save(out)
    out.seek(0)
    return out
