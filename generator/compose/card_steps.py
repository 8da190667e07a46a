"""The steps of a floor card, and the stop rule of card and binder alike.

Takes  a `Plan`, the signs in force, a `Writer`.
Gives  `steps_of`, `stop_rule`: safe markup, in the order of the work and of urgency.
Knows  that a caution stands before its act, and that an act shared by several signs is said once, above them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.writer import Writer
from generator.protocol.model import Sign
from generator.reckon.clock import end_of
from generator.reckon.plan import Plan

# What a sign of the lesser urgencies asks for, where its own words are left to the binder.
_LESSER = (
    ("urgent", "Open it and call the clinician"),
    ("same day", "Call the clinician today"),
)


def steps_of(plan: Plan, writer: Writer) -> list[dict[str, Any]]:
    """The steps; a caution before the act, a check with what to do if it fails, a clock time where timed."""
    made = []
    for step in plan.bandage.steps:

        def text(key: str, value: str | None, step: Any = step) -> Markup | None:
            return writer.authored(value, step.spans.get(key), f"step.{key}") if value else None

        by = None
        if step.by is not None:
            # Counted on in the clinic's zone: fifteen minutes after ten to two may be five past three.
            due = end_of(plan.began, step.by, plan.zone)
            by = writer.moment(due, hand.clock(due), "step.by")
        made.append({"caution": text("caution", step.caution), "do": text("do", step.do),
                     "check": text("check", step.check), "if_not": text("if_not", step.if_not), "by": by})  # fmt: skip
    return made


def stop_rule(signs: Sequence[Sign], writer: Writer) -> dict[str, list[dict[str, Any]]]:
    """Signs by urgency under the act they ask for: `now` what cannot wait, `soon` the rest.

    An emergency sign keeps every word: what most of them ask for is their heading, the others say their own act. Of the
    lesser signs the first sentence stands, for the heading names the act.
    """
    emergency = [sign for sign in signs if sign.urgency == "emergency"]
    acts = Counter(act for sign in emergency if (act := _parted(sign)[1]))
    shared = next((act for act, many in acts.most_common(1) if many > 1), None)
    now = []
    if shared is not None:
        same = [sign for sign in emergency if _parted(sign)[1] == shared]
        heading = Markup("{} Call the clinician.").format(_said(shared, same[0], writer))
        now.append(
            {"heading": heading, "is_sentence": True, "signs": [_said(_parted(sign)[0], sign, writer) for sign in same]}
        )
    others = [sign for sign in emergency if shared is None or _parted(sign)[1] != shared]
    if others:
        heading = escape("At once, and call the clinician")
        now.append({"heading": heading, "is_sentence": False, "signs": [_full(sign, writer) for sign in others]})
    soon = [
        {"heading": escape(heading), "signs": [_said(_parted(sign)[0], sign, writer) for sign in found]}
        for urgency, heading in _LESSER
        if (found := [sign for sign in signs if sign.urgency == urgency])
    ]
    return {"now": now, "soon": soon}


def _parted(sign: Sign) -> tuple[str, str]:
    """What is seen, and what is then done: the first sentence and the rest."""
    seen, _, act = sign.staff.partition(". ")
    return seen.rstrip(".") + ".", act


def _full(sign: Sign, writer: Writer) -> Markup:
    seen, act = _parted(sign)
    words = _said(seen, sign, writer)
    return Markup("{} <strong>{}</strong>").format(words, _said(act, sign, writer)) if act else words


def _said(words: str, sign: Sign, writer: Writer) -> Markup:
    return writer.authored(words, sign.spans.get("staff"), f"sign.{sign.id}")
