"""Fit words into drawings.

Takes  a text, its size in points and the measure of the fonts that will print it.
Gives  lines broken to a width, the box a label covers, and a drawing mirrored for right-to-left reading.
Knows  where a line may break; nothing of what the words say.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from generator.page.paths import Label, Measure, Operation, Path, Picture
from generator.page.shapes import Box, mapped

# Room a line of words takes above and below its baseline, in sizes, stacked marks included; from the extents
# of the house's fonts. LEADING leaves a sliver between two lines.
ASCENT, DESCENT, LEADING = 0.95, 0.27, 1.28

_OPPOSITE: dict[Literal["start", "middle", "end"], Literal["start", "middle", "end"]] = {
    "start": "end", "middle": "middle", "end": "start",
}  # fmt: skip
_CJK = ((0x2E80, 0x9FFF), (0xAC00, 0xD7A3), (0xF900, 0xFAFF), (0xFF00, 0xFFEF), (0x20000, 0x3FFFF))
_THAI = re.compile("[\u0e00-\u0e7f]")
# A vowel written in front, a letter, what follows it, and what stands above and below (Unicode Standard, 16.1 Thai).
_THAI_LETTER = re.compile("[\u0e40-\u0e44]*[^\u0e40-\u0e44][\u0e30-\u0e3a\u0e45-\u0e4e]*\\s*|[\u0e40-\u0e44]+")
# Signs that may not begin a line in Chinese and Japanese (from memory of JIS X 4051; the common ones).
_NO_START = "、。，．・：；？！）］｝」』】〉》〕”’ー…%"


class TooNarrow(ValueError):
    """A word wider than the room it has; `text` is the word, `room` the points there were."""

    def __init__(self, text: str, room: float) -> None:
        super().__init__(f"`{text}` is wider than {room:.1f} pt")
        self.text, self.room = text, room


def wrapped(text: str, size: float, width: float, measure: Measure, *, bold: bool = False) -> tuple[str, ...]:
    """Break a text into lines no wider than `width` points.

    Breaks at spaces, at U+200B, and beside Chinese, Japanese and Korean characters; never at U+00A0. Thai has no spaces
    between words: where no U+200B marks them, a stretch that is too wide breaks between letters.

    Raises:
        TooNarrow: one unbreakable word is wider than `width`.
    """
    lines: list[str] = []
    current = ""
    for piece in _fine(_pieces(text), size, width, measure, bold):
        if not current or measure((current + piece).rstrip(), size, bold) <= width:
            current += piece
        else:
            lines.append(current.rstrip())
            current = piece
        if measure(current.rstrip(), size, bold) > width:
            raise TooNarrow(current.rstrip(), width)
    if current.strip():
        lines.append(current.rstrip())
    return tuple(lines)


def _pieces(text: str) -> Iterator[str]:
    """The text in pieces between which a line may break; spaces stay at the end of their piece."""
    piece = ""
    for index, character in enumerate(text):
        if character == "\u200b":
            yield piece
            piece = ""
            continue
        piece += character
        after = text[index + 1 : index + 2]
        if (character == " " and after != " ") or (
            after and after not in _NO_START and after != " " and (_is_cjk(character) or _is_cjk(after))
        ):
            yield piece
            piece = ""
    if piece:
        yield piece


def _fine(pieces: Iterator[str], size: float, width: float, measure: Measure, bold: bool) -> Iterator[str]:
    """The pieces; of Thai that is wider than the line, its letters, each with the marks and vowels that belong to it."""
    for piece in pieces:
        if _THAI.search(piece) and measure(piece.rstrip(), size, bold) > width:
            yield from _THAI_LETTER.findall(piece)
        else:
            yield piece


def _is_cjk(character: str) -> bool:
    return any(low <= ord(character) <= high for low, high in _CJK)


def label_box(label: Label, measure: Measure) -> Box:
    """Left, bottom, right, top of the room a label takes."""
    width = measure(label.text, label.size, label.bold)
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    return left, label.y - DESCENT * label.size, left + width, label.y + ASCENT * label.size


def mirrored(picture: Picture) -> Picture:
    """The same drawing laid out from the right: outlines flip, words stay readable and swap their anchor."""

    def flip(operation: Operation) -> Operation:
        if isinstance(operation, Path):
            return replace(operation, segments=mapped(operation.segments, -1, 0, 0, 1, picture.width, 0))
        return replace(operation, x=picture.width - operation.x, anchor=_OPPOSITE[operation.anchor])

    return replace(picture, operations=tuple(flip(operation) for operation in picture.operations))


def shifted(operation: Operation, dx: float, dy: float) -> Operation:
    """The operation moved by dx, dy points."""
    if isinstance(operation, Path):
        return replace(operation, segments=mapped(operation.segments, 1, 0, 0, 1, dx, dy))
    return replace(operation, x=operation.x + dx, y=operation.y + dy)
