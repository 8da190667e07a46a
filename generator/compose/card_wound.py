"""What a floor card says of the wound, of the course, and of what to have ready.

Takes  a `Plan` and a `Writer`.
Gives  `supplies_line`, `dressing_line`, `other_dressings`, `course_line`, as safe markup.
Knows  that the stage is read from the wound by a clinician, never from the day count.
"""

from __future__ import annotations

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.card_limits import unbroken
from generator.compose.writer import Writer
from generator.protocol.kinds import FLUIDS
from generator.reckon.plan import Offer, Plan


def supplies_line(plan: Plan, writer: Writer) -> Markup | None:
    """Everything to have ready besides the layers, in one line."""
    told = plan.bandage.supplies
    return Markup(", ").join(writer.authored(text, span, "supplies") for text, span in told) if told else None


def dressing_line(plan: Plan, writer: Writer) -> Markup | None:
    """Why this dressing goes on; what else would serve stands on the card of the change."""
    choice = plan.choice
    if choice is None:
        return None
    own = plan.patient.wound
    at = own.spans["exudate"] if own is not None else None
    seen = Markup("{} stage, {}").format(choice.stage, FLUIDS[choice.exudate])
    if choice.features:
        seen += escape(", " + ", ".join(choice.features))
    name = writer.authored(choice.material, at, "dressing")
    if choice.typed:
        return Markup("{}, as the protocol names it ({}).").format(name, seen)
    by_choice = Markup()
    if own is not None and own.contact is not None:
        reason = (
            Markup(": {}").format(writer.authored(own.because, own.spans.get("because"), "because"))
            if own.because
            else ""
        )
        by_choice = Markup("; the clinician's choice{}").format(reason)
    # Its own interval is not said here: the limit beside it may be shorter, and only one of the two may be read.
    return Markup("{} ({}{}).").format(name, seen, by_choice)


def other_dressings(plan: Plan, writer: Writer) -> list[Markup]:
    """What else on the shelf would serve this wound, with its interval."""
    choice = plan.choice
    if choice is None:
        return []
    at = plan.patient.wound.spans["exudate"] if plan.patient.wound is not None else None
    others = [one for one in choice.offers if one.fits and one.material not in (None, choice.material)]
    return [
        Markup("{}{}").format(writer.authored(one.material or "", at, "dressing"), _interval(one, writer))
        for one in others
    ]


def _interval(offer: Offer | None, writer: Writer) -> Markup:
    if offer is None or offer.use is None:
        return Markup()
    shown = str(offer.use.change)
    return Markup(", {}").format(writer.number("dressing.change", shown, unbroken(shown)))


def course_line(plan: Plan, writer: Writer) -> Markup | None:
    """Which bandage of the course this is, and since when the end has been counting."""
    if not any(one.counts for one in plan.earlier):
        return None
    number = len(plan.earlier) + 1
    if plan.remove_by is None:
        return Markup("Bandage {} of the course").format(writer.number("application", number, str(number)))
    began = writer.moment(plan.began, hand.moment(plan.began, year=False), "began")
    return Markup("Bandage {} of the course; the end counts from {}").format(
        writer.number("application", number, str(number)), began
    )
