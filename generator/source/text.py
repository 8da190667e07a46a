"""Read YAML text into located values, refusing what a clinic's file never needs.

Takes  the bytes of a file and its name.
Gives  one tree of `Scalar`, `Items`, `Entries`, or None, and every problem met on the way.
Knows  YAML (the only importer of yaml); nothing of what the keys mean.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import yaml

from generator.source.problem import Problem
from generator.source.rewording import reworded
from generator.source.span import Span
from generator.source.tree import Entries, Items, Node, Scalar

# A protocol of four printed pages has some 600 values in 10 kB; far beyond these a file is broken or hostile.
MOST_BYTES = 1_000_000
MOST_VALUES = 10_000
MOST_DEPTH = 20

# Every value keeps its place at no cost only with the parser written in C; the other one gives the same events.
PARSER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
# Another release may read another tree.
READ_BY = f"PyYAML {yaml.__version__}, {PARSER.__name__}"

_UNWANTED = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u00ad\u061c\u200b\u200e\u200f\u2028-\u202e\u2060\u2066-\u2069\ufeff\ufffe\uffff]"
)
_SURROGATE = re.compile("[\ud800-\udfff]")
_TAB = re.compile("\t")
_NO_BREAK_AFTER_MARK = re.compile("(?:^|[ ])[^\\s#\"']+:\u00a0|^[ \u00a0]*\u00a0|^\\s*-\u00a0")
_HASH_IN_TEXT = re.compile(r"^[^#\"']*[^\s#\"'] (#[^\s#!])")
_NAMES = {
    "\u0085": "next line",
    "\u00ad": "soft hyphen",
    "\u200b": "zero width space",
    "\u2028": "line separator",
    "\u2029": "paragraph separator",
    "\u202a": "left-to-right embedding",
    "\u202b": "right-to-left embedding",
    "\u202c": "pop directional formatting",
    "\u202d": "left-to-right override",
    "\u202e": "right-to-left override",
    "\u2060": "word joiner",
    "\ufeff": "byte order mark inside the file",
}


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of one file. `lines` serve to show the reader the line a problem stands in."""

    tree: Node | None
    problems: tuple[Problem, ...]
    lines: tuple[str, ...]


def read_tree(data: bytes, file: str) -> Reading:
    """Read one YAML document.

    Args:
        data: the file as it lies on disk.
        file: its name as the user would type it.
    """
    text, problems = _decode(data, file)
    if text is None:
        return Reading(None, tuple(problems), ())
    lines = tuple(text.split("\n"))
    problems = list(_unwanted(lines, file))
    if any(problem.severity == "error" for problem in problems):
        # The parser would stumble over the same characters in words of its own.
        return Reading(None, tuple(problems), lines)
    builder = _Builder(file, lines)
    try:
        builder.run(_events(text))
    except yaml.YAMLError as error:
        builder.problems.append(reworded(error, file, lines))
        builder.tree = None
    return Reading(builder.tree, (*problems, *builder.problems), lines)


def _events(text: str) -> Iterator[Any]:
    """As `yaml.parse` gives them, without asking before each whether there is another."""
    parser = PARSER(text)
    try:
        yield from iter(parser.get_event, None)
    finally:
        parser.dispose()


def _decode(data: bytes, file: str) -> tuple[str | None, list[Problem]]:
    span = Span(file, 1, 1)
    if len(data) > MOST_BYTES:
        return None, [
            Problem(
                "file-too-large",
                span,
                f"the file has {len(data):,} bytes; at most {MOST_BYTES:,} are read",
                "no protocol is that long: this is another kind of file, or a broken one",
                "name a protocol, or split the file in two",
            )
        ]
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return None, [_not_utf8(span, "UTF-16")]
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        start = data.rfind(b"\n", 0, error.start) + 1
        column = len(data[start : error.start].decode("utf-8", "replace")) + 1
        return None, [_not_utf8(Span(file, line, column), "another encoding")]
    return text.replace("\r\n", "\n").replace("\r", "\n"), []


def _not_utf8(span: Span, what: str) -> Problem:
    return Problem(
        "not-utf-8",
        span,
        f"the file is written in {what}, not in UTF-8",
        "letters such as é or ñ would print wrong in an owner's name",
        "in the editor choose “Save with encoding: UTF-8”",
    )


def _unwanted(lines: tuple[str, ...], file: str) -> Iterator[Problem]:
    for number, line in enumerate(lines, 1):
        if line.isascii() and line.isprintable() and "#" not in line:
            continue
        yield from hidden_in(line, partial(_on_line, file, number))
        if found_tab := _TAB.search(line):
            yield Problem(
                "tab",
                Span(file, number, found_tab.start() + 1),
                "a tab stands here",
                "a tab counts differently in every editor, so what belongs to what cannot be told",
                "use spaces, two for each step to the right",
            )
        if found_space := _NO_BREAK_AFTER_MARK.search(line):
            yield Problem(
                "no-break-space",
                Span(file, number, found_space.end()),
                "a no-break space (U+00A0) stands where a plain space belongs",
                "the line is then read as one piece of text, not as a key with a value",
                "delete it and type a plain space",
            )
        if found_hash := _HASH_IN_TEXT.search(line):
            yield Problem(
                "hash-cuts-text",
                Span(file, number, found_hash.start(1) + 1),
                f"everything from `{found_hash.group(1)}` on is a comment and will not be printed",
                "a space followed by # ends the text of a line",
                "put the text in quotes; or, if it is a comment, write a space after #",
                severity="warning",
            )


def _on_line(file: str, number: int, at: int) -> Span:
    return Span(file, number, at + 1)


def hidden_in(text: str, span_at: Callable[[int], Span]) -> Iterator[Problem]:
    """Name every hidden character of a text.

    Args:
        span_at: the place of a character, by its number from 0.
    """
    for found in _UNWANTED.finditer(text):
        letter = found.group()
        name = _NAMES.get(letter, "control character")
        yield Problem(
            "hidden-character",
            span_at(found.start()),
            f"a hidden character stands here: U+{ord(letter):04X} {name}",
            "it cannot be seen, and can turn text or figures round on paper",
            "delete it and type the line again",
        )


@dataclass(slots=True)
class _Open:
    """A list or mapping still being filled."""

    start: Span
    is_mapping: bool
    items: list[Node] = field(default_factory=list)
    entries: list[tuple[Scalar, Node]] = field(default_factory=list)
    key: Scalar | None = None
    keys: dict[str, Span] = field(default_factory=dict)
    skip_value: bool = False
    is_flow: bool = False
    was_warned: bool = False


class _Builder:
    """Turns the parser's events into one tree, without recursion: depth costs nothing and cannot overflow."""

    def __init__(self, file: str, lines: tuple[str, ...]) -> None:
        self.file, self.lines = file, lines
        self.problems: list[Problem] = []
        self.tree: Node | None = None
        self.stack: list[_Open] = []
        self.values = 0
        self.documents = 0

    def run(self, events: Iterator[Any]) -> None:
        scalar, alias, document = yaml.ScalarEvent, yaml.AliasEvent, yaml.DocumentStartEvent
        starts, ends = (yaml.MappingStartEvent, yaml.SequenceStartEvent), (yaml.MappingEndEvent, yaml.SequenceEndEvent)
        for event in events:
            kind = event.__class__
            if kind is scalar:
                self._add(self._scalar(event))
                continue
            if kind in starts:
                self._open(event)
            elif kind in ends:
                self._close()
            elif kind is alias:
                self._alias(event)
            elif kind is document:
                self._document(event)
                if self.documents > 1:
                    return
            if len(self.stack) > MOST_DEPTH or self.values > MOST_VALUES:
                self._say(
                    event,
                    "nested-too-deep" if len(self.stack) > MOST_DEPTH else "too-many-values",
                    f"the file nests deeper than {MOST_DEPTH} steps or holds more than {MOST_VALUES:,} values",
                    "no protocol needs that: a bracket or an indent has gone wrong",
                    "look at the brackets and indents above this line",
                )
                self.tree, self.stack = None, []
                return
        if self.tree is None and not self.problems:
            self.problems.append(
                Problem(
                    "empty-file",
                    Span(self.file, 1, 1),
                    "the file is empty",
                    "nothing in it could be printed",
                    "fill it in, or delete it",
                )
            )

    def _span(self, event: Any) -> Span:
        start, end = event.start_mark, event.end_mark
        line, column = start.line, start.column
        length = (end.column if end.line == line else len(self.lines[line])) - column
        return Span(self.file, line + 1, column + 1, length if length > 0 else 1)

    def _say(self, event: Any, name: str, what: str, why: str, fix: str) -> None:
        self.problems.append(Problem(name, self._span(event), what, why, fix))

    def _alias(self, event: Any) -> None:
        self._say(
            event,
            "alias",
            f"`*{event.anchor}` repeats a value from elsewhere in the file",
            "a value must stand where it counts, so that its line can be printed beside it",
            "write the value out here",
        )
        self._add(Scalar("", self._span(event)))

    def _document(self, event: Any) -> None:
        self.documents += 1
        if self.documents > 1:
            self._say(
                event,
                "two-documents",
                "a second document starts here (a line `---`)",
                "everything below it would be left out",
                "delete the line `---`, or move what follows into a file of its own",
            )

    def _not_plain(self, event: Any) -> None:
        if event.anchor is not None:
            self._say(
                event,
                "anchor",
                f"`&{event.anchor}` marks a value for repetition",
                "a value must stand where it counts, so that its line can be printed beside it",
                "delete the mark and write the value out wherever it is needed",
            )
        if event.tag is not None:
            self._say(
                event,
                "tag",
                "a word that starts with ! tells the reader to treat the value as something else",
                "the tool decides by the key what a value is, and never runs what a file says",
                "delete the word that starts with !",
            )

    def _scalar(self, event: Any) -> Scalar:
        if event.anchor is not None or event.tag is not None:
            self._not_plain(event)
        text, style = event.value, event.style
        # Only double quotes know escapes, and only by an escape can a hidden character get past the first look at the file.
        if style == '"' and not text.isprintable() and (_SURROGATE.search(text) or _UNWANTED.search(text)):
            self._say(
                event,
                "hidden-character",
                "the text holds a hidden or half character, written as an escape",
                "it has no place on paper",
                "delete the escape that starts with \\",
            )
            text = ""
        # Written out, not called: nine values in ten pass here.
        start, end = event.start_mark, event.end_mark
        line, column = start.line, start.column
        length = (end.column if end.line == line else len(self.lines[line])) - column
        return Scalar(
            text, Span(self.file, line + 1, column + 1, length if length > 0 else 1), bool(style)
        )  # plain is ''

    def _open(self, event: Any) -> None:
        if event.anchor is not None or event.tag is not None:
            self._not_plain(event)
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        self.stack.append(_Open(self._span(event), is_mapping, is_flow=bool(event.flow_style)))

    def _close(self) -> None:
        done = self.stack.pop()
        self._add(Entries(tuple(done.entries), done.start) if done.is_mapping else Items(tuple(done.items), done.start))

    def _add(self, node: Node) -> None:
        self.values += 1
        if not self.stack:
            self.tree = node
            return
        top = self.stack[-1]
        if not top.is_mapping:
            top.items.append(node)
        elif top.skip_value:
            top.skip_value = False
        elif top.key is None:
            self._key(top, node)
        elif not (top.is_flow and self._goes_on(top, top.key, node)):
            top.entries.append((top.key, node))
            top.key = None

    def _goes_on(self, top: _Open, key: Scalar, node: Node) -> bool:
        """Whether a "key" without a colon is the rest of a text that a comma inside { } has cut in two.

        `{do: Lay one strip, ends past the toes.}` is a natural thing to write. YAML ends the text at the comma; the
        rest then stands there as a key without a value, which none of our files ever needs: so it can only be text.
        """
        bare = isinstance(node, Scalar) and node.is_empty and node.text == ""
        if not (top.entries and bare and not key.quoted and node.span.column <= key.span.column + key.span.length):
            return False
        name, before = top.entries[-1]
        if not isinstance(before, Scalar) or before.quoted or " " not in before.text + key.text:
            return False
        if not top.was_warned:
            top.was_warned = True
            self.problems.append(
                Problem(
                    "comma-in-braces",
                    key.span,
                    "a comma inside { } ends a text; this was read as its rest",
                    "another program would lose everything behind the comma",
                    f"put the whole text of `{name.text}` in quotes",
                    severity="warning",
                )
            )
        top.entries[-1] = (name, Scalar(f"{before.text}, {key.text}", before.span))
        del top.keys[key.text]
        top.key = None
        return True

    def _key(self, top: _Open, node: Node) -> None:
        if not isinstance(node, Scalar):
            self.problems.append(
                Problem(
                    "key-is-no-word",
                    node.span,
                    "a key must be one word or phrase; this is a list or a group",
                    "the tool finds values by their keys",
                    "write a key, a colon, and the value",
                )
            )
            top.skip_value = True
        elif node.text == "<<" and not node.quoted:
            self.problems.append(
                Problem(
                    "merge-key",
                    node.span,
                    "`<<` copies keys from elsewhere in the file",
                    "a value must stand where it counts",
                    "write the keys out here",
                )
            )
            top.skip_value = True
        elif node.text in top.keys:
            self.problems.append(
                Problem(
                    "duplicate-key",
                    node.span,
                    f"the key `{node.text}` stands twice",
                    "only one of the two could count, and nobody could tell which",
                    "keep one of the two lines and delete the other",
                    also=((top.keys[node.text], "the first one is here"),),
                )
            )
            top.skip_value = True
        else:
            top.keys[node.text] = node.span
            top.key = node
