"""The room of a book's catalogues: what the book says to owners, and what each language has of it.

Takes  a book's folder as it was typed; a language.
Gives  `Room`, and `Held`: one language's catalogue, glossary and ledger, with all that could not be read.
Knows  the shipped room, which holds everything, and a clinic's own, which holds only what the shipped one lacks. Writes nothing.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from pathlib import Path

from generator import shelf
from generator.flow import LEDGER, OWNER_CATALOGUE
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.text import read_tree
from generator.words import extract, po, signoff
from generator.words.back_translation import BackTranslation, read_back_translations
from generator.words.catalogue import SOURCE_LANGUAGE
from generator.words.extract import Message
from generator.words.glossary import Glossary, read_glossary
from generator.words.local import UnknownLanguageError, cldr_name
from generator.words.stop import stop_messages

GLOSSARY = "glossary.yaml"
LIST = "owner.pot"
BACK = "back-translation.yaml"
PHRASES = "compose/phrases.py"
# Heads the shipped translation over a sentence that a clinic says otherwise.
INSTEAD = "instead of: "

_TAG = re.compile(r"[a-z]{2,3}(-[A-Z][a-z]{3})?(-([A-Z]{2}|\d{3}))?")


@dataclass(frozen=True)
class Room:
    """A folder of catalogues, and every sentence that its book may say to an owner, with places as they are typed.

    is_shipped: it comes with the tool and holds everything. book: folder of the book's YAML files.
    """

    folder: Path
    book: Path
    is_shipped: bool
    said: tuple[Message, ...]

    def place(self, language: str) -> Path:
        """The folder of one language: named like a locale, `pt_BR` for `pt-BR`."""
        return self.folder / language.replace("-", "_")

    @cached_property
    def languages(self) -> tuple[str, ...]:
        """Tags of the languages that have a catalogue here, sorted."""
        return tuple(sorted(path.parent.name.replace("_", "-") for path in self.folder.glob(f"*/{OWNER_CATALOGUE}")))

    def as_written(self, messages: Iterable[Message]) -> tuple[Message, ...]:
        """The messages with places counted from the folder that book and catalogues lie in: the same wherever that lies."""
        root = self.book.parent.as_posix()
        start = "" if root == "." else f"{root}/"

        def moved(span: Span) -> Span:
            return Span(span.file.removeprefix(start), span.line, span.column, span.length)

        return tuple(
            replace(m, places=tuple(replace(place, span=moved(place.span)) for place in m.places)) for m in messages
        )


@dataclass(frozen=True)
class Held:
    """What one language has. wanted: the messages its catalogue should hold. problems: what could not be read, and unsound rows."""

    language: str
    file: Path
    catalogue: po.Catalogue
    wanted: tuple[Message, ...]
    glossary: Glossary | None = None
    glossary_file: Path | None = None
    ledger: signoff.Ledger = field(default_factory=lambda: signoff.NOBODY)
    back: tuple[BackTranslation, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def signed_for(self) -> str:
        """The language that signatures name: what the catalogue says it is."""
        return self.catalogue.header.get("Language", self.language)

    @cached_property
    def stops(self) -> tuple[Message, ...]:
        """The STOP lines among what the catalogue should hold."""
        return stop_messages(self.wanted)

    @property
    def read_at_home(self) -> tuple[str, ...]:
        """The translated lines that the book itself gives an owner to read: what to do, what never, warning signs."""
        lines = (
            message for message in self.wanted if any(not place.path.startswith("phrase:") for place in message.places)
        )
        entries = (self.by_key.get(message.key) for message in lines)
        return tuple(entry.translations[0] for entry in entries if entry is not None and entry.is_translated)

    @cached_property
    def by_key(self) -> Mapping[tuple[str | None, str], po.Entry]:
        """The catalogue's messages by context and English."""
        return {entry.key: entry for entry in self.catalogue.entries}


def open_room(typed: str | None) -> Room:
    """The room of a book.

    Args:
        typed: the book's folder as the user gave it, or None.
    Raises:
        Refusal: a file of the book cannot be read (its sentences would be taken for gone), or the book has no room.
    """
    book = shelf.book_folder(typed)
    is_shipped = book.resolve() == shelf.shipped("protocols").resolve()
    if is_shipped:
        folder = shelf.room_beside(book, "locales")
    elif book.name == "protocols":
        folder = book.parent / "locales"
    else:
        raise Refusal(
            [
                Problem(
                    "book-without-room",
                    Span(book.as_posix()),
                    "the book's folder is not called `protocols`, so no folder `locales` can lie beside it",
                    "translations kept there would never be found again when a sheet is printed",
                    "move the YAML files into a folder `protocols`, and name the folder around it with --book",
                )
            ]
        )
    return Room(folder, book, is_shipped, _said(book, is_shipped))


def _said(book: Path, is_shipped: bool) -> tuple[Message, ...]:
    readings = {name: read_tree(data, name) for name, data in shelf.yaml_files(book, patients=False).items()}
    broken = [p for reading in readings.values() for p in reading.problems if p.severity == "error"]
    if broken:
        raise Refusal(in_order(broken))
    templates = shelf.text_files(shelf.shipped("templates"), "*.j2")
    if not is_shipped:
        own = shelf.room_beside(book, "templates")
        templates |= shelf.text_files(own, "*.j2")
    found = list(extract.from_phrases(shelf.program_text(PHRASES), f"generator/{PHRASES}"))
    for name, text in templates.items():
        found += extract.from_template(text, f"templates/{name}")
    trees = {name: reading.tree for name, reading in readings.items() if reading.tree is not None}
    return extract.merged([*found, *extract.from_book(trees)])


def canonical(typed: str, room: Room, option: str = "--language") -> str:
    """The tag of a language as it is kept: `pt-BR` of `pt_br`.

    Raises:
        Refusal: it is no tag, is English, or nobody knows how the language writes a date.
    """
    parts = typed.strip().replace("_", "-").split("-")
    tag = "-".join(
        [parts[0].lower(), *(part.title() if len(part) == 4 else part.upper() for part in parts[1:])],
    )
    span = Span(f"{option} {typed}" if option.startswith("--") else option)
    if tag.split("-")[0] == SOURCE_LANGUAGE:
        problem = Problem(
            "language-is-source",
            span,
            "English is the language that everything is written in",
            "it has no catalogue; its sentences stand in the protocols themselves",
            "name another language, such as `es`",
        )
    else:
        try:
            if not _TAG.fullmatch(tag):
                raise UnknownLanguageError
            cldr_name(tag, "001")
            return tag
        except UnknownLanguageError:
            here = ", ".join(room.languages) or "none yet"
            problem = Problem(
                "language-unknown",
                span,
                f"`{typed}` is no language whose dates and times are known here",
                "a sheet in it could not say by when the bandage comes off",
                f"write its tag as BCP 47 has it, such as `fr`, `pt-BR` or `zh-Hans`; with a catalogue here: {here}",
            )
    raise Refusal([problem])


def chosen(room: Room, typed: str | None, option: str = "--language") -> tuple[str, ...]:
    """The languages a command works on: the one that was named, which must have a catalogue here, or all.

    Raises:
        Refusal: there is none.
    """
    if typed is None:
        return room.languages
    tag = canonical(typed, room, option)
    if tag in room.languages:
        return (tag,)
    raise Refusal(
        [
            Problem(
                "language-without-catalogue",
                Span(f"{option} {typed}" if option.startswith("--") else option),
                f"{room.folder.as_posix()} has no catalogue of `{tag}`",
                "there are no words to work on",
                f"start one with `gauzeleaf words merge --language {tag}`; here are: {', '.join(room.languages) or 'none yet'}",
            )
        ]
    )


def held(room: Room, language: str, today: date | None = None) -> Held:
    """Read what a language has; never refuses, whatever is wrong becomes a problem.

    Args:
        today: a signature dated later is unsound; None leaves dates unchecked.
    """
    place = room.place(language)
    file = place / OWNER_CATALOGUE
    problems: list[Problem] = []
    text = _text(file, "catalogue", problems)
    catalogue = po.read(text or "", file.as_posix())
    if text is None:
        catalogue = replace(catalogue, problems=())
    ledger = signoff.NOBODY
    if (place / LEDGER).is_file() and (rows := _text(place / LEDGER, "ledger", problems)) is not None:
        ledger, unsound = signoff.read_ledger(rows, (place / LEDGER).as_posix(), today)
        problems += unsound
    glossary, words = None, glossary_file(room, language)
    if words is not None and (rows := _text(words, "glossary", problems)) is not None:
        glossary, unsound = read_glossary(rows, words.as_posix(), language)
        problems += unsound
    back: tuple[BackTranslation, ...] = ()
    if (place / BACK).is_file() and (rows := _text(place / BACK, "back-translation", problems)) is not None:
        back, unsound = read_back_translations(rows, (place / BACK).as_posix())
        problems += unsound
    said = wanted(room, language, catalogue)
    return Held(language, file, catalogue, said, glossary, words, ledger, back, tuple(problems))


def glossary_file(room: Room, language: str) -> Path | None:
    """The glossary of a language: the room's own, else the shipped one; None where there is neither."""
    places = (room.place(language), shelf.shipped("locales") / language.replace("-", "_"))
    return next((place / GLOSSARY for place in places if (place / GLOSSARY).is_file()), None)


def shipped_words(room: Room, language: str) -> Mapping[tuple[str | None, str], po.Entry]:
    """What the shipped catalogue says of a language, for a clinic's room to stand over; nothing in the shipped room itself."""
    file = shelf.shipped("locales") / language.replace("-", "_") / OWNER_CATALOGUE
    if room.is_shipped or not file.is_file():
        return {}
    entries = po.read(file.read_text(encoding="utf-8"), file.as_posix()).entries
    return {entry.key: entry for entry in entries if entry.is_translated}


def shipped_languages(room: Room) -> tuple[str, ...]:
    """Tags of the languages that a clinic's room stands over; none for the shipped room."""
    if room.is_shipped:
        return ()
    files = shelf.shipped("locales").glob(f"*/{OWNER_CATALOGUE}")
    return tuple(sorted(path.parent.name.replace("_", "-") for path in files))


def wanted(
    room: Room, language: str, catalogue: po.Catalogue, overrides: Collection[str] = (), *, everything: bool = False
) -> tuple[Message, ...]:
    """The messages that the catalogue of a language should hold.

    In the shipped room, all. In a clinic's own, what the shipped catalogue has no words for, what the clinic says
    otherwise already, and what it now asks for.

    Args:
        overrides: English sentences to say otherwise. everything: all of them.
    """
    if room.is_shipped or everything:
        return room.said
    below = shipped_words(room, language)
    own = {
        entry.key
        for entry in catalogue.entries
        if entry.is_translated or any(line.startswith(INSTEAD) for line in entry.comments)
    }
    return tuple(m for m in room.said if m.key not in below or m.key in own or m.source in overrides)


def _text(file: Path, what: str, problems: list[Problem]) -> str | None:
    try:
        return shelf.read_file(file, what).decode("utf-8")
    except Refusal as refusal:
        problems += refusal.problems
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        column = error.start - error.object.rfind(b"\n", 0, error.start)
        problems.append(
            Problem(
                "not-utf-8",
                Span(file.as_posix(), line, column),
                f"the {what} is not written in UTF-8",
                "its letters would print wrong",
                "save it as UTF-8",
            )
        )
    return None
