"""Collect every sentence an owner may read, with the places it comes from.

Takes  located trees of a book, the text of the module of fixed phrases, the text of templates.
Gives  `Message`s, each once, in a stable order, for the catalogues, with what a translator should know of it.
Knows  which keys hold owner's words; nothing of translations.
"""

from __future__ import annotations

import ast
import io
import re
import tokenize
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import PurePath

from generator.source.span import Span
from generator.source.tree import Entries, Items, Node, Scalar
from generator.words import notes
from generator.words.fields import has_words, parse

# So many titles are named in a note; of more, only how many they are, so that a note changes seldom.
_NAMED = 3


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a sentence is written.

    path: its key path, such as `foot-bandage:owner.never[2]` (counted from 1), `signs:wet.owner`, `phrase:never`;
    without blanks. part: the part of the sheet, in words for a translator. whose: title of the protocol, if one says it.
    """

    span: Span
    path: str = ""
    part: str = ""
    whose: str = ""

    @property
    def list_path(self) -> str:
        """The key path of the list the sentence stands in; its own where it stands alone."""
        return list_path(self.path)


def list_path(path: str) -> str:
    """A key path without its last count: `foot-bandage:owner.never` of `foot-bandage:owner.never[2]`."""
    return re.sub(r"\[\d+\]\Z", "", path)


@dataclass(frozen=True, slots=True)
class Message:
    """One sentence to translate. places: sorted. hint: a word on it where the English could be misread."""

    source: str
    places: tuple[Place, ...]
    hint: str = ""
    context: str | None = None
    plural: str | None = None

    @property
    def key(self) -> tuple[str | None, str]:
        """What names a message: context and source."""
        return self.context, self.source

    @property
    def notes(self) -> tuple[str, ...]:
        """Lines for the translator: parts of the sheet, the hint, what each field holds."""
        return (*_parts(self.places), *([self.hint] if self.hint else []), *_fields(self.plural or self.source))


def merged(messages: Iterable[Message]) -> tuple[Message, ...]:
    """Each message once, with all its places and hints, in the order of the first; what holds only fields is left out."""
    found: dict[tuple[str | None, str], Message] = {}
    for message in messages:
        if not has_words(message.source):
            continue
        before = found.get(message.key)
        if before is None:
            found[message.key] = message
            continue
        hint = " ".join(dict.fromkeys(one for one in (before.hint, message.hint) if one))
        places = tuple(sorted({*before.places, *message.places}))
        plural = before.plural if before.plural is not None else message.plural
        found[message.key] = Message(message.source, places, hint, message.context, plural)
    return tuple(found.values())


def _parts(places: Sequence[Place]) -> Iterator[str]:
    """One line for each part of the sheet, in the order of the places; the protocols behind it, by name if they are few."""
    for part in dict.fromkeys(place.part for place in places if place.part):
        titles = list(dict.fromkeys(place.whose for place in places if place.part == part and place.whose))
        # Stages of one protocol are one protocol.
        protocols = {place.path.partition(":")[0] for place in places if place.part == part and place.whose}
        told = "; ".join(titles) if len(titles) <= _NAMED else f"{len(protocols)} protocols"
        yield part[:1].upper() + part[1:] + (f" ({told})" if titles else "")


def _fields(text: str) -> Iterator[str]:
    for name in dict.fromkeys(part.name for part in parse(text) if not isinstance(part, str)):
        yield f"{{{name}}}: {notes.FIELDS.get(name, 'filled in when the sheet is printed')}"


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
                if not isinstance(body, Entries) or (owner := body.get("owner")) is None:
                    continue
                urgency = body.get("urgency")
                part = notes.SIGNS.get(urgency.text) if isinstance(urgency, Scalar) else None
                messages += _lines(owner, f"signs:{sign.text}.owner", part or notes.SIGN)
        elif tree.get("protocol") is not None and tree.get("patient") is None:
            messages += _protocol(tree, PurePath(name).stem)
    return merged(messages)


def from_phrases(text: str, file: str, mapping: str = "PHRASES") -> tuple[Message, ...]:
    """The sentences of a Python module that keeps them as one mapping of id to text.

    A comment on a line of its own heads the phrases below it: it is the part of the sheet they belong to.

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
                return merged(_phrases(table, file, _headings(text)))
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
        where = Place(place, f"template:{PurePath(file).name}", notes.TEMPLATE)
        messages.append(
            Message(first, (where,), context=None if is_plural else second, plural=second if is_plural else None)
        )
    return merged(messages)


def _protocol(tree: Entries, slug: str) -> Iterator[Message]:
    title = tree.get("title")
    name = title.text if isinstance(title, Scalar) else slug
    yield from _owner(tree.get("owner"), f"{slug}:owner", name)
    stages = tree.get("stages")
    if isinstance(stages, Entries):
        for stage, body in stages.entries:
            if isinstance(body, Entries):
                path = f"{slug}:stages.{stage.text}.owner"
                yield from _owner(body.get("owner"), path, f"{name}, {stage.text} stage")


def _owner(node: Node | None, path: str, whose: str) -> Iterator[Message]:
    if isinstance(node, Entries):
        for key, value in node.entries:
            if key.text in notes.LINES:
                yield from _lines(value, f"{path}.{key.text}", notes.LINES[key.text], whose)


def _lines(node: Node, path: str, part: str, whose: str = "") -> Iterator[Message]:
    is_list = isinstance(node, Items)
    for number, line in enumerate(node.items if isinstance(node, Items) else (node,), 1):
        if isinstance(line, Scalar) and not line.is_empty:
            # The same as `protocol` makes of a text, or the sentence would not be found again.
            text = " ".join(unicodedata.normalize("NFC", line.text).split())
            yield Message(text, (Place(line.span, path + (f"[{number}]" if is_list else ""), part, whose),))


def _headings(text: str) -> dict[int, str]:
    """The comments that stand on lines of their own, by line; those of neighbouring lines are one."""
    found: dict[int, str] = {}
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type == tokenize.COMMENT and token.line.lstrip().startswith("#"):
            line = token.start[0]
            before = found.pop(line - 1, "")
            found[line] = f"{before} {token.string.lstrip('# ')}".strip()
    return found


def _phrases(table: ast.Dict, file: str, headings: Mapping[int, str]) -> Iterator[Message]:
    for key, value in zip(table.keys, table.values, strict=True):
        try:
            name, text = ast.literal_eval(key) if key else None, ast.literal_eval(value)
        except ValueError:
            name, text = None, None
        if not isinstance(name, str) or not isinstance(text, str):
            raise ValueError(f"{file}:{value.lineno}: a phrase must be plain text under a plain name")
        above = [line for line in headings if table.lineno <= line < value.lineno]
        part = headings[max(above)] if above else ""
        place = Place(Span(file, value.lineno, value.col_offset + 1), f"phrase:{name}", part)
        yield Message(text, (place,), notes.HINTS.get(name, ""))
