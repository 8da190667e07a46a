"""Make one slip in a sound book and see what is said about it.

Takes  the book in `base/` (a protocol of every kind, all sound) and edits of its text.
Gives  `Slip` (one edit, and the single problem it must bring) and `told`, the problems of an edited book.
Knows  how an edit is placed; nothing of any rule.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generator.protocol.book import read_book
from generator.source.problem import Problem
from generator.source.text import Reading, read_tree

BASE = Path(__file__).parent / "base"


@cache
def sound() -> dict[str, str]:
    """The text of every file of the sound book, by name."""
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(BASE.rglob("*.yaml"))}


@cache
def _reading(text: str, name: str) -> Reading:
    return read_tree(text.encode(), name)


def told(changed: dict[str, str]) -> tuple[Problem, ...]:
    """Every problem of the sound book with some of its files replaced; an empty text takes a file out."""
    texts = {name: text for name, text in (sound() | changed).items() if text}
    readings = {name: _reading(text, name) for name, text in texts.items()}
    # The digests name every file that is there, also those that could not be read.
    book = read_book(
        {name: r.tree for name, r in readings.items() if r.tree is not None}, "base", dict.fromkeys(readings, "")
    )
    return (*(p for r in readings.values() for p in r.problems), *book.problems)


def edited(file: str, *edits: tuple[str, str]) -> str:
    """The file's text with each first half replaced by its second; a first half must stand there exactly once."""
    text = sound()[file]
    for old, new in edits:
        assert text.count(old) == 1, f"`{old}` stands {text.count(old)} times in {file}"
        text = text.replace(old, new)
    return text


@dataclass(frozen=True)
class Slip:
    """One edit of one file. name: the single problem that follows; at: text that ends on the line it stands in."""

    file: str
    old: str
    new: str
    name: str
    at: str
    severity: str = "error"
    says: str = ""

    def __str__(self) -> str:
        return f"{self.file.removesuffix('.yaml')}: {self.name}: {(self.new or 'without ' + self.old).strip()[:50]}"

    def judge(self) -> None:
        """Assert that the slip brings exactly its one problem, at its line, and nothing else anywhere in the book."""
        text = edited(self.file, (self.old, self.new))
        assert self.at in text, f"`{self.at}` is not in the edited {self.file}"
        line = text[: text.index(self.at) + len(self.at)].count("\n") + 1
        found = told({self.file: text})
        assert [(p.name, p.span.file, p.span.line, p.severity) for p in found] == [
            (self.name, self.file, line, self.severity)
        ], found
        assert self.says in f"{found[0].what} | {found[0].why} | {found[0].fix}"
        # What and why are facts, the fix is a statement with the text to type; none is a question, none blames.
        for sentence in (found[0].what, found[0].why, found[0].fix):
            assert not sentence.endswith((".", "?", " "))
            assert "  " not in sentence
            assert "invalid" not in sentence


@dataclass(frozen=True)
class Fine:
    """An edit that no rule may object to: right at a limit, or said in other words."""

    file: str
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.file.removesuffix('.yaml')}: {(self.new or 'without ' + self.old).strip()[:60]}"

    def judge(self) -> None:
        assert told({self.file: edited(self.file, (self.old, self.new))}) == ()
