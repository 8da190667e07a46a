"""What a machine can know of a language without reading it: its script, and what it is called.

Takes  nothing: these are tables.
Gives  the scripts of a language; the name of a language in a language.
Knows  no word of any sentence: those of a language stand in its `glossary.yaml`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from generator.words.local import Local, UnknownLanguageError, cldr_name, fact

# First word of a letter's Unicode name, by language; every other language is written in Latin letters.
_SCRIPTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    dict.fromkeys(("ru", "uk", "bg", "sr"), ("CYRILLIC",))
    | dict.fromkeys(("ar", "fa", "ur", "ps", "ckb"), ("ARABIC",))
    | dict.fromkeys(("hi", "ne", "mr"), ("DEVANAGARI",))
    | {
        "he": ("HEBREW",), "pa": ("GURMUKHI",), "th": ("THAI",), "el": ("GREEK",), "ko": ("HANGUL",), "zh": ("CJK",),
        "ja": ("CJK", "HIRAGANA", "KATAKANA", "KATAKANA-HIRAGANA"), "am": ("ETHIOPIC",), "ti": ("ETHIOPIC",),
        "my": ("MYANMAR",), "km": ("KHMER",), "lo": ("LAO",), "bn": ("BENGALI",), "hy": ("ARMENIAN",), "ka": ("GEORGIAN",),
    }
)  # fmt: skip


def scripts(language: str) -> tuple[str, ...]:
    """The scripts a language is written in, as the first word of its letters' Unicode names."""
    return _SCRIPTS.get(language.split("-")[0], ("LATIN",))


# Names in English and Haitian Creole, which are written without CLDR (see `words/calendars.py`); the latter from memory.
_NAMES: Mapping[str, Mapping[str, str]] = MappingProxyType({
    "en": {"en": "English", "es": "Spanish", "ht": "Haitian Creole", "vi": "Vietnamese", "ar": "Arabic", "fr": "French"},
    "ht": {"en": "angle", "es": "panyòl", "ht": "kreyòl ayisyen", "vi": "vyetnamyen", "ar": "arab", "fr": "franse"},
})  # fmt: skip


def language_name(tag: str, local: Local) -> str:
    """The name of a language as a reader calls it: `inglés`; the tag itself where no name is known."""
    own = _NAMES.get(local.base)
    if own is not None and tag in own:
        return own[tag]
    if local.base == "ht":
        return tag
    try:
        names = fact(cldr_name(local.language, local.territory), "languages")
    except UnknownLanguageError:
        return tag
    return str(names.get(tag.replace("-", "_")) or names.get(tag.split("-")[0]) or tag)


def own_name(tag: str) -> str:
    """The name a language gives itself, first letter as in a heading: `Español`, `Tiếng Việt`."""
    name = language_name(tag, Local(tag, "001"))
    return name[:1].upper() + name[1:]
