"""Sound files that between them use every key of the vocabulary, and a walk over the tables that define the keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from generator.protocol import settings, vocabulary
from generator.protocol.animal import RECORD, read_patient
from generator.protocol.pictures import PICTURES
from generator.protocol.shapes import Key, ListOf, MapOf, OneOrMore, Record
from generator.protocol.vocabulary import BLEND, PROTOCOL, STAGED, read_protocol
from generator.source.problem import Problem
from generator.source.text import read_tree
from generator.source.tree import Entries, Node
from tests.conftest import ROOT
from tests.protocol.writing import Path, plain

# Keys that no file of the shipped book happens to use.
_EXTRA = {
    "protocols/cast.yaml": """
protocol: cast
title: Cast
kind: support.cast
id: X-1
revision: 1
effective: 2027-01-01
review_by: 2028-01-01
prepared_by: {name: A. Person, role: head technician, date: 2026-12-01}
approved_by: {name: B. Person, role: clinician, date: 2026-12-02}
species: [dog]
sites: [distal forelimb]
function: Holds still.
immobilises: yes
bone: metacarpus
only_for: grown
use_when: [a stable fracture]
do_not_use_when:
  - {case: swelling, because: no room, instead: padded-limb-support}
covers: {from: toes, to: below the elbow, joints: [toes, carpus], leave_showing: two toes}
layers:
  - {layer: stirrups, material: porous tape, length: 30 cm, count: 2, on_skin_at_most: 7 d}
  - {layer: contact, material: foam sheet, count: 1, size: 10 cm by 10 cm, needed_if: wound, prefer: [foam sheet, pad]}
  - {layer: padding, material: cast padding, passes: 2, overlap: 50 %, inset: 1 cm, width: {2 kg to 10 kg: 5 cm, 10 kg and over: 7.5 cm}, firmness: even, because: it pads}
  - {layer: outer, material: cohesive wrap, width: {under 9 cm: 5 cm, 9 cm to 30 cm: 7.5 cm}, rolls: {2 kg to 10 kg: 1, 10 kg and over: 2}}
steps:
  - {caution: Keep clear., because: it is sharp, do: Lay it., by: 15 min, layer: padding}
  - {check: It is warm., if_not: take it off}
limits:
  first_check: 12 h to 24 h
  check_every: {interval: 12 h, who: owner}
  change_every: 3 d to 7 d
  recheck_every: 24 h to 48 h
  release: 15 min
  remove_by: {swelling: 3 d, incision: 14 d}
  remove_when: union on radiograph
  supervised: no
  go_home: yes
sources: {first_check: common practice, check_every: {published: [40]}}
signs: [wet]
owner:
  what_it_does: It holds the leg.
  every_day: [Look at the toes of {pet}.]
  keep_dry: [Cover the foot.]
  exercise: {walks: 4 a day, minutes_each: 5 min, lead: 2 m}
  never: [Do not cut it.]
references: [{cite: "A. Book. 2020.", for: change_every}]
supplies: [sterile saline]
review: [Is it dry?]
history: [{revision: 1, date: 2026-12-01, change: first issue, why: new book, by: A. Person}]
""".replace("[Look at the toes of {pet}.]", '["Look at the toes of {pet}."]'),
    "protocols/staged.yaml": """
protocol: staged
title: Staged
kind: wound.open
id: X-2
revision: 1
effective: 2027-01-01
review_by: 2028-01-01
prepared_by: {name: A. Person, role: head technician, date: 2026-12-01}
approved_by: {name: B. Person, role: clinician, date: 2026-12-02}
species: [cat]
sites: [fore foot]
function: Covers.
immobilises: no
bone: [carpus, phalanges]
only_for: grown
use_when: [a wound]
do_not_use_when: [{case: bleeding, because: it comes first}]
covers: {from: toes, to: above the carpus}
stages:
  maturation:
    function: Shields.
    use_when: [new skin]
    layers: [{layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}]
    steps: [{do: Lay it.}]
    limits: {first_check: 12 h, check_every: {interval: 12 h, who: owner}, change_every: 3 d, remove_by: 20 d, supervised: no, go_home: yes}
    sources: {change_every: house rule}
    signs: [wet]
    supplies: [sterile gloves]
    review: [Is the bed red?]
    owner: {what_it_does: It covers., every_day: [Look at it.], never: [Do not cut it.]}
signs: [slipped]
supplies: [sterile saline]
review: [Is it dry?]
history: [{revision: 1, date: 2026-12-01, change: first issue, why: new book, by: A. Person}]
""",
    "protocols/joined.yaml": """
protocol: joined
title: Joined
blend: [staged@maturation, cast]
reviewed_against: {staged: 1, cast: 1}
id: X-3
revision: 1
effective: 2027-01-01
review_by: 2028-01-01
prepared_by: {name: A. Person, role: head technician, date: 2026-12-01}
approved_by: {name: B. Person, role: clinician, date: 2026-12-02}
function: Covers and holds.
supplies: [sterile saline]
review: [Is it dry?]
owner: {what_it_does: It covers., every_day: [Look at it.], never: [Do not cut it.]}
history: [{revision: 1, date: 2026-12-01, change: first issue, why: new book, by: A. Person}]
""",
    "stock.yaml": """
materials:
  wide tape: {layer: outer, widths: [5 cm], roll: 4 m stretched, full_stretch: 80 %, extension: 25 %, thickness: 1 mm,
    tension: {5 cm: 0.12 kgf, measured: spring balance, by: A. Person, on: 2026-08-14}, price: {5 cm: 1.10 USD}}
  pad: {layer: contact, sizes: [10 cm by 10 cm], family: hydrogel, price: {10 cm by 10 cm: 0.60 USD}}
""",
    "clinic.yaml": """
clinic: {name: A, address: [B], phone: +1 802-555-0142, time_zone: Europe/London, languages: [en], paper: a4, units: both}
emergency_place: {name: C, address: [D], phone: +1 802-555-0178, answers: {mon to fri: 18:30 to 08:00, sat: 09:00 to 24:00}, does_bandage_checks: no}
hours: {mon to fri: "08:00 to 12:30, 14:00 to 18:30", sat: 08:30 to 13:00}
visit: 20 min
signs_for: {head technician: A. Person, clinicians: [B. Person], one_clinician: yes}
staff: [{name: C. Person, role: technician, since: 2026-01-05, until: 2027-06-30}]
id_form: X-#
waste: 10 %
house_limits:
  sling: {first_check: 12 h, check_every: {interval: 8 h, who: owner}, change_every: 5 d, recheck_every: 2 d, release: 10 min, remove_by: 10 d, remove_when: healed, supervised: yes, go_home: no}
  support.soft: {check_every: 8 h, remove_by: {swelling: 2 d}}
drafts: forbid
""",
    "modifiers.yaml": """
growing: {derived: 'age under 6 months, or wound infected', tightens: {all: {change_every: 3 d, check_every: 8 h}}, forbids: [support.cast], warns: It grows., because: it grows, source: {interval: common practice}}
thin: {because: no fat, warns: Pad it., source: {published: [53]}}
""",
    "patients/full.yaml": """
patient: {name: Maple, species: dog, weight: 18.4 kg, born: 2022-05-01, file_number: LB-1}
owner: {name: T. Arkady, language: es}
limb: {site: left hind, distal_girth: 14 cm, proximal_girth: 22 cm, covered_length: 26 cm}
skin: incision
reason: incision
condition: [oedema]
planned: 2027-03-13T10:30
first: yes
issued_by: Dr J. Ferrow
explained_by: R. Osei-Lund
wound: {exudate: low, features: [graft], contact: foam sheet, because: it stays moist}
visits: {check: 2027-03-14T10:00, change: 2027-03-20T10:00}
""",
    "patients/later.yaml": """
patient: {name: Maple, species: dog, weight: 18.4 kg, born: 2022-05-01}
owner: {name: T. Arkady, language: es}
limb: {site: left hind}
skin: wound
applied: 2027-03-13T10:30
earlier: [{protocol: staged@maturation, on: 2027-03-05T10:30, off: 2027-03-08T10:00}]
issued_by: Dr J. Ferrow
""",
}  # fmt: skip


@dataclass(frozen=True)
class Reader:
    """One kind of file: the table it is read by, and the function that reads it."""

    table: Any
    read: Callable[[Node, list[Problem]], None]


def _protocol(node: Node, problems: list[Problem]) -> None:
    problems += read_protocol(node, "x.yaml")[1]


def _patient(node: Node, problems: list[Problem]) -> None:
    problems += read_patient(node)[1]


def _by_table(table: Any) -> Callable[[Node, list[Problem]], None]:
    return lambda node, problems: table.read(node, problems)


READERS = {
    "protocol": Reader(PROTOCOL, _protocol),
    "staged": Reader(STAGED, _protocol),
    "blend": Reader(BLEND, _protocol),
    "clinic": Reader(settings.CLINIC, _by_table(settings.CLINIC)),
    "stock": Reader(settings.STOCK, _by_table(settings.STOCK)),
    "signs": Reader(settings.SIGNS, _by_table(settings.SIGNS)),
    "modifiers": Reader(settings.MODIFIERS, _by_table(settings.MODIFIERS)),
    "pictures": Reader(PICTURES, _by_table(PICTURES)),
    "training": Reader(settings.TRAINING, _by_table(settings.TRAINING)),
    "patient": Reader(RECORD, _patient),
}


def kind_of(name: str, node: Node) -> str:
    stem = name.rsplit("/", 1)[-1].removesuffix(".yaml")
    if stem in READERS:
        return stem
    assert isinstance(node, Entries)
    if node.get("patient"):
        return "patient"
    return "blend" if node.get("blend") else "staged" if node.get("stages") else "protocol"


@cache
def samples() -> dict[str, tuple[str, Any]]:
    """Kind of file and plain data of every sample, by its name."""
    texts = {
        str(f.relative_to(ROOT)): f.read_text(encoding="utf-8")
        for f in sorted((ROOT / "protocols").rglob("*.yaml"))
        if f.parent.name != "approved"
    }
    found = {}
    for name, text in {**{f"extra/{k}": v for k, v in _EXTRA.items()}, **texts}.items():
        reading = read_tree(text.encode(), name)
        assert reading.tree is not None, reading.problems
        assert not reading.problems, reading.problems
        found[name] = (kind_of(name, reading.tree), plain(reading.tree))
    return found


def problems_in(kind: str, text: str) -> list[Problem]:
    """Everything said about a text when read as this kind of file."""
    reading = read_tree(text.encode(), "x.yaml")
    problems = list(reading.problems)
    if reading.tree is not None:
        READERS[kind].read(reading.tree, problems)
    return problems


# Forms of value that hold other forms in a way of their own: the form inside, once the value is a group of keys.
_INSIDE: dict[type, Callable[[Any], Any]] = {
    vocabulary._TighterCheck: lambda _: vocabulary.CHECK_EVERY,
    vocabulary._RemoveBy: lambda _: MapOf(str, vocabulary.LIMIT, ""),
    vocabulary._SourceShape: lambda _: vocabulary._PUBLISHED,
    vocabulary._Bands: lambda shape: MapOf(str, shape.shape, ""),
    settings.Hours: lambda _: MapOf(str, settings.HOURS_TEXT, ""),
    settings._Answers: lambda _: MapOf(str, settings.HOURS_TEXT, ""),
    settings._SourceOrMap: lambda _: MapOf(str, vocabulary.SOURCE, ""),
    settings._ByWidth: lambda shape: (
        Record("`tension`", shape.beside, lambda **v: v) if shape.beside else MapOf(str, shape.shape, "")
    ),
}


@dataclass(frozen=True)
class Site:
    """One key of one record in one sample."""

    sample: str
    kind: str
    record: Record
    key: Key
    path: Path

    @property
    def name(self) -> str:
        return f"{self.record.what.strip('`')}.{self.key.name}"


def keys_in(shape: Any, data: Any, path: Path) -> Iterator[tuple[Record, Key, Path]]:
    """Every key that stands in some data, with the record that defines it and its path."""
    if isinstance(shape, Record) and isinstance(data, dict):
        for key in shape.keys:
            if key.name in data:
                yield shape, key, (*path, key.name)
                yield from keys_in(key.shape, data[key.name], (*path, key.name))
    elif isinstance(shape, MapOf) and isinstance(data, dict):
        for name, value in data.items():
            yield from keys_in(shape.shape, value, (*path, name))
    elif isinstance(shape, (ListOf, OneOrMore)) and isinstance(data, list):
        for index, value in enumerate(data):
            yield from keys_in(shape.shape, value, (*path, index))
    elif type(shape) in _INSIDE and isinstance(data, dict):
        yield from keys_in(_INSIDE[type(shape)](shape), data, path)


def _tables(shape: Any) -> Iterator[tuple[str, str]]:
    """Every key that a table defines, whether or not a sample uses it."""
    if isinstance(shape, Record):
        for key in shape.keys:
            yield shape.what, key.name
            yield from _tables(key.shape)
    elif isinstance(shape, (ListOf, OneOrMore, MapOf)):
        yield from _tables(shape.shape)
    elif type(shape) in _INSIDE:
        yield from _tables(_INSIDE[type(shape)](shape))


@cache
def defined() -> frozenset[tuple[str, str]]:
    return frozenset(row for reader in READERS.values() for row in _tables(reader.table))


@cache
def sites() -> tuple[Site, ...]:
    """One place for every key of every table, and a second one where its value has another form."""
    found: dict[tuple[str, str, str, str], Site] = {}
    for name, (kind, data) in samples().items():
        for record, key, path in keys_in(READERS[kind].table, data, ()):
            value = data
            for step in path:
                value = value[step]
            # A record that stands alike in several kinds of file is tried in one of them.
            where = kind if record.what == "a protocol" else ""
            found.setdefault((where, record.what, key.name, type(value).__name__), Site(name, kind, record, key, path))
    return tuple(found.values())
