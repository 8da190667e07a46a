"""What a machine can know of a language without reading it: its script, its words for not, left and right.

Takes  nothing: these are tables.
Gives  patterns for `words/check.py`; the name of a language in a language.
Knows  single words only, from memory; a match is a reason to look, never a proof of sense.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True)
class Signals:
    """Patterns for words of one language that must not get lost: negation, left side, right side."""

    negation: re.Pattern[str]
    left: re.Pattern[str]
    right: re.Pattern[str]


def _words(*forms: str) -> re.Pattern[str]:
    """Any of these as whole words; for languages without spaces, anywhere."""
    spaced = [form for form in forms if not form.startswith("~")]
    inside = [form[1:] for form in forms if form.startswith("~")]
    parts = ([rf"\b(?:{'|'.join(spaced)})\b"] if spaced else []) + inside
    return re.compile("|".join(parts), re.IGNORECASE)


# English `right` and `left` are sides only before a part of the body: "right" is also "correct", "left" also "gone".
_SIDE = r"(?=(?:\s+\w+){0,2}\s+(?:legs?|limbs?|foot|feet|paws?|ears?|eyes?|sides?|shoulders?|hips?|elbows?)\b)"

_SIGNALS: Mapping[str, Signals] = MappingProxyType({
    "en": Signals(_words(r"not|never|no|cannot|nor|neither|none|nothing|nobody|without|\w+n['’]t"), _words(rf"left{_SIDE}"), _words(rf"right{_SIDE}")),
    "es": Signals(_words("no|nunca|jamás|ni|sin|nada|nadie|ning[uú]n[oa]?"), _words("izquierd[oa]s?"), _words("derech[oa]s?")),
    "pt": Signals(_words("não|nunca|jamais|nem|sem|nada|ninguém|nenhuma?"), _words("esquerd[oa]s?"), _words("direit[oa]s?")),
    "fr": Signals(_words("ne|n|pas|jamais|ni|sans|aucune?|rien|personne"), _words("gauches?"), _words("droite?s?")),
    "it": Signals(_words("non|mai|né|senza|nessun[oa]?|niente"), _words("sinistr[aoie]"), _words("destr[aoie]")),
    "de": Signals(_words("nicht|nie|niemals|kein(?:e[mnrs]?)?|ohne|weder|nichts"), _words("links?|linke[mnrs]?"), _words("rechts?|rechte[mnrs]?")),
    "ht": Signals(_words("pa|janm|san|okenn|anyen"), _words("gòch"), _words("dwat")),
    "pl": Signals(_words(r"nie\w*|nigdy|bez|żaden|żadn\w+|nic"), _words(r"lew\w+"), _words(r"praw(?:y|a|e|ego|ej|ym|ą)")),
    "ru": Signals(_words(r"не|нет|никогда|нельзя|без|ни|ничего"), _words(r"лев\w+"), _words(r"прав(?:ый|ая|ое|ой|ую|ого|ом|ым)")),
    "uk": Signals(_words(r"не|немає|ніколи|без|ні|нічого"), _words(r"лів\w+"), _words(r"прав(?:ий|а|е|ої|у|ого|ому|ій)")),
    "vi": Signals(_words("không|đừng|chớ|chưa|chẳng"), _words("trái"), _words("(?:bên|trước|sau) phải")),
    "zh": Signals(_words("~[不勿别別没沒未无無非]"), _words("~左"), _words("~右")),
    "ar": Signals(_words("لا|لن|لم|ليس|ليست|غير|بدون|دون|أبدا|أبدًا|عدم"), _words(r"(?:ال)?يسرى|(?:ال)?أيسر"), _words(r"(?:ال)?يمنى|(?:ال)?أيمن")),
})  # fmt: skip


def signals(language: str) -> Signals | None:
    """The patterns of a language, or None where nobody has written them down yet."""
    return _SIGNALS.get(language.split("-")[0])


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
