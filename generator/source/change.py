"""What is to be changed in a YAML text, said in terms of its tree.

Takes  nothing: these are plain values, carried out by `source/editing.py`.
Gives  `Put`, `Rows`, `First`, `Drop`, `Note`, `After`.
Knows  nothing of how the text is laid out.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.source.tree import Entries, Items, Node, Scalar


@dataclass(frozen=True, slots=True)
class Put:
    """Another value, on one line, behind a key."""

    key: Scalar
    node: Node
    text: str


@dataclass(frozen=True, slots=True)
class Rows:
    """Other rows in a list; it stays in brackets, or below each other, as it was."""

    node: Items
    rows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class First:
    """One more row at the top of a list that has some; the others stay as they are."""

    node: Items
    row: str


@dataclass(frozen=True, slots=True)
class Drop:
    """A key and its value taken out of a group; `note` is left as a comment, if it says anything."""

    group: Entries
    key: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A comment at the end of the line that a value ends in."""

    key: Scalar
    node: Node
    text: str


@dataclass(frozen=True, slots=True)
class After:
    """A line of its own below a value of the outermost group."""

    node: Node
    text: str


Change = Put | Rows | First | Drop | Note | After
