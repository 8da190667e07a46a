"""The words of one language: English sentences in, that language's sentences out.

Takes  the text of a catalogue and the ledger of signatures.
Gives  `Words`: each message with its language and whether it is signed, a draft, or missing.
Knows  gettext's messages, contexts and plural forms; nothing of files. English is the source and needs no catalogue.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

from generator.source.problem import Problem
from generator.source.span import Span
from generator.words import fields, po, signoff
from generator.words.fields import Text

SOURCE_LANGUAGE = "en"


@dataclass(frozen=True, slots=True)
class Said:
    """A message as it will be printed.

    text: with its fields still in braces. language: BCP 47 tag of `text` itself. source: the English sentence.
    is_draft: translated, but not signed by two people. is_missing: no translation; `text` is the whole English item.
    span: the line of the catalogue, where there is one.
    """

    text: str
    language: str
    source: str
    is_draft: bool = False
    is_missing: bool = False
    span: Span | None = None

    @property
    def parts(self) -> Text:
        """The text as literal stretches and fields."""
        return fields.parse(self.text)

    @property
    def is_signed(self) -> bool:
        """Fit to stand alone on paper: English, or signed."""
        return not (self.is_draft or self.is_missing)


class _Noted(Mapping[tuple[str | None, str], po.Entry]):
    """Entries that remember which of them were asked for."""

    def __init__(self, entries: Mapping[tuple[str | None, str], po.Entry], seen: set[tuple[str | None, str]]) -> None:
        self._entries = entries
        self._seen = seen

    def __getitem__(self, key: tuple[str | None, str]) -> po.Entry:
        self._seen.add(key)
        return self._entries[key]

    def __iter__(self) -> Iterator[tuple[str | None, str]]:
        return iter(self._entries)

    def __len__(self) -> int:
        return len(self._entries)


@dataclass(frozen=True, slots=True)
class Words:
    """All messages of one language. `problems` holds what could not be read; `catalogue_language` is what signatures name."""

    language: str
    problems: tuple[Problem, ...] = ()
    catalogue_language: str = ""
    _entries: Mapping[tuple[str | None, str], po.Entry] = field(default_factory=dict)
    _ledger: signoff.Ledger = field(default_factory=lambda: signoff.NOBODY)
    _form: Callable[[int], int] | None = None
    _below: Words | None = None

    @property
    def is_source(self) -> bool:
        """Whether this is English, which is never looked up."""
        return self.language.split("-")[0] == SOURCE_LANGUAGE

    def say(self, message: str, context: str | None = None) -> Said:
        """One message. A message that is missing, or whose fields differ, falls back to English as a whole."""
        if self.is_source or not fields.has_words(message):
            return Said(message, self.language, message)
        entry = self._entry(message, context)
        if entry is None or entry.plural is not None:
            return self._below.say(message, context) if self._below else self._missing(message)
        return self._said(entry, entry.translations[0], message)

    def plural(self, one: str, many: str, n: int, context: str | None = None) -> Said:
        """The message for a count of things.

        Args:
            one, many: the English forms; English says `one` for 1 only.
            n: the count, 0 or more; it chooses the form and is filled in by the caller.
        """
        source = one if n == 1 else many
        if self.is_source:
            return Said(source, self.language, source)
        entry = self._entry(one, context)
        index = self._form(n) if self._form is not None else -1
        if entry is None or entry.plural != many or not 0 <= index < len(entry.translations):
            return self._below.plural(one, many, n, context) if self._below else self._missing(source)
        return self._said(entry, entry.translations[index], source)

    def has(self, message: str, context: str | None = None) -> bool:
        """Whether a sound translation exists, or none is needed."""
        if self.is_source or not fields.has_words(message) or self._entry(message, context) is not None:
            return True
        return self._below is not None and self._below.has(message, context)

    def over(self, below: Words) -> Words:
        """These words, and for what they lack those of another catalogue: a clinic's own over the shipped ones.

        Raises:
            ValueError: the other catalogue is of another language.
        """
        if below.language != self.language:
            raise ValueError(f"words in {self.language} cannot stand over words in {below.language}")
        return replace(self, problems=(*self.problems, *below.problems), _below=below)

    def noting(self, seen: set[tuple[str | None, str]]) -> Words:
        """These words, which write down the key of every message that is asked for."""
        below = self._below.noting(seen) if self._below is not None else None
        return replace(self, _entries=_Noted(self._entries, seen), _below=below)

    def _entry(self, message: str, context: str | None) -> po.Entry | None:
        entry = self._entries.get((context, message))
        if entry is None or not entry.is_translated or "fuzzy" in entry.flags:
            return None
        wanted = fields.names(entry.plural or entry.source)
        return entry if all(fields.names(text) == wanted for text in entry.translations) else None

    def _said(self, entry: po.Entry, text: str, source: str) -> Said:
        is_draft = signoff.signature_of(self._ledger, self.catalogue_language, entry) is None
        return Said(text, self.language, source, is_draft=is_draft, span=entry.span)

    def _missing(self, source: str) -> Said:
        return Said(source, SOURCE_LANGUAGE, source, is_missing=True)


def load_words(
    language: str, po_text: str | None = None, ledger: Mapping[str, Any] = signoff.NOBODY, file: str = "owner.po"
) -> Words:
    """Make the words of a language.

    Args:
        language: BCP 47 tag. English ignores the other arguments.
        po_text: the catalogue, or None where the language has none: everything then falls back to English.
        ledger: signatures, from `signoff.read_ledger`, or the rows of `signed.json` as they stand: unsound rows sign nothing.
        file: the catalogue's name, for problems.
    """
    if po_text is None or language.split("-")[0] == SOURCE_LANGUAGE:
        return Words(language)
    catalogue = po.read(po_text, file)
    signed, unsound = signoff.sound(ledger, file)
    form = plural_rule(catalogue.header.get("Plural-Forms", ""))
    # A catalogue of `es` also serves `es-MX`; its signatures name the language it was written for.
    written_for = catalogue.header.get("Language", language)
    entries = MappingProxyType({entry.key: entry for entry in catalogue.entries})
    return Words(language, (*catalogue.problems, *unsound), written_for, entries, signed, form[1] if form else None)


def plural_rule(header: str) -> tuple[int, Callable[[int], int]] | None:
    """Read `nplurals=2; plural=(n != 1);`: the number of forms and the function from count to form; None if unreadable."""
    import re
    from gettext import c2py

    found = re.fullmatch(r"\s*nplurals\s*=\s*(\d+)\s*;\s*plural\s*=\s*([^;]+?)\s*;?\s*", header)
    if found is None:
        return None
    try:
        return int(found[1]), c2py(found[2])
    except ValueError:
        return None
