"""Bring a catalogue up to date with the sentences there are now.

Takes  a catalogue as it stands, and the messages extracted.
Gives  a catalogue that holds exactly those messages.
Knows  that a changed sentence is a new one: an old translation is never carried over to other words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from generator.source.span import Span
from generator.words.extract import Message, Place
from generator.words.po import Catalogue, Entry

# No date of making: it would change with every run and hide what did change.
HEADER: Mapping[str, str] = MappingProxyType({
    "Project-Id-Version": "gauzeleaf",
    "MIME-Version": "1.0",
    "Content-Type": "text/plain; charset=UTF-8",
    "Content-Transfer-Encoding": "8bit",
})  # fmt: skip


def empty(language: str, plural_forms: str, file: str, opening: Iterable[str] = ()) -> Catalogue:
    """A catalogue without messages. plural_forms: `nplurals=2; plural=(n != 1);`, stated by each catalogue itself."""
    header = {**HEADER, "Language": language, "Plural-Forms": plural_forms}
    return Catalogue(file, header, Span(file, 1, 1), tuple(opening), ())


def updated(catalogue: Catalogue, messages: Iterable[Message], forms: int) -> Catalogue:
    """The catalogue with these messages, in their order: known ones keep their words, new ones are empty, others go.

    Args:
        forms: number of plural forms, from the catalogue's header.
    """
    known = {entry.key: entry for entry in catalogue.entries}
    entries = []
    for message in messages:
        old = known.get(message.key)
        same = old is not None and old.plural == message.plural
        blank = ("",) * (forms if message.plural is not None else 1)
        entries.append(
            Entry(
                message.source,
                old.translations if old is not None and same else blank,
                Span(catalogue.file),
                message.context,
                message.plural,
                tuple(dict.fromkeys(place_line(place) for place in message.places)),
                message.notes,
                (),
                old.comments if old is not None and same else (),
            )
        )
    return replace(catalogue, entries=tuple(entries), obsolete=(), problems=())


def place_line(place: Place) -> str:
    """A place as it stands behind `#:`: `protocols/foot-bandage.yaml:41 foot-bandage:owner.never[2]`."""
    return f"{place.span.file}:{place.span.line} {place.path}".rstrip()
