"""Say in which script a character is written; which way a language runs is `page/direction.py`'s.

Takes  one character.
Gives  an ISO 15924 code (`Latn`, `Arab`), or None where a character belongs to every script.
Knows  the blocks of the scripts we print; nothing of fonts.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_right
from functools import lru_cache

from generator.page.direction import is_rtl

__all__ = ["CONTROLS", "JOINERS", "is_mark", "is_rtl", "script_of"]

# First and last code point, script: the blocks of the Unicode Standard, chapter by chapter, cut to what we
# print and to what a name may hold. Letters of a block that is missing here count as "Zyyy" and find no font.
_BLOCKS = (
    (0x0041, 0x024F, "Latn"), (0x0250, 0x02AF, "Latn"), (0x0370, 0x03FF, "Grek"), (0x0400, 0x052F, "Cyrl"),
    (0x0590, 0x05FF, "Hebr"), (0x0600, 0x06FF, "Arab"), (0x0750, 0x077F, "Arab"), (0x08A0, 0x08FF, "Arab"),
    (0x0900, 0x097F, "Deva"), (0x0A00, 0x0A7F, "Guru"), (0x0E00, 0x0E7F, "Thai"), (0x1100, 0x11FF, "Hang"),
    (0x1E00, 0x1EFF, "Latn"), (0x2E80, 0x2FDF, "Hani"), (0x3005, 0x3007, "Hani"), (0x3021, 0x3029, "Hani"),
    (0x3041, 0x309F, "Hira"), (0x30A1, 0x30FF, "Kana"), (0x3105, 0x312F, "Bopo"), (0x3131, 0x318E, "Hang"),
    (0x31A0, 0x31BF, "Bopo"), (0x31F0, 0x31FF, "Kana"), (0x3400, 0x4DBF, "Hani"), (0x4E00, 0x9FFF, "Hani"),
    (0xA8E0, 0xA8FF, "Deva"), (0xAC00, 0xD7A3, "Hang"), (0xF900, 0xFAFF, "Hani"), (0xFB1D, 0xFB4F, "Hebr"),
    (0xFB50, 0xFDFF, "Arab"), (0xFE70, 0xFEFC, "Arab"), (0xFF21, 0xFF5A, "Latn"), (0xFF66, 0xFF9D, "Kana"),
    (0x20000, 0x323AF, "Hani"),
)  # fmt: skip
_FIRST = [first for first, _, _ in _BLOCKS]

# Stand inside a script's block, yet are used by its neighbours too (Scripts.txt says Common or Inherited).
_SHARED = frozenset("\u060c\u061b\u061f\u0640\u0964\u0965\u30fb\u30fc")

# Letters, marks that never leave their script, and its own digits; Western digits and signs stand in no block
# above.
_KINDS = ("L", "Mc", "Nd")

# What says how text runs or breaks and is never itself a glyph. ZWJ and ZWNJ are not here: they shape
# letters.
CONTROLS = frozenset("\u00ad\u061c\u200b\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\u2066\u2067\u2068\u2069\ufeff")
JOINERS = frozenset("\u200c\u200d")


@lru_cache(maxsize=4096)
def script_of(character: str) -> str | None:
    """Script of one character; None for what every script shares (spaces, digits, signs, most marks)."""
    if character in _SHARED or not unicodedata.category(character).startswith(_KINDS):
        return None
    place = bisect_right(_FIRST, ord(character)) - 1
    if place >= 0 and ord(character) <= _BLOCKS[place][1]:
        return _BLOCKS[place][2]
    return None if ord(character) < 0x370 else "Zyyy"  # modifier letters go with any Latin or Cyrillic


def is_mark(character: str) -> bool:
    """True for what sits on the letter before it: combining marks, joiners, variation selectors."""
    # U+0300 is the first of them (Unicode, Combining Diacritical Marks), and most letters asked about come before it.
    return character >= "\u0300" and (character in JOINERS or unicodedata.category(character)[0] == "M")
