"""The closed list of bandages, with the layers each needs and the longest each may stay.

Takes  nothing: these are tables.
Gives  `KINDS` by key; each says its purpose, its layers (required, optional, forbidden), its ceilings.
Knows  the trade's custom and where each figure is printed; numbers in `published` are those of `citations.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from generator.protocol.quantity import Limit, limit

Need = Literal["required", "optional", "forbidden"]

# Skin outwards; the order is the trade's and never changes. Layers missing or out of order are a recognised cause of harm
# (common practice).
LAYERS = ("stirrups", "contact", "padding", "conforming", "splint", "outer")
PURPOSES = ("support", "wound", "haemorrhage", "sling", "cover")
STAGES = ("inflammatory", "proliferative", "maturation")
_NEED: dict[str, Need] = {"R": "required", "O": "optional", "F": "forbidden"}


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The longest the trade allows, and whose word that is."""

    limit: Limit
    source: str


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of bandage.

    layers: need by layer. ceilings: by limit key; `change_every` is the longest one application may stay closed.
    """

    key: str
    words: str
    purpose: str
    layers: MappingProxyType[str, Need]
    ceilings: MappingProxyType[str, Ceiling] = field(default_factory=lambda: MappingProxyType({}))


def _kind(key: str, words: str, needs: str, **ceilings: str) -> Kind:
    purpose = key.split(".")[0]
    table = MappingProxyType({layer: _NEED[need] for layer, need in zip(LAYERS, needs, strict=True)})
    return Kind(key, words, purpose, table, MappingProxyType({name: _ceiling(text) for name, text in ceilings.items()}))


def _ceiling(text: str) -> Ceiling:
    amount, _, source = text.partition("; ")
    return Ceiling(limit(amount), source)


# A splint in a wound bandage is forbidden unless the wound crosses a joint: `rules/layers_needed.py` knows that exception.
# Layers in the order stirrups, contact, padding, conforming, splint, outer. Sources: modified padded bandages Gleason 2023;
# heavy bandage and slings Côté; wounds Campbell 2015, Winkler 2023; tie-over Tobias 2012; the rest common practice.
_ALL = (
    _kind("support.soft", "soft padded bandage", "RORROR",
          first_check="48 h; common practice", change_every="7 d; published 3 (tape on skin)", remove_by="14 d; common practice"),
    _kind("support.heavy", "heavy padded bandage", "RORROR",
          first_check="24 h; common practice", change_every="72 h; published 9, 11 (cotton relaxes)", remove_by="5 d; common practice"),
    _kind("support.splint", "splinted bandage", "RORRRR", first_check="48 h; common practice", change_every="7 d; published 15"),
    _kind("support.cast", "cast", "RORRRR", first_check="48 h; common practice", change_every="14 d; house rule", recheck_every="7 d; published 15"),
    _kind("wound.inflammatory", "open wound, inflammatory stage", "RRRRFR", first_check="48 h; common practice", change_every="72 h; published 30"),
    _kind("wound.proliferative", "open wound, proliferative stage", "RRRRFR", first_check="72 h; published 30", change_every="7 d; published 30"),
    _kind("wound.maturation", "open wound, maturation stage", "ORORFR", first_check="72 h; published 30", change_every="7 d; published 30"),
    _kind("wound.tieover", "tie-over bandage", "FRRFFR", first_check="12 h; published 35", change_every="72 h; common practice"),
    _kind("wound.foot", "foot bandage", "RORRFR", first_check="48 h; common practice", change_every="72 h; common practice"),
    _kind("haemorrhage.pressure", "pressure bandage", "FRRRFR",
          release="15 min; common practice", remove_by="20 min; common practice", check_every="5 min; common practice"),
    _kind("sling.velpeau", "Velpeau sling", "OORRFR", first_check="48 h; common practice", change_every="7 d; common practice", remove_by="14 d; published 22"),
    _kind("sling.ehmer", "Ehmer sling", "FOROFR", first_check="48 h; common practice", recheck_every="3 d; common practice", remove_by="14 d; published 21"),
    _kind("sling.flexion9090", "90-90 flexion sling", "FOROFR", first_check="48 h; from memory", recheck_every="3 d; from memory", remove_by="10 d; from memory"),
    _kind("sling.carpal", "carpal flexion sling", "OORRFR", first_check="48 h; common practice", change_every="7 d; common practice", remove_by="14 d; common practice"),
    _kind("sling.robinson", "Robinson sling", "RORRFR", first_check="48 h; common practice", change_every="7 d; common practice", remove_by="14 d; common practice"),
    _kind("sling.hobbles", "hobbles", "FOROFR", first_check="48 h; common practice", recheck_every="4 d; common practice", remove_by="14 d; common practice"),
    _kind("cover.wound", "closed-wound cover", "ORORFR", first_check="72 h; published 30", change_every="7 d; published 30"),
    _kind("cover.head", "head or ear bandage", "OORRFR", first_check="12 h; common practice", change_every="72 h; common practice"),
    _kind("cover.trunk", "chest or belly bandage", "FORRFR", first_check="12 h; common practice", change_every="72 h; common practice"),
    _kind("cover.tail", "tail bandage", "RRRRFR", first_check="12 h; common practice", change_every="48 h; common practice"),
    _kind("cover.catheter", "catheter cover", "FROROR", first_check="12 h; published 64", change_every="72 h; house rule"),
)  # fmt: skip

KINDS: MappingProxyType[str, Kind] = MappingProxyType({kind.key: kind for kind in _ALL})
# What a protocol may write: an open wound names its stages inside.
_STAGE_KINDS = {f"wound.{stage}" for stage in STAGES}
KIND_WORDS = (*(key for key in KINDS if key not in _STAGE_KINDS), "wound.open")

SITES = (
    "distal forelimb", "distal hindlimb", "forelimb", "hindlimb", "fore foot", "hind foot",
    "shoulder", "hip", "head", "chest", "abdomen", "tail",
)  # fmt: skip
PATIENT_SITES = ("left fore", "right fore", "left hind", "right hind", "head", "chest", "abdomen", "tail")
# Which sites of a protocol a patient's site can be.
SITE_GROUPS: MappingProxyType[str, tuple[str, ...]] = MappingProxyType({
    "fore": ("distal forelimb", "forelimb", "fore foot", "shoulder"),
    "hind": ("distal hindlimb", "hindlimb", "hind foot", "hip"),
    "head": ("head",), "chest": ("chest",), "abdomen": ("abdomen",), "tail": ("tail",),
})  # fmt: skip
REGIONS = ("forelimb below elbow", "hindlimb below stifle")
JOINTS = ("toes", "carpus", "elbow", "shoulder", "tarsus", "stifle", "hip")
# Joint below and joint above each bone, distal first.
BONES: MappingProxyType[str, tuple[str, str]] = MappingProxyType({
    "phalanges": ("toes", "carpus"), "metacarpus": ("toes", "carpus"), "metatarsus": ("toes", "tarsus"),
    "carpus": ("toes", "elbow"), "tarsus": ("toes", "stifle"),
    "radius and ulna": ("carpus", "elbow"), "tibia": ("tarsus", "stifle"),
    "humerus": ("elbow", "shoulder"), "femur": ("stifle", "hip"),
})  # fmt: skip
FAMILIES = (
    "calcium alginate", "polyurethane foam", "hydrocolloid", "hydrogel", "hypertonic saline gauze", "medical honey", "sugar",
    "silver dressing", "petrolatum gauze", "low-adherent absorbent pad", "silicone net", "wet-to-dry gauze", "dry-to-dry gauze",
    "antimicrobial ointment under pad", "haemostatic pad", "sterile absorbent pad",
)  # fmt: skip
# Families that dry onto the wound and pull away what grows (Campbell 2015; K9 guideline 14; WSAVA 2018 p. 572).
ADHERENT = ("wet-to-dry gauze", "dry-to-dry gauze")
# The trade calls a 2 in roll (5.08 cm) a 5 cm roll.
SAME_WIDTH = Fraction(3, 100)
# The contact layer is not typed: the wound's stage, its fluid and the shelf decide (`contacts.py`).
BY_THE_WOUND = "by the wound"
FLUIDS: MappingProxyType[str, str] = MappingProxyType(
    {"none": "no fluid", "low": "little fluid", "moderate": "moderate fluid", "high": "much fluid"}
)
EXUDATES = tuple(FLUIDS)
WOUND_FEATURES = ("infected", "dry dead tissue", "bare bone or tendon", "dead space", "large", "graft")
FIRMNESS = ("light", "snug", "moderate", "firm", "tight")
URGENCIES = ("emergency", "urgent", "same day", "next visit")


def purpose_of(kind: str) -> str:
    return kind.split(".")[0]


# The pictures that may stand beside an owner's line; each is drawn in `page/`.
PICTURES = (
    "look at toes", "look at bandage", "smell", "breathing", "keep dry", "cover outdoors", "cone", "crate",
    "short lead", "indoors", "medicine", "ring", "no stairs", "no jumping", "no chewing", "no cutting", "no human medicine",
    "no cover indoors", "no rubber bands",
)  # fmt: skip
