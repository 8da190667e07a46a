"""The look of every document, once: colours, type sizes, spaces, corners and papers.

Takes  nothing: these are plain values, read by the press, the drawings and the browser alike.
Gives  `COLOURS` by name, `SCALE` of type, `SPACE`, `RADIUS`, `PAPERS`, `MARGINS`, and `contrast` to check pairs.
Knows  no canvas and no style sheet; names here are the only colours and sizes any document may use.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

MILLIMETRE = 72 / 25.4  # points

# Dark colours step down in grey so that a photocopy still tells them apart; meaning never rests on colour alone.
COLOURS: Mapping[str, str] = MappingProxyType(
    {
        "ink": "#14201C",  # text
        "leaf": "#0F4D43",  # structure: headings, marks, the deadline box
        "alarm": "#A01D1A",  # danger signs and the stop rule only
        "slate": "#47544F",  # quiet text: running heads, captions
        "moss": "#5F7F75",  # marks and outlines beside text; 3:1 and more on white, not for text
        "hairline": "#93ADA4",  # rules in tables and around panels
        "leaf-soft": "#CFE2DA",  # a stronger tint: days already past, a layer in a drawing
        "leaf-pale": "#E9F1EE",  # ground of a panel
        "alarm-soft": "#DFA59D",  # a stronger alarm tint, drawings only
        "alarm-pale": "#FDF1EF",  # ground of the alarm box
        "sand": "#E8D3BF",  # skin and coat in drawings
        "cream": "#F4F1E5",  # padding in drawings
        "white": "#FFFFFF",
        "black": "#000000",  # codes read by a camera only
    }
)

# (text, ground) pairs that documents print. Body text wants 7:1, any text 4.5:1 (WCAG 2.2, 1.4.6 and 1.4.3).
TEXT_PAIRS: tuple[tuple[str, str], ...] = (
    ("ink", "white"), ("ink", "leaf-pale"), ("ink", "leaf-soft"), ("ink", "alarm-pale"), ("ink", "cream"),
    ("ink", "sand"), ("leaf", "white"), ("leaf", "leaf-pale"), ("leaf", "leaf-soft"), ("leaf", "alarm-pale"),
    ("alarm", "white"), ("alarm", "alarm-pale"), ("alarm", "leaf-pale"), ("slate", "white"), ("slate", "leaf-pale"),
    ("slate", "alarm-pale"), ("white", "leaf"), ("white", "alarm"), ("white", "ink"), ("black", "white"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the type scale: factor of the body size, line pitch as a factor of the type size, weight, colour."""

    factor: float
    pitch: float = 1.3
    bold: bool = False
    colour: str | None = None  # None: the colour of what it stands in


# By the class or element of `page/xhtml.py` that asks for it.
SCALE: Mapping[str, Step] = MappingProxyType(
    {
        "body": Step(1.0),
        "display": Step(2.3, 1.12, True, "leaf"),
        "h1": Step(1.7, 1.18, True, "leaf"),
        "h2": Step(1.14, 1.22, True, "leaf"),
        "h3": Step(1.0, 1.25, True, "leaf"),
        "h4": Step(1.0, 1.25, True, "ink"),
        "lead": Step(1.64, 1.15, True),
        "large": Step(1.2, 1.25),
        "small": Step(12 / 14, 1.3),
        "head-cell": Step(12 / 14, 1.25, True, "slate"),
        "fine": Step(9 / 14, 1.3, False, "slate"),
    }
)

# Where everything is said twice: the least pitch that an owner is given (house rule; RNIB clear print asks for more where there is room).
CLOSE_PITCH = 1.2
CLOSE_AIR = 0.5  # beside AIR below

# Scripts with tall marks want more pitch; a factor on the pitch above (common practice; typography study).
PITCH_BY_SCRIPT: Mapping[str, float] = MappingProxyType({
    "ar": 1.15, "fa": 1.15, "ur": 1.2, "hi": 1.12, "pa": 1.12, "th": 1.15, "ja": 1.1, "ko": 1.1, "zh": 1.1,
})  # fmt: skip

# Least pitch of any step, large ones too, where two marks stand on a capital: Ẫ reaches 1.05 sizes above its baseline and
# g 0.24 below (outlines of Noto Sans).
LEAST_PITCH: Mapping[str, float] = MappingProxyType({"vi": 1.3})

# Letters in a line of what an owner reads: longer, and the eye loses the next line (Bringhurst, The Elements of
# Typographic Style, 2.1.2: 45 to 75). Running heads and feet are looked up, not read.
MOST_LETTERS: Mapping[str, int] = MappingProxyType({"sheet": 70})
# A name in the display size that does not fit its column is set smaller, never below this (points).
DISPLAY_FLOOR = 18.0

# Least size in points: of small notes, and of the line that identifies the sheet (RNIB clear print: 12 for reading).
SMALL_FLOOR: Mapping[str, float] = MappingProxyType({"sheet": 12.0, "card": 9.0, "binder": 9.0})
FINE_FLOOR = 9.0

# The body size where a document is not fitted to a page count, by kind of page.
BODY_SIZE: Mapping[str, float] = MappingProxyType({"sheet": 14.0, "card": 12.0, "binder": 11.0})

# In ems of the body size, so that one number moves the whole page.
SPACE: Mapping[str, float] = MappingProxyType({
    "hair": 0.1, "tight": 0.18, "item": 0.36, "paragraph": 0.4, "block": 0.7, "section": 0.95, "gutter": 1.6,
    "pad": 0.85, "pad-tight": 0.6, "cell": 0.32,
})  # fmt: skip

# How much wider the spaces between parts are, by kind of page: a sheet is one page, a binder is not.
AIR: Mapping[str, float] = MappingProxyType({"sheet": 0.8, "card": 0.9, "binder": 1.4})

RADIUS: Mapping[str, float] = MappingProxyType({"box": 8.0, "tick": 1.6})  # points
LINE: Mapping[str, float] = MappingProxyType({"hair": 0.5, "rule": 0.9, "box": 1.6})  # points

PAPERS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "a4": (210 * MILLIMETRE, 297 * MILLIMETRE),
        "letter": (612.0, 792.0),
    }
)


@dataclass(frozen=True, slots=True)
class Margins:
    """Of a page, in points; `binding` is the inner edge, on the other side of even pages when mirrored."""

    top: float
    bottom: float
    binding: float
    outer: float
    mirrored: bool = False


MARGINS: Mapping[str, Margins] = MappingProxyType(
    {
        "sheet": Margins(15 * MILLIMETRE, 15 * MILLIMETRE, 15 * MILLIMETRE, 15 * MILLIMETRE),
        "card": Margins(12 * MILLIMETRE, 12 * MILLIMETRE, 14 * MILLIMETRE, 14 * MILLIMETRE),
        # Room for two or three holes on the binding edge of either side.
        "binder": Margins(15 * MILLIMETRE, 15 * MILLIMETRE, 20 * MILLIMETRE, 16 * MILLIMETRE, mirrored=True),
    }
)

BAR_AWAY, BAR = 9.0, 2.0  # a change bar: how far outside the live area its middle stands, and its width, points
UNPRINTABLE = 5.0 * MILLIMETRE  # what an office printer may leave blank along each edge (common practice)
TAB_AIR = 1.3  # between a tab and the change bars, and between its words and its sides, points
TAB_PITCH = 1.05  # of a tab's words, which may take two lines in the outer margin

WRITING_ROW = 8.0 * MILLIMETRE  # least height of a line to write on by hand
PICTOGRAM = 10.0 * MILLIMETRE  # least width of a picture that stands as the mark of a line
PICTOGRAM_EMS = 2.5  # its width in ems of the body size, where that is more: about two lines high

# On a screen, in points of 1/72 inch as CSS counts them: 12 points are 16 of its pixels.
SCREEN_FLOOR = 12.0  # nothing is set smaller: there is room to scroll
TOUCH = 33.0  # least side of what a finger must hit, 44 CSS pixels (WCAG 2.2, 2.5.5 target size, enhanced)
PHONE = 220.0  # a drawing for the narrowest phones, 360 CSS pixels less margins and the padding of a box
SCREEN_EDGE = 12.0  # between the screen's edge and the words


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1, of a named colour (WCAG 2.2, definition of relative luminance)."""
    value = COLOURS[colour]
    parts = (int(value[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast of two named colours, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)
