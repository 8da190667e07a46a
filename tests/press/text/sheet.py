"""What the tests of the text engine share: colours, blocks, a one-page PDF and what extractors read in it."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Sequence

from reportlab.pdfgen.canvas import Canvas

from generator.press.text import Run, TextBlock, TextStyle

COLOURS = {"ink": "#101010", "alarm": "#a01010"}
STYLE = TextStyle(size=12, leading=17)


def block(text: str, language: str = "en", style: TextStyle = STYLE) -> TextBlock:
    return TextBlock([Run(text)], style, language, colours=COLOURS)


def pdf(blocks: Sequence[TextBlock], width: float = 300) -> bytes:
    """One page with the blocks under each other."""
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(width + 40, 1200), invariant=1)
    y = 1180.0
    for each in blocks:
        _, height = each.wrap(width, 9999)
        y -= height
        each.draw_on(canvas, 20, y)
        y -= 10
    canvas.save()
    return file.getvalue()


def by_pypdf(data: bytes) -> str:
    import pypdf

    return pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()


def by_pdfium(data: bytes) -> str:
    import pypdfium2

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        document = pypdfium2.PdfDocument(data)
        page = document[0]
        text = page.get_textpage()
        found = str(text.get_text_range())
        text.close()
        page.close()
        document.close()
    return found


def plain(text: str) -> str:
    """Text as a reader compares it: one space for any white space, without invisible controls."""
    return " ".join(re.sub("[\u00ad\u200b\u200e\u200f\u2060\u2066-\u2069\ufeff\u0002]", "", text).split())
