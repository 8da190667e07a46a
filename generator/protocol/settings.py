"""Every key of the clinic's settings: clinic.yaml, stock.yaml, signs.yaml, modifiers.yaml, training.yaml.

Takes  located trees from `source`.
Gives  `CLINIC`, `STOCK`, `SIGNS`, `MODIFIERS`, `TRAINING`, the records that read them.
Knows  the words of the settings; nothing of any one protocol.
"""

from __future__ import annotations

import re
from collections.abc import Set
from datetime import date, time, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import Any

from generator.protocol import kinds, quantity
from generator.protocol import model as m
from generator.protocol.quantity import Unreadable
from generator.protocol.shapes import (
    DATE,
    LENGTH,
    SHARE,
    TYPED,
    UNSOUND,
    WHOLE,
    Choice,
    Form,
    Key,
    ListOf,
    MapOf,
    Record,
    Spans,
    Words,
    YesNo,
    is_unsound,
    read_under,
)
from generator.protocol.vocabulary import SOURCE, TIGHTER, slug
from generator.source.problem import Problem
from generator.source.tree import Entries, Node, Scalar

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
LANGUAGE = re.compile(r"[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-(?:[A-Z]{2}|[0-9]{3}))?")


def phone(text: str) -> str:
    """Read a telephone number in international form; E.164 allows at most 15 digits."""
    digits = re.sub(r"[ ()./-]", "", text)
    if not text.isascii() or not re.fullmatch(r"\+[1-9][0-9]{6,14}", digits):
        raise Unreadable(
            "not-a-phone",
            f"`{text}` is not a telephone number in international form",
            "the owner must be able to dial it from any telephone",
            "write + and the country code first, such as `+1 802-555-0142`",
        )
    return text.strip()


def language(text: str) -> str:
    """Read a BCP 47 tag of the plain kind: language, script, region."""
    if not LANGUAGE.fullmatch(text):
        raise Unreadable(
            "not-a-language",
            f"`{text}` is not a language tag",
            "the sheet would be printed in the wrong language",
            "write the short tag, such as `en`, `es` or `pt-BR`",
        )
    return text


def _zone(text: str) -> str:
    if not re.fullmatch(r"[A-Za-z_+-]+(?:/[A-Za-z0-9_+-]+)*", text):
        raise Unreadable(
            "not-a-time-zone",
            f"`{text}` is not the name of a time zone",
            "every deadline is printed in this zone",
            "write region/city, such as `America/New_York`",
        )
    return text


def _clock(text: str) -> time:
    if not re.fullmatch(r"[0-9]{2}:[0-9]{2}", text):
        raise Unreadable(
            "not-a-clock-time",
            f"`{text}` is not a clock time as written here",
            "6:30 can be morning or evening",
            "write two figures, a colon, two figures, such as `08:30`",
        )
    hour, minute = int(text[:2]), int(text[3:])
    if hour > 23 or minute > 59:
        raise Unreadable(
            "not-a-clock-time", f"`{text}` is not on the clock", "no visit can be booked then", "write 00:00 to 23:59"
        )
    return time(hour, minute)


def _spans(text: str) -> tuple[tuple[time, time | None], ...]:
    """Read `08:00 to 12:30, 14:00 to 18:30`; a closing time of 24:00 becomes None."""
    found = []
    for part in re.split(r"\s*,\s*", text.strip()):
        ends = re.split(r"\s+to\s+", part)
        if len(ends) != 2:
            raise Unreadable(
                "not-hours",
                f"`{part}` is not a stretch of opening hours",
                "a visit would be booked before a closed door",
                "write `08:00 to 18:30`; several stretches are parted by commas",
            )
        opens = _clock(ends[0])
        closes = None if ends[1] == "24:00" else _clock(ends[1])
        if closes is not None and opens == closes:
            raise Unreadable(
                "not-hours",
                f"`{part}` opens and closes at the same time",
                "it is not open at all",
                "write another closing time, or leave the day out if it is closed",
            )
        found.append((opens, closes))
    return tuple(found)


def _days(text: str) -> tuple[int, ...]:
    days: list[int] = []
    for part in re.split(r"\s*,\s*", text.strip().lower()):
        ends = re.split(r"\s+to\s+", part)
        if not all(end in DAYS for end in ends) or len(ends) > 2:
            raise Unreadable(
                "unknown-day",
                f"`{text}` is no day or range of days",
                "it decides on which day a visit can fall",
                "write `mon`, `mon to fri` or `mon, wed`; days: " + ", ".join(DAYS),
            )
        first, last = DAYS.index(ends[0]), DAYS.index(ends[-1])
        days += range(first, last + 1) if first <= last else [*range(first, 7), *range(0, last + 1)]
    return tuple(days)


_ID_FORM = re.compile(r"[A-Za-z0-9?#](?:[A-Za-z0-9?#._/-]{0,28}[A-Za-z0-9?#])?")


def id_form(text: str) -> str:
    """Read the form of a document number: `?` for a letter, `#` for a figure; all else is what an id may hold, and stands as written."""
    if not _ID_FORM.fullmatch(text) or not {"?", "#"} & set(text):
        raise Unreadable(
            "not-an-id-form",
            f"`{text}` is no form of a document number",
            "each protocol's id is held against it",
            "write an id with `?` for each letter and `#` for each figure that differs from protocol to protocol, such as `LB-???-###`",
        )
    return text


class Hours:
    """Opening hours by day; `overnight` allows a stretch to run past midnight."""

    example = "{mon to fri: 08:00 to 18:30}"

    def __init__(self, overnight: bool) -> None:
        self.overnight = overnight

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if not isinstance(node, Entries):
            return MapOf(_days, HOURS_TEXT, "opening hours by day").read(node, problems)
        week: dict[int, list[m.Opening]] = {}
        sound = True
        for name, child in node.entries:
            try:
                days = _days(name.text)
            except Unreadable as e:
                problems.append(Problem(e.name, name.span, e.what, e.why, e.fix))
                sound = False
                continue
            spans = read_under(name.text, HOURS_TEXT, child, problems)
            if is_unsound(spans):
                sound = False
                continue
            for opens, closes in spans:
                if closes is not None and closes < opens and not self.overnight:
                    problems.append(
                        Problem(
                            "hours-reversed",
                            child.span,
                            "the stretch closes before it opens",
                            "no visit could ever fall inside it",
                            "write the opening time first",
                        )
                    )
                    sound = False
                    continue
                for day in days:
                    if closes is None or closes > opens:
                        week.setdefault(day, []).append(m.Opening(opens, closes))
                    else:
                        week.setdefault(day, []).append(m.Opening(opens, None))
                        if closes > time(0):
                            week.setdefault((day + 1) % 7, []).append(m.Opening(time(0), closes))
        for day, stretches in week.items():
            stretches.sort(key=lambda o: o.opens)
            for one, other in pairwise(stretches):
                if sound and (one.closes is None or one.closes > other.opens):
                    problems.append(
                        Problem(
                            "hours-overlap",
                            node.span,
                            f"two stretches of {DAYS[day]} overlap",
                            "which of them holds cannot be told",
                            "let each stretch of a day begin after the one before it has ended",
                        )
                    )
                    sound = False
        return {day: tuple(stretches) for day, stretches in week.items()} if sound else UNSOUND

    def schema(self) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": TYPED}


HOURS_TEXT = Form(_spans, "opening hours", "08:00 to 18:30")


class _Answers:
    """`always`, or hours by day."""

    example = "always"

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if isinstance(node, Entries):
            return Hours(overnight=True).read(node, problems)
        word = Choice(("always",), "a word for when it answers").read(node, problems)
        return UNSOUND if is_unsound(word) else None

    def schema(self) -> dict[str, Any]:
        return {"oneOf": [{"enum": ["always"]}, {"type": "object"}]}


def _closed(text: str) -> frozenset[date]:
    ends = [DATE.parse(part) for part in re.split(r"\s+to\s+", text.strip())]
    if len(ends) > 2 or ends[-1] < ends[0] or (ends[-1] - ends[0]).days > 366:
        raise Unreadable(
            "not-a-date",
            f"`{text}` is not a date or a range of dates",
            "visits are moved away from closed days",
            "write `2027-05-31` or `2027-12-24 to 2027-12-26`",
        )
    return frozenset(ends[0] + timedelta(days=n) for n in range((ends[-1] - ends[0]).days + 1))


def _visit(text: str) -> int:
    seconds = quantity.duration(text).seconds
    if not 300 <= seconds <= 14400:
        raise Unreadable(
            "number-out-of-range",
            f"`{text}` is no usual length of a visit",
            "a visit must end before closing and before it is due",
            "write a time from `5 min` to `4 h`",
        )
    return seconds


PLACE = Record(
    "`emergency_place`",
    (
        Key("name", Words("Millrace Night Hospital")),
        Key("address", ListOf(Words("200 Dam Road, Tamarind Falls"))),
        Key("phone", Form(phone, "a telephone number", "+1 802-555-0178")),
        Key("answers", _Answers(), say="when somebody answers there"),
        Key("does_bandage_checks", YesNo(), say="whether a bandage can be looked at there"),
    ),
    m.Place,
    needed="an owner who rings in the night would reach nobody",
)
_HEAD = Record(
    "`clinic`",
    (
        Key("name", Words("Larkspur Bridge Animal Clinic", most=60)),
        Key("address", ListOf(Words("14 Weir Street, Tamarind Falls"))),
        Key("phone", Form(phone, "a telephone number", "+1 802-555-0142")),
        Key("time_zone", Form(_zone, "a time zone", "America/New_York")),
        Key(
            "languages",
            ListOf(Form(language, "a language tag", "en"), distinct=True),
            say="the clinic's own language first",
        ),
        Key("paper", Choice(("letter", "a4"), "a paper size")),
        Key("units", Choice(("metric", "us", "both"), "a choice of units")),
    ),
    lambda **v: v,
    needed="it stands on every sheet, or decides what does",
)
_SIGNS_FOR = Record(
    "`signs_for`",
    (
        Key("head technician", Words("R. Osei-Lund", most=60)),
        Key("clinicians", ListOf(Words("Dr M. Tamsin", most=60), distinct=True)),
        Key(
            "one_clinician",
            YesNo(),
            required=False,
            default=False,
            say="`yes` where there is no second clinician who could approve what the first prepared",
        ),
    ),
    lambda **v: v,
)
_STAFF = Record(
    "a member of the staff",
    (
        Key("name", Words("J. Adeyemi", most=60), say="as it is written in the record of training"),
        Key("role", Words("technician", most=40)),
        Key("since", DATE, required=False, say="the first day on which they bandage here"),
        Key("until", DATE, required=False, say="the last day; the record of their training stays"),
    ),
    m.Staff,
    needed="whoever is not listed is never asked to read a protocol",
)
_COPY = Record(
    "a copy",
    (Key("number", WHOLE), Key("place", Words("prep room")), Key("holder", Words("head technician"))),
    lambda spans, **v: m.Copy(**v),
)
_SIZE = Record(
    "a size band",
    (
        Key("weight", Form(lambda t: quantity.band(t, "mass"), "a range of weights", "2 kg to 5 kg")),
        Key("distal_girth", LENGTH),
        Key("proximal_girth", LENGTH),
        Key("covered_length", LENGTH),
    ),
    m.SizeBand,
)


def _region(text: str) -> str:
    if text not in kinds.REGIONS:
        raise Unreadable(
            "unknown-word",
            f"`{text}` is not a region known here",
            "an estimate for another part of the body would be used",
            "known: " + ", ".join(kinds.REGIONS),
        )
    return text


def limits_for(text: str) -> str:
    """Read a purpose, a kind, or `all`."""
    if text in (*kinds.PURPOSES, *kinds.KINDS, "wound.open", "all"):
        return text
    raise Unreadable(
        "unknown-word",
        f"`{text}` is neither a purpose nor a kind of bandage",
        "nothing would be tightened by it",
        "known: " + ", ".join((*kinds.PURPOSES, *kinds.KINDS, "all")),
    )


def _clinic(spans: Spans, **v: Any) -> m.Clinic:
    head, signs_for = v.pop("clinic"), v.pop("signs_for")
    names = ("name", "address", "phone", "time_zone", "languages", "paper", "units")
    own = dict.fromkeys(names, UNSOUND) if is_unsound(head) else {k: head[k] for k in names}
    inner = {} if is_unsound(head) else head["spans"]
    offices = ("head technician", "clinicians", "one_clinician")
    people = dict.fromkeys(offices, UNSOUND) | {"spans": {}} if is_unsound(signs_for) else signs_for
    who = {key.replace(" ", "_"): value for key, value in people.items() if key != "spans"}
    closed = v.pop("closed")
    days = closed if is_unsound(closed) else frozenset().union(*closed)
    return m.Clinic(**own, **who, **v, closed=days, spans={**people["spans"], **inner, **spans})


CLINIC = Record(
    "clinic.yaml",
    (
        Key("clinic", _HEAD),
        Key("emergency_place", PLACE),
        Key("hours", Hours(overnight=False)),
        Key(
            "visit",
            Form(_visit, "a time", "30 min"),
            say="length of one visit; it must end before closing and before it is due",
        ),
        Key("closed", ListOf(Form(_closed, "a date", "2027-05-31"), least=0), required=False, default=()),
        Key("signs_for", _SIGNS_FOR),
        Key(
            "staff",
            ListOf(_STAFF),
            required=False,
            default=(),
            say="everybody who bandages and must read the protocols; head technician and clinicians count without being listed",
        ),
        Key(
            "id_form",
            Form(id_form, "the form of a document number", "LB-???-###"),
            required=False,
            say="every protocol's id has this form: ? is one letter, # one figure, all else stands as written",
        ),
        Key("copies", ListOf(_COPY), required=False, default=()),
        Key(
            "waste",
            Form(SHARE.parse, "a share", "10 %", least=0, most=Fraction(1, 4)),
            say="added to every length, 0 % to 25 %",
        ),
        Key(
            "house_limits",
            MapOf(limits_for, TIGHTER, "limits for a purpose or kind", example="{sling: {remove_by: 10 d}}"),
            required=False,
            default={},
            say="only ever tighter",
        ),
        Key(
            "size_bands",
            MapOf(_region, ListOf(_SIZE), "bands for each region"),
            required=False,
            default={},
            say="estimates, used only when nobody measured",
        ),
        Key(
            "drafts",
            Choice(("allow", "forbid"), "a choice"),
            required=False,
            default="allow",
            say="whether unreviewed translations may be printed",
        ),
    ),
    lambda **v: _clinic(**(v | {"drafts": v["drafts"] if is_unsound(v["drafts"]) else v["drafts"] == "allow"})),
    needed="every sheet of this clinic is printed by it",
)


def _roll(text: str) -> tuple[Fraction, str]:
    found = re.fullmatch(r"(.+?)\s+(relaxed|stretched|inelastic)", text.strip())
    if not found:
        raise Unreadable(
            "roll-state-missing",
            f"`{text}` does not say how the roll's length was measured",
            "a stretched length taken for a relaxed one makes a roll too many or too few",
            "write `3.66 m relaxed`, `4 m stretched` or `9 m inelastic`",
        )
    return quantity.amount(found[1], "length"), found[2]


def _money(text: str) -> m.Money:
    found = re.fullmatch(r"([0-9]{1,6}(?:\.[0-9]{1,2})?) ([A-Z]{3})", text.strip())
    if not found:
        raise Unreadable(
            "not-a-price",
            f"`{text}` is not a price",
            "a cost without a currency cannot be added up",
            "write a number, a space and the currency's three letters, such as `1.45 USD`",
        )
    return m.Money(Decimal(found[1]), found[2])


_MONEY = Form(_money, "a price", "1.45 USD")
_TENSION_KEYS = ("measured", "by", "on")


class _ByWidth:
    """A value for each width, with named keys beside them."""

    def __init__(self, shape: Form, beside: tuple[Key, ...], plain: bool, example: str) -> None:
        self.shape, self.beside, self.plain, self.example = shape, beside, plain, example

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if self.plain and not isinstance(node, Entries):
            return self.shape.read(node, problems)
        if not isinstance(node, Entries):
            return MapOf(str, self.shape, "a value for each width").read(node, problems)
        # Every width starts with a figure; whatever else stands here is a key, rightly spelt or not.
        others = Entries(
            tuple(pair for pair in node.entries if self.beside and not pair[0].text[:1].isdigit()), node.span
        )
        widths = Entries(tuple(pair for pair in node.entries if pair not in others.entries), node.span)
        table = MapOf(_width_or_size if self.plain else _width, self.shape, "a value for each width").read(
            widths, problems
        )
        if not self.beside:
            return table
        if not is_unsound(table) and not table:
            problems.append(
                Problem(
                    "value-missing",
                    node.span,
                    "no width has a value here",
                    "nothing could be reckoned from it",
                    "write a width and its value, such as `5 cm: 0.12 kgf`",
                )
            )
            table = UNSOUND
        rest = Record("`tension`", self.beside, lambda **v: v).read(others, problems)
        if is_unsound(table) or is_unsound(rest) or any(is_unsound(x) for x in rest.values()):
            return UNSOUND
        return m.Tension(by_width=table, **rest)

    def schema(self) -> dict[str, Any]:
        table = {"type": "object", "additionalProperties": TYPED}
        return {"oneOf": [self.shape.schema(), table]} if self.plain else table


def _width(text: str) -> Fraction:
    return quantity.amount(text, "length")


def _width_or_size(text: str) -> Fraction | str:
    """A roll is priced by its width, a piece by its size (`10 cm by 10 cm`)."""
    return text if " by " in text else _width(text)


_TENSION = _ByWidth(
    Form(lambda t: quantity.amount(t, "tension"), "a tension", "0.18 kgf", least=0, most=Fraction(20)),
    (Key("measured", Words("spring balance")), Key("by", Words("R. Osei-Lund")), Key("on", DATE)),
    plain=False,
    example="{5 cm: 0.12 kgf, measured: spring balance, by: R. Osei-Lund, on: 2027-03-14}",
)
_FULL = Form(SHARE.parse, "a share", "80 %", least=0, most=Fraction(4))


def _material(spans: Spans, **v: Any) -> m.Material:
    roll, full = v.pop("roll"), v.pop("full_stretch")
    v["roll_relaxed"] = UNSOUND if is_unsound(roll) or is_unsound(full) else None
    if roll is not None and not is_unsound(roll) and not is_unsound(full):
        length, state = roll
        # Relaxed length of a roll sold stretched: length / (1 + full stretch).
        v["roll"], v["full_stretch"] = length, full if state == "stretched" else None
        v["roll_relaxed"] = length / (1 + full) if state == "stretched" and full is not None else length
    return m.Material(name="", spans=spans, **v)


_ROLL_OR_PIECES = frozenset({"roll", "sizes", "widths"})


def _material_whole(node: Entries, problems: list[Problem], misspelt: Set[str]) -> None:
    """What the keys of a material must hold together. A key that is only misspelt was named already."""
    roll, full, sizes = node.get("roll"), node.get("full_stretch"), node.get("sizes")
    state = roll.text.split()[-1:] if isinstance(roll, Scalar) else []
    if state == ["stretched"] and full is None and "full_stretch" not in misspelt:
        assert roll is not None
        problems.append(
            Problem(
                "full-stretch-missing",
                roll.span,
                "the roll is measured stretched, but its full stretch is not given",
                "its relaxed length, and with it the number of rolls, cannot be reckoned",
                "add a line `full_stretch: 80 %` with what the maker or your own measuring gives",
            )
        )
    if full is not None and state in (["relaxed"], ["inelastic"]):
        problems.append(
            Problem(
                "full-stretch-unused",
                full.span,
                "`full_stretch` is given for a roll that is not measured stretched",
                "one of the two lines is wrong, and the number of rolls hangs on it",
                "write `stretched` after the roll's length, or delete `full_stretch`",
            )
        )
    if misspelt & _ROLL_OR_PIECES:
        return
    if (roll is None) == (sizes is None):
        problems.append(
            Problem(
                "roll-or-sizes",
                node.span,
                "a material has either a `roll` with `widths`, or `sizes` of pieces",
                "the tool must know whether to reckon lengths or to count pieces",
                "add `widths` and `roll`, or `sizes`, and only one of them",
            )
        )
    elif roll is not None and node.get("widths") is None:
        problems.append(
            Problem(
                "key-missing",
                node.entries[0][0].span,
                "a material on a roll has no `widths`",
                "no width could be chosen for a limb",
                "add a line such as `widths: [5 cm, 7.5 cm]`",
            )
        )


MATERIAL = Record(
    "a material",
    (
        Key("layer", Choice(kinds.LAYERS, "a layer")),
        Key("widths", ListOf(LENGTH, distinct=True), required=False, default=()),
        Key(
            "roll",
            Form(_roll, "a roll's length", "3.66 m relaxed"),
            required=False,
            say="relaxed, stretched or inelastic",
        ),
        Key("full_stretch", _FULL, required=False),
        Key(
            "extension",
            Form(SHARE.parse, "a share", "25 %", least=0, most=Fraction(2)),
            required=False,
            default=Fraction(0),
            say="as applied",
        ),
        Key(
            "thickness",
            Form(LENGTH.parse, "a thickness", "2 mm", least=0, most=Fraction(3)),
            required=False,
            default=Fraction(0),
            say="of one layer as laid",
        ),
        Key("tension", _TENSION, required=False, say="only if measured: by whom, how, when"),
        Key("price", _ByWidth(_MONEY, (), plain=True, example="{5 cm: 1.10 USD}"), required=False),
        Key("sizes", ListOf(Words("10 cm by 10 cm")), required=False, default=()),
        Key("family", Choice(kinds.FAMILIES, "a family of contact layers"), required=False),
    ),
    _material,
    _material_whole,
    needed="rolls are counted, and fetched, by what stands here",
)
STOCK = Record(
    "stock.yaml",
    (Key("materials", MapOf(lambda t: t, MATERIAL, "a group for each material")),),
    lambda materials, spans: materials,
    needed="rolls are counted, and fetched, by what stands here",
)

SIGN = Record(
    "a sign",
    (
        Key("urgency", Choice(kinds.URGENCIES, "an urgency")),
        Key("staff", Words("Middle nails spread, toes puffy. Open the bandage.")),
        Key("owner", Words("The two middle nails move apart.", fields=("pet",), digits=False, most=90)),
        Key("source", SOURCE, required=False),
    ),
    lambda **v: m.Sign(id="", **v),
    needed="a warning sign without words and urgency warns nobody",
)
SIGNS = MapOf(slug, SIGN, "a group for each sign", spans=True)

_AGE = re.compile(r"(?:age )?under ([0-9]{1,3}) (months?|weeks?)(?: over ([0-9.]+ kg))?")


def _derived(text: str) -> tuple[tuple[m.AgeClause, ...], tuple[str, ...], tuple[str, ...]]:
    """Clauses of age, of species, and features of a wound."""
    ages: list[m.AgeClause] = []
    species: list[str] = []
    features: list[str] = []
    for clause in re.split(r",\s+or\s+|\s+or\s+", text.strip()):
        if found := _AGE.fullmatch(clause):
            over = quantity.amount(found[3], "mass") if found[3] else None
            ages.append(m.AgeClause(int(found[1]), found[2].rstrip("s"), over))
        elif clause in ("species cat", "species dog"):
            species.append(clause.split()[1])
        elif clause.removeprefix("wound ") in kinds.WOUND_FEATURES and clause.startswith("wound "):
            features.append(clause.removeprefix("wound "))
        else:
            raise Unreadable(
                "unknown-condition",
                f"`{clause}` cannot be derived from a patient",
                "the modifier would never apply, and nobody would notice",
                "write clauses such as `age under 6 months`, `under 12 months over 25 kg`, `species cat` or `wound infected`, joined by `, or `",
            )
    return tuple(ages), tuple(species), tuple(features)


class _SourceOrMap:
    """One source, or one for each key."""

    example = "common practice"

    def read(self, node: Node, problems: list[Problem]) -> Any:
        if isinstance(node, Entries) and node.get("published") is None:
            return MapOf(str, SOURCE, "a source for each figure").read(node, problems)
        one = SOURCE.read(node, problems)
        return UNSOUND if is_unsound(one) else {"": one}

    def schema(self) -> dict[str, Any]:
        return {}


def _modifier(spans: Spans, **v: Any) -> m.Modifier:
    derived = v.pop("derived")
    ages, species, features = (UNSOUND,) * 3 if is_unsound(derived) else derived or ((), (), ())
    return m.Modifier(name="", ages=ages, species=species, features=features, spans=spans, **v)


MODIFIER = Record(
    "a modifier",
    (
        Key(
            "derived",
            Form(_derived, "a condition", "age under 6 months"),
            required=False,
            say="left out: it is ticked with the patient",
        ),
        Key("tightens", MapOf(limits_for, TIGHTER, "limits for a purpose or kind"), required=False, default={}),
        Key(
            "forbids",
            ListOf(Choice(tuple(kinds.KINDS), "a kind of bandage"), distinct=True),
            required=False,
            default=(),
        ),
        Key("warns", Words("Watch the skin over the heel."), required=False),
        Key("because", Words("the limb outgrows the bandage")),
        Key("source", _SourceOrMap()),
    ),
    _modifier,
    needed="what is left open here tightens nothing, and the animal gets the usual limits",
)
MODIFIERS = MapOf(lambda t: t, MODIFIER, "a group for each modifier", spans=True)


def _competence_whole(node: Entries, problems: list[Problem], misspelt: Set[str]) -> None:
    """Competence has a day and somebody who saw it."""
    day, by = node.get("competent"), node.get("by")
    lone, lacks = (day, "by") if by is None else (by, "competent")
    if lone is not None and (day is None or by is None) and lacks not in misspelt:
        problems.append(
            Problem(
                "competence-half-written",
                lone.span,
                f"`{lacks}` is missing beside it",
                "competence counts with its day and with whoever saw it",
                f"add `{lacks}:`, or leave both out as long as the revision was only read",
            )
        )


_TRAINED = Record(
    "a row of training",
    (
        Key("name", Words("J. Adeyemi", most=60), say="as under `staff` or `signs_for` in clinic.yaml"),
        Key("protocol", Words("LB-SUP-002", most=30), say="the document number"),
        Key("revision", WHOLE),
        Key("read", DATE, say="the day on which they read this revision"),
        Key("competent", DATE, required=False, say="the day on which they were seen to do it right"),
        Key("by", Words("Dr M. Tamsin", most=60), required=False, say="who saw it; never they themselves"),
    ),
    m.Trained,
    _competence_whole,
    needed="an inspector asks who was trained on this very revision",
)
TRAINING = Record(
    "training.yaml",
    (Key("training", ListOf(_TRAINED, least=0)),),
    lambda training, spans: training,
    needed="an inspector asks who was trained on this very revision",
)
