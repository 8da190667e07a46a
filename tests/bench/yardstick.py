"""The yardsticks: the shortest bare ReportLab programs that draw the same glyphs at the same places in the same font files.

Takes  a file that we printed, of any number of pages.
Gives  `runs_of` (what stands where, read from the file), `COLD` (a program of its own, for a cold start), `register` and `draw` (the same
       program inside a process, its fonts loaded before).
Knows  ReportLab's canvas and nothing of layout: no line is broken here, no tag, drawing, link or page number made. Kerning is left out.

Frozen: what is timed against it may change, this may not. A text that runs from right to left is shaped by ReportLab's own `shapeStr`,
stretch by stretch in reading order: its `drawString(shaping=True)` shapes nothing unless an optional bidi library is installed.
`COLD` is the program that cold starts have been timed against from the first; it writes one weight's glyphs for both (see `register`),
which makes it about a hundredth quicker than it should be.
"""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pdfplumber

from generator.press.text.brackets import MIRROR

ROOT = Path(__file__).parents[2]
FONTS = ROOT / "generator" / "press" / "fonts"
COLD = """
import json, sys
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
pages, place, fonts = json.load(open(sys.argv[1])), sys.argv[2], sys.argv[3]
for face in ("Regular", "Bold"):
    registerFont(TTFont(face, f"{fonts}/NotoSans-{face}.ttf"))
canvas = Canvas(place)
for page in pages:
    canvas.setPageSize(page["size"])
    for text, x, y, size, face in page["runs"]:
        canvas.setFont(face, size)
        canvas.drawString(x, y, text)
    canvas.showPage()
canvas.save()
"""
# A word space is 0.26 em wide and kerning far less: what stands further off is drawn by a call of its own.
_APART = 0.2


def runs_of(pdf: Path | bytes, *, cold: bool = False) -> list[dict[str, Any]]:
    """Stretches of letters on one line in one face, as the printed file has them.

    Args:
        cold: what `COLD` draws: a line is one stretch even across a gap, in one of two faces (as it was first measured).
    Returns:
        A page each: `size`, and `runs` of text (in reading order), x, y, size in points, and font file.
    """
    pages: list[dict[str, Any]] = []
    with pdfplumber.open(pdf if isinstance(pdf, Path) else io.BytesIO(pdf)) as document:
        for page in document.pages:
            runs: list[list[Any]] = []
            end = 0.0
            for char in page.chars:
                face = str(char["fontname"]).split("+")[-1]
                if cold:
                    face = "Bold" if "Bold" in face else "Regular"
                y, size = round(char["matrix"][5], 2), round(char["size"], 2)
                last = runs[-1] if runs else None
                close = cold or abs(char["x0"] - end) < _APART * size
                if last and last[2] == y and last[3] == size and last[4] == face and close:
                    last[0] += char["text"]
                else:
                    runs.append([char["text"], round(char["x0"], 2), y, size, face])
                end = char["x1"]
            pages.append({"size": [page.width, page.height], "runs": [[_as_read(text), *rest] for text, *rest in runs]})
            page.close()
    return pages


def register(pages: Sequence[dict[str, Any]]) -> None:
    """Load the font files that these pages need."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    for face in sorted({run[4] for page in pages for run in page["runs"]}):
        font = TTFont(face, str(FONTS / f"{face}.ttf"))
        # Both weights call themselves Regular inside, and ReportLab would write one file's glyphs for both.
        font.face.name = face.encode()
        registerFont(font)


def draw(pages: Sequence[dict[str, Any]]) -> bytes:
    """A file with these letters at these places."""
    from reportlab.pdfbase.ttfonts import shapeStr
    from reportlab.pdfgen.canvas import Canvas

    file = io.BytesIO()
    canvas = Canvas(file)
    for page in pages:
        canvas.setPageSize(page["size"])
        for text, x, y, size, face in page["runs"]:
            canvas.setFont(face, size)
            canvas.drawString(x, y, shapeStr(text, face, size) if "Arabic" in face else text)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def _as_read(text: str) -> str:
    """Letters that run from right to left stand in the file as on paper, from left to right."""
    if any(unicodedata.bidirectional(letter) in ("R", "AL") for letter in text):
        return text[::-1].translate(MIRROR)
    return text
