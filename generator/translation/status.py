"""Every language of a book at a glance.

Takes  a `Room`.
Gives  a row for each catalogue that a sheet of this book draws on.
Knows  that a clinic's own words stand over the shipped ones; judges nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from generator import shelf
from generator.source.problem import Problem
from generator.translation.room import Room, held, open_room
from generator.translation.standing import Standing, standing
from generator.words.languages import own_name


@dataclass(frozen=True, slots=True)
class Row:
    """One catalogue. name: of the language, as it calls itself. lines: translated, that an owner reads. problems: what could not be read."""

    language: str
    name: str
    place: str
    standing: Standing
    problems: tuple[Problem, ...]
    lines: tuple[str, ...] = ()

    @property
    def reading(self) -> str:
        """How hard these lines are to read, by the formula or the proxies of their language, with the targets."""
        from generator.words.reading.score import summary

        return summary(self.lines, self.language)

    @property
    def has_drafts(self) -> bool:
        """Whether a sheet in this language can come out as a draft."""
        return self.standing.signed < self.standing.messages


def rows(room: Room, today: date) -> Iterator[Row]:
    """The room's own catalogues, then the shipped ones below them."""
    yield from _rows(room, today)
    if not room.is_shipped:
        yield from _rows(open_room(shelf.shipped("protocols").as_posix()), today)


def _rows(room: Room, today: date) -> Iterator[Row]:
    for language in room.languages:
        one = held(room, language, today)
        yield Row(language, own_name(language), one.file.as_posix(), standing(one), one.problems, one.read_at_home)
