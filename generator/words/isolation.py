"""Keep names and figures whole and in order inside text of any direction.

Takes  a name, or a stretch of digits (telephone number, measure, clock time, code).
Gives  the same text between Unicode isolates, without a place where a line could break.
Knows  which invisible characters do this; the press drops them after it has used them.
"""

from __future__ import annotations

import re

# Unicode Standard Annex 9, section 2.4 "Explicit Directional Isolates"; Annex 14, class WJ (U+2060).
LRI, FSI, PDI = "\u2066", "\u2068", "\u2069"
NO_BREAK_SPACE, WORD_JOINER = "\u00a0", "\u2060"
_HYPHENS = re.compile("[-\u2010\u2012-\u2015/]")
_FROM_RIGHT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]")
_CONTROLS = re.compile("[\u2066-\u2069\u202a-\u202e\u200e\u200f\u061c]")


def ltr(text: str) -> str:
    """Mark a stretch that reads left to right everywhere and stays on one line.

    Inside Arabic or Hebrew text a plain `(802) 555-0142` is turned, rightly by the rules, into `0142-555 (802)`:
    a number nobody can ring. Used in every language, since it also keeps `12.5 kg` from being torn apart. A word of the
    language itself, such as what stands for a.m. in Arabic, keeps its place after the figure it belongs to: there only the
    figures are marked.
    """
    whole = re.sub(r"[ \u202f\t\n]+", NO_BREAK_SPACE, _CONTROLS.sub("", text).strip())
    glued = _HYPHENS.sub(lambda found: WORD_JOINER + found[0] + WORD_JOINER, whole)
    if not _FROM_RIGHT.search(glued):
        return LRI + glued + PDI
    parts = glued.split(NO_BREAK_SPACE)
    return NO_BREAK_SPACE.join(part if _FROM_RIGHT.search(part) else LRI + part + PDI for part in parts)


def name(text: str) -> str:
    """Mark a name of a pet, person or place: its own direction, without turning the words around it."""
    return FSI + _CONTROLS.sub("", text) + PDI


def bare(text: str) -> str:
    """The text as a reader sees it: without isolates and joiners, plain spaces. For file names and comparisons."""
    return _CONTROLS.sub("", text).replace(WORD_JOINER, "").replace(NO_BREAK_SPACE, " ").replace("\u202f", " ")


# CLDR 47, list patterns, unit-short and standard: what parts two items of a list.
_COMMAS = {"ar": "، ", "fa": "، ", "ur": "، ", "zh": "、", "ja": "、"}


def comma(language: str) -> str:
    """What stands between two items of a list, with its space; a language that is not named here has `, `."""
    return _COMMAS.get(language.split("-")[0].split("_")[0], ", ")


_BESIDE_A_FIGURE = re.compile(r"(?<=\d) (?=\w)|(?<=\w) (?=\d)")


def dated(text: str) -> str:
    """A date whose figures stay on the line of the word beside them: `20` alone at the end of a line is no date.

    Not from the right: there readers that copy text out lose the space between a word and a figure unless it is a plain one.
    """
    if _FROM_RIGHT.search(text):
        return text
    return _BESIDE_A_FIGURE.sub(NO_BREAK_SPACE, text)
