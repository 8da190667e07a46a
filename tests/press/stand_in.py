"""Stand-in catalogues, so that the press can print sheets in every script before the catalogues are written.

Takes  a language of `tests/press/text/lines.py` and whether its words shall count as signed.
Gives  `stand_in`: `Words` in which every message of an owner's sheet says as much as a translation would, in real words
       of that language and in no sense at all.
Knows  how much longer or shorter a language runs than English. NOT TRANSLATIONS: nothing here is ever shipped, and the
       two people who sign exist in this file only.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import cache
from itertools import cycle, islice
from types import MappingProxyType

from generator.source.span import Span
from generator.source.text import read_tree
from generator.words import extract, fields, po, signoff, update
from generator.words.catalogue import Words, load_words
from tests.compose.plans import ROOT
from tests.press.text.lines import ISLAND, LINES

# Length of a translation in parts of the English, in characters: a Latin, Cyrillic, Indic or Arabic sentence of this size
# grows by about a third (IBM Globalization guidelines: 30 to 50 % for texts of 50 characters and more), Chinese, Japanese
# and Korean need about half the characters. Thai writes no spaces.
GROWTH = MappingProxyType(
    {**dict.fromkeys(LINES, 1.3), **dict.fromkeys(("zh-Hans", "zh-Hant", "ja", "ko"), 0.5), "th": 1.1}
)
_SIGNED = signoff.Signature("First Stand-In", "Second Stand-In", "none: a test", date(2027, 1, 2))
# The script's own stops and commas, for they break lines by rules of their own.
_STOPS = MappingProxyType({
    **dict.fromkeys(("zh-Hans", "zh-Hant"), str.maketrans(".,:?", "。，：？")), "ja": str.maketrans(".,:?", "。、：？"),
    **dict.fromkeys(("hi", "pa"), str.maketrans(".", "।")), **dict.fromkeys(("ar", "fa"), str.maketrans(",?", "،؟")),
    "ur": str.maketrans(".,?", "۔،؟"), "th": str.maketrans("", "", "."),
})  # fmt: skip
_STOP = re.compile(r"(\s*[^\w\s'’-]+\s*)")


@cache
def messages() -> tuple[extract.Message, ...]:
    """Every message that an owner's sheet of the demo book may say."""
    phrases = "generator/compose/phrases.py"
    found = [*extract.from_phrases((ROOT / phrases).read_text(encoding="utf-8"), phrases)]
    for path in sorted((ROOT / "templates").glob("*.j2")):
        found += extract.from_template(path.read_text(encoding="utf-8"), path.name)
    trees = {path.name: read_tree(path.read_bytes(), path.name).tree for path in (ROOT / "protocols").glob("*.yaml")}
    return extract.merged([*found, *extract.from_book({name: tree for name, tree in trees.items() if tree})])


@cache
def signed_words(language: str, signed: bool) -> Words | None:
    """The shipped words of a language, as they are or as if two people had signed them; None where none are shipped."""
    file = ROOT / "locales" / language.replace("-", "_") / "owner.po"
    if not file.exists():
        return None
    text, ledger = file.read_text(encoding="utf-8"), signoff.NOBODY
    if signed:
        for entry in po.read(text, file.name).entries:
            ledger = signoff.sign(ledger, language, entry, _SIGNED)
    return load_words(language, text, ledger, file.name)


@cache
def stand_in(language: str, signed: bool) -> Words:
    """The words of a language; English is itself."""
    if language == "en":
        return load_words("en")
    entries = []
    for number, message in enumerate(messages()):
        assert message.plural is None, "make the forms of a plural here before the first message has one"
        said = in_words_of(language, message.source, number)
        entries.append(po.Entry(message.source, (said,), Span("stand-in"), message.context))
    ledger = signoff.NOBODY
    if signed:
        ledger = {signoff.digest(language, entry): _SIGNED for entry in entries}
    catalogue = po.Catalogue(
        "stand-in", {**update.HEADER, "Language": language}, Span("stand-in"), ("Stand-in.",), tuple(entries)
    )
    return load_words(language, po.write(catalogue), ledger)


def in_words_of(language: str, message: str, start: int = 0) -> str:
    """A message with its fields in place and all else replaced by words of a language.

    Args:
        start: the word of the language's line to begin with.
    """
    out = ""
    for part in fields.parse(message):
        if isinstance(part, fields.Field):
            out += str(part)
            continue
        # Between the stops of a sentence; the spaces beside a field stay.
        for index, stretch in enumerate(_STOP.split(part)):
            words = stretch.strip()
            if index % 2 or not words:
                out += _squeezed(language, stretch.translate(_STOPS.get(language, {})))
                continue
            ahead, behind = stretch[: len(stretch) - len(stretch.lstrip())], stretch[len(stretch.rstrip()) :]
            out += _squeezed(language, ahead) + _said(language, len(words), start) + _squeezed(language, behind)
    return out[:1].upper() + out[1:] if not out.startswith("{") else out


def _squeezed(language: str, stop: str) -> str:
    """A script without spaces needs none beside a stop or a field."""
    return stop.strip() if language in ("zh-Hans", "zh-Hant", "ja") else stop


def _said(language: str, letters: int, start: int) -> str:
    """Words of a language, together about as long as so many letters of English become."""
    wanted = max(1, round(letters * GROWTH[language]))
    words = _words(language)
    if language in ("zh-Hans", "zh-Hant", "ja"):
        return "".join(islice(cycle(words), start % len(words), start % len(words) + wanted))
    # Thai puts a space between phrases only.
    gap = "" if language == "th" else " "
    said: list[str] = []
    endless: Iterator[str] = islice(cycle(words), start % len(words), None)
    while (room := wanted - len(gap.join(said)) - (len(gap) if said else 0)) > 1 or not said:
        # The next word that does not overshoot, or the shortest where all do.
        fitting = [word for word in words if len(word) <= room + 2]
        word = next(w for w in endless if w in fitting) if fitting else min(words, key=len)
        said.append(word)
    if language == "th":
        return " ".join("".join(said[at : at + 4]) for at in range(0, len(said), 4))
    return " ".join(said)


@cache
def _words(language: str) -> tuple[str, ...]:
    """The words of a language's line; of Chinese and Japanese its characters."""
    line = LINES[language].replace(ISLAND, " ")
    if language in ("zh-Hans", "zh-Hant", "ja"):
        return tuple(letter for letter in line if letter.isalpha())
    bare = (
        re.sub(r"^[\W\d_]+|[^\w\u0300-\u0dff\u0e00-\u0e7f]+$|[।-॥]+$", "", word)
        for word in re.split(r"[\s\u200b]+", line)
    )
    return tuple(word for word in bare if any(letter.isalpha() for letter in word))
