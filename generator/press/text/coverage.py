"""Ask whether a text can be printed, without printing it.

Takes  a text and its language.
Gives  the characters that would be missing on paper.
Knows  what `runs.py` knows; loads no PDF library, so that checking stays quick.
"""

from __future__ import annotations

from generator.press.text.errors import MissingGlyph
from generator.press.text.runs import Piece, see_faces


def missing_glyphs(text: str, language: str) -> tuple[str, ...]:
    """Characters that no font at hand has in either weight, in code point order; empty if all is well.

    Raises:
        MissingExtra: Chinese or Japanese text whose fonts are there but whose line breaker is not.
    """
    missing: set[str] = set()
    for bold in (False, True):
        try:
            see_faces(Piece(text, bold, language), language)
        except MissingGlyph as error:
            missing |= {character for character, _ in error.missing}
    return tuple(sorted(missing))
