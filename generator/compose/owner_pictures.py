"""The drawings of an owner's sheet: the animal, the signs, the toes, the code for a phone.

Takes  a `Plan` and the voice of its sheet.
Gives  `Pictures`: for each drawing its id in the document and its words for those who listen.
Knows  which drawing this plan needs; how each is drawn: `page/`. segno is loaded on use.
"""

from __future__ import annotations

from functools import lru_cache, partial
from typing import Any, cast

from generator.compose.voice import Voice
from generator.page.animal import Animal, Extent, Site, Species, draw_animal
from generator.page.pictograms import Pictogram, draw_pictogram
from generator.page.qr import QrCode, draw_qr
from generator.page.toe_check import ToeCheck, draw_toe_check
from generator.reckon.plan import Plan
from generator.words.isolation import bare
from generator.words.telephone import telephone

# How far up the limb a bandage reaches, for the outline; the words beside it are what counts.
_EXTENTS: dict[str, Extent] = {
    "fore foot": "foot",
    "hind foot": "foot",
    "distal forelimb": "distal",
    "distal hindlimb": "distal",
}
_MODULE = 1.25  # points: a module of the code; 0.4 mm is the least that a camera reads from a photocopy
_TOE = 20.0  # points: the length of a toe
_TALLEST = 78.0  # points: the animal stands beside its name, not above it


class Pictures:
    """One of these a sheet."""

    def __init__(self, plan: Plan, voice: Voice, shows_toes: bool, from_right: bool) -> None:
        self.plan = plan
        self.voice = voice
        self.shows_toes = shows_toes
        self.from_right = from_right
        self.species = cast(Species, plan.patient.species)

    def animal(self) -> dict[str, str]:
        """The outline with the bandaged part marked."""
        limb = self.plan.patient.limb
        sites = {site for part in self.plan.bandage.parts for site in part.sites} & set(limb.sites)
        reach = {_EXTENTS.get(site, "whole") for site in sites}
        extent: Extent = next((e for e in ("whole", "distal", "foot") if e in reach), "distal")
        words = self.voice.label(f"site-{limb.site.replace(' ', '-')}")
        spec = Animal(
            species=self.species,
            site=cast(Site, limb.site),
            extent=extent,
            caption="",
            toes=self.shows_toes,
            tallest=_TALLEST,
            alternative=self.voice.label("picture-animal", site=lambda _: words),
            language=self.voice.local.language,
        )
        drawing = self.voice.writer.drawing("animal", partial(draw_animal, spec))
        return {"drawing": drawing, "alt": spec.alternative}

    def sign(self, name: Pictogram) -> str:
        """A pictogram, as wide as its place; the words stand beside it."""
        return self.voice.writer.drawing(name, lambda width, _: draw_pictogram(name, width, species=self.species))

    def toes(self) -> dict[str, Any] | None:
        """The toe check, where there are toes to look at."""
        if not self.shows_toes:
            return None
        label = self.voice.label
        spec = ToeCheck(
            close=label("toes-right"),
            spread=label("toes-wrong"),
            alternative=label("picture-toes"),
            unit=_TOE,
            language=self.voice.local.language,
            from_right=self.from_right,
        )
        drawing = self.voice.writer.drawing("toes", partial(draw_toe_check, spec))
        return {"drawing": drawing, "alt": spec.alternative}

    def code(self) -> dict[str, Any]:
        """A code that rings the clinic: small, and what is needed when something is wrong. The visits are in visits.ics."""
        phone = self.plan.book.clinic.phone
        does = self.voice.say("code-ring")
        alternative = self.voice.label("picture-code", does=lambda _: bare(self.voice.label("code-ring")))
        spec = QrCode(
            modules=_modules(telephone(phone, phone).uri),
            alternative=alternative,
            module=_MODULE,
        )
        drawing = self.voice.writer.drawing("code", partial(draw_qr, spec))
        return {"drawing": drawing, "alt": alternative, "does": does}


@lru_cache(maxsize=16)  # every sheet of a clinic has the same; its mask is tried eight ways, as ISO/IEC 18004 asks
def _modules(text: str) -> tuple[tuple[bool, ...], ...]:
    import segno

    matrix = segno.make(text, error="h", micro=False, boost_error=False).matrix
    return tuple(tuple(bool(module) for module in row) for row in matrix)
