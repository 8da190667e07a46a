"""Bring a catalogue up to date with the sentences there are now.

Takes  a catalogue as it stands, and the messages extracted.
Gives  a catalogue that holds exactly those messages, and what became of each.
Knows  that a changed sentence is a new one: an old translation is never carried over to other words, only shown beside.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from generator.source.span import Span
from generator.words.extract import Message, Place, list_path
from generator.words.po import Catalogue, Entry

# No date of making: it would change with every run and hide what did change.
HEADER: Mapping[str, str] = MappingProxyType({
    "Project-Id-Version": "gauzeleaf",
    "MIME-Version": "1.0",
    "Content-Type": "text/plain; charset=UTF-8",
    "Content-Transfer-Encoding": "8bit",
})  # fmt: skip

# What a translator sees beside a sentence that has changed, until it is translated anew.
BEFORE, BEFORE_TRANSLATED = "before: ", "before, translated: "
# Sentences of one list that share so much of their letters are taken for one that was reworded and moved.
_ALIKE = 0.6
# Worth of standing in the very same place, in the same measure.
_IN_PLACE = 0.25


@dataclass(frozen=True, slots=True)
class Update:
    """A catalogue brought up to date. kept: held before as they are; new; changed: new ones that replace an old one; gone."""

    catalogue: Catalogue
    kept: int = 0
    new: int = 0
    changed: int = 0
    gone: int = 0


def empty(language: str, plural_forms: str, file: str, opening: Iterable[str] = ()) -> Catalogue:
    """A catalogue without messages. plural_forms: `nplurals=2; plural=(n != 1);`, stated by each catalogue itself."""
    header = {**HEADER, "Language": language, "Plural-Forms": plural_forms}
    return Catalogue(file, header, Span(file, 1, 1), tuple(opening), ())


def blank(messages: Iterable[Message], file: str, opening: Iterable[str] = ()) -> Catalogue:
    """The messages without any language: a list to start a catalogue from."""
    entries = tuple(_entry(message, file, None, 2, ()) for message in messages)
    return Catalogue(file, HEADER, Span(file, 1, 1), tuple(opening), entries)


def updated(
    catalogue: Catalogue,
    messages: Iterable[Message],
    forms: int,
    *,
    said: Iterable[Message] | None = None,
    beside: Iterable[Entry] = (),
) -> Update:
    """The catalogue with these messages, in their order: known ones keep their words, new ones are empty, others go.

    A message that is not known is looked for by its key paths: what stood there before, and is said there no more, is
    shown in its comments, English and translation.

    Args:
        forms: number of plural forms, from the catalogue's header.
        said: every sentence the book says, where the catalogue holds only some of them.
        beside: entries of another catalogue of the language, in which an old sentence may stand too.
    """
    wanted = tuple(messages)
    known = {entry.key: entry for entry in catalogue.entries}
    old = _Old((*catalogue.entries, *beside), wanted if said is None else said)
    entries: list[Entry] = []
    new = changed = 0
    for message in wanted:
        held = known.get(message.key)
        if held is not None and held.plural == message.plural:
            comments = _without_before(held.comments) if held.is_translated else held.comments
            entries.append(_entry(message, catalogue.file, held, forms, comments))
            continue
        before = held if held is not None else old.replaced_by(message)
        comments = _before(before) if before is not None else ()
        new, changed = new + (before is None), changed + (before is not None)
        entries.append(_entry(message, catalogue.file, None, forms, comments))
    keys = {message.key for message in wanted}
    return Update(
        replace(catalogue, entries=tuple(entries), obsolete=(), problems=()),
        kept=len(entries) - new - changed,
        new=new,
        changed=changed,
        gone=len(known.keys() - keys),
    )


def place_line(place: Place) -> str:
    """A place as it stands behind `#:`: `protocols/foot-bandage.yaml:41 foot-bandage:owner.never[2]`."""
    return f"{place.span.file}:{place.span.line} {place.path}".rstrip()


def path_of(line: str) -> str:
    """The key path of such a line; empty where it has none."""
    found = re.search(r":\d+ (\S+)\Z", line)
    return found[1] if found else ""


class _Old:
    """Sentences that were said before, by the lists they stood in."""

    def __init__(self, entries: Iterable[Entry], messages: Iterable[Message]) -> None:
        self._held: dict[str, list[tuple[str, Entry]]] = {}
        for entry in entries:
            for path in filter(None, map(path_of, entry.places)):
                self._held.setdefault(list_path(path), []).append((path, entry))
        self._said = {(place.list_path, message.key) for message in messages for place in message.places}

    def replaced_by(self, message: Message) -> Entry | None:
        """What stood in one of the message's places, or near it in its list and much like it, and is no longer said there."""
        best: tuple[float, Entry] | None = None
        for place in message.places:
            for path, entry in self._held.get(place.list_path, ()):
                if (place.list_path, entry.key) in self._said:
                    continue
                alike = difflib.SequenceMatcher(None, entry.source, message.source, autojunk=False).ratio()
                # A template is one place for all that it says.
                in_place = path == place.path and not path.startswith("template:")
                worth = alike + _IN_PLACE * in_place
                if (in_place or alike >= _ALIKE) and (best is None or worth > best[0]):
                    best = worth, entry
        return best[1] if best else None


def _entry(message: Message, file: str, held: Entry | None, forms: int, comments: tuple[str, ...]) -> Entry:
    return Entry(
        message.source,
        held.translations if held is not None else ("",) * (forms if message.plural is not None else 1),
        Span(file),
        message.context,
        message.plural,
        tuple(dict.fromkeys(place_line(place) for place in message.places)),
        message.notes,
        # A mark that another program made must be seen by `check`: taking it off would approve the words.
        held.flags if held is not None else (),
        comments,
    )


def _before(entry: Entry) -> tuple[str, ...]:
    if entry.is_translated:
        return BEFORE + entry.source, BEFORE_TRANSLATED + " | ".join(entry.translations)
    # Changed twice before anybody translated it: what was translated last still helps.
    return tuple(line for line in entry.comments if line.startswith((BEFORE, BEFORE_TRANSLATED)))


def _without_before(comments: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(line for line in comments if not line.startswith((BEFORE, BEFORE_TRANSLATED)))
