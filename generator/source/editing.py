"""Change single values of a YAML text and leave every other letter, comments and layout with it, as the author wrote it.

Takes  the lines of a file, its tree, and changes.
Gives  `edited`: the new text; `lines_of`: the lines that a key and its value fill; `appended`: a file with blocks added.
Knows  where a value ends in the text; nothing of what the keys mean.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import yaml

from generator.source.change import After, Change, Drop, First, Note, Put, Rows
from generator.source.text import PARSER, read_tree
from generator.source.tree import Entries, Items, Node, Scalar

Path = tuple[str | int, ...]


class Unchangeable(Exception):
    """The layout of the text does not let it be changed without touching other values."""


class _Layout:
    """Where each value begins and ends, as offsets into the text."""

    def __init__(self, lines: Sequence[str]) -> None:
        self.lines = lines
        self.text = "\n".join(lines)
        self._starts: list[int] = [0]
        for line in lines:
            self._starts.append(self._starts[-1] + len(line) + 1)
        self._ends = dict(self._measured())

    def _measured(self) -> Iterator[tuple[tuple[str, int], int]]:
        """The end of each value, by its kind and where it begins. A block ends where the last value in it does."""
        stack: list[tuple[str, int, bool, int]] = []
        for event in yaml.parse(self.text, Loader=PARSER):
            if isinstance(event, yaml.CollectionStartEvent):
                kind = "group" if isinstance(event, yaml.MappingStartEvent) else "list"
                start = self._at(event.start_mark)
                stack.append((kind, start, bool(event.flow_style), start))
                continue
            if isinstance(event, yaml.ScalarEvent):
                kind, start, end = "text", self._at(event.start_mark), self._at(event.end_mark)
                if event.style in ("|", ">"):
                    end = start + len(self.text[start:end].rstrip())
            elif isinstance(event, yaml.CollectionEndEvent):
                kind, start, in_brackets, end = stack.pop()
                if in_brackets:
                    end = self._at(event.end_mark)
            else:
                continue
            yield (kind, start), end
            if stack:
                stack[-1] = (*stack[-1][:3], end)

    def _at(self, mark: Any) -> int:
        return int(self._starts[mark.line] + mark.column)

    def start(self, node: Node) -> int:
        return self._starts[node.span.line - 1] + node.span.column - 1

    def end(self, node: Node) -> int:
        kind = "text" if isinstance(node, Scalar) else "list" if isinstance(node, Items) else "group"
        return self._ends.get((kind, self.start(node)), self.start(node) + node.span.length)

    def line_start(self, at: int) -> int:
        return self.text.rfind("\n", 0, at) + 1

    def line_end(self, at: int) -> int:
        end = self.text.find("\n", at)
        return len(self.text) if end < 0 else end

    def is_first_on_its_line(self, at: int) -> bool:
        return not self.text[self.line_start(at) : at].strip()


_Piece = tuple[int, int, str]


def _put(layout: _Layout, change: Put) -> Iterator[_Piece]:
    start, end, key_end = layout.start(change.node), layout.end(change.node), layout.end(change.key)
    if start == end:  # nothing was written behind the key
        colon = layout.text.index(":", key_end) + 1
        yield colon, colon, f" {change.text}"
    elif "\n" not in layout.text[key_end:start]:
        yield start, end, change.text
    else:
        colon = layout.text.index(":", key_end) + 1
        yield colon, colon, f" {change.text}"
        yield layout.line_start(start), min(layout.line_end(end) + 1, len(layout.text)), ""


def _rows(layout: _Layout, change: Rows) -> Iterator[_Piece]:
    start, end = layout.start(change.node), layout.end(change.node)
    if layout.text[start] == "[":
        yield start, end, f"[{', '.join(change.rows)}]"
    else:
        indent = "\n" + " " * (start - layout.line_start(start))
        yield start, end, indent.join(f"- {row}" for row in change.rows)


def _first(layout: _Layout, change: First) -> Iterator[_Piece]:
    start = layout.start(change.node)
    if layout.text[start] == "[":
        yield start + 1, start + 1, f"{change.row}, "
    else:
        indent = " " * (start - layout.line_start(start))
        yield start, start, f"- {change.row}\n{indent}"


def _drop(layout: _Layout, change: Drop) -> Iterator[_Piece]:
    found = next((pair for pair in change.group.entries if pair[0].text == change.key), None)
    if found is None:
        return
    start, end = layout.start(found[0]), layout.end(found[1])
    if layout.text[layout.start(change.group)] != "{":
        if change.note:
            yield start, end, f"# {change.note}"
        elif layout.is_first_on_its_line(start):
            yield layout.line_start(start), min(layout.line_end(end) + 1, len(layout.text)), ""
        else:
            yield start, end, ""
        return
    before, behind = re.compile(r",\s*$"), re.compile(r"\s*,[ ]*")
    if following := behind.match(layout.text, end):
        yield start, following.end(), ""
    elif leading := before.search(layout.text, 0, start):
        yield leading.start(), end, ""
    else:
        yield start, end, ""
    if change.note:
        yield layout.line_end(end), layout.line_end(end), f"  # {change.note}"


def _note(layout: _Layout, change: Note) -> Iterator[_Piece]:
    # The lines of a block text are text to their ends: there the comment stands beside the mark that opens it.
    is_block = layout.text[layout.start(change.node)] in "|>" if layout.start(change.node) < len(layout.text) else False
    at = layout.line_end(layout.start(change.node) if is_block else layout.end(change.node))
    yield at, at, f"  # {change.text}"


def _after(layout: _Layout, change: After) -> Iterator[_Piece]:
    at = layout.line_end(layout.end(change.node))
    yield at, at, f"\n{change.text}"


def _pieces(layout: _Layout, changes: Sequence[Change]) -> Iterator[_Piece]:
    for change in changes:
        if isinstance(change, Put):
            yield from _put(layout, change)
        elif isinstance(change, Rows):
            yield from _rows(layout, change)
        elif isinstance(change, First):
            yield from _first(layout, change)
        elif isinstance(change, Drop):
            yield from _drop(layout, change)
        elif isinstance(change, Note):
            yield from _note(layout, change)
        else:
            yield from _after(layout, change)


def edited(lines: Sequence[str], tree: Node, changes: Sequence[Change], head: str = "") -> str:
    """Carry out changes.

    Args:
        lines: of the file, as they were read.
        tree: what was read from them; the changes name its values.
        changes: what is to be different.
        head: put before the first line.
    Raises:
        Unchangeable: another value would not be the same afterwards.
    """
    layout = _Layout(lines)
    text, at = [head], 0
    for start, end, new in sorted(_pieces(layout, changes), key=lambda piece: piece[:2]):
        if start < at:
            raise Unchangeable
        text += [layout.text[at:start], new]
        at = end
    text.append(layout.text[at:])
    whole = "".join(text)
    _only_these(tree, changes, whole)
    return whole


def _only_these(tree: Node, changes: Sequence[Change], text: str) -> None:
    """Read the new text again: whatever was not to be changed must be there, word for word."""
    touched = {id(change.node) for change in changes if isinstance(change, (Put, Rows))}
    touched |= {id(change.group.get(change.key)) for change in changes if isinstance(change, Drop)}
    grown = frozenset(id(change.node) for change in changes if isinstance(change, First))
    after = read_tree(text.encode(), "")
    if after.tree is None or any(problem.severity == "error" for problem in after.problems):
        raise Unchangeable
    new = dict(_leaves(after.tree))
    if any(new.get(path) != said for path, said in _leaves(tree, frozenset(touched), grown=grown)):
        raise Unchangeable


def _leaves(
    node: Node, without: frozenset[int] = frozenset(), path: Path = (), grown: frozenset[int] = frozenset()
) -> Iterator[tuple[Path, str]]:
    """Each single value by its path; nothing of the values in `without`, which are named by their identity.

    The rows of a list in `grown` stand one further down than they did.
    """
    if id(node) in without:
        return
    if isinstance(node, Scalar):
        yield path, node.text
        return
    inner: Iterator[tuple[str | int, Node]] = (
        ((key.text, child) for key, child in node.entries)
        if isinstance(node, Entries)
        else iter(enumerate(node.items, int(id(node) in grown)))
    )
    for step, child in inner:
        yield from _leaves(child, without, (*path, step), grown)


def lines_of(lines: Sequence[str], group: Entries, name: str) -> tuple[str, ...]:
    """The lines that a key of a block and its value fill, without the indent of the key.

    Raises:
        Unchangeable: other values share these lines.
    """
    layout = _Layout(lines)
    index = next(i for i, (key, _) in enumerate(group.entries) if key.text == name)
    key, node = group.entries[index]
    start, last = layout.start(key), layout.end(node)
    following = layout.start(group.entries[index + 1][0]) if index + 1 < len(group.entries) else None
    if not layout.is_first_on_its_line(start) or (following is not None and following < layout.line_end(last)):
        raise Unchangeable
    indent = start - layout.line_start(start)
    found = layout.text[layout.line_start(start) : layout.line_end(last)].split("\n")
    return tuple(line[indent:] if not line[:indent].strip() else line for line in found)


def indent_in(group: Node | None, usual: int) -> int:
    """How far the keys of a group stand to the right; `usual` where it has none yet."""
    return group.entries[0][0].span.column - 1 if isinstance(group, Entries) and group.entries else usual


def appended(data: bytes, file: str, blocks: Mapping[str, Sequence[str]], under: str | None, comment: str) -> bytes:
    """A file with more keys at the end of a group.

    Args:
        data: the file as it lies on disk.
        blocks: for each new key its lines, without indent.
        under: the outermost key whose group is to hold them, which must be the last one; None: the file itself.
        comment: one line above them.
    Raises:
        Unchangeable: the layout of the file has no room for them at its end.
    """
    before = read_tree(data, file)
    group = before.tree
    if under is not None:
        group = group.get(under) if isinstance(group, Entries) else None
    indent = indent_in(group, 0 if under is None else 2)
    lines = [f"# {comment}", *(line for block in blocks.values() for line in block)]
    text = "\n".join(" " * indent + line if line.strip() else "" for line in lines) + "\n"
    newline = b"\r\n" if b"\r\n" in data else b"\n"
    whole = data + (b"" if data.endswith(b"\n") else newline) + newline + text.encode().replace(b"\n", newline)
    after = read_tree(whole, file)
    if before.tree is None or after.tree is None or any(p.severity == "error" for p in after.problems):
        raise Unchangeable
    new = dict(_leaves(after.tree))
    grown = after.tree.get(under) if under is not None and isinstance(after.tree, Entries) else after.tree
    kept = all(new.get(path) == said for path, said in _leaves(before.tree) if said or path in new)
    if not kept or not isinstance(grown, Entries) or any(grown.get(name) is None for name in blocks):
        raise Unchangeable
    return whole
