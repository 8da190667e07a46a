"""The limb a bandage goes on: measured, or estimated from the clinic's band for its site and weight.

Takes  the patient and the clinic.
Gives  `limb_of`: `Limb` figures, or the problem that keeps a figure from being given; `estimated`: those of a band.
Knows  that an estimate is marked wherever it goes.
"""

from __future__ import annotations

from fractions import Fraction

from generator.protocol.model import Clinic, Patient
from generator.reckon import working as say
from generator.reckon.plan import Figure, Limb
from generator.reckon.working import band_words
from generator.source.problem import Problem, Refusal

REGION = {"fore": "forelimb below elbow", "hind": "hindlimb below stifle"}
_KEYS = ("distal_girth", "proximal_girth", "covered_length")
NONE = Limb(None, None, None, "set")


def limb_of(patient: Patient, clinic: Clinic, is_needed: bool) -> Limb:
    """Give the limb's girths and covered length in cm.

    Args:
        is_needed: whether anything is reckoned on the limb; if not, an unmeasured one has no figures at all.
    Raises:
        Refusal: unmeasured, and the clinic has no band for that site or weight.
    """
    limb = patient.limb
    if limb.is_measured:
        figures = [
            Figure(key, getattr(limb, key), "cm", str(limb.spans[key]), "measured", "measured on the patient")
            for key in _KEYS
        ]
        return Limb(figures[0], figures[1], figures[2], "measured")
    if not is_needed:
        return NONE
    region = REGION.get(limb.group)
    found = estimated(limb.group, patient.weight, clinic)
    if found is not None:
        return found
    what = (
        f"no size band covers {float(patient.weight):g} kg at `{region}`"
        if region
        else f"nothing can be estimated for `{limb.site}`"
    )
    raise Refusal(
        [
            Problem(
                "limb-not-measured",
                limb.spans.get("site") or limb.spans[""],
                f"the limb is not measured, and {what}",
                "rolls reckoned on a guess would run out half-way up the limb",
                "measure and add `distal_girth`, `proximal_girth` and `covered_length`; or add a band to clinic.yaml",
                also=tuple((span, "the clinic's bands") for span in [clinic.spans.get("size_bands:")] if span),
            )
        ]
    )


def estimated(group: str, weight: Fraction, clinic: Clinic) -> Limb | None:
    """The limb of the clinic's size band for a site and a weight in kg; None where no band holds it.

    Args:
        group: of sites, as `SITE_GROUPS` names them.
    """
    for band in clinic.size_bands.get(REGION.get(group, ""), ()):
        if band.weight.holds(weight):
            figures = [
                Figure(
                    key,
                    getattr(band, key),
                    "cm",
                    str(band.spans[key]),
                    "estimated",
                    "clinic's size band; no published table exists",
                    say.line(
                        f"{say.shown(weight)} kg lies in {band_words(band.weight)}",
                        f"{say.shown(getattr(band, key))} cm",
                    ),
                )
                for key in _KEYS
            ]
            return Limb(figures[0], figures[1], figures[2], "estimated")
    return None
