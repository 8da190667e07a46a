"""Choose which font prints which character.

Takes  characters with their script, the language and the weight wanted.
Gives  faces, or the list of characters that no font at hand has.
Knows  our shipped families and where the optional package keeps Chinese, Japanese and Korean; opens nothing
       early.
"""

from __future__ import annotations

import importlib.util
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generator.press.text.errors import CJK_EXTRA
from generator.press.text.face import Face

FOLDER = Path(__file__).resolve().parents[1] / "fonts"
LATIN, SIGNS = "NotoSans", "NotoSansMath"

_FAMILY_OF_SCRIPT = {
    "Latn": LATIN,
    "Cyrl": LATIN,
    "Grek": LATIN,
    "Arab": "NotoSansArabic",
    "Hebr": "NotoSansHebrew",
    "Deva": "NotoSansDevanagari",
    "Guru": "NotoSansGurmukhi",
    "Thai": "NotoSansThai",
    "Hira": "NotoSansJP",
    "Kana": "NotoSansJP",
    "Hang": "NotoSansKR",
    "Bopo": "NotoSansTC",
}
_FAMILY_OF_LANGUAGE = {
    "ar": "NotoSansArabic",
    "fa": "NotoSansArabic",
    "ur": "NotoSansArabic",
    "he": "NotoSansHebrew",
    "hi": "NotoSansDevanagari",
    "pa": "NotoSansGurmukhi",
    "th": "NotoSansThai",
    "zh": "NotoSansSC",
    "ja": "NotoSansJP",
    "ko": "NotoSansKR",
}
_CJK = {"NotoSansSC": "sc", "NotoSansTC": "tc", "NotoSansJP": "jp", "NotoSansKR": "kr"}
_CJK_PACKAGE = "justmytype_intl_cjk"


@dataclass(frozen=True, slots=True, eq=False)
class Family:
    """Two weights of one design. Where a font has one weight only, both are the same face."""

    regular: Face
    bold: Face


@cache
def family_for_language(language: str) -> str:
    """The family that sets the bulk of a text in this language; shared code points get its letter forms."""
    subtags = language.replace("_", "-").lower().split("-")
    if subtags[0] == "zh" and ({"hant", "tw", "hk", "mo"} & set(subtags)):
        return "NotoSansTC"
    return _FAMILY_OF_LANGUAGE.get(subtags[0], LATIN)


def candidates(script: str, language: str) -> tuple[str, ...]:
    """Families to try for one character, best first: its script's, its language's, Latin and signs, the other East Asian ones.

    Western figures count as Latin, so a telephone number looks the same on every sheet.
    """
    own = family_for_language(language)
    if script == "Hani":
        first = own if own in _CJK else "NotoSansSC"
    elif script in ("Latn", "Cyrl", "Grek") and own in _CJK:
        first = own  # these fonts bring Latin letters that match
    elif script in ("Hira", "Kana") and own in _CJK:
        first = own
    else:
        first = _FAMILY_OF_SCRIPT.get(script, own)
    # None of the four has every ideograph: a Japanese name on a Korean sheet may need the Japanese one.
    others = _CJK if script in ("Hani", "Hira", "Kana", "Hang", "Bopo") else ()
    return tuple(dict.fromkeys((first, own, LATIN, SIGNS, *others)))


@cache
def family(name: str) -> Family | None:
    """The family of this name; None if it is an optional one that is not installed. No file is read yet."""
    if name in _CJK:
        folder = _cjk_folder()
        if folder is None:
            return None
        path = folder / f"notosans{_CJK[name]}" / f"{name}[wght].ttf"
        return Family(Face(f"{name}-Regular", path, 400), Face(f"{name}-Bold", path, 700))
    regular = Face(f"{name}-Regular", FOLDER / f"{name}-Regular.ttf")
    bold = regular if name == SIGNS else Face(f"{name}-Bold", FOLDER / f"{name}-Bold.ttf")
    return Family(regular, bold)


@cache
def faces(script: str, language: str, bold: bool) -> tuple[Face, ...]:
    """The installed faces among `candidates`, in the same order."""
    found = (family(name) for name in candidates(script, language))
    return tuple(each.bold if bold else each.regular for each in found if each is not None)


def extra_for(characters: set[str]) -> str | None:
    """Name the extra that would bring these characters; None if it is there already or would not help."""
    if _cjk_folder() is None and any(_is_east_asian(character) for character in characters):
        return CJK_EXTRA
    return None


def _is_east_asian(character: str) -> bool:
    code = ord(character)
    return (
        0x1100 <= code < 0x1200
        or 0x2E80 <= code < 0xD7B0
        or 0xF900 <= code < 0xFB00
        or (0xFE30 <= code < 0xFE50 or 0xFF00 <= code < 0xFFF0 or 0x20000 <= code < 0x32400)
    )


def _cjk_folder() -> Path | None:
    spec = importlib.util.find_spec(_CJK_PACKAGE)
    if spec is None or not spec.submodule_search_locations:
        return None
    return Path(spec.submodule_search_locations[0], "fonts", "ofl")
