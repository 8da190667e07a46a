"""STOP lines translated back into English, by somebody who had not seen them in English.

Takes  the text of `back-translation.yaml`, which stands beside the catalogue; the catalogue's messages.
Gives  its rows with their places; a problem for each STOP line that no row speaks for.
Knows  that this is one check of meaning, and never the revision by a qualified person (ISO 17100:2015).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.source.problem import Problem
from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Entries, Items, Node, Scalar
from generator.words import signoff
from generator.words.extract import Message
from generator.words.po import Entry

KEYS = ("english", "translation", "back", "verdict", "by")
VERDICTS = ("same", "mended", "differs")
_WHY = "a line whose meaning has turned round reads as smoothly as any other"
_ROW = "write each row with `english`, `translation`, `back`, `verdict` (same, mended or differs) and `by` (a role)"


@dataclass(frozen=True, slots=True)
class BackTranslation:
    """One line translated back.

    english, translation: as they stood. back: the translation in English again. verdict: `same` meaning, `mended` (it
    was not, and `translation` is the better one that was written then), or `differs`. by: a role, such as "clinician".
    """

    english: str
    translation: str
    back: str
    verdict: str
    by: str
    span: Span

    @property
    def is_by_clinician(self) -> bool:
        """Whether somebody answers for it who knows what the line is for."""
        return re.search(r"\b(clinician|veterinarian)s?\b", self.by, re.IGNORECASE) is not None

    def is_about(self, entry: Entry) -> bool:
        """Whether it speaks of these very words, blanks and unseen characters apart."""
        return self.english == entry.source and bare(self.translation) in map(bare, entry.translations)


def bare(text: str) -> str:
    """A text without what nobody sees: blanks of any kind and number count as one. YAML cannot hold some of them."""
    return " ".join(re.sub("[\u200b\u2060]", "", unicodedata.normalize("NFC", text)).split())


def read_back_translations(text: str, file: str) -> tuple[tuple[BackTranslation, ...], tuple[Problem, ...]]:
    """Read the rows; one that is not sound speaks for nothing and becomes a problem, the others hold."""
    reading = read_tree(text.encode("utf-8"), file)
    if reading.tree is None:
        # A file begun and not filled in says the same as none.
        return (), tuple(problem for problem in reading.problems if problem.name != "empty-file")
    problems = [*reading.problems]
    if not isinstance(reading.tree, Items):
        return (), (*problems, _unsound(Span(file, 1, 1), "the file is no list of rows", _ROW))
    rows = []
    for node in reading.tree.items:
        faults = tuple(_faults(node))
        problems += faults
        if not faults and isinstance(node, Entries):
            values = {key.text: value.text for key, value in node.entries if isinstance(value, Scalar)}
            span = next(value.span for key, value in node.entries if key.text == "english")
            rows.append(BackTranslation(span=span, **{key: values[key] for key in KEYS}))
    return tuple(rows), tuple(problems)


def _faults(node: Node) -> Iterator[Problem]:
    if not isinstance(node, Entries):
        yield _unsound(node.span, "this is no row of a back-translation", _ROW)
        return
    for key, value in node.entries:
        if key.text not in KEYS:
            yield _unsound(key.span, f"a row has no key `{key.text}`", _ROW)
        elif not isinstance(value, Scalar) or value.is_empty or not value.text.strip():
            yield _unsound(key.span, f"`{key.text}` says nothing", _ROW)
        elif key.text == "verdict" and value.text not in VERDICTS:
            yield _unsound(value.span, f"`{value.text}` is no verdict", "write `same`, `mended` or `differs`")
    if missing := [key for key in KEYS if node.get(key) is None]:
        yield _unsound(node.span, f"the row has no {', '.join(f'`{key}`' for key in missing)}", _ROW)


def check_back_translations(
    rows: Sequence[BackTranslation],
    stops: Iterable[Message],
    entries: Mapping[tuple[str | None, str], Entry],
    ledger: signoff.Ledger,
    language: str,
    messages: Iterable[Message],
) -> Iterator[Problem]:
    """What the rows do not speak for.

    Args:
        stops: the STOP lines that this catalogue should hold. entries: the catalogue's, by context and English.
        messages: everything that is said, to tell a row that nobody needs any more.
    """
    for message in stops:
        entry = entries.get(message.key)
        if entry is None or not entry.is_translated:
            continue  # told as a translation that is missing
        found = about(rows, entry)
        if found:
            yield from _judged(found, entry, ledger, language)
            continue
        old = next((row for row in reversed(rows) if row.english == entry.source), None)
        if old is not None:
            yield Problem(
                "back-translation-stale",
                old.span,
                f"the translation of `{entry.source}` has changed since it was translated back",
                _WHY,
                "have the new words translated back, and write a row for them",
                "warning",
                ((entry.span, "the new words stand here"),),
            )
        else:
            yield Problem(
                "back-translation-missing",
                entry.span,
                f"nobody has translated `{entry.source}` back into English",
                _WHY,
                "have somebody who has not seen the English say in English what this means, and write a row in back-translation.yaml",
                "warning",
            )
    said = {message.source for message in messages}
    for row in rows:
        if row.english not in said:
            yield Problem(
                "back-translation-unused",
                row.span,
                f"nothing says `{row.english}` any more",
                "a row for a line that is gone hides which lines still need one",
                "delete the row, or write the English as it stands in the catalogue",
                "warning",
            )


def about(rows: Iterable[BackTranslation], entry: Entry) -> tuple[BackTranslation, ...]:
    """The rows that speak of these very words, in the order they were written."""
    return tuple(row for row in rows if row.is_about(entry))


def _judged(found: Sequence[BackTranslation], entry: Entry, ledger: signoff.Ledger, language: str) -> Iterator[Problem]:
    if found[-1].verdict == "differs":  # the last word counts
        yield Problem(
            "back-translation-differs",
            found[-1].span,
            f"`{entry.source}` came back as `{found[-1].back}`",
            "the owner would do something else than is meant",
            "mend the translation, have it translated back again, and write a new row below",
            also=((entry.span, "the words stand here"),),
        )
    elif not any(row.is_by_clinician for row in found) and signoff.signature_of(ledger, language, entry) is not None:
        yield Problem(
            "back-translation-not-judged",
            found[-1].span,
            f"`{entry.source}` is signed, and no clinician has judged what it says",
            "it prints without the clinic's own words beneath it, so nobody at discharge would notice a wrong one",
            "have a clinician compare English and back-translation, and write a row with `by: clinician`",
            "warning",
        )


def _unsound(span: Span, what: str, fix: str) -> Problem:
    return Problem("back-translation-unsound", span, what, "a line could pass for checked that nobody has checked", fix)
