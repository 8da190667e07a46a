"""What a protocol becomes for one patient: figures, visits, decisions; no prose.

Takes  nothing: these are plain frozen values, made by the other files of `reckon`.
Gives  `Figure`, `LayerPlan`, `Event`, `Plan` and what they hold.
Knows  that every figure carries its unit, its origin, its inputs and how far to trust it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, tzinfo
from decimal import Decimal
from fractions import Fraction
from typing import Any, Literal

from generator.protocol.approval import Standing
from generator.protocol.contacts import Use
from generator.protocol.joining import Decision, Joined
from generator.protocol.model import Book, Layer, Limits, Material, Modifier, Patient, Sign, Source
from generator.source.problem import Problem
from generator.source.span import Span

__all__ = [
    "Alternate",
    "AppliedModifier",
    "Choice",
    "Considered",
    "Decision",
    "Earlier",
    "Event",
    "Figure",
    "Joined",
    "LayerPlan",
    "Limb",
    "Note",
    "Offer",
    "Plan",
]

Trust = Literal["measured", "set", "estimated"]
Where = Literal["clinic", "ward", "home", "emergency place"]
EventKind = Literal["check", "change", "recheck", "removal", "release", "watch"]


@dataclass(frozen=True, slots=True)
class Figure:
    """A number bound for paper.

    value: exact (Fraction, int) or an aware datetime. unit: UCUM code (`cm`, `mm[Hg]`, `1` for a count).
    origin: `file:line:column` of the key it was written at, or the name of the formula. working: every sum that leads to it,
    one a line, as `working.py` writes them; the last gives the figure. trust: never better than its worst input. standing: citation, common practice, clinic's own.
    """

    name: str
    value: Fraction | int | datetime
    unit: str
    origin: str
    trust: Trust = "set"
    standing: str = ""
    working: str = ""
    inputs: tuple[Figure, ...] = ()

    @property
    def number(self) -> Fraction:
        """The value as a number."""
        assert not isinstance(self.value, datetime)
        return Fraction(self.value)


@dataclass(frozen=True, slots=True)
class Limb:
    """Girths and covered length in cm; None all three where nothing is reckoned on a limb."""

    distal_girth: Figure | None
    proximal_girth: Figure | None
    covered_length: Figure | None
    trust: Trust


@dataclass(frozen=True, slots=True)
class Alternate:
    """The next best stocked width, cm, and the rolls it would take, with their sums."""

    width: Fraction
    rolls: int
    working: str = ""


@dataclass(frozen=True, slots=True)
class LayerPlan:
    """One layer for this patient.

    strip: cm laid on the limb, anchors in, waste out. need: cm of relaxed roll, waste in. left_over: relaxed cm.
    thickness: cm the whole layer adds. pressure: mmHg at the distal and proximal end, of this layer alone.
    None wherever the figure does not apply (pads, splints, shapes that are no limb).
    """

    layer: Layer
    material: Material | None
    width: Figure | None
    passes: int | None
    overlap: Fraction | None
    strip: Figure | None
    need: Figure | None
    rolls_exact: Fraction | None
    rolls: Figure
    left_over: Figure | None
    thickness: Fraction
    pressure: tuple[Figure, Figure] | None
    alternate: Alternate | None = None
    # What stands one strip: count and length in cm, for stirrups.
    strips: tuple[int, Fraction] | None = None
    pieces: bool = False

    @property
    def unit(self) -> Literal["roll", "piece"]:
        """What `rolls` counts."""
        return "piece" if self.pieces else "roll"


@dataclass(frozen=True, slots=True)
class Event:
    """A visit, a look or a release.

    opens: not before (None: at any time). due: must be done by. slot: last bookable start inside the window, None where there
    is none. booked: the time the clinic gave, if it did. base: the moment that its window counts from.
    """

    kind: EventKind
    opens: datetime | None
    due: datetime
    slot: datetime | None
    where: Where
    origin: str
    standing: str = ""
    booked: datetime | None = None
    working: str = ""
    base: datetime | None = None

    @property
    def headline(self) -> datetime:
        """Booked, else slot, else due."""
        return self.booked or self.slot or self.due


@dataclass(frozen=True, slots=True)
class Earlier:
    """A bandage of the course that has come off. counts: whether the end of this one counts from it."""

    protocol: str
    title: str
    on: datetime
    off: datetime
    counts: bool


@dataclass(frozen=True, slots=True)
class Offer:
    """One dressing, or a family of which none is in stock, beside this wound.

    material: its stock name, or None. use: what it is for in this stage, or None. against: every reason that rules it out.
    objection: what present-day opinion holds against it, which staff must read even where it fits.
    """

    family: str
    material: str | None
    use: Use | None
    against: tuple[str, ...]
    objection: str = ""

    @property
    def fits(self) -> bool:
        return not self.against and self.use is not None


@dataclass(frozen=True, slots=True)
class Choice:
    """The dressing that goes on an open wound, and what was weighed. typed: the protocol names it, the wound had no say."""

    stage: str
    exudate: str
    features: tuple[str, ...]
    material: str
    chosen: Offer | None
    offers: tuple[Offer, ...]
    typed: bool = False


@dataclass(frozen=True, slots=True)
class AppliedModifier:
    """A modifier in force, and each limit it changed: key, before, after."""

    modifier: Modifier
    derived: bool
    changed: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True)
class Considered:
    """A modifier of the book that does not apply, with what it would have changed here: key, now, then."""

    modifier: Modifier
    because: str
    would_change: tuple[tuple[str, str, str], ...]
    would_forbid: bool


@dataclass(frozen=True, slots=True)
class Note:
    """Something staff must know, as a code with its values; the words are composed elsewhere.

    code: kebab-case, such as `no-opening`, `limb-estimated`, `narrow-elastic`, `pressure-not-estimated`, `contact-not-needed`,
    `clock-change`, `deadline-passed`, `planned`, `review-overdue`, `not-stocked`, `modifier-warns`,
    `cost-unknown`, `cost-in-currencies`.
    """

    code: str
    values: tuple[tuple[str, Any], ...] = ()
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that reaches paper for one patient on one day."""

    book: Book
    patient: Patient
    bandage: Joined
    now: datetime
    applied: datetime
    began: datetime
    limb: Limb
    layers: tuple[LayerPlan, ...]
    unused: tuple[Layer, ...]
    finished_girth: tuple[Figure, Figure] | None
    pressure: tuple[Figure, Figure] | None
    pressure_because: str | None
    cost: tuple[Decimal, str] | None
    limits: Limits
    decisions: tuple[Decision, ...]
    modifiers: tuple[AppliedModifier, ...]
    events: tuple[Event, ...]
    deadline: Event | None
    remove_by: Event | None
    go_home: bool
    signs: tuple[Sign, ...]
    notes: tuple[Note, ...]
    choice: Choice | None = None
    # What was shown on the screen beside the plan: doubts about the patient, problems elsewhere in the book.
    warnings: tuple[Problem, ...] = ()
    earlier: tuple[Earlier, ...] = ()
    considered: tuple[Considered, ...] = ()
    # The clinic's. Moments of a plan carry an offset of their own each: whoever counts on from one needs the zone.
    zone: tzinfo = UTC
    zone_release: str = ""
    sources: dict[str, Source] = field(default_factory=dict)
    # Every roll and piece with its price, and their sum; empty where there is none.
    cost_working: str = ""
    # Of a pressure bandage: the bandage that follows, planned for the release.
    then: Plan | None = None
    # How its protocols stand in the clinic's record of approvals; empty where nobody asked.
    standings: tuple[Standing, ...] = ()

    @property
    def is_on_trial(self) -> bool:
        """Whether something in it has been approved by nobody as it stands."""
        return not all(one.is_approved for one in self.standings)

    def is_before_home(self, event: Event) -> bool:
        """Whether a first check comes so soon that the animal waits for it here: two hours after application (house rule)."""
        return event.kind == "check" and self.go_home and (event.due - self.applied).total_seconds() <= 2 * 3600

    def first(self, kind: EventKind) -> Event | None:
        """The first event of a kind."""
        return next((event for event in self.events if event.kind == kind), None)
