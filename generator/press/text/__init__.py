"""The text engine: every word on paper, in every script, goes through here.

Takes  runs of plain text, a style, a language.
Gives  `TextBlock` to place on a page, `draw_label` and `measure` for drawings, `missing_glyphs` for checking.
Knows  bidi, line breaks, shaping, fonts and their embedding; nothing of documents. Parts load when first
       asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from generator.press.text.block import Run, TextBlock, TextStyle
    from generator.press.text.coverage import missing_glyphs
    from generator.press.text.draw import draw_label, measure
    from generator.press.text.errors import MissingExtra, MissingGlyph, TooManyLines
    from generator.press.text.fonts import extra_for
    from generator.press.text.script import is_rtl

__all__ = [
    "MissingExtra",
    "MissingGlyph",
    "Run",
    "TextBlock",
    "TextStyle",
    "TooManyLines",
    "draw_label",
    "extra_for",
    "is_rtl",
    "measure",
    "missing_glyphs",
]

_HOMES = {
    "MissingExtra": "errors",
    "MissingGlyph": "errors",
    "Run": "block",
    "TextBlock": "block",
    "TextStyle": "block",
    "TooManyLines": "errors",
    "draw_label": "draw",
    "extra_for": "fonts",
    "is_rtl": "script",
    "measure": "draw",
    "missing_glyphs": "coverage",
}


def __getattr__(name: str) -> Any:
    # ReportLab takes a tenth of a second to load, and `check` needs none of it.
    if name not in _HOMES:
        raise AttributeError(name)
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
