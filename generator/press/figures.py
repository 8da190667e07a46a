"""Paint drawings made of outlines and words, each one Figure of the tree.

Takes  a function that draws for a width, and the figure's element.
Gives  `Drawing`, a block; its words go through the text engine like all others.
Knows  the shapes of `page/paths.py`; nothing of what is drawn.
"""

from __future__ import annotations

from generator.page.document import Draw
from generator.page.paths import Label, Path, Picture
from generator.page.tokens import PICTOGRAM
from generator.press.block import CLOSE, Block, Pen
from generator.press.canvas import TagCanvas
from generator.press.look import Look
from generator.press.operators import number, outline
from generator.press.structure import Artifact, Elem
from generator.press.text import draw_label, measure

_SLIVER = 0.5  # points: side bearings of a first or last letter

# Pictures by drawing, language of their words, and width given: a document tried at several sizes makes each once.
Made = dict[tuple[str, str, float], Picture]


class TooWide(ValueError):
    """A drawing, or a word in it, reaches beyond the width it was given: a fault of the drawing."""


class Drawing(Block):
    """A drawing, as wide as `share` of the width at hand. mark: its Figure element, or an artifact."""

    def __init__(
        self, name: str, draw: Draw, mark: Elem | Artifact, look: Look, share: float = 1.0, made: Made | None = None
    ) -> None:
        self.name = name
        self.draw = draw
        self.mark = mark
        self.look = look
        self.share = share
        self.least = PICTOGRAM
        self.rigid = True
        self._made: Made = {} if made is None else made

    def picture(self, width: float) -> Picture:
        """Made once for a width.

        Raises:
            TooWide: it does not keep to the width.
        """
        given = width * self.share
        key = (self.name, self.look.language, given)
        if key not in self._made:
            picture = self.draw(given, self._measure)
            if picture.width > given + CLOSE:
                raise TooWide(f"drawing {self.name!r} is {picture.width:.1f} pt wide where {given:.1f} pt were given")
            self._hold(picture)
            self._made[key] = picture
        return self._made[key]

    def _hold(self, picture: Picture) -> None:
        """Words that would leave the picture would run into its neighbours."""
        for label in picture.operations:
            if isinstance(label, Label):
                wide = self._measure(label.text, label.size, label.bold)
                left = label.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor] * wide
                if left < -_SLIVER or left + wide > picture.width + _SLIVER:
                    raise TooWide(f"drawing {self.name!r}: {label.text!r} reaches beyond its {picture.width:.1f} pt")

    def _measure(self, text: str, size: float, bold: bool) -> float:
        return measure(text, size, bold, self.look.language)

    def height(self, width: float) -> float:
        return self.picture(width).height

    def natural(self) -> float:
        return self.least

    def paint(self, pen: Pen, x: float, top: float, width: float, height: float) -> None:
        picture = self.picture(width)
        spare = width - picture.width
        at_end = (self.look.align == "end") != (self.look.direction == "rtl")
        left = x + (spare / 2 if self.look.align == "center" else spare if at_end else 0.0)
        bottom = top - picture.height
        if isinstance(self.mark, Elem):
            pen.canvas.boxes[self.mark] = (left, bottom, left + picture.width, top)
        with pen.canvas.scope(self.mark):
            paint_picture(pen.canvas, picture, left, bottom, self.look.language)


def paint_picture(canvas: TagCanvas, picture: Picture, left: float, bottom: float, language: str) -> None:
    """Paint a picture with its lower left corner at left, bottom, inside the scope that is open."""
    # ReportLab would note all of its state, and its dozen of matrices: nothing here asks for them.
    canvas._code.append(f"q 1 0 0 1 {number(left)} {number(bottom)} cm 1 j")
    for operation in picture.operations:
        if isinstance(operation, Label):
            draw_label(canvas, operation, operation.language or language)
        else:
            _paint_path(canvas, operation)
    canvas._code.append("Q")


def _paint_path(canvas: TagCanvas, path: Path) -> None:
    if path.fill is not None:
        canvas.fill_colour(path.fill)
    if path.stroke is not None:
        canvas.stroke_colour(path.stroke, path.width)
        canvas._code.append(f"[{' '.join(map(number, path.dash))}] 0 d")
    canvas._code.append(outline(path.segments))
    canvas._strokeAndFill(int(path.stroke is not None), int(path.fill is not None))
