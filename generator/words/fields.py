"""Text with named fields in single braces: `Let {pet} out on a lead only.`

Takes  text as authored or translated, and the values for its fields.
Gives  `Text`, a sequence of literal stretches and `Field`s, and the runs it becomes when filled.
Knows  braces; nothing of languages. Nothing here is a format string: a value is never read as text again.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

T = TypeVar("T")

_FIELD = re.compile(r"\{([a-z][a-z0-9_]*)\}")


@dataclass(frozen=True, slots=True)
class Field:
    """A place in a text that a value is put into."""

    name: str

    def __str__(self) -> str:
        return "{" + self.name + "}"


Text = tuple[str | Field, ...]


def parse(text: str) -> Text:
    """Split a text into literal stretches and fields, in order; braces that name no field stay literal."""
    parts: list[str | Field] = []
    end = 0
    for found in _FIELD.finditer(text):
        if found.start() > end:
            parts.append(text[end : found.start()])
        parts.append(Field(found[1]))
        end = found.end()
    if end < len(text):
        parts.append(text[end:])
    return tuple(parts)


def names(text: str) -> Counter[str]:
    """How often each field stands in a text: source and translation must be equal in this."""
    return Counter(_FIELD.findall(text))


def stray_braces(text: str) -> str:
    """The braces that belong to no field, in order; empty where every brace is part of one."""
    return "".join(re.findall(r"[{}]", _FIELD.sub("", text)))


def has_words(text: str) -> bool:
    """Whether there is anything to translate: a letter outside the fields."""
    return any(letter.isalpha() for letter in _FIELD.sub("", text))


def fill(text: str | Text, values: Mapping[str, T]) -> tuple[str | T, ...]:
    """Put values in the place of fields.

    Args:
        text: as authored, or parsed already.
        values: by field name, of any kind: the caller decides how a value is marked on paper.
    Returns:
        Runs in order: literal text as str, values as they were given.
    Raises:
        KeyError: a field has no value. A sheet with a hole in a sentence is never made.
    """
    parts = parse(text) if isinstance(text, str) else text
    return tuple(values[part.name] if isinstance(part, Field) else part for part in parts)


def plain(text: str | Text, values: Mapping[str, str]) -> str:
    """The filled text as one string, for titles and calendar entries."""
    return "".join(fill(text, values))
