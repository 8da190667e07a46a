"""Which dressing the wound asks for: what fits its stage and its fluid, what the shelf holds, what rules the others out.

Takes  the joined bandage, the patient's wound, the stock.
Gives  the `Choice`, and the bandage with the chosen material in its contact layer.
Knows  that the stage is read from the wound by a clinician; it never counts days.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from generator.protocol.contacts import OBJECTIONS, USES, Use
from generator.protocol.joining import Joined
from generator.protocol.kinds import BY_THE_WOUND, FLUIDS, STAGES
from generator.protocol.model import Layer, Limits, Material, Patient, Wound
from generator.reckon.plan import Choice, Offer
from generator.source.problem import Problem, Refusal
from generator.source.span import Span


def choose_contact(bandage: Joined, patient: Patient, stock: Mapping[str, Material]) -> tuple[Joined, Choice | None]:
    """Choose the dressing of an open wound.

    Returns:
        The bandage, its contact layer naming the chosen material where the wound was to choose, and the choice; None where the
        bandage lies over no open wound, or nobody has said how much fluid the wound gives and the protocol names its dressing.
    Raises:
        Refusal: the wound chooses, and nobody has described it; nothing on the shelf fits; the clinician's own choice does not.
    """
    layer = next((layer for layer in bandage.layers if layer.layer == "contact"), None)
    stage = _stage_of(bandage)
    if layer is None or stage is None:
        return bandage, None
    chooses = layer.material == BY_THE_WOUND
    wound = patient.wound
    if wound is None:
        if chooses:
            raise Refusal([_undescribed(layer, patient)])
        return bandage, None
    offers = tuple(_offers(stage, wound, stock))
    fitting = {offer.material: offer for offer in offers if offer.fits and offer.material is not None}
    if not chooses and wound.contact is None:
        assert layer.material is not None
        return bandage, Choice(
            stage, wound.exudate, wound.features, layer.material, fitting.get(layer.material), offers, typed=True
        )
    taken = (
        wound.contact if wound.contact is not None else next((name for name in layer.prefer if name in fitting), None)
    )
    if taken is None:
        raise Refusal([_nothing_fits(layer, offers, wound)])
    if taken not in fitting:
        raise Refusal([_unsuitable(taken, offers, wound, stock, layer)])
    chosen = fitting[taken]
    others = tuple(replace(one, material=taken) if one is layer else one for one in bandage.layers)
    return replace(bandage, layers=others), Choice(stage, wound.exudate, wound.features, taken, chosen, offers)


def limits_of(choice: Choice | None, patient: Patient) -> Limits | None:
    """What the chosen dressing tightens: the longest it may stay. None where the protocol typed its dressing itself."""
    if choice is None or choice.typed or choice.chosen is None or choice.chosen.use is None:
        return None
    at = patient.wound.spans["exudate"] if patient.wound is not None else Span("wound")
    return Limits(change_every=choice.chosen.use.change, spans={"change_every": at, "": at})


def _stage_of(bandage: Joined) -> str | None:
    """The stage of the wound, which decides what may touch it; the first in healing where parts name several."""
    stages = [part.stage for part in bandage.parts if part.stage is not None]
    return min(stages, key=STAGES.index) if stages else None


def _offers(stage: str, wound: Wound, stock: Mapping[str, Material]) -> Iterator[Offer]:
    """Every family with what speaks for it or against it; of one that fits, each material on the shelf."""
    for family, uses in USES.items():
        shelf = [name for name, one in stock.items() if one.layer == "contact" and one.family == family]
        use, against = _judged(family, uses, stage, wound)
        if use is not None and not against and not shelf:
            against = ("none is in stock",)
        names: list[str | None] = [*shelf] or [None]
        for name in names:
            reasons = against
            if use is not None and use.is_adherent and not reasons and not (wound.because and wound.contact == name):
                reasons = ("it dries on; it is taken only where the clinician names it and says why",)
            yield Offer(family, name, use, reasons, OBJECTIONS.get(family, ""))


def _judged(family: str, uses: tuple[Use, ...], stage: str, wound: Wound) -> tuple[Use | None, tuple[str, ...]]:
    """The family's use in this stage, if it has one, and every reason against it."""
    use = next((use for use in uses if use.stage == stage), None)
    if use is None:
        where = " and ".join(dict.fromkeys(use.stage for use in uses))
        return None, (f"it belongs in the {where} stage" if where else "it is for bleeding only",)
    against = []
    if wound.exudate not in use.exudates:
        serves = " or ".join(FLUIDS[one] for one in use.exudates)
        against.append(f"it serves {serves}; this wound gives {FLUIDS[wound.exudate]}")
    against += [why for feature, why in use.bars if feature in wound.features]
    if use.needs is not None and use.needs not in wound.features:
        against.append(
            "it is for an infected wound" if use.needs == "infected" else f"in this stage it is for a {use.needs}"
        )
    return use, tuple(against)


def _undescribed(layer: Layer, patient: Patient) -> Problem:
    return Problem(
        "exudate-missing",
        patient.spans["skin"],
        "the wound is to choose its dressing, and nobody has said how much fluid it gives",
        "a dressing that is too dry tears the wound, one that is too wet drowns it",
        "add `wound: {exudate: low}` to the patient (`--exudate low` on the command line), or `none`, `moderate`, `high`; and `features:` if any hold",
        also=((layer.spans["material"], "the protocol lets the wound choose here"),),
    )


def _nothing_fits(layer: Layer, offers: tuple[Offer, ...], wound: Wound) -> Problem:
    fitting = sorted({offer.material for offer in offers if offer.fits and offer.material is not None})
    by_name = {offer.material: offer for offer in offers if offer.material is not None}
    said = "; ".join(
        f"`{name}`: {', '.join(by_name[name].against)}"
        if name in by_name
        else f"`{name}`: not a dressing in stock.yaml"
        for name in layer.prefer
    )
    return Problem(
        "no-contact-fits",
        wound.spans["exudate"],
        f"no dressing that the protocol prefers fits this wound: {said}",
        "a dressing that does not fit the stage or the fluid harms the wound",
        "the clinician names one with `contact:` under `wound:`; on the shelf and fitting: "
        + ", ".join(f"`{name}`" for name in fitting)
        if fitting
        else "nothing on the shelf fits: order one of the families that would, or the clinician chooses another protocol",
        also=((layer.spans["prefer"], "the preferred dressings"),) if "prefer" in layer.spans else (),
    )


def _unsuitable(
    taken: str, offers: tuple[Offer, ...], wound: Wound, stock: Mapping[str, Material], layer: Layer
) -> Problem:
    offer = next((offer for offer in offers if offer.material == taken), None)
    if offer is not None:
        why = "; ".join(offer.against)
    elif taken in stock:
        why = "it is no dressing of a known family"
    else:
        why = "it is not in stock.yaml"
    fitting = sorted({o.material for o in offers if o.fits and o.material is not None})
    return Problem(
        "contact-unsuitable",
        wound.spans["contact"],
        f"`{taken}` does not fit this wound: {why}",
        "a dressing that does not fit the stage or the fluid harms the wound",
        (
            "fitting and in stock: " + ", ".join(f"`{name}`" for name in fitting)
            if fitting
            else "nothing on the shelf fits"
        )
        + (
            "; a dressing that dries on needs `because:` with the clinician's reason"
            if offer is not None and offer.use is not None and offer.use.is_adherent
            else ""
        ),
        also=((layer.spans["layer"], "the layer it would be laid in"),),
    )
