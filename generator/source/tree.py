"""What a YAML file holds, each value still knowing where it stands.

Takes  nothing: these are plain values, made by `source/text.py`.
Gives  `Scalar`, `Items` and `Entries`, which nest.
Knows  nothing of YAML's own ideas of numbers, dates or truth: a scalar is text.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.source.span import Span


# Unfrozen like `Span`, and for the same reason.
@dataclass(slots=True, unsafe_hash=True)
class Scalar:
    """A single value as it was typed, quotes taken off; `quoted` tells `"no"` from `no`."""

    text: str
    span: Span
    quoted: bool = False

    @property
    def is_empty(self) -> bool:
        """Nothing was written, or one of YAML's two spellings of nothing."""
        return not self.quoted and self.text in ("", "~", "null")


@dataclass(frozen=True, slots=True)
class Items:
    """A list, in order."""

    items: tuple[Node, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Entries:
    """Keys with their values, in the order of the file; every key once."""

    entries: tuple[tuple[Scalar, Node], ...]
    span: Span

    def get(self, key: str) -> Node | None:
        """The value of a key, or None where the key is not there."""
        for name, node in self.entries:
            if name.text == key:
                return node
        return None


Node = Scalar | Items | Entries
