"""How a stretch of a document looks: what each element and class inherits and changes.

Takes  a Look and a node of the vocabulary.
Gives  the node's own Look, and from it the TextStyle that the text engine sets.
Knows  the tokens and the classes; nothing of pages or canvases.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal, NamedTuple

from generator.page.tokens import (
    AIR,
    CLOSE_AIR,
    CLOSE_PITCH,
    FINE_FLOOR,
    LEAST_PITCH,
    MOST_LETTERS,
    PITCH_BY_SCRIPT,
    SCALE,
    SMALL_FLOOR,
    SPACE,
)
from generator.page.vocabulary import TEXTS
from generator.page.xhtml import Node
from generator.press.text import TextStyle, is_rtl

Direction = Literal["ltr", "rtl"]
Align = Literal["start", "end", "center"]


class Look(NamedTuple):
    """What is inherited.

    base: the body size of the whole document, points. size: of the text here. pitch: line pitch as a factor.
    accent: colour of headings and marks. hairline: colour of rules. direction: in which columns, marks and line
    starts run. turned: the text itself runs in that direction too, against its language's own. measured: lines keep to
    the most letters that an eye follows; a strip across the page does not. close: less space
    between lines and between parts.
    """

    kind: str
    base: float
    size: float
    language: str
    direction: Direction
    pitch: float = SCALE["body"].pitch
    colour: str = "ink"
    accent: str = "leaf"
    quiet: str = "slate"
    hairline: str = "hairline"
    bold: bool = False
    align: Align = "start"
    turned: bool = False
    measured: bool = True
    close: bool = False

    def em(self, name: str) -> float:
        """A named space in points; the spaces between parts are wider where there is room for it."""
        if name not in ("section", "block", "paragraph"):
            return SPACE[name] * self.base
        air = CLOSE_AIR if self.close else AIR[self.kind]
        return SPACE[name] * self.base * air

    def text_style(self) -> TextStyle:
        """For the text engine."""
        return _text_style(self)

    def step(self, name: str) -> Look:
        """At a step of the type scale, never below the floor of that step."""
        step = SCALE[name]
        size = step.factor * self.base
        if name in ("small", "head-cell"):
            size = max(size, SMALL_FLOOR[self.kind])
        elif name == "fine":
            size = max(size, FINE_FLOOR)
        colour = self.colour
        if step.colour == "leaf":
            colour = self.accent
        elif step.colour == "slate":
            colour = self.quiet
        elif step.colour is not None and self.colour != "white":
            colour = step.colour
        return self._replace(size=size, pitch=min(step.pitch, self.pitch), bold=step.bold or self.bold, colour=colour)


# A document has few looks and asks for them at every element.
@lru_cache(maxsize=1024)
def _text_style(look: Look) -> TextStyle:
    language = look.language.split("-")[0].lower()
    pitch = max(look.pitch * PITCH_BY_SCRIPT.get(language, 1.0), LEAST_PITCH.get(language, 0.0))
    is_read = look.measured and look.size >= SMALL_FLOOR[look.kind]
    most = MOST_LETTERS.get(look.kind) if is_read else None
    return TextStyle(look.size, look.size * pitch, look.colour, look.align, look.bold, most)


def first_look(kind: str, base: float, language: str) -> Look:
    """Of the body: kind is its class, base its type size in points."""
    return Look(kind, base, base, language, _own_direction(language))


def _own_direction(language: str) -> Direction:
    return "rtl" if is_rtl(language) else "ltr"


_HEADINGS = ("h1", "h2", "h3", "h4")
_CHANGING = frozenset({*_HEADINGS, "caption", "dt", "figcaption"})  # elements that look otherwise even without a class
_BOX_TONES = {"alarm": ("ink", "alarm", "slate", "alarm-soft"), "deadline": ("white", "white", "white", "moss")}


def look_of(node: Node, outer: Look) -> Look:
    """The node's own look. Steps name absolute sizes: `small` inside `small` is not smaller."""
    told = node.attributes
    if not told and node.tag not in _CHANGING:
        return outer
    return _look(outer, node.tag, node.classes, told.get("lang"), told.get("dir"), told.get("scope"))


@lru_cache(maxsize=4096)
def _look(
    look: Look, tag: str, classes: frozenset[str], language: str | None, direction: str | None, scope: str | None
) -> Look:
    if language is not None:
        look = look._replace(language=language, turned=False)
        # A line in another language stands where its neighbours stand; a whole part in it is laid out its own way.
        if tag not in TEXTS:
            look = look._replace(direction=_own_direction(language))
    if direction is not None:
        runs: Direction = "rtl" if direction == "rtl" else "ltr"
        look = look._replace(direction=runs, turned=runs != _own_direction(look.language))
    if tag in _HEADINGS and "display" not in classes:
        look = look.step(tag)
    elif tag == "caption":
        look = look.step("h3")
    elif tag == "dt":
        look = look._replace(colour=look.quiet)
    elif tag == "th" and scope == "col":
        look = look.step("head-cell")
    elif tag == "figcaption" or "gloss" in classes:
        look = look.step("small")._replace(colour=look.quiet)
    for name in ("display", "lead", "large", "small", "fine"):
        if name in classes:
            look = look.step(name)
    if "close" in classes:
        look = look._replace(pitch=CLOSE_PITCH, close=True)
    look = _toned(classes, look)
    if "centre" in classes:
        look = look._replace(align="center")
    elif "end" in classes or "number" in classes:
        look = look._replace(align="end")
    if "caution" in classes:
        look = look._replace(bold=True, colour="alarm")
    return look


def _toned(classes: frozenset[str], look: Look) -> Look:
    if "box" in classes or "band" in classes:
        for tone, (colour, accent, quiet, hairline) in _BOX_TONES.items():
            if tone in classes:
                return look._replace(colour=colour, accent=accent, quiet=quiet, hairline=hairline)
        return look
    if "quiet" in classes:
        return look._replace(colour=look.quiet)
    for tone in ("alarm", "leaf", "ink"):
        if tone in classes:
            return look._replace(colour=tone, accent=tone)
    return look
