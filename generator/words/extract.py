"""Collect every sentence an owner may read, with the places it comes from.

Takes  located trees of a book, the text of the module of fixed phrases, the text of templates.
Gives  `Message`s, each once, in a stable order, for the catalogues.
Knows  which keys hold owner's words; nothing of translations.
"""

from __future__ import annotations

import ast
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePath

from generator.source.span import Span
from generator.source.tree import Entries, Items, Node, Scalar
from generator.words.fields import has_words

# Keys of `owner` whose values are sentences; `exercise` holds figures and is said by fixed phrases.
_OWNER_LINES = ("what_it_does", "every_day", "keep_dry", "never")


@dataclass(frozen=True, slots=True)
class Message:
    """One sentence to translate. note: where it is used, for the translator. places: `file:line`, sorted."""

    source: str
    places: tuple[Span, ...]
    note: str = ""
    context: str | None = None
    plural: str | None = None

    @property
    def key(self) -> tuple[str | None, str]:
        """What names a message: context and source."""
        return self.context, self.source


def merged(messages: Iterable[Message]) -> tuple[Message, ...]:
    """Each message once, with all its places and notes, in the order of the first; what holds only fields is left out."""
    found: dict[tuple[str | None, str], Message] = {}
    for message in messages:
        if not has_words(message.source):
            continue
        before = found.get(message.key)
        if before is None:
            found[message.key] = message
            continue
        notes = before.note.split("; ") if before.note else []
        if message.note and message.note not in notes:
            notes.append(message.note)
        places = tuple(sorted({*before.places, *message.places}))
        plural = before.plural if before.plural is not None else message.plural
        found[message.key] = Message(message.source, places, "; ".join(notes), message.context, plural)
    return tuple(found.values())


def from_book(trees: Mapping[str, Node]) -> tuple[Message, ...]:
    """Owner's words of a book: `owner` of every protocol and stage, `owner` of every sign.

    Args:
        trees: the tree of each file by its name, as `source.text` read it.
    """
    messages: list[Message] = []
    for name in sorted(trees):
        tree = trees[name]
        if not isinstance(tree, Entries):
            continue
        if PurePath(name).stem == "signs":
            for sign, body in tree.entries:
                owner = body.get("owner") if isinstance(body, Entries) else None
                messages += _lines(owner, f"warning sign {sign.text}")
        elif tree.get("protocol") is not None and tree.get("patient") is None:
            messages += _protocol(tree)
    return merged(messages)


def from_phrases(text: str, file: str, mapping: str = "PHRASES") -> tuple[Message, ...]:
    """The sentences of a Python module that keeps them as one mapping of id to text.

    Raises:
        ValueError: the module holds no such mapping, or a value that is not plain text.
    """
    for node in ast.parse(text).body:
        target = (
            node.target
            if isinstance(node, ast.AnnAssign)
            else node.targets[0]
            if isinstance(node, ast.Assign)
            else None
        )
        if isinstance(target, ast.Name) and target.id == mapping and isinstance(node, ast.Assign | ast.AnnAssign):
            table = next((part for part in ast.walk(node) if isinstance(part, ast.Dict)), None)
            if table is not None:
                return merged(_phrases(table, file))
    raise ValueError(f"{file}: no mapping named {mapping}")


# `say("…")`, `_("…")` with an optional second text, the context; `plural("…", "…", n)`.
_TEXT = r"""("(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*')"""
_CALL = re.compile(rf"\b(say|plural|_)\(\s*{_TEXT}(?:\s*,\s*(?:(context)\s*=\s*)?{_TEXT})?")


def from_template(text: str, file: str) -> tuple[Message, ...]:
    """The sentences a template says by `say("…")`, `say("…", context="…")`, `_("…")` or `plural("…", "…", n)`."""
    messages = []
    for call in _CALL.finditer(text):
        place = Span(file, text.count("\n", 0, call.start()) + 1, call.start() - text.rfind("\n", 0, call.start()))
        first = str(ast.literal_eval(call[2]))
        second = str(ast.literal_eval(call[4])) if call[4] else None
        is_plural = call[1] == "plural"
        if is_plural and second is None:
            raise ValueError(f"{place}: plural() takes two sentences and a count")
        messages.append(
            Message(first, (place,), context=None if is_plural else second, plural=second if is_plural else None)
        )
    return merged(messages)


def _protocol(tree: Entries) -> Iterator[Message]:
    title = tree.get("title")
    name = title.text if isinstance(title, Scalar) else "protocol"
    yield from _owner(tree.get("owner"), name)
    stages = tree.get("stages")
    if isinstance(stages, Entries):
        for stage, body in stages.entries:
            if isinstance(body, Entries):
                yield from _owner(body.get("owner"), f"{name}, {stage.text} stage")


def _owner(node: Node | None, name: str) -> Iterator[Message]:
    if isinstance(node, Entries):
        for key, value in node.entries:
            if key.text in _OWNER_LINES:
                yield from _lines(value, f"{name}: {key.text.replace('_', ' ')}")


def _lines(node: Node | None, note: str) -> Iterator[Message]:
    nodes = node.items if isinstance(node, Items) else (node,)
    for line in nodes:
        if isinstance(line, Scalar) and not line.is_empty:
            # The same as `protocol` makes of a text, or the sentence would not be found again.
            text = " ".join(unicodedata.normalize("NFC", line.text).split())
            yield Message(text, (line.span,), note)


def _phrases(table: ast.Dict, file: str) -> Iterator[Message]:
    for key, value in zip(table.keys, table.values, strict=True):
        try:
            name, text = ast.literal_eval(key) if key else None, ast.literal_eval(value)
        except ValueError:
            name, text = None, None
        if not isinstance(name, str) or not isinstance(text, str):
            raise ValueError(f"{file}:{value.lineno}: a phrase must be plain text under a plain name")
        yield Message(text, (Span(file, value.lineno, value.col_offset + 1),), f"fixed phrase {name}")
