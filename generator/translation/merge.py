"""Bring the catalogues of a room up to date with what its book says, and start those of further languages.

Takes  a `Room`, languages, the sentences that a clinic wants to say otherwise.
Gives  the files to write, and in counts what became of the sentences.
Knows  that nothing is written over a catalogue that cannot be read in full.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from generator import shelf
from generator.flow import LEDGER, OWNER_CATALOGUE
from generator.protocol.shapes import nearest
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.translation.room import GLOSSARY, INSTEAD, LIST, Room, glossary_file, held, shipped_words, wanted
from generator.words import po
from generator.words.catalogue import plural_rule
from generator.words.glossary import empty_glossary
from generator.words.languages import language_name, own_name
from generator.words.local import Local
from generator.words.plurals import plural_forms
from generator.words.signoff import NOBODY, write_ledger
from generator.words.update import Update, blank, empty, updated


@dataclass(frozen=True, slots=True)
class Merged:
    """What became of one language. update: its catalogue and counts. is_new: it had none before."""

    language: str
    file: Path
    update: Update
    is_new: bool

    @property
    def to_translate(self) -> int:
        """Sentences without words."""
        return sum(not entry.is_translated for entry in self.update.catalogue.entries)


def may_write(room: Room) -> None:
    """Stop where the next update of the tool would throw away what was written.

    Raises:
        Refusal: `room-of-the-tool`.
    """
    if room.is_shipped and shelf.is_installed():
        raise Refusal(
            [
                Problem(
                    "room-of-the-tool",
                    Span(room.folder.as_posix()),
                    "these are the words that come with the tool, inside the installed program",
                    "the next update would put the old ones back",
                    "start a book of your own with `gauzeleaf new our-book`, and name it: --book our-book",
                )
            ]
        )


def sentence_list(room: Room) -> tuple[Path, bytes]:
    """Everything the book says to owners, without any language."""
    opening = (
        "Every sentence that may stand on an owner's sheet of this book, in English.",
        "Beside each: where on the sheet, what its fields hold, and the places it is written in.",
    )
    text = po.write(blank(room.as_written(room.said), LIST, opening))
    return room.folder / LIST, text.encode("utf-8")


def merge(
    room: Room, languages: Sequence[str], overrides: Sequence[str] = (), *, everything: bool = False
) -> tuple[Mapping[Path, bytes], tuple[Merged, ...]]:
    """Bring catalogues up to date.

    Args:
        languages: tags; one without a catalogue gets a new one, with its plural rule, an empty glossary and no signature.
        overrides: English sentences that a clinic says otherwise than the shipped catalogues. everything: all of them.
    Returns:
        Files that differ from what lies there, by place; and what became of each language.
    Raises:
        Refusal: a catalogue cannot be read, its plural rule is not known, or nobody says a sentence of `overrides`.
    """
    may_write(room)
    problems = [*_not_overridden(room, overrides, everything)]
    files: dict[Path, bytes] = {}
    done: list[Merged] = []
    for language in languages:
        is_new = language not in room.languages
        try:
            one = _merge_one(room, language, overrides, everything, is_new)
        except Refusal as refusal:
            problems += refusal.problems
            continue
        done.append(one)
        files[one.file] = po.write(one.update.catalogue).encode("utf-8")
        if glossary_file(room, language) is None:
            files[room.place(language) / GLOSSARY] = empty_glossary(_english_name(language)).encode("utf-8")
        if not (room.place(language) / LEDGER).is_file():
            files[room.place(language) / LEDGER] = write_ledger(NOBODY).encode("utf-8")
    if problems:
        raise Refusal(in_order(problems))
    return {place: data for place, data in files.items() if not _lies_there(place, data)}, tuple(done)


def _merge_one(room: Room, language: str, overrides: Sequence[str], everything: bool, is_new: bool) -> Merged:
    file = room.place(language) / OWNER_CATALOGUE
    if is_new:
        catalogue = empty(language, plural_forms(language), file.as_posix(), _opening(language))
    else:
        before = held(room, language)
        catalogue = before.catalogue
        broken = [p for p in (*catalogue.problems, *before.problems) if p.span.file == file.as_posix()]
        if broken:
            raise Refusal(broken)
    rule = plural_rule(catalogue.header.get("Plural-Forms", ""))
    if rule is None:
        raise Refusal(
            [
                Problem(
                    "plural-rule",
                    catalogue.header_span,
                    "the catalogue does not say how its language counts",
                    "nobody could tell how many forms a message needs",
                    f'add this line to the header: "Plural-Forms: {plural_forms(language)}\\n"',
                )
            ]
        )
    messages = wanted(room, language, catalogue, overrides, everything=everything)
    below = shipped_words(room, language)
    update = updated(
        catalogue, room.as_written(messages), rule[0], said=room.as_written(room.said), beside=below.values()
    )
    return Merged(language, file, _with_shipped(update, below, take=everything), is_new)


def _with_shipped(update: Update, below: Mapping[tuple[str | None, str], po.Entry], *, take: bool) -> Update:
    """Beside each sentence that a clinic says otherwise, what the shipped catalogue says.

    Args:
        take: start sentences without words from the shipped ones, to be revised and signed by the clinic's own people.
    """
    entries = []
    for entry in update.catalogue.entries:
        shipped = below.get(entry.key)
        if take and shipped is not None and not entry.is_translated and shipped.plural == entry.plural:
            entry = replace(entry, translations=shipped.translations)
        comments = tuple(line for line in entry.comments if not line.startswith(INSTEAD))
        if shipped is not None and shipped.translations != entry.translations:
            comments = (INSTEAD + " | ".join(shipped.translations), *comments)
        entries.append(replace(entry, comments=comments))
    return replace(update, catalogue=replace(update.catalogue, entries=tuple(entries)))


def _not_overridden(room: Room, overrides: Sequence[str], everything: bool) -> list[Problem]:
    if room.is_shipped and (overrides or everything):
        return [
            Problem(
                "nothing-to-override",
                Span("--all" if everything else "--override"),
                "this is the room of the shipped catalogues, which hold every sentence already",
                "a clinic's own wording stands over them, in the clinic's own room",
                "name your own book with --book, or edit the shipped catalogue",
            )
        ]
    known = [message.source for message in room.said]
    return [
        Problem(
            "sentence-unknown",
            Span(f'--override "{sentence}"'),
            "this book says no such sentence to an owner",
            "its translation would never be printed",
            f'the nearest is "{close}"'
            if (close := nearest(sentence, known))
            else "write the English exactly as the protocol has it; `gauzeleaf words extract` lists all sentences",
        )
        for sentence in overrides
        if sentence not in known
    ]


def _opening(language: str) -> tuple[str, ...]:
    return (
        f"{_english_name(language)} ({own_name(language)}) for owners. What signed.json does not name is a draft.",
        "Say here how an owner is addressed, and what else must be the same in every line.",
    )


def _english_name(language: str) -> str:
    return language_name(language, Local("en", "US"))


def _lies_there(place: Path, data: bytes) -> bool:
    return place.is_file() and place.read_bytes() == data
