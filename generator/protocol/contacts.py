"""What may touch a wound: each family of dressings with the stages and the fluid it serves.

Takes  nothing: this is a table.
Gives  `USES`: family by family, for which stage, how much fluid, how often it is changed; `OBJECTIONS`, which staff must read.
Knows  whose word each line is; not what a clinic stocks (that is `reckon/contact.py`).
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from generator.protocol.kinds import ADHERENT, FAMILIES, STAGES
from generator.protocol.quantity import Window, window


@dataclass(frozen=True, slots=True)
class Use:
    """A family in one stage.

    exudates: how much fluid it serves; `wetted` those of them in which it is wetted with saline first.
    bars: features of the wound that rule it out, each with the reason. needs: a feature without which it has no place.
    source: whose word the use is; `care` what staff must mind.
    """

    family: str
    stage: str
    exudates: tuple[str, ...]
    change: Window
    source: str
    bars: tuple[tuple[str, str], ...] = ()
    needs: str | None = None
    wetted: tuple[str, ...] = ()
    care: str = ""

    @property
    def is_adherent(self) -> bool:
        return self.family in ADHERENT


_DRY_BARS = (
    ("dry dead tissue", "dry dead tissue gives it nothing to take up"),
    ("bare bone or tendon", "it dries out bare bone and tendon"),
)
_CLOSED_BARS = (("infected", "it seals germs in"),)
_INFLAMMATORY, _PROLIFERATIVE, _MATURATION = STAGES
_STOP_SILVER = "Stop it when the infection is controlled: it slows new skin."


def _use(family: str, stage: str, exudates: str, change: str, source: str, **more: object) -> Use:
    return Use(family, stage, tuple(exudates.split()), window(change), source, **more)  # type: ignore[arg-type]


def _foam(stage: str, change: str, source: str) -> Use:
    return _use("polyurethane foam", stage, "low moderate high", change, source, wetted=("low", "moderate"))


# Published: 30 Campbell 2015; 31 K9 guideline 14; 34 Winkler 2023; 37 Birchard 2014; 38 sugar and honey, dvm360; 87 equine chapter.
# What follows a semicolon in a source is of another standing than what stands before it.
_ALL = (
    _use("calcium alginate", _INFLAMMATORY, "high", "48 h to 72 h", "published 30; cautions from memory", bars=_DRY_BARS),
    _use("calcium alginate", _PROLIFERATIVE, "high", "48 h to 72 h", "published 30; cautions from memory", bars=_DRY_BARS),
    _foam(_INFLAMMATORY, "48 h to 72 h", "published 30"),
    _foam(_PROLIFERATIVE, "48 h to 7 d", "published 30, 31"),
    _foam(_MATURATION, "72 h to 7 d", "published 30"),
    _use("hydrocolloid", _INFLAMMATORY, "moderate", "72 h", "stage published 30; the rest from memory", bars=_CLOSED_BARS),
    _use("hydrocolloid", _PROLIFERATIVE, "moderate", "3 d to 7 d", "stage published 30; the rest from memory", bars=_CLOSED_BARS),
    _use("hydrocolloid", _MATURATION, "moderate", "3 d to 7 d", "stage published 30; the rest from memory", bars=_CLOSED_BARS),
    _use("hydrogel", _INFLAMMATORY, "none low", "24 h to 72 h", "published 30, 87", care="Leave it if it is still moist."),
    _use("hydrogel", _PROLIFERATIVE, "none low", "24 h to 72 h", "published 30, 87", care="Healing took longer in horses where it was kept on through repair."),
    _use("hypertonic saline gauze", _INFLAMMATORY, "high", "24 h", "published 31; time common practice", care="Stop it when healthy granulation shows."),
    _use("medical honey", _INFLAMMATORY, "moderate high", "24 h", "published 38; time common practice", care="It may sting. Medical grade only, never kitchen honey."),
    _use("medical honey", _PROLIFERATIVE, "moderate high", "24 h to 72 h", "published 38; time common practice", care="Stop it once healthy granulation covers the bed."),
    _use("sugar", _INFLAMMATORY, "high", "24 h", "published 37", bars=(("large", "a large wound loses fluid and protein into it (from memory)"),), care="Flush it out at every change; never close it in."),
    _use("silver dressing", _INFLAMMATORY, "low moderate high", "72 h", "published 31; days from memory", needs="infected", care=_STOP_SILVER),
    _use("silver dressing", _PROLIFERATIVE, "low moderate high", "72 h to 7 d", "published 31; days from memory", needs="infected", care=_STOP_SILVER),
    _use("petrolatum gauze", _PROLIFERATIVE, "low moderate", "24 h to 72 h", "published 34; cautions from memory", care="New tissue grows through the mesh if it is left on."),
    _use("low-adherent absorbent pad", _MATURATION, "low", "24 h to 72 h", "published 31, 34"),
    _use("silicone net", _MATURATION, "none low", "72 h to 7 d", "from memory"),
    _use("silicone net", _PROLIFERATIVE, "low", "72 h to 7 d", "from memory", needs="graft"),
    _use("wet-to-dry gauze", _INFLAMMATORY, "moderate high", "24 h", "published 30, 31, 34", care="Painful to take off: pain relief first."),
    _use("dry-to-dry gauze", _INFLAMMATORY, "high", "24 h", "published 34", care="Painful to take off, and healthy tissue is lost: pain relief first."),
    *(_use("antimicrobial ointment under pad", stage, "low", "24 h", "published 31; caution from memory", care="A thin film: too much blocks drainage.") for stage in STAGES),
    _use("sterile absorbent pad", _INFLAMMATORY, "moderate high", "12 h to 24 h", "published 31, 37"),
)  # fmt: skip

USES: MappingProxyType[str, tuple[Use, ...]] = MappingProxyType(
    {family: tuple(use for use in _ALL if use.family == family) for family in FAMILIES}
)
# Moisture-retentive families: on whole skin they soften it, so they are cut to the wound's edge (Campbell 2015).
RETENTIVE = ("calcium alginate", "polyurethane foam", "hydrocolloid", "hydrogel")
_AGAINST = (
    "Present-day opinion is against it: pulling off a dried dressing tears living tissue with dead, and hurts; it is called the least "
    "desirable way (Campbell 2015), and one guideline changed from the most common dressing to no longer recommended (K9 guideline 14). "
    "The reference manual still describes it, with its faults (Winkler 2023)."
)
OBJECTIONS: MappingProxyType[str, str] = MappingProxyType(dict.fromkeys(ADHERENT, _AGAINST))
