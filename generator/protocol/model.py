"""A clinic's book as values: protocols, clinic settings, stock, signs, modifiers; and one patient.

Takes  nothing: these are plain frozen values, built by the vocabulary.
Gives  the types every later room works on; each record knows the place of each of its keys (`spans`).
Knows  the trade's words; nothing of YAML, clocks or paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import Any

from generator.protocol.kinds import SITE_GROUPS, purpose_of
from generator.protocol.quantity import Band, Limit, Window
from generator.protocol.shapes import Spans
from generator.source.span import Span


@dataclass(frozen=True, slots=True)
class Source:
    """Whose word a figure rests on: `published` citation numbers, or a word (`common practice`, `house rule`, …)."""

    published: tuple[int, ...] = ()
    word: str = ""

    def __str__(self) -> str:
        return "published " + ", ".join(map(str, self.published)) if self.published else self.word


@dataclass(frozen=True, slots=True)
class Person:
    """Who prepared or approved, in what role, when."""

    name: str
    role: str
    date: date
    spans: Spans


@dataclass(frozen=True, slots=True)
class Refrain:
    """A case in which the protocol must not be used: why, and the slug of the protocol to use instead."""

    case: str
    because: str
    instead: str | None
    spans: Spans


@dataclass(frozen=True, slots=True)
class Covers:
    """From where to where the bandage reaches; `joints` those held still; `leave_showing` what must stay visible."""

    from_: str
    to: str
    joints: tuple[str, ...]
    leave_showing: str | None
    spans: Spans


@dataclass(frozen=True, slots=True)
class Layer:
    """One material laid on.

    passes, overlap: of a layer reckoned on the limb. rolls: by weight band, of a shape that is no limb.
    width: one width in cm, or by band (of weight in kg or of mean girth in cm), or None for the trade's rule.
    inset: cm left showing at each end. length: cm of one strip or splint. count: pieces.
    prefer: contact materials in the order the clinic would take them, where the wound chooses (`material: by the wound`).
    """

    layer: str
    material: str | None
    passes: int | None
    overlap: Fraction | None
    inset: Fraction
    width: Fraction | tuple[tuple[Band, Fraction], ...] | None
    firmness: str | None
    because: str | None
    count: int | None
    length: Fraction | None
    on_skin_at_most: Limit | None
    needed_if: str | None
    rolls: tuple[tuple[Band, int], ...] | None
    size: str | None
    prefer: tuple[str, ...]
    spans: Spans

    @property
    def tightness(self) -> str | None:
        """The first word of `firmness`."""
        return self.firmness.replace(",", " ").split()[0] if self.firmness else None


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered act. A caution stands before the act it guards; a check says what to do if it fails."""

    do: str | None
    caution: str | None
    because: str | None
    check: str | None
    if_not: str | None
    by: Limit | None
    layer: str | None
    spans: Spans


@dataclass(frozen=True, slots=True)
class CheckEvery:
    """How often somebody looks at the bandage while it is on, and who."""

    interval: Limit
    who: str
    spans: Spans


@dataclass(frozen=True, slots=True)
class Removal:
    """When bandaging ends: one limit, or one a reason. `parts` keeps each author's own, so that blends join late."""

    plain: Limit | None
    by_reason: Mapping[str, Limit] = field(default_factory=dict)

    def __str__(self) -> str:
        return str(self.plain) if self.plain else ", ".join(f"{k}: {v}" for k, v in self.by_reason.items())


@dataclass(frozen=True, slots=True)
class Limits:
    """Every time limit of a protocol; None means that the protocol sets none."""

    first_check: Window | None = None
    check_every: CheckEvery | None = None
    change_every: Window | None = None
    recheck_every: Window | None = None
    release: Limit | None = None
    remove_by: Removal | None = None
    remove_when: str | None = None
    supervised: bool | None = None
    go_home: bool | None = None
    spans: Spans = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Exercise:
    """What rest means in acts: walks a day, minutes each, length of the lead in cm."""

    walks: int
    minutes_each: Limit
    lead: Fraction
    spans: Spans


@dataclass(frozen=True, slots=True)
class Pictured:
    """The picture of an owner's line: its name in `kinds.PICTURES`, and where the line is written."""

    picture: str
    span: Span


@dataclass(frozen=True, slots=True)
class OwnerText:
    """The owner's lines, one act each, as authored; digits never, fields in braces."""

    what_it_does: str
    every_day: tuple[str, ...]
    keep_dry: tuple[str, ...]
    exercise: Exercise | None
    never: tuple[str, ...]
    spans: Spans


@dataclass(frozen=True, slots=True)
class Reference:
    """A full citation, and the keys it stands behind."""

    cite: str
    for_: str | None
    spans: Spans


@dataclass(frozen=True, slots=True)
class Revision:
    """One row of the change history."""

    revision: int
    date: date
    change: str
    why: str
    by: str
    spans: Spans


@dataclass(frozen=True, slots=True)
class Settled:
    """A conflict of a stored blend that a clinician has decided: the key, the part that counts, who and why."""

    key: str
    part: str
    decided_by: str
    why: str
    spans: Spans


@dataclass(frozen=True, slots=True)
class Protocol:
    """One protocol, or one stage of one. `kind` is final: an open wound has its stage in it."""

    protocol: str
    title: str
    kind: str
    id: str
    revision: int
    # None until it is approved: `to decide` stands there.
    effective: date | None
    review_by: date | None
    prepared_by: Person
    approved_by: Person | None
    species: tuple[str, ...]
    sites: tuple[str, ...]
    function: str
    immobilises: bool | None
    bone: tuple[str, ...]
    # `growing` or `grown`: the only animals it is for; None: both.
    only_for: str | None
    use_when: tuple[str, ...]
    do_not_use_when: tuple[Refrain, ...]
    covers: Covers | None
    layers: tuple[Layer, ...]
    steps: tuple[Step, ...]
    limits: Limits
    sources: Mapping[str, Source]
    signs: tuple[str, ...]
    owner: OwnerText | None
    references: tuple[Reference, ...]
    history: tuple[Revision, ...]
    supplies: tuple[str, ...]
    review: tuple[str, ...]
    stages: Mapping[str, Protocol]
    blend: tuple[str, ...]
    # Of a stored blend: the revision of each part that its people read when they signed it.
    reviewed_against: Mapping[str, int]
    settles: tuple[Settled, ...]
    spans: Spans
    stage: str | None = None
    # Where the whole file stands, for what concerns no single key; and the digest of all it says.
    file: str = ""
    content: str = ""

    @property
    def purpose(self) -> str:
        return purpose_of(self.kind)

    @property
    def name(self) -> str:
        """As typed in a command: `open-wound@inflammatory`."""
        return f"{self.protocol}@{self.stage}" if self.stage else self.protocol

    def layer(self, key: str) -> Layer | None:
        return next((layer for layer in self.layers if layer.layer == key), None)

    def span(self, key: str) -> Span:
        return self.spans.get(key) or self.spans[""]


@dataclass(frozen=True, slots=True)
class Opening:
    """One stretch of a week day in which the place answers; `closes` at 24:00 is written as None."""

    opens: time
    closes: time | None


Hours = Mapping[int, tuple[Opening, ...]]  # Monday is 0


@dataclass(frozen=True, slots=True)
class Place:
    """The emergency place. `answers` None means always."""

    name: str
    address: tuple[str, ...]
    phone: str
    answers: Hours | None
    does_bandage_checks: bool
    spans: Spans


@dataclass(frozen=True, slots=True)
class SizeBand:
    """An estimate for one range of weights: girths and covered length in cm."""

    weight: Band
    distal_girth: Fraction
    proximal_girth: Fraction
    covered_length: Fraction
    spans: Spans


@dataclass(frozen=True, slots=True)
class Copy:
    """One numbered copy of the binder."""

    number: int
    place: str
    holder: str


@dataclass(frozen=True, slots=True)
class Staff:
    """Somebody who bandages, or answers for it. since, until: the days between which the protocols are theirs to know; None: open."""

    name: str
    role: str
    since: date | None
    until: date | None
    spans: Spans

    def works_on(self, day: date) -> bool:
        """Whether they are there on a day; the last day counts."""
        return (self.since is None or self.since <= day) and (self.until is None or day <= self.until)


@dataclass(frozen=True, slots=True)
class Trained:
    """One row of the record of training: who read which revision of which document number, and was shown competent by whom.

    competent, by: both or neither; without them it was read, and no more.
    """

    name: str
    protocol: str
    revision: int
    read: date
    competent: date | None
    by: str | None
    spans: Spans


@dataclass(frozen=True, slots=True)
class Clinic:
    """What the clinic fixes once for all protocols. `visit` in seconds; `waste` a share of 1.

    one_clinician: it says that it has no second one, who could approve what the first prepared. id_form: of every document
    number, `?` for a letter and `#` for a figure. staff: as listed; head technician and clinicians need not be (`roster`).
    """

    name: str
    address: tuple[str, ...]
    phone: str
    time_zone: str
    languages: tuple[str, ...]
    paper: str
    units: str
    emergency_place: Place
    hours: Hours
    visit: int
    closed: frozenset[date]
    head_technician: str
    clinicians: tuple[str, ...]
    one_clinician: bool
    id_form: str | None
    staff: tuple[Staff, ...]
    copies: tuple[Copy, ...]
    waste: Fraction
    house_limits: Mapping[str, Limits]
    size_bands: Mapping[str, tuple[SizeBand, ...]]
    drafts: bool
    spans: Spans

    @property
    def roster(self) -> tuple[Staff, ...]:
        """Everybody who must know the protocols, each once: head technician, clinicians, then the staff as listed."""
        listed = {one.name.casefold(): one for one in self.staff}
        offices = [(self.head_technician, "head technician"), *((name, "clinician") for name in self.clinicians)]
        spans = {"": self.spans["signs_for"]}
        found = {
            name.casefold(): listed.get(name.casefold(), Staff(name, role, None, None, spans)) for name, role in offices
        }
        return tuple((found | listed).values())

    def person(self, name: str) -> Staff | None:
        """Whoever of the roster bears a name, in letters of either size."""
        return next((one for one in self.roster if one.name.casefold() == name.casefold()), None)


@dataclass(frozen=True, slots=True)
class Money:
    amount: Decimal
    currency: str


@dataclass(frozen=True, slots=True)
class Tension:
    """Pull along the wrap in kgf by width in cm, with how, by whom and when it was measured."""

    by_width: Mapping[Fraction, Fraction]
    measured: str
    by: str
    on: date
    spans: Spans


@dataclass(frozen=True, slots=True)
class Material:
    """What a shelf holds under one generic name. Lengths in cm; `roll_relaxed` is the roll's relaxed length.

    roll: the length as the clinic wrote it; full_stretch: of a roll measured stretched, the share of 1 that it was stretched by.
    """

    name: str
    layer: str
    widths: tuple[Fraction, ...]
    roll_relaxed: Fraction | None
    extension: Fraction
    thickness: Fraction
    tension: Tension | None
    price: Mapping[Fraction, Money] | Mapping[str, Money] | Money | None
    sizes: tuple[str, ...]
    family: str | None
    spans: Spans
    roll: Fraction | None = None
    full_stretch: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Sign:
    """One warning sign: how urgent, and the words for staff and for owners."""

    id: str
    urgency: str
    staff: str
    owner: str
    source: Source | None
    spans: Spans


@dataclass(frozen=True, slots=True)
class AgeClause:
    """`under` months or weeks, if `over` kg (None: whatever the weight)."""

    amount: int
    unit: str
    over: Fraction | None


@dataclass(frozen=True, slots=True)
class Modifier:
    """What makes a bandage need looking at sooner; only ever stricter.

    ages, species: the clauses from which it is derived; both empty: it is ticked with the patient.
    features: of a wound; any of them brings it about too, whether ticked or not.
    """

    name: str
    ages: tuple[AgeClause, ...]
    species: tuple[str, ...]
    features: tuple[str, ...]
    tightens: Mapping[str, Limits]
    forbids: tuple[str, ...]
    warns: str | None
    because: str
    source: Mapping[str, Source]
    spans: Spans

    @property
    def is_derived(self) -> bool:
        return bool(self.ages or self.species)


@dataclass(frozen=True, slots=True)
class LimbSite:
    """Where the bandage goes; the three measures in cm, all or none."""

    site: str
    distal_girth: Fraction | None
    proximal_girth: Fraction | None
    covered_length: Fraction | None
    spans: Spans

    @property
    def group(self) -> str:
        return self.site.split()[-1]

    @property
    def sites(self) -> tuple[str, ...]:
        """The protocol sites it can be."""
        return SITE_GROUPS[self.group]

    @property
    def is_measured(self) -> bool:
        return self.covered_length is not None


@dataclass(frozen=True, slots=True)
class Wound:
    """What the clinician saw of the wound; `contact` and `because` name a dressing of the clinician's own choice."""

    exudate: str
    features: tuple[str, ...]
    contact: str | None
    because: str | None
    spans: Spans


@dataclass(frozen=True, slots=True)
class Application:
    """One bandage of the course that has come off: which protocol, when it went on, when off. Moments as typed."""

    protocol: str
    on: datetime
    off: datetime
    spans: Spans


@dataclass(frozen=True, slots=True)
class Patient:
    """One animal on one day. Moments are as typed: naive ones are in the clinic's zone. `born` None means unknown."""

    name: str
    species: str
    weight: Fraction
    born: date | None
    file_number: str | None
    owner_name: str
    language: str
    limb: LimbSite
    skin: str
    reason: str | None
    condition: tuple[str, ...]
    applied: datetime
    is_planned: bool
    began: datetime | None
    issued_by: str
    visits: Mapping[str, datetime]
    explained_by: str | None
    wound: Wound | None
    earlier: tuple[Application, ...]
    spans: Spans


@dataclass(frozen=True, slots=True)
class Book:
    """Everything a clinic has written, as far as it could be read."""

    clinic: Clinic
    stock: Mapping[str, Material]
    signs: Mapping[str, Sign]
    modifiers: Mapping[str, Modifier]
    protocols: Mapping[str, Protocol]
    # Which picture stands beside an owner's line, by the line as authored.
    pictures: Mapping[str, Pictured] = field(default_factory=dict)
    # sha256 of each file as read, by file name: what a plan was made from.
    digests: Mapping[str, str] = field(default_factory=dict)
    extra: Mapping[str, Any] = field(default_factory=dict)
    # Who was trained on what; no plan asks for it.
    training: tuple[Trained, ...] = ()
