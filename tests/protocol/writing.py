"""Write a located tree out again as YAML, one value a line, and say where each value then stands.

A test changes one value of a sound file and asks what is said about it and where: so the place of every value must be known
without asking the program.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import Any

from generator.source.text import read_tree
from generator.source.tree import Entries, Items, Node, Scalar

Path = tuple[Any, ...]


class Raw(str):
    """Written as it stands, without quotes: a bracket, an empty place."""

    __slots__ = ()


@dataclass
class Written:
    """The text, and the line and column, from 1, of each key and value by its path."""

    text: str
    keys: dict[Path, tuple[int, int]] = field(default_factory=dict)
    values: dict[Path, tuple[int, int]] = field(default_factory=dict)


def plain(node: Node) -> Any:
    """The tree as dict, list and str, to be changed freely."""
    if isinstance(node, Scalar):
        return Raw(node.text) if node.is_empty else node.text
    if isinstance(node, Items):
        return [plain(item) for item in node.items]
    return {key.text: plain(value) for key, value in node.entries}


@cache
def _quoted(text: str) -> str:
    """As plain text where YAML gives the same text back, else in quotes."""
    for trial in (text, "'" + text.replace("'", "''") + "'"):
        reading = read_tree(f"a: {trial}\nb:\n  - {trial}".encode(), "x")
        if isinstance(reading.tree, Entries) and not reading.problems:
            one, two = reading.tree.get("a"), reading.tree.get("b")
            if (
                isinstance(one, Scalar)
                and one.text == text
                and isinstance(two, Items)
                and isinstance(two.items[0], Scalar)
                and two.items[0].text == text
            ):
                return trial
    raise ValueError(text)


def write(data: Any) -> Written:
    """Write plain data as YAML in block style."""
    lines: list[str] = []
    written = Written("")

    def put(value: Any, head: str, indent: int, path: Path) -> None:
        """One value behind `head`, which is a key and its colon, or a dash."""
        if isinstance(value, str):
            text = value if isinstance(value, Raw) else _quoted(value)
            lines.append(f"{head} {text}" if text else head)
            written.values[path] = (len(lines), len(head) + 2 if text else len(head) + 1)
        elif not value:
            lines.append(f"{head} " + ("{}" if isinstance(value, dict) else "[]"))
            written.values[path] = (len(lines), len(head) + 2)
        else:
            if head:
                lines.append(head)
            written.values[path] = (len(lines) + 1, indent + 1)
            put_all(value, indent, path)

    def put_all(value: Any, indent: int, path: Path) -> None:
        space = " " * indent
        if isinstance(value, dict):
            for key, child in value.items():
                written.keys[(*path, key)] = (len(lines) + 1, indent + 1)
                put(child, f"{space}{_quoted(key)}:", indent + 2, (*path, key))
        else:
            for index, child in enumerate(value):
                put(child, f"{space}-", indent + 2, (*path, index))

    put(data, "", 0, ())
    written.text = "\n".join(lines) + "\n"
    return written


def changed(data: Any, path: Path, value: Any) -> Any:
    """A copy in which the value at `path` is another."""
    if not path:
        return value
    if isinstance(data, dict):
        return {key: changed(child, path[1:], value) if key == path[0] else child for key, child in data.items()}
    return [changed(child, path[1:], value) if index == path[0] else child for index, child in enumerate(data)]


def without(data: Any, path: Path) -> Any:
    """A copy without the key at `path`."""
    return renamed(data, path, None)


def renamed(data: Any, path: Path, name: str | None) -> Any:
    """A copy in which the key at `path` has another name, or none at all."""
    parent = at(data, path[:-1])
    kept = {
        (name if key == path[-1] and name is not None else key): value
        for key, value in parent.items()
        if key != path[-1] or name is not None
    }
    return changed(data, path[:-1], kept)


def at(data: Any, path: Path) -> Any:
    for step in path:
        data = data[step]
    return data
