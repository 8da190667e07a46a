"""Write shaped lines onto a page.

Takes  a ReportLab canvas, shaped items, where they stand and what colours are called.
Gives  text operators in the page, marked content around them, and links over them.
Knows  PDF's text operators; nothing of breaking or of frames.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from functools import lru_cache
from itertools import groupby
from typing import Any, NamedTuple

from generator.page.paths import Label
from generator.press.text.embed import EmbeddedFaces, embedded_in
from generator.press.text.paragraph import Item
from generator.press.text.runs import Piece, prepare

# Of Noto Sans, in em; used for every script, so that columns in two languages share their baselines.
ASCENT, DESCENT = 1.069, 0.293
TEXT_BEGINS = "q BT"  # what every piece of text that is written here starts with


class Paint(NamedTuple):
    """How the characters of one owner are printed. colour: name of a token; mark, link: see `Run`."""

    colour: str
    mark: object | None = None
    link: str | None = None


# One line: its items from left to right, as `Paragraph.shape` gives them; x of its left end and y of its baseline, in
# points, y up.
Line = tuple[Sequence[Item], float, float]


def draw_lines(
    canvas: Any,
    lines: Iterable[Line],
    paints: Sequence[Paint],
    size: float,
    colours: Mapping[str, str] | None = None,
    marked: bool = True,
) -> None:
    """Draw lines of one paragraph.

    Items are written in reading order, stretches of one owner inside their own marked content, over the ends of lines;
    only inside an item the glyphs go from left to right, as programs that copy text out of a page expect of every script.

    Args:
        paints: by the items' `owner`.
        size: points. colours: token name to `#rrggbb`; those of `page/tokens.py` by default.
        marked: False leaves marked content to the caller (labels inside a drawing).
    Raises:
        KeyError: a colour that is not among the tokens.
    """
    faces = embedded_in(canvas._doc)
    placed = [_placed(items, x, size) for items, x, _ in lines]
    heights = [y for _, _, y in lines]
    pens = [(item, x, y) for line, y in zip(placed, heights, strict=True) for item, x in line]
    owned = groupby(pens, key=lambda pen: id(paints[pen[0].owner].mark)) if len(paints) > 1 else [(0, pens)]
    for _, group in owned if pens else ():
        stretch = list(group)
        with _scope(canvas, paints[stretch[0][0].owner].mark, marked):
            canvas._code.append(_write(faces, stretch, paints, size, colours))
    if any(paint.link for paint in paints) and hasattr(canvas, "link"):
        for line, y in zip(placed, heights, strict=True):
            _link(canvas, line, paints, y, size)


def _placed(items: Sequence[Item], x: float, size: float) -> list[tuple[Item, float]]:
    """Items in reading order, each with its left end."""
    if len(items) == 1:
        return [(items[0], x)]
    if items and items[0].width == 0 and items[0].text == " " and items[0].rtl:
        x -= _advance(items[0]) * size / 1000  # the space at a line's end hangs outside the measure
    pens: list[tuple[Item, float]] = []
    for item in items:
        pens.append((item, x))
        x += _advance(item) * size / 1000
    return sorted(pens, key=lambda pen: pen[0].place)


def draw_label(canvas: Any, label: Label, language: str = "en", colours: Mapping[str, str] | None = None) -> None:
    """Draw one line of a picture; its mark is the picture's, already open.

    The anchor is taken as in a drawing, not as in a text: `start` puts the left end at x in every language.

    Raises:
        MissingGlyph: no font has a character of the label.
    """
    tag = label.language or language
    paragraph = prepare((Piece(label.text.replace("\n", " "), label.bold, tag),), tag)
    items, width = paragraph.shape(0, len(paragraph.text))
    if not items:
        return
    shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor] * width * label.size / 1000
    draw_lines(canvas, [(items, label.x - shift, label.y)], (Paint(label.colour),), label.size, colours, marked=False)


def measure(text: str, size: float, bold: bool = False, language: str = "en") -> float:
    """Width in points of a text on one line; fits `page.paths.Measure`.

    Raises:
        MissingGlyph: no font has a character of the text.
    """
    return _width(text, bold, language) * size / 1000


@lru_cache(maxsize=8192)  # drawings ask for the same words again and again
def _width(text: str, bold: bool, language: str) -> float:
    paragraph = prepare((Piece(text.replace("\n", " "), bold, language),), language)
    return paragraph.width(0, len(paragraph.text))


def rgb(name: str, colours: Mapping[str, str] | None = None) -> tuple[float, float, float]:
    """Red, green and blue, 0 to 1, of a colour token."""
    if colours is None:
        from generator.page.tokens import COLOURS

        colours = COLOURS
    digits = colours[name].lstrip("#")
    red, green, blue = (int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))
    return red, green, blue


def _advance(item: Item) -> float:
    """How far the pen moves, thousandths of an em; further than the width at a space that hangs out at a line's end."""
    return item.width or item.face.words(item.rtl, item.script, item.language).width_of(item.shown)


def _scope(canvas: Any, mark: object | None, marked: bool) -> AbstractContextManager[Any]:
    scope = getattr(canvas, "scope", None)
    if not marked or scope is None:
        return nullcontext()
    opened: AbstractContextManager[Any] = scope(mark)
    return opened


def _write(
    faces: EmbeddedFaces,
    stretch: Iterable[tuple[Item, float, float]],
    paints: Sequence[Paint],
    size: float,
    colours: Mapping[str, str] | None,
) -> str:
    """A text object (ISO 32000-1, 9.4); state is saved around it, for colours and fonts outlive it."""
    code = [TEXT_BEGINS]
    colour = face = None
    for item, x, y in stretch:
        wanted = paints[item.owner].colour
        if wanted != colour:
            colour = wanted
            code.append(_fill(colour) if colours is None else _fill_of(rgb(colour, colours)))
        font = faces[item.face]
        if item.face is not face:
            face = item.face
            code.append(f"/{font.resource} {size:.4g} Tf")
        code.append(f"1 0 0 1 {x:.3f} {y:.3f} Tm [<{font.written(item)}>] TJ")
    code.append("ET Q")
    return " ".join(code)


@lru_cache(maxsize=64)
def _fill(colour: str) -> str:
    return _fill_of(rgb(colour))


def _fill_of(parts: tuple[float, float, float]) -> str:
    return "{:.4f} {:.4f} {:.4f} rg".format(*parts)


def _link(canvas: Any, reading: Sequence[tuple[Item, float]], paints: Sequence[Paint], y: float, size: float) -> None:
    def target(pen: tuple[Item, float]) -> tuple[str | None, int]:
        paint = paints[pen[0].owner]
        return paint.link, id(paint.mark)

    for (link, _), group in groupby(reading, key=target):
        if link is None:
            continue
        stretch = [pen for pen in group if pen[0].width]
        if not stretch:
            continue
        left = min(x for _, x in stretch)
        right = max(x + item.width * size / 1000 for item, x in stretch)
        mark = paints[stretch[0][0].owner].mark
        canvas.link((left, y - DESCENT * size, right, y + ASCENT * size), link, mark)
