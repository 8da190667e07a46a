"""Find where a line of text may end.

Takes  a paragraph's text and its language.
Gives  indices before which a line may break, and weaker ones for a word wider than its column.
Knows  our own rule for alphabets, UAX 14 (by `uniseg`, loaded only then) for Chinese and Japanese; never
       hyphenates.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any
from unicodedata import category

from generator.press.text.errors import CJK_EXTRA, MissingExtra
from generator.press.text.script import CONTROLS, is_mark, script_of

_IDEOGRAPHS = "[\u2e80-\u3130\u318f-\ua4cf\uf900-\ufaff\ufe30-\ufe4f\uff00-\uffef\U00020000-\U000323af]"
_THAI = re.compile("[\u0e00-\u0e7f]+")
# Days and months, which the word model tears (Tuesday is two words to it): a date must be read at a glance. CLDR 47, th.
_THAI_CALENDAR = re.compile(
    "(?:วัน)?(?:จันทร์|อังคาร|พุธ|พฤหัสบดี|ศุกร์|เสาร์|อาทิตย์)(?:ที่)?|มกราคม|กุมภาพันธ์|มีนาคม|เมษายน|พฤษภาคม|มิถุนายน|กรกฎาคม|สิงหาคม"
    "|กันยายน|ตุลาคม|พฤศจิกายน|ธันวาคม"
)
# Spaces that UAX 14 lets a line end at; the no-break ones (U+00A0, U+2007, U+202F) are not here.
_SPACES = " \t\u1680\u2000-\u2006\u2008-\u200a\u205f"
# UAX 14 LB13: never carried over to the next line, even across spaces; closing brackets are found by their
# category.
_CLOSING = frozenset("!?:;,./\u060c\u061b\u061f\u06d4\u0964\u0965\u2024\u2026\u203c\u203d\u17d6%\u2030")
# LB14: never left behind; opening brackets are found by their category.
_OPENING = frozenset("\u00a1\u00bf")
_GLUE = frozenset("\u00a0\u2007\u202f\u2011\u2060\ufeff")
_SPACES_AND_FEED = frozenset(" \t\n\u200b")
_PLAIN = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789")
_SIMPLE = re.compile(
    f"[{_SPACES}]*\u200b+|[{_SPACES}]+"
    # Between two letters only: `post-op`, never `555-0142`, `-5` or `3-4`; LB21a: not after a Hebrew one.
    "|(?<=[^\\W\\d_\u0590-\u05ff])[-\u2010](?=[^\\W\\d_])"
    "|(?<=[^\\W\\d_])[\u2013\u2014](?=[^\\W\\d_])"
)
# Second choice, for what is wider than its column: after the joints of addresses, numbers and compound words.
_JOINTS = re.compile("[\u00a0\u202f@/._:,;=&?+\u2010\u2011\u2013\u2014-]+\u2060*(?=[^\u00a0\u202f])")
# Signs that belong to the letter after them: Thai vowels written in front, and every virama-like joiner.
_LEADING = frozenset("\u0e40\u0e41\u0e42\u0e43\u0e44")
_FOLLOWING = frozenset("\u0e30\u0e32\u0e33\u0e45\u0e46")
_VIRAMAS = frozenset("\u094d\u0a4d\u0e3a")


def opportunities(text: str, language: str) -> list[int]:
    """Indices before which a line may break, ascending; after a line feed always, never 0 or the end.

    Raises:
        MissingExtra: the text is Chinese or Japanese and `uniseg` is not installed.
    """
    ascii_only = text.isascii()
    # The set of ideographs is slow to compile, and nearly every text ends before its first character.
    if not ascii_only and max(text) >= "\u2e80" and not _is_korean(language) and re.search(_IDEOGRAPHS, text):
        found = {place for place in _uax14()(text) if not _both_hangul(text, place)}
    else:
        # Korean may break inside any word by UAX 14; readers of a sheet are better served by whole words.
        found = {match.end() for match in _SIMPLE.finditer(text) if _separates(text, match)}
    if "\n" in text:
        found |= {place + 1 for place, character in enumerate(text) if character == "\n"}
    if not ascii_only and "\u200b" not in text:  # where a translator has marked the words, the mark is the whole truth
        for match in _THAI.finditer(text):
            found |= {match.start() + place for place in _thai_words(match.group())}
    return sorted(found - {0, len(text)})


def _is_korean(language: str) -> bool:
    return language.split("-")[0].lower() == "ko"


def joints(text: str, start: int, stop: int) -> list[int]:
    """Second choice inside a word too wide for its column: after a hyphen, a dot, a no-break space."""
    return [m.end() for m in _JOINTS.finditer(text, start, stop) if start < m.end() < stop]


def cluster_starts(text: str, start: int, stop: int) -> list[int]:
    """Last choice: indices inside a word where no letter is parted from its marks."""
    return [place for place in range(start + 1, stop) if _may_part(text, place)]


def _may_part(text: str, place: int) -> bool:
    before, after = text[place - 1], text[place]
    if is_mark(after) or after in CONTROLS or after in _FOLLOWING:
        return False
    return not (before in _VIRAMAS or before in "\u200d\u2060" or before in _LEADING)


def _separates(text: str, match: re.Match[str]) -> bool:
    """Whether a line may end after these spaces: not before what closes, after what opens, beside glue."""
    start, end = match.span()
    if end == len(text):
        return False
    if start and text[end] in _PLAIN and text[start - 1] in _PLAIN and text[start] == " ":
        return True  # what follows would say so too; most spaces stand between two letters
    if "\u200b" in match.group():
        return text[end] not in _SPACES_AND_FEED
    before = start - 1
    while before >= 0 and is_mark(text[before]):
        before -= 1
    left, right = text[before] if before >= 0 else "", text[end]
    if right in _SPACES_AND_FEED or right in _CLOSING or right in _GLUE or category(right) == "Pe":
        return False
    if left and (left in _OPENING or category(left) == "Ps"):
        return False
    quoted = left in ("'", '"') or (left and category(left) in ("Pi", "Pf"))
    return not (quoted and category(right) == "Ps") and not left == right == "\u2014"  # LB15, LB17


def _both_hangul(text: str, place: int) -> bool:
    return 0 < place < len(text) and script_of(text[place - 1]) == "Hang" == script_of(text[place])


@cache
def _uax14() -> Callable[[str], Any]:
    try:
        from uniseg.linebreak import line_break_boundaries
    except ImportError as error:
        raise MissingExtra("uniseg", "breaking lines of Chinese or Japanese", CJK_EXTRA) from error
    return line_break_boundaries  # type: ignore[no-any-return]


@cache
def _thai_parser() -> Any:
    try:
        import budoux
    except ImportError:
        return None
    return budoux.load_default_thai_parser()


@lru_cache(maxsize=1024)
def _thai_words(text: str) -> tuple[int, ...]:
    """Word starts inside a stretch of Thai; none without `budoux`: only the catalogue's marks break it."""
    parser = _thai_parser()
    if parser is None or len(text) < 2:
        return ()
    whole = [match.span() for match in _THAI_CALENDAR.finditer(text)]
    starts, place = [], 0
    for word in parser.parse(text)[:-1]:
        place += len(word)
        if _may_part(text, place) and not any(start < place < stop for start, stop in whole):
            starts.append(place)
    return tuple(starts)
