"""What the trade does not know, or does not agree on, each with the bandages and the cases in which it matters.

Takes  nothing: this is a table.
Gives  `UNKNOWNS`; `unknowns_for`, those that matter to some kinds of bandage under some facts.
Knows  whose word each one is; the facts are the names in `FACTS`, found by whoever has a plan or a protocol at hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

# What can be so of a plan or a protocol, beside its kinds.
FACTS = (
    "wraps",  # a strip with some stretch is wound round a limb, so that a pressure could be asked for
    "estimate",  # a pressure estimate is printed
    "small",  # a cat, or a dog under 10 kg (house rule)
    "measured",  # girths were measured
    "banded",  # girths come from the clinic's band for the weight
    "adherent",  # a dressing that dries on lies on the wound
    "retentive",  # a dressing that holds moisture lies on the wound
    "foot",  # the bandage starts at the toes
    "changed",  # it is opened and changed while it lasts
    "home",  # it goes home
)


@dataclass(frozen=True, slots=True)
class Unknown:
    """One thing that is not known.

    kinds: beginnings of the kinds it concerns; none means every kind. facts: all of them must hold.
    published: numbers of `citations.py`; source: what else stands behind it, or that nothing does.
    """

    id: str
    words: str
    kinds: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    published: tuple[int, ...] = ()
    source: str = ""

    def matters(self, kinds: Iterable[str], facts: frozenset[str]) -> bool:
        """Whether it concerns one of these kinds while these facts hold."""
        return facts.issuperset(self.facts) and (not self.kinds or any(kind.startswith(self.kinds) for kind in kinds))


_WOUNDS = ("wound.inflammatory", "wound.proliferative", "wound.maturation")

UNKNOWNS: tuple[Unknown, ...] = (
    # ---- pressure
    Unknown("tension", "How hard a veterinary wrap pulls at a given stretch: no figure was found. A pressure is reckoned from pulls that this clinic "
            "measured, or it is not given.", facts=("wraps",), source="nothing published found"),
    Unknown("pressure-formula", "A pressure is an estimate at application. The formula takes the limb for a cylinder and was checked on human legs of 20 to "
            "35 cm; limbs of dogs and cats are thinner, and over a ridge of bone the pressure is far higher than its mean.",
            facts=("wraps",), published=(1, 74), source="range of girths: nothing published found for animals"),
    Unknown("pressure-measured", "Measured pressures lay lower than this formula, above a human ankle by 42.1 %. Of 1476 people who were to reach 50 to 60 mmHg 12.3 % "
            "did. On people it fell by 23.5 % within 4 h, and by 23.8 to 47.5 % within 7 d.", facts=("wraps", "estimate"), published=(43, 44, 45, 46)),
    Unknown("pressure-small", "Pressure under bandages of cats and small dogs: no measurement was found.", facts=("wraps", "small"), source="nothing published found"),
    Unknown("pressure-line", "Which pressure is harmless: no line transfers from the published ones to skin of dogs and cats. None is drawn here.",
            facts=("wraps", "estimate"), published=(53, 54, 91)),
    # ---- girth
    Unknown("girth-bands", "Girth of a limb by body weight: no published table was found. The bands of this clinic are its own estimate, and breed shape breaks "
            "every band.", facts=("banded",), source="from memory; nothing published found"),
    Unknown("girth-error", "How well a girth is measured: in Labradors only the upper forearm repeated (reliability 0.66 to 0.78), lower leg and thigh stayed under 0.5. "
            "A girth wrong by a tenth moves the strip by a tenth, and the pressure by about a tenth the other way.",
            facts=("measured",), published=(92,), source="the effect: computed"),
    # ---- times
    Unknown("intervals", "Whether shorter intervals prevent injury: no trial was found. The intervals are the trade's custom unless a source stands beside them.",
            facts=("changed",), source="nothing published found"),
    Unknown("pressure-minutes", "How many minutes a pressure bandage may stay: no printed figure was found. Fifteen and twenty are common practice. "
            "Times for a tourniquet are another matter and are never quoted for it.", kinds=("haemorrhage.",), source="common practice"),
    Unknown("sling-days", "How many days this sling may stay: no primary source was read.", kinds=("sling.flexion9090", "sling.robinson", "sling.hobbles"), source="from memory"),
    Unknown("velpeau-duration", "How long a Velpeau sling stays: one source ends it at two weeks whatever the reason; a public page gives at least two weeks; eight weeks are "
            "reported of a case that was left with a stiff elbow and carpus. Here it ends at 14 d.",
            kinds=("sling.velpeau",), published=(22,), source="the rest from pages that are no journal"),
    Unknown("ehmer-duration", "How long an Ehmer sling stays: 10 to 14 d in one text, 7 to 10 d or 3 to 10 d in others. Complications are common in print, and some surgeons would "
            "rather operate.", kinds=("sling.ehmer",), published=(18, 21), source="other ranges at second hand; surgeons' preference common practice"),
    Unknown("granulation-interval", "How often a granulating wound is opened: every 2 to 3 d in one guideline, up to 7 d in a review. The clinician picks within the window.",
            kinds=("wound.proliferative",), published=(30, 31)),
    Unknown("cast-interval", "Whether an adult's cast is opened every week or left until due: it is looked at every week, and opened on any sign.",
            kinds=("support.cast",), published=(15,)),
    Unknown("wet-overnight", "How long a bandage that got wet at home may stay on: the 4 to 6 h are from one page for owners.", facts=("home",), published=(40,)),
    # ---- what goes on
    Unknown("wet-to-dry", "Whether a dressing that dries on still has a place: one guideline changed from most common to no longer recommended; a reference manual still describes "
            "it, with its faults.", facts=("adherent",), published=(30, 31, 34)),
    Unknown("odour", "Whether a smell means harm: yellow gel under a moist dressing may smell slightly and be normal; any bad smell is to be seen within 4 to 6 h. "
            "Owners are told to ring in every case.", kinds=_WOUNDS, facts=("retentive",), published=(30, 40)),
    Unknown("toes", "Toes out or in: out, swelling can be seen; bare toes took more weight and other pressures in one study.",
            kinds=("support.",), facts=("foot",), published=(6, 9, 13, 27)),
    Unknown("cruciate", "Whether a soft bandage helps after cruciate surgery: in one small study a bandage alone reduced swelling least. No claim is made.",
            kinds=("support.soft",), published=(41,)),
    # ---- of all
    Unknown("rates", "Published complication rates describe other animals and are never this patient's risk. No sign of harm is no proof that there is none: only "
            "opening the bandage shows it.", published=(16,), source="never as a risk: house rule"),
)  # fmt: skip


def unknowns_for(kinds: Iterable[str], facts: Iterable[str]) -> tuple[Unknown, ...]:
    """What is not known and matters here, in the table's order."""
    here, so = tuple(kinds), frozenset(facts)
    return tuple(one for one in UNKNOWNS if one.matters(here, so))
