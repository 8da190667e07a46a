"""Every key of a protocol file: its name, its form, whether it must be there, how it joins.

Takes  located trees from `source`.
Gives  `read_protocol`, `LIMITS` and the records the other vocabularies share.
Knows  the words of the book; not what the trade thinks of them (that is `rules/`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

from generator.protocol import kinds, quantity
from generator.protocol import model as m
from generator.protocol.content import content_digest
from generator.protocol.joins import STRICTER, WATCHERS
from generator.protocol.quantity import Unreadable
from generator.protocol.shapes import (
    DATE,
    LENGTH,
    LIMIT,
    SHARE,
    UNSOUND,
    WHOLE,
    WINDOW,
    Choice,
    Form,
    Key,
    ListOf,
    MapOf,
    OneOrMore,
    Record,
    Spans,
    Words,
    YesNo,
    is_unsound,
)
from generator.source.problem import Problem
from generator.source.tree import Entries, Node, Scalar

OWNER_FIELDS = ("pet",)
LIMIT_NAMES = tuple(STRICTER)
SLUG = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_IDENTITY = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9._/-]{0,30}[A-Za-z0-9])?")


def slug(text: str) -> str:
    """Read a name that is also a file name and a word on the command line."""
    if not SLUG.fullmatch(text) or len(text) > 60:
        raise Unreadable(
            "not-a-slug",
            f"`{text}` cannot serve as a name in commands and files",
            "it must be the same on every computer",
            "use small letters a to z, figures and hyphens, such as `padded-limb-support`",
        )
    return text


def _identity(text: str) -> str:
    if not _IDENTITY.fullmatch(text):
        raise Unreadable(
            "not-an-id",
            f"`{text}` cannot serve as a document number",
            "an inspector must be able to read and type it",
            "use letters A to Z, figures, and . _ / - between them, such as `LB-SUP-002`",
        )
    return text


SOURCE_WORDS = ("common practice", "house rule", "from memory", "computed", "clinic's own")


def _source_word(text: str) -> m.Source:
    if text in SOURCE_WORDS:
        return m.Source(word=text)
    raise Unreadable(
        "unknown-source",
        f"`{text}` does not say whose word this is",
        "a figure without a source cannot be defended to an inspector",
        "write `common practice`, `house rule`, `clinic's own`, `from memory`, or `{published: [3]}`",
    )


class _SourceShape:
    """`common practice`, or `{published: [3, 40]}`."""

    example = "common practice"

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if isinstance(node, Entries):
            numbers = _PUBLISHED.read(node, problems)
            return UNSOUND if is_unsound(numbers) else m.Source(published=numbers)
        return Form(_source_word, "a source", self.example).read(node, problems)

    def schema(self) -> dict[str, Any]:
        return {"oneOf": [{"enum": list(SOURCE_WORDS)}, _PUBLISHED.schema()]}


_PUBLISHED = Record("a published source", (Key("published", ListOf(WHOLE)),), lambda published, spans: published)
SOURCE = _SourceShape()


def _person(name: str, role: str) -> Record:
    return Record(
        "a person",
        (Key("name", Words(name)), Key("role", Words(role)), Key("date", DATE)),
        m.Person,
        needed="a signature without a name, an office and a day binds nobody",
    )


class _Bands:
    """One value, or one for each band of weight or girth: `{2 kg to 10 kg: 1, 10 kg and over: 2}`."""

    def __init__(self, shape: Form, plain: bool) -> None:
        self.shape, self.plain, self.example = shape, plain, "7.5 cm" if plain else "{2 kg to 10 kg: 1}"

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if not isinstance(node, Entries):
            if self.plain:
                return self.shape.read(node, problems)
            return MapOf(_weight_band, self.shape, "a number for each range of weights").read(node, problems)
        if not self.plain:
            # A count of rolls is told apart by the animal's weight only: such a shape has no girth.
            reader: Callable[[str], quantity.Band] = _weight_band
        else:
            reader = _any_band
        found = MapOf(reader, self.shape, "a value for each range").read(node, problems)
        if is_unsound(found):
            return UNSOUND
        pairs = tuple(sorted(found.items(), key=lambda pair: pair[0].lower))
        for (one, _), (other, _) in pairwise(pairs):
            if one.upper is None or one.upper > other.lower:
                problems.append(
                    Problem(
                        "bands-overlap",
                        node.span,
                        "two of the ranges overlap",
                        "one animal would get two answers",
                        "let each range end where the next begins; the lower end counts in",
                    )
                )
                return UNSOUND
        return pairs

    def schema(self) -> dict[str, Any]:
        banded = {"type": "object", "additionalProperties": self.shape.schema()}
        return {"oneOf": [self.shape.schema(), banded]} if self.plain else banded


def _weight_band(text: str) -> quantity.Band:
    return quantity.band(text, "mass")


def _any_band(text: str) -> quantity.Band:
    return quantity.band(text, "mass" if re.search(r"\b(kg|g|lb)\b", text) else "length")


def _at_most(example: str) -> Form:
    """A time, with an example that would do no harm if somebody copied it."""
    return replace(LIMIT, example=example)


_PASSES = Form(WHOLE.parse, "a number of passes", "3", least=1, most=12)
_COUNT = Form(WHOLE.parse, "a count", "2", least=1, most=20)
# Below one third turns gape, above two thirds the strip lies on itself (Hazewinkel: 1/2 to 2/3; the floor is a house rule).
_OVERLAP = Form(SHARE.parse, "an overlap", "50 %", least=Fraction(33, 100), most=Fraction(67, 100))
_WIDTH = Form(LENGTH.parse, "a width", "7.5 cm", least=Fraction(1), most=Fraction(40))


LAYER = Record(
    "a layer",
    (
        Key("layer", Choice(kinds.LAYERS, "a layer"), say="the layer's place in the order, skin outwards"),
        Key(
            "material",
            Words("cast padding"),
            required=False,
            say="generic name, as in stock.yaml; of a contact layer also `by the wound`",
        ),
        Key("passes", _PASSES, required=False, say="trips along the limb"),
        Key("overlap", _OVERLAP, required=False, say="share of the strip's width under the next turn"),
        Key(
            "inset",
            Form(LENGTH.parse, "a length", "2 cm", least=0, most=Fraction(20)),
            required=False,
            default=Fraction(0),
            say="left showing at each end",
        ),
        Key(
            "width",
            _Bands(_WIDTH, plain=True),
            required=False,
            say="width of the strip; left out, the trade's rule by girth chooses",
        ),
        Key(
            "firmness",
            Words("snug"),
            required=False,
            say="how firmly, in words; for gauze and outer wrap it starts with " + ", ".join(kinds.FIRMNESS),
        ),
        Key("because", Words("it spreads the pull of the layers above"), required=False),
        Key("count", _COUNT, required=False, say="how many pieces or strips"),
        Key(
            "length",
            Form(LENGTH.parse, "a length", "30 cm", least=Fraction(1), most=Fraction(300)),
            required=False,
            say="of one strip or splint",
        ),
        Key("on_skin_at_most", _at_most("7 d"), required=False, say="longest that tape stays on skin"),
        Key("needed_if", Choice(("incision or wound", "wound"), "a condition"), required=False, say="left out: always"),
        Key("size", Words("10 cm by 10 cm", most=40), required=False, say="of a piece, as listed in stock.yaml"),
        Key("rolls", _Bands(_COUNT, plain=False), required=False, say="of a shape that is no limb: rolls by weight"),
        Key(
            "prefer",
            ListOf(Words("foam sheet", most=60), distinct=True),
            required=False,
            default=(),
            say="contact materials in the order in which to take them, where the material is `by the wound`",
        ),
    ),
    m.Layer,
    needed="whoever stands at the table would choose, each a bandage of their own",
    example="{layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}",
)

_STEP_WORDS = Words("Roll the padding from the toes upward.", most=220)
STEP = Record(
    "a step",
    (
        Key("caution", Words("Keep the two middle toes showing.", most=220), required=False),
        Key("because", Words("they are the only window on the blood supply"), required=False),
        Key("do", _STEP_WORDS, required=False),
        Key("check", Words("The tip of the little finger slides in at both ends."), required=False),
        Key("if_not", Words("take it off and start again"), required=False),
        Key("by", _at_most("15 min"), required=False),
        Key(
            "layer",
            Choice(kinds.LAYERS, "a layer"),
            required=False,
            say="the layer it lays: in a blend, only the part whose layer counts says how",
        ),
    ),
    m.Step,
    needed="a step left open is made up at the table, with the animal on it",
    example="{do: Roll the padding from the toes upward.}",
)

_LIMIT_OPEN = "a bandage that nobody must look at or take off in time can cost the limb"
CHECK_EVERY = Record(
    "`check_every`",
    (Key("interval", _at_most("12 h")), Key("who", Choice(WATCHERS, "somebody who checks"))),
    m.CheckEvery,
    needed=_LIMIT_OPEN,
)


class _TighterCheck:
    """As `check_every`, or the interval alone: whoever looks stays the same."""

    example = "8 h"

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if isinstance(node, Entries):
            return CHECK_EVERY.read(node, problems)
        interval = LIMIT.read(node, problems)
        return (
            UNSOUND
            if is_unsound(interval)
            else m.CheckEvery(interval, WATCHERS[0], {"": node.span, "interval": node.span})
        )

    def schema(self) -> dict[str, Any]:
        return {"oneOf": [LIMIT.schema(), CHECK_EVERY.schema()]}


class _RemoveBy:
    """One time, or one for each reason: `{swelling: 3 d, incision: 14 d}`."""

    example = "14 d"

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if isinstance(node, Entries):
            found = MapOf(str, LIMIT, "a time for each reason").read(node, problems)
            return UNSOUND if is_unsound(found) else m.Removal(None, found)
        plain = LIMIT.read(node, problems)
        return UNSOUND if is_unsound(plain) else m.Removal(plain)

    def schema(self) -> dict[str, Any]:
        return {"oneOf": [LIMIT.schema(), {"type": "object", "additionalProperties": LIMIT.schema()}]}


def _limit_keys(required: bool) -> tuple[Key, ...]:
    shapes = {
        "first_check": (WINDOW, "when somebody trained first looks at it"),
        "check_every": (CHECK_EVERY if required else _TighterCheck(), "how often it is looked at, and by whom"),
        "change_every": (WINDOW, "no application stays closed longer than the later figure"),
        "recheck_every": (WINDOW, "how often staff see it, the bandage staying on"),
        "release": (_at_most("15 min"), "a pressure bandage is released at the latest by then"),
        "remove_by": (_RemoveBy(), "when bandaging ends; never restarts at a change"),
        "remove_when": (Words("union on radiograph"), "a clinical end, where no time can be given"),
        "supervised": (YesNo(), "whether staff must have it in sight all the time"),
        "go_home": (YesNo(), "whether the animal may go home with it"),
    }
    needed = ("supervised", "go_home") if required else ()
    return tuple(Key(k, s, k in needed, None, STRICTER[k], say) for k, (s, say) in shapes.items())


LIMITS = Record("`limits`", _limit_keys(True), m.Limits, needed=_LIMIT_OPEN)
TIGHTER = Record("these limits", _limit_keys(False), m.Limits, needed=_LIMIT_OPEN, example="{change_every: 3 d}")

_WALKS = Form(lambda t: _per_day(t), "a number a day", "4 a day")


def _per_day(text: str) -> int:
    found = re.fullmatch(r"([0-9]{1,2}) a day", text)
    if not found or not 1 <= int(found[1]) <= 12:
        raise Unreadable(
            "not-a-day-count",
            f"`{text}` does not say how many a day",
            "rest that cannot be counted is not kept",
            "write a number and `a day`, such as `4 a day`",
        )
    return int(found[1])


_OWNER_OPEN = "an owner does what the sheet says, and has to guess the rest"
EXERCISE = Record(
    "`exercise`",
    (
        Key("walks", _WALKS, say="lead walks a day"),
        Key("minutes_each", _at_most("5 min"), say="length of one walk"),
        Key(
            "lead",
            Form(LENGTH.parse, "a length", "2 m", least=Fraction(30), most=Fraction(1000)),
            say="length of the lead",
        ),
    ),
    m.Exercise,
    needed=_OWNER_OPEN,
)
OWNER_LINE = Words("Look at the two middle toes.", fields=OWNER_FIELDS, digits=False, most=110)
_OWNER_LINES = ListOf(OWNER_LINE, distinct=True)
OWNER = Record(
    "`owner`",
    (
        Key("what_it_does", OWNER_LINE, say="one line: what the bandage is for"),
        Key("every_day", _OWNER_LINES),
        Key("keep_dry", _OWNER_LINES, required=False, default=()),
        Key("exercise", EXERCISE, required=False, say="what rest means, in acts that can be counted"),
        Key("never", _OWNER_LINES),
    ),
    m.OwnerText,
    needed=_OWNER_OPEN,
)

COVERS = Record(
    "`covers`",
    (
        Key("from", Words("toes")),
        Key("to", Words("above the hock")),
        Key("joints", ListOf(Choice(kinds.JOINTS, "a joint"), distinct=True), required=False, default=()),
        Key("leave_showing", Words("tips of the two middle toes"), required=False),
    ),
    lambda spans, **v: m.Covers(from_=v.pop("from"), spans=spans, **v),
    needed="how far it reaches decides which joints it holds, and how much of it is fetched",
)

REFRAIN = Record(
    "a case",
    (
        Key("case", Words("an unstable fracture")),
        Key("because", Words("a soft bandage does not immobilise")),
        Key("instead", Form(slug, "a protocol's name", "splinted-limb"), required=False),
    ),
    m.Refrain,
    needed="a case that nobody has named is bandaged like any other",
)
REFERENCE = Record(
    "a reference",
    (Key("cite", Words("Author. Title. Journal year", most=600)), Key("for", Words("change_every"), required=False)),
    lambda spans, **v: m.Reference(v["cite"], v["for"], spans),
)
REVISION = Record(
    "a row of the history",
    (
        Key("revision", Form(WHOLE.parse, "a whole number", "1", least=1)),
        Key("date", DATE),
        Key("change", Words("first issue")),
        Key("why", Words("new book")),
        Key("by", Words("R. Osei-Lund")),
    ),
    m.Revision,
    needed="what changed, and why, could not be told to whoever learned the protocol before",
)
SETTLED = Record(
    "a settled conflict",
    (
        Key("key", Words("padding")),
        Key("part", Form(slug, "a protocol's name", "splinted-limb")),
        Key("decided_by", Words("Dr M. Tamsin")),
        Key("why", Words("the bone is unstable")),
    ),
    m.Settled,
    needed="whose layer is laid is a clinician's decision, and an animal lies under it",
)

_LINES = ListOf(Words())
_HEAD = (
    Key("protocol", Form(slug, "a name", "padded-limb-support"), say="the file's name, used in commands"),
    Key("title", Words("Padded limb bandage", most=60)),
)
_CONTROL = (
    Key(
        "id",
        Form(_identity, "a document number", "LB-SUP-002"),
        needed="an inspector must find one paper under one number, and so must whoever calls an old copy in",
    ),
    Key(
        "revision",
        Form(WHOLE.parse, "a whole number", "1", least=1),
        needed="nobody could tell this paper from an older one on the wall",
    ),
    Key("effective", DATE, awaits=True, needed="a sheet that is not in force must not go on an animal"),
    Key(
        "review_by",
        replace(DATE, example="2028-03-14"),
        awaits=True,
        needed="a paper that nobody has to look at again is followed when it is long out of date",
    ),
    Key(
        "prepared_by",
        _person("R. Osei-Lund", "head technician"),
        needed="a sheet that nobody answers for must not go on an animal",
    ),
    Key(
        "approved_by",
        _person("Dr M. Tamsin", "clinician"),
        awaits=True,
        needed="an unsigned sheet must not go on an animal",
    ),
)
_SOURCES = MapOf(str, SOURCE, "a source for each limit", example="{first_check: common practice}")
_SOURCE_OPEN = "a figure without a source cannot be defended to an inspector"
_SIGN_OPEN = "a warning sign that is not on the sheet is seen too late"
_SIGNS = ListOf(Form(slug, "a sign's name", "toes-cold-or-discoloured"), distinct=True)
_SPECIES = ListOf(Choice(("dog", "cat"), "a species"), distinct=True)
_ASIDE = (
    Key("supplies", _LINES, required=False, default=(), say="what to have ready besides the layers' materials"),
    Key("review", _LINES, required=False, default=(), say="what to ask of the wound or limb at each change"),
)
_PROTOCOL_OPEN = "a protocol with a gap is filled in from memory, by each in a way of their own"
_STAGE_KEYS = (
    Key("function", Words(), required=False),
    Key("use_when", _LINES, required=False, default=()),
    Key("layers", ListOf(LAYER)),
    Key("steps", ListOf(STEP)),
    Key("limits", LIMITS),
    Key("sources", _SOURCES, needed=_SOURCE_OPEN),
    Key("signs", _SIGNS, required=False, default=(), needed=_SIGN_OPEN),
    Key("owner", OWNER, required=False),
    *_ASIDE,
)


def _stage(spans: Spans, **values: Any) -> dict[str, Any]:
    return values | {"spans": spans}


def _read_stage_name(text: str) -> str:
    if text not in kinds.STAGES:
        raise Unreadable(
            "unknown-word",
            f"`{text}` is not a stage of wound healing known here",
            "a stage decides what may touch the wound",
            "known: " + ", ".join(kinds.STAGES),
        )
    return text


_STAGES = MapOf(
    _read_stage_name,
    Record("a stage", _STAGE_KEYS, _stage, needed=_PROTOCOL_OPEN),
    "a group for each stage of healing",
)


def _protocol_keys(staged: bool) -> tuple[Key, ...]:
    return (
        *_HEAD,
        Key("kind", Choice(kinds.KIND_WORDS, "a kind of bandage")),
        *_CONTROL,
        Key("species", _SPECIES),
        Key("sites", ListOf(Choice(kinds.SITES, "a site"), distinct=True)),
        Key("function", Words()),
        Key("immobilises", YesNo(), required=False, say="support bandages: whether it makes the limb rigid"),
        Key(
            "bone",
            OneOrMore(Choice(tuple(kinds.BONES), "a bone")),
            required=False,
            default=(),
            say="the bone, or bones, it treats",
        ),
        Key(
            "only_for",
            Choice(("growing", "grown"), "an age"),
            required=False,
            say="the only animals it is for, told from birth date and weight; left out: both",
        ),
        Key("use_when", _LINES),
        Key("do_not_use_when", ListOf(REFRAIN)),
        Key("covers", COVERS),
        *(() if staged else (Key("layers", ListOf(LAYER)), Key("steps", ListOf(STEP)))),
        *(() if staged else (Key("limits", LIMITS, needed=_LIMIT_OPEN), Key("sources", _SOURCES, needed=_SOURCE_OPEN))),
        Key("signs", _SIGNS, needed=_SIGN_OPEN),
        # A bandage that never goes home needs no words for an owner: `rules/go_home_needs.py` asks for them where it does.
        Key("owner", OWNER, required=False),
        Key("references", ListOf(REFERENCE), required=False, default=()),
        Key("history", ListOf(REVISION)),
        *_ASIDE,
        *((Key("stages", _STAGES),) if staged else ()),
    )


def _protocol(spans: Spans, **values: Any) -> m.Protocol:
    stages = values.pop("stages", {})
    empty: dict[str, Any] = {"layers": (), "steps": (), "limits": m.Limits(), "sources": {}}
    whole = m.Protocol(**(empty | values), stages={}, blend=(), reviewed_against={}, settles=(), spans=spans)
    if is_unsound(stages):
        return replace(whole, stages=UNSOUND)
    if not stages:
        return whole
    return replace(whole, stages={name: _at_stage(whole, name, stage) for name, stage in stages.items()})


def _at_stage(whole: m.Protocol, name: str, stage: Mapping[str, Any]) -> m.Protocol:
    if is_unsound(stage):
        return UNSOUND  # type: ignore[no-any-return]
    spans = {**whole.spans, **stage["spans"]}
    own = {
        key: value for key, value in stage.items() if key != "spans" and (is_unsound(value) or value not in (None, ()))
    }
    # What the whole bandage needs and asks holds for each of its stages.
    for key in ("supplies", "review"):
        if key in own and not is_unsound(own[key]) and not is_unsound(getattr(whole, key)):
            own[key] = tuple(dict.fromkeys((*getattr(whole, key), *own[key])))
    return replace(whole, **own, kind=f"wound.{name}", stage=name, spans=spans)


PROTOCOL = Record("a protocol", _protocol_keys(staged=False), _protocol, needed=_PROTOCOL_OPEN)
STAGED = Record("a protocol", _protocol_keys(staged=True), _protocol, needed=_PROTOCOL_OPEN)


def _part(text: str) -> str:
    name, _, stage = text.partition("@")
    slug(name)
    if stage:
        _read_stage_name(stage)
    return text


def _blend(spans: Spans, **values: Any) -> m.Protocol:
    limits = values.pop("limits")
    limits = m.Limits() if limits is None else limits
    return m.Protocol(
        kind="blend", species=(), sites=(), immobilises=None, bone=(), only_for=None, use_when=(), do_not_use_when=(), covers=None, layers=(),
        limits=limits, signs=(), references=(), stages={}, spans=spans, **values,
    )  # fmt: skip


BLEND = Record(
    "a stored blend",
    (
        *_HEAD,
        Key(
            "blend",
            ListOf(
                Form(_part, "a protocol, with its stage if it has any", "open-wound@inflammatory"),
                least=2,
                distinct=True,
                example="[splinted-limb, open-wound@inflammatory]",
            ),
        ),
        *_CONTROL,
        Key("function", Words()),
        Key("limits", TIGHTER, required=False, say="only ever tighter than the parts"),
        Key("sources", _SOURCES, required=False, default={}, say="of its own limits", needed=_SOURCE_OPEN),
        Key("steps", ListOf(STEP), required=False, default=(), say="left out: the steps of the parts, layer by layer"),
        Key(
            "reviewed_against",
            MapOf(
                slug,
                Form(WHOLE.parse, "a whole number", "3", least=1),
                "a revision for each part",
                example="{splinted-limb: 3}",
            ),
            required=False,
            default={},
            say="the revision of each part that was read when the blend was signed",
            needed="a part that changed after the blend was signed is laid unread",
        ),
        Key("owner", OWNER, required=False, say="left out: the owner's lines of the parts, none twice"),
        Key("settles", ListOf(SETTLED), required=False, default=()),
        Key("history", ListOf(REVISION)),
        *_ASIDE,
    ),
    _blend,
    needed=_PROTOCOL_OPEN,
)


# A file without `kind` and without any of these is a stored blend whose `blend` was forgotten or misspelt.
_NO_BLEND = ("species", "sites", "use_when", "covers", "layers", "stages")


def record_for(node: Node) -> Record:
    """Which record a file is to be read by: a stored blend, a staged wound, or a plain protocol."""
    if isinstance(node, Entries):
        kind = node.get("kind")
        if node.get("blend") is not None or (kind is None and not any(node.get(key) for key in _NO_BLEND)):
            return BLEND
        if node.get("stages") is not None or (isinstance(kind, Scalar) and kind.text == "wound.open"):
            return STAGED
    return PROTOCOL


def read_protocol(node: Node, file: str) -> tuple[m.Protocol | None, list[Problem]]:
    """Read one protocol file.

    Returns:
        The protocol, with `UNSOUND` wherever a value could not be read, or None where nothing could; and the problems.
    """
    problems: list[Problem] = []
    found = record_for(node).read(node, problems)
    if is_unsound(found):
        return None, problems
    stages, content = found.stages, content_digest(node)
    if not is_unsound(stages):
        # A stage is planned by itself: it must know whose errors are its own.
        stages = {
            name: one if is_unsound(one) else replace(one, file=file, content=content) for name, one in stages.items()
        }
    return replace(found, file=file, stages=stages, content=content), problems
