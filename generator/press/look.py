"""How a stretch of a document looks: what each element and class inherits and changes.

Takes  a Look and a node of the vocabulary.
Gives  the node's own Look, and from it the TextStyle that the text engine sets.
Knows  the tokens and the classes; nothing of pages or canvases.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from generator.page.tokens import AIR, FINE_FLOOR, LEAST_PITCH, MOST_LETTERS, PITCH_BY_SCRIPT, SCALE, SMALL_FLOOR, SPACE
from generator.page.vocabulary import TEXTS
from generator.page.xhtml import Node
from generator.press.text import TextStyle, is_rtl

Direction = Literal["ltr", "rtl"]
Align = Literal["start", "end", "center"]


@dataclass(frozen=True, slots=True)
class Look:
    """What is inherited.

    base: the body size of the whole document, points. size: of the text here. pitch: line pitch as a factor.
    accent: colour of headings and marks. hairline: colour of rules. direction: in which columns, marks and line
    starts run. turned: the text itself runs in that direction too, against its language's own.
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

    def em(self, name: str) -> float:
        """A named space in points; the spaces between parts are wider where there is room for it."""
        wider = AIR[self.kind] if name in ("section", "block", "paragraph") else 1.0
        return SPACE[name] * self.base * wider

    def text_style(self) -> TextStyle:
        """For the text engine."""
        language = self.language.split("-")[0].lower()
        pitch = max(self.pitch * PITCH_BY_SCRIPT.get(language, 1.0), LEAST_PITCH.get(language, 0.0))
        is_read = self.size >= SMALL_FLOOR[self.kind]
        most = MOST_LETTERS.get(self.kind) if is_read else None
        return TextStyle(self.size, self.size * pitch, self.colour, self.align, self.bold, most)

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
        return replace(self, size=size, pitch=step.pitch, bold=step.bold or self.bold, colour=colour)


def first_look(kind: str, base: float, language: str) -> Look:
    """Of the body: kind is its class, base its type size in points."""
    return Look(kind, base, base, language, _own_direction(language))


def _own_direction(language: str) -> Direction:
    return "rtl" if is_rtl(language) else "ltr"


_HEADINGS = ("h1", "h2", "h3", "h4")
_BOX_TONES = {"alarm": ("ink", "alarm", "slate", "alarm-soft"), "deadline": ("white", "white", "white", "moss")}


def look_of(node: Node, outer: Look) -> Look:
    """The node's own look. Steps name absolute sizes: `small` inside `small` is not smaller."""
    look, classes = outer, node.classes
    if "lang" in node.attributes:
        language = node.get("lang")
        look = replace(look, language=language, turned=False)
        # A line in another language stands where its neighbours stand; a whole part in it is laid out its own way.
        if node.tag not in TEXTS:
            look = replace(look, direction=_own_direction(language))
    if "dir" in node.attributes:
        direction: Direction = "rtl" if node.get("dir") == "rtl" else "ltr"
        look = replace(look, direction=direction, turned=direction != _own_direction(look.language))
    if node.tag in _HEADINGS and "display" not in classes:
        look = look.step(node.tag)
    elif node.tag == "caption":
        look = look.step("h3")
    elif node.tag == "dt":
        look = replace(look, colour=look.quiet)
    elif node.tag == "th" and node.get("scope") == "col":
        look = look.step("head-cell")
    elif node.tag == "figcaption" or "gloss" in classes:
        look = replace(look.step("small"), colour=look.quiet)
    for name in ("display", "lead", "large", "small", "fine"):
        if name in classes:
            look = look.step(name)
    look = _toned(node, look)
    if "centre" in classes:
        look = replace(look, align="center")
    elif "end" in classes or "number" in classes:
        look = replace(look, align="end")
    if "caution" in classes:
        look = replace(look, bold=True, colour="alarm")
    return look


def _toned(node: Node, look: Look) -> Look:
    classes = node.classes
    if "box" in classes or "band" in classes:
        for tone, (colour, accent, quiet, hairline) in _BOX_TONES.items():
            if tone in classes:
                return replace(look, colour=colour, accent=accent, quiet=quiet, hairline=hairline)
        return look
    if "quiet" in classes:
        return replace(look, colour=look.quiet)
    for tone in ("alarm", "leaf", "ink"):
        if tone in classes:
            return replace(look, colour=tone, accent=tone)
    return look
