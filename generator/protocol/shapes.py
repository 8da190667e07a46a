"""How each kind of value is written in a clinic's file: read, checked, described.

Takes  a located node and a list to put problems in.
Gives  the typed value, or `UNSOUND` with exactly one problem for one cause.
Knows  forms (text, choice, amount, list, record); not which key holds which.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Set
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property, partial
from typing import Any, Protocol

from generator.protocol import quantity
from generator.protocol.quantity import Unreadable
from generator.source.problem import Problem
from generator.source.span import Span
from generator.source.tree import Entries, Items, Node, Scalar


class UnsoundValue(Exception):
    """Somebody used a value that could not be read; the problem is already on the list."""


class _Unsound:
    """Stands where a value could not be read. Touching it raises, so that no rule judges a value nobody wrote."""

    __slots__ = ()

    def _touch(self, *_: object, **__: object) -> Any:
        raise UnsoundValue

    __getattr__ = __iter__ = __len__ = __bool__ = __getitem__ = __contains__ = __call__ = __str__ = _touch
    __lt__ = __le__ = __gt__ = __ge__ = __hash__ = __format__ = _touch
    __add__ = __sub__ = __mul__ = __truediv__ = __radd__ = __rsub__ = __rmul__ = __rtruediv__ = _touch
    __eq__ = __ne__ = _touch

    def __repr__(self) -> str:
        return "UNSOUND"


UNSOUND: Any = _Unsound()
Spans = Mapping[str, Span]


class _SpansRead(dict[str, Span]):
    """The places of the keys of one record. Asked for one that should be there and is not, it raises as its value would."""

    __slots__ = ("unread",)

    def __init__(self, spans: Mapping[str, Span]) -> None:
        super().__init__(spans)
        self.unread: set[str] = set()

    def __missing__(self, key: str) -> Span:
        if key.removesuffix(":") in self.unread:
            raise UnsoundValue
        raise KeyError(key)


def is_unsound(value: object) -> bool:
    return value is UNSOUND


class Shape(Protocol):
    """What every form of value offers: reading, and its share of the JSON Schema."""

    def read(self, node: Node, problems: list[Problem]) -> Any: ...

    def schema(self) -> dict[str, Any]: ...


def shortened(text: str, most: int = 40) -> str:
    return text if len(text) <= most else text[: most - 1] + "…"


def nearest(word: str, known: list[str]) -> str | None:
    """The known word closest to what was typed: by its beginning, by spelling, then by a shared part of it."""
    if len(word) > 2 and (longer := [name for name in known if name.startswith(word)]):
        return min(longer, key=len)
    import difflib  # only a slip needs it

    close = difflib.get_close_matches(word, known, 1, 0.6)
    if close:
        return close[0]
    parts = {part for part in re.split(r"[\s_-]+", word.lower()) if len(part) > 3}
    return next((name for name in known if parts & set(re.split(r"[\s_-]+", name.lower()))), None)


# What a clinic writes where a person must still decide; no paper is printed from it.
TO_DECIDE = "to decide"
# A typed value as a JSON Schema knows it: text, or what looks like a number; see `schema.py` for what it is not.
TYPED: dict[str, Any] = {"type": ["string", "number"], "not": {"const": TO_DECIDE}}
_WHY_OPEN = "whatever nobody has decided must not reach an animal or its owner"


def is_open(node: Node) -> bool:
    """Whether `to decide` stands here, in letters of either size."""
    if not isinstance(node, Scalar) or node.text[:3].casefold() != "to ":
        return False
    return " ".join(node.text.split()).casefold().rstrip(".?!") == TO_DECIDE


def _left_open(
    name: str, shape: Shape, node: Node, why: str, *, entry: bool = False, optional: bool = False
) -> Problem:
    """The problem of a value that is still to be decided.

    Args:
        name: the key it stands under; of an entry of a list, the key of the list.
        why: what this very value is needed for; empty for the general reason.
    """
    typed = f", such as `{_in_flow(_example(shape))}`" if entry else _as_typed(name, shape)
    leave = "; or delete the entry" if entry else "; or delete the key, if nothing is to stand here" if optional else ""
    return Problem(
        "not-decided",
        node.span,
        (f"an entry of `{name}`" if entry else f"`{name}`") + " is still to be decided",
        why or _WHY_OPEN,
        f"write what was decided{typed}{leave}",
    )


def _awaits(name: str, shape: Shape, node: Node, why: str) -> Problem:
    """The problem of a value that an approval writes: what is printed meanwhile says on every page that it is on trial."""
    problem = _left_open(name, shape, node, why)
    fix = "leave it as it is until a clinician has read the protocol: `gauzeleaf approve` writes it then; or "
    return replace(problem, fix=fix + problem.fix, severity="warning")


def _kind(node: Node) -> str:
    return "a text" if isinstance(node, Scalar) else "a list" if isinstance(node, Items) else "a group of keys"


def _wrong_form(node: Node, wanted: str, fix: str, problems: list[Problem]) -> Any:
    if isinstance(node, Scalar) and (node.is_empty or not node.text.strip()):
        problems.append(
            Problem(
                "value-missing",
                node.span,
                f"nothing is written here, where {wanted} belongs",
                "an empty place on paper looks as if nothing needed doing",
                f"{fix}; or delete the key if it may be left out",
            )
        )
        return UNSOUND
    problems.append(
        Problem(
            "wrong-form",
            node.span,
            f"here stands {_kind(node)}, where {wanted} belongs",
            "a value of another form cannot be printed in its place",
            fix,
        )
    )
    return UNSOUND


def _scalar(node: Node, wanted: str, example: str, problems: list[Problem]) -> Scalar | None:
    if not isinstance(node, Scalar):
        _wrong_form(node, wanted, f"write {wanted} on the same line, such as `{example}`", problems)
        return None
    if node.is_empty or not node.text.strip():
        problems.append(
            Problem(
                "value-missing",
                node.span,
                f"nothing is written here, where {wanted} belongs",
                "an empty place on paper looks as if nothing needed doing",
                f"write {wanted}, such as `{example}`, or delete the key if it may be left out",
            )
        )
        return None
    return node


_FIELD = re.compile(r"\{([^{}]*)\}|[{}]")


@dataclass(frozen=True, slots=True)
class Words:
    """Free text of one line or paragraph. `fields` are the names allowed in braces; `digits` allows figures."""

    example: str = "a few words"
    fields: tuple[str, ...] = ()
    digits: bool = True
    most: int = 400

    def read(self, node: Node, problems: list[Problem]) -> Any:
        scalar = _scalar(node, "a text", self.example, problems)
        if scalar is None:
            return UNSOUND
        text = scalar.text if scalar.text.isascii() else unicodedata.normalize("NFC", scalar.text)
        text = " ".join(text.split())
        if len(text) <= self.most and self.digits and not (self.fields and ("{" in text or "}" in text)):
            return text  # nearly always
        before = len(problems)
        if len(text) > self.most:
            problems.append(
                Problem(
                    "text-too-long",
                    scalar.span,
                    f"the text has {len(text)} letters; at most {self.most} are printed",
                    "a longer one would not fit its place on the sheet",
                    "say it in fewer words, or in two lines",
                )
            )
        for match in _FIELD.finditer(text) if self.fields and ("{" in text or "}" in text) else ():
            if match.group(1) not in self.fields:
                listed = ", ".join("{" + f + "}" for f in self.fields)
                problems.append(
                    Problem(
                        "unknown-field",
                        scalar.span,
                        f"`{shortened(match.group())}` is no field that is filled in here",
                        "the braces would print as they stand",
                        f"use {listed}, or write the words without braces",
                    )
                )
                break
        if not self.digits and (found := re.search(r"\d+", _FIELD.sub("", text))):
            problems.append(
                Problem(
                    "digits-in-owner-text",
                    scalar.span,
                    f"the sentence holds the figure `{found.group()}`",
                    "figures must come from the plan, so that they are the same in every language",
                    "write the sentence without figures; dates, hours and numbers are filled in by the tool",
                )
            )
        return text if len(problems) == before else UNSOUND

    def schema(self) -> dict[str, Any]:
        return TYPED | {"examples": [self.example]}


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a closed list of words."""

    options: tuple[str, ...]
    what: str

    def read(self, node: Node, problems: list[Problem]) -> Any:
        scalar = _scalar(node, self.what, self.options[0], problems)
        if scalar is None:
            return UNSOUND
        if scalar.text in self.options:
            return scalar.text
        close = nearest(scalar.text, list(self.options))
        problems.append(
            Problem(
                "unknown-word",
                scalar.span,
                f"`{shortened(scalar.text)}` is not {self.what} known here",
                "only words from the list have a meaning that the tool can act on",
                (f"the nearest is `{close}`; " if close else "") + "known: " + ", ".join(self.options),
            )
        )
        return UNSOUND

    def schema(self) -> dict[str, Any]:
        return {"enum": list(self.options)}


@dataclass(frozen=True, slots=True)
class YesNo:
    """`yes` or `no`, nothing else: `true`, `on` and the like are read differently by different programs."""

    def read(self, node: Node, problems: list[Problem]) -> Any:
        scalar = _scalar(node, "`yes` or `no`", "no", problems)
        if scalar is None:
            return UNSOUND
        if scalar.text in ("yes", "no"):
            return scalar.text == "yes"
        meant = {"true": "yes", "on": "yes", "y": "yes", "false": "no", "off": "no", "n": "no"}.get(scalar.text.lower())
        meant = meant or {"yes": "yes", "no": "no"}.get(scalar.text.lower())
        problems.append(
            Problem(
                "not-yes-or-no",
                scalar.span,
                f"`{shortened(scalar.text)}` is neither `yes` nor `no`",
                "whether an animal may go home must not hang on a guess",
                f"write `{meant}`" if meant else "write `yes` or `no`",
            )
        )
        return UNSOUND

    def schema(self) -> dict[str, Any]:
        return {"enum": ["yes", "no", True, False]}


@dataclass(frozen=True, slots=True)
class Form:
    """A text of a set form, read by a function that raises `Unreadable`."""

    parse: Callable[[str], Any]
    what: str
    example: str
    least: Any = None
    most: Any = None
    pattern: str | None = None

    def read(self, node: Node, problems: list[Problem]) -> Any:
        scalar = _scalar(node, self.what, self.example, problems)
        if scalar is None:
            return UNSOUND
        try:
            value = self.parse(scalar.text)
        except Unreadable as e:
            problems.append(Problem(e.name, scalar.span, e.what, e.why, e.fix))
            return UNSOUND
        if (self.least is not None and value < self.least) or (self.most is not None and value > self.most):
            problems.append(
                Problem(
                    "number-out-of-range",
                    scalar.span,
                    f"`{scalar.text}` is outside what {self.what} can be",
                    "a figure so far off is a slip of the finger or of the unit",
                    f"look at the number and its unit; a usual value is `{self.example}`",
                )
            )
            return UNSOUND
        return value

    def schema(self) -> dict[str, Any]:
        return TYPED | {"examples": [self.example]} | ({"pattern": self.pattern} if self.pattern else {})


def _whole(text: str) -> int:
    if not re.fullmatch(r"[0-9]+", text) or not text.isascii():
        raise Unreadable(
            "not-a-whole-number",
            f"`{shortened(text)}` is not a whole number",
            "things are counted whole",
            "write digits only, such as `2`",
        )
    if len(text) > 1 and text[0] == "0":
        raise Unreadable(
            "leading-zero",
            f"`{text}` starts with a zero",
            "a leading zero is read differently by different programs",
            f"write `{text.lstrip('0') or '0'}`",
        )
    if len(text) > 6:
        raise Unreadable(
            "number-out-of-range",
            f"`{shortened(text)}` is too large",
            "nothing here is counted so high",
            "look at the number again",
        )
    return int(text)


def _date(text: str) -> date:
    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            raise Unreadable(
                "no-such-date",
                f"`{text}` is not in the calendar",
                "a deadline cannot be counted from it",
                "look at the day and the month",
            ) from None
    raise Unreadable(
        "not-a-date",
        f"`{shortened(text)}` is not a date as written here",
        "3/4 is March to some and April to others",
        "write year-month-day, such as `2027-03-14`",
    )


def read_moment(text: str) -> datetime:
    """Read `2027-03-13T10:30`, with or without an offset; seconds are dropped never, refused instead."""
    match = re.fullmatch(r"([0-9]{4}-[0-9]{2}-[0-9]{2})[T ]([0-9]{2}:[0-9]{2})(:00)?(Z|[+-][0-9]{2}:[0-9]{2})?", text)
    if match:
        try:
            return datetime.fromisoformat(f"{match[1]}T{match[2]}:00{match[4] or ''}")
        except ValueError:
            raise Unreadable(
                "no-such-date",
                f"`{text}` is not in the calendar or on the clock",
                "a deadline cannot be counted from it",
                "look at the day, the month and the hour",
            ) from None
    raise Unreadable(
        "not-a-moment",
        f"`{shortened(text)}` is not a date with a clock time",
        "every limit is counted from the minute the bandage went on",
        "write year-month-day, T, hours:minutes, such as `2027-03-13T10:30`",
    )


WHOLE = Form(_whole, "a whole number", "2", pattern="^[0-9]+$")
DATE = Form(_date, "a date", "2027-03-14")
MOMENT = Form(read_moment, "a date with a clock time", "2027-03-13T10:30")
LENGTH = Form(lambda t: quantity.amount(t, "length"), "a length", "7.5 cm", least=0)
SHARE = Form(lambda t: quantity.amount(t, "share"), "a share", "50 %", least=0)
WINDOW = Form(quantity.window, "a time or a window of two times", "12 h to 24 h")
LIMIT = Form(quantity.limit, "a time", "24 h")


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list of one form; `least` entries at the fewest."""

    shape: Shape
    least: int = 1
    distinct: bool = False
    example: str = ""

    def read(self, node: Node, problems: list[Problem], name: str = "this list", why: str = "") -> Any:
        """Read the list; `name` is the key it stands under, `why` what an entry left open would do."""
        if isinstance(node, Scalar) and node.is_empty:
            problems.append(
                Problem(
                    "value-missing",
                    node.span,
                    "nothing is written here, where a list belongs",
                    "an empty place on paper looks as if nothing needed doing",
                    "write the list below, each line starting with `- `, or delete the key if it may be left out",
                )
            )
            return UNSOUND
        if not isinstance(node, Items):
            return _wrong_form(node, "a list", "start each line with `- `, or write `[first, second]`", problems)
        if len(node.items) < self.least:
            problems.append(
                Problem(
                    "value-missing",
                    node.span,
                    "the list is empty",
                    "an empty list prints as nothing at all",
                    "add a line, or delete the key if it may be left out",
                )
            )
            return UNSOUND
        values = []
        for item in node.items:
            if is_open(item):
                problems.append(_left_open(name, self.shape, item, why, entry=True))
                values.append(UNSOUND)
            else:
                values.append(self.shape.read(item, problems))
        if any(value is UNSOUND for value in values):
            return UNSOUND
        if self.distinct:
            for i, value in enumerate(values):
                if value in values[:i]:
                    problems.append(
                        Problem(
                            "listed-twice",
                            node.items[i].span,
                            f"`{value}` is listed twice",
                            "a repeated entry hides a forgotten one",
                            "delete one of the two",
                        )
                    )
                    return UNSOUND
        return tuple(values)

    def schema(self) -> dict[str, Any]:
        return {"type": "array", "items": self.shape.schema(), "minItems": self.least}


@dataclass(frozen=True, slots=True)
class OneOrMore:
    """One value, or a list of them; gives a tuple either way."""

    shape: Shape

    def read(self, node: Node, problems: list[Problem], name: str = "this list", why: str = "") -> Any:
        if isinstance(node, Items):
            return ListOf(self.shape, distinct=True).read(node, problems, name, why)
        value = self.shape.read(node, problems)
        return UNSOUND if value is UNSOUND else (value,)

    def schema(self) -> dict[str, Any]:
        return {"oneOf": [self.shape.schema(), ListOf(self.shape).schema()]}


@dataclass(frozen=True, slots=True)
class MapOf:
    """Free keys, each read by `key`, with values of one form; gives a dict in the order of the file."""

    key: Callable[[str], Any]
    shape: Shape
    what: str
    spans: bool = False
    example: str = ""

    def read(self, node: Node, problems: list[Problem], name: str = "", why: str = "") -> Any:
        """Read the map; `why` is what a value left open would do, `name` is not needed: each value has a key of its own."""
        if not isinstance(node, Entries):
            return _wrong_form(node, self.what, "write one `name: value` a line below the key", problems)
        result: dict[Any, Any] = {}
        sound = True
        for word, child in node.entries:
            try:
                key = self.key(word.text)
            except Unreadable as e:
                problems.append(Problem(e.name, word.span, e.what, e.why, e.fix))
                sound = False
                continue
            value = read_under(word.text, self.shape, child, problems, why)
            sound = sound and value is not UNSOUND
            result[key] = Placed(value, word.span) if self.spans else value
        return result if sound else UNSOUND

    def schema(self) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": self.shape.schema()}


def read_under(name: str, shape: Shape, node: Node, problems: list[Problem], why: str = "") -> Any:
    """Read the value of a free key, unless it is still to be decided."""
    if is_open(node):
        problems.append(_left_open(name, shape, node, why))
        return UNSOUND
    return _reader(name, shape, why)(node, problems)


def _reader(name: str, shape: Shape, why: str) -> Callable[[Node, list[Problem]], Any]:
    """How a shape reads what stands under a key: only lists and maps need to know which, for what is left open in them."""
    return partial(shape.read, name=name, why=why) if isinstance(shape, (ListOf, OneOrMore, MapOf)) else shape.read


@dataclass(frozen=True, slots=True)
class Placed:
    """A value with the place of its key."""

    value: Any
    span: Span


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a record.

    stricter: how two values of the key join into the stricter one (blend, modifier, house limit); None where a key
    is never joined. say: one sentence for the schema and for messages. needed: why it must be decided before anything is
    printed; left out, the record's reason. awaits: an approval writes it; until then `to decide` may stand there, and gives None.
    """

    name: str
    shape: Shape
    required: bool = True
    default: Any = None
    stricter: Callable[[Any, Any], Any] | None = None
    say: str = ""
    needed: str = ""
    awaits: bool = False


@dataclass(frozen=True)
class Record:
    """A group of named keys that builds one value; `build` gets every key by name and `spans` of those present."""

    what: str
    keys: tuple[Key, ...]
    build: Callable[..., Any]
    # What keys must hold together; it is told which right spellings were probably meant, so as not to miss them twice.
    aside: Callable[[Entries, list[Problem], Set[str]], None] | None = field(default=None)
    # Why a value of it must be decided before anything is printed, and the whole of it as it might be written on one line.
    needed: str = ""
    example: str = ""

    @cached_property
    def _known(self) -> dict[str, tuple[str, Callable[[Node, list[Problem]], Any], str, Key]]:
        """By name: under what name `build` takes the value, how it is read, where the place of the key is kept, the key.

        A large book is read through here a hundred times a file; all that is the same each time is made once.
        """
        return {
            key.name: (
                key.name.replace(" ", "_"),
                _reader(key.name, key.shape, key.needed or self.needed),
                key.name + ":",
                key,
            )
            for key in self.keys
        }

    def read(self, node: Node, problems: list[Problem], skip: frozenset[str] = frozenset()) -> Any:
        if not isinstance(node, Entries):
            return _wrong_form(
                node,
                f"{self.what} (a group of keys)",
                "write one `key: value` a line: " + ", ".join(k.name for k in self.keys),
                problems,
            )
        known = self._known
        spans = _SpansRead({"": node.span})
        values: dict[str, Any] = {}
        close_calls: set[str] = set()
        for name, child in node.entries:
            word = name.text
            if word in skip:
                continue
            found = known.get(word)
            if found is None:
                close = nearest(name.text, [k for k in known if node.get(k) is None]) or nearest(name.text, list(known))
                if close:
                    close_calls.add(close)
                problems.append(
                    Problem(
                        "unknown-key",
                        name.span,
                        f"{self.what} has no key `{shortened(name.text)}`",
                        "a line that the tool does not read would be missing from the paper without a word",
                        (f"the nearest key is `{close}`; " if close else "")
                        + f"{self.what} may hold: "
                        + ", ".join(known),
                    )
                )
                continue
            into, read, place, own = found
            spans[word] = child.span
            spans[place] = name.span
            if is_open(child) and own.awaits:
                problems.append(_awaits(word, own.shape, child, own.needed))
                values[into] = None
            elif is_open(child):
                why = own.needed or self.needed
                problems.append(_left_open(word, own.shape, child, why, optional=not own.required))
                values[into] = UNSOUND
            else:
                values[into] = read(child, problems)
        for key in self.keys:
            into = known[key.name][0]
            if into in values:
                continue
            # A misspelt key is one slip, not two: its right spelling is not asked for again, here or by a rule.
            if not key.required and key.name not in close_calls:
                # A misspelt key is there, only unreadable: no rule shall call it missing.
                values[into] = UNSOUND if key.name in close_calls else key.default
                continue
            values[into] = UNSOUND
            spans.unread.add(key.name)
            if key.name not in close_calls:
                problems.append(
                    Problem(
                        "key-missing",
                        _head(node),
                        f"{self.what} has no `{key.name}`",
                        key.say or "without it the paper would leave the reader guessing",
                        f"add a line{_as_typed(key.name, key.shape)}",
                    )
                )
        if self.aside is not None:
            self.aside(node, problems, close_calls)
        return self.build(**values, spans=spans)

    def schema(self) -> dict[str, Any]:
        return {
            "type": "object",
            "properties": {k.name: k.shape.schema() | ({"description": k.say} if k.say else {}) for k in self.keys},
            "required": [k.name for k in self.keys if k.required],
            "additionalProperties": False,
        }


def _head(node: Entries) -> Span:
    return node.entries[0][0].span if node.entries else node.span


# A longer one is no example but a form to fill in.
_LONGEST_EXAMPLE = 110
_NO_EXAMPLE = ""


def _example(shape: Shape) -> str:
    """What might be written for a shape, on one line."""
    if given := getattr(shape, "example", ""):
        return str(given)
    if isinstance(shape, Choice):
        return shape.options[0]
    if isinstance(shape, YesNo):
        return "no"
    if isinstance(shape, OneOrMore):
        return _example(shape.shape)
    if isinstance(shape, ListOf):
        return "[" + ", ".join([_in_flow(_example(shape.shape))] * max(shape.least, 1)) + "]"
    if isinstance(shape, Record):
        return "{" + ", ".join(f"{k.name}: {_in_flow(_example(k.shape))}" for k in shape.keys if k.required) + "}"
    return _NO_EXAMPLE


def _in_flow(text: str) -> str:
    """The text as it must be written between brackets."""
    return f'"{text}"' if text[:1] not in "{[" and re.search(r"[,\[\]{}]|: | #", text) else text


def _as_typed(name: str, shape: Shape) -> str:
    """A key with a value as it might be typed; of one that takes many lines, what goes below it."""
    example = _example(shape)
    if example != _NO_EXAMPLE and len(example) <= _LONGEST_EXAMPLE:
        return f", such as `{name}: {example}`"
    if isinstance(shape, ListOf):
        shape = shape.shape
    keys = f" ({', '.join(key.name for key in shape.keys)})" if isinstance(shape, Record) else ""
    return f": `{name}:`, and below it one `key: value` a line{keys}"
