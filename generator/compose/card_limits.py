"""The limits of a floor card, and the pressure estimate.

Takes  a `Plan` and a `Writer`.
Gives  `limit_rows`: each limit with its value and who decided it; `pressure_line`: the estimate, or why there is none.
Knows  that a pressure is never printed without the words "estimate, not measured", and never judged.
"""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.data import decider
from generator.compose.writer import Writer
from generator.protocol.model import Removal
from generator.reckon.plan import Decision, Figure, Plan

_NAMES = (
    ("first_check", "First check"), ("check_every", "Look every"), ("change_every", "Change"), ("recheck_every", "Recheck"), ("release", "Release by"),
    ("remove_by", "Off by"), ("supervised", "Watched all the time"), ("go_home", "Goes home"),
)  # fmt: skip
_NUMBER_AND_UNIT = re.compile(r"(\d) (?=\w)")
# What goes without saying on a card; the opposite never does.
_PLAIN = (("supervised", False), ("go_home", True))


def limit_rows(plan: Plan, writer: Writer) -> list[dict[str, Markup]]:
    """Name, value and who decided: which part of a blend, a modifier or the house; nothing where the one protocol did."""
    rows = []
    for key, name in _NAMES:
        value = getattr(plan.limits, key)
        if value is None or (key, value) in _PLAIN:
            continue
        shown = limit_words(key, value, plan.patient.reason)
        by = _decided(next((d for d in reversed(plan.decisions) if d.key == key), None), plan)
        rows.append(
            {
                "name": escape(name),
                "value": writer.number(f"limit.{key}", shown, unbroken(shown)),
                "by": writer.authored(by, None, "by") if by else Markup(),
            }
        )
    return rows


def limit_words(key: str, value: object, reason: str | None = None) -> str:
    """A limit as it was written: `12 h to 24 h`, `12 h by the owner`, `yes`; of several ends that of the patient's reason."""
    if isinstance(value, Removal) and reason is not None and reason in value.by_reason:
        return str(value.by_reason[reason])
    if isinstance(value, bool):
        return "yes" if value else "no"
    if key == "check_every":
        return f"{value.interval} by the {value.who}"  # type: ignore[attr-defined]
    return str(value)


def unbroken(shown: str) -> str:
    """No line breaks between a number and its unit."""
    return _NUMBER_AND_UNIT.sub(rf"\1{hand.NO_BREAK}", shown)


def _decided(decision: Decision | None, plan: Plan) -> str:
    """Who decided a limit: a modifier, the house, a part of a blend by its number; nothing for the one protocol."""
    kind, _, name = (decider(decision, plan) if decision else "").partition(":")
    if kind == "part":
        named = [part.id for part in plan.bandage.parts if name in (part.protocol, part.name)]
        return named[0] if named and len(plan.bandage.parts) > 1 else ""
    return name if kind == "modifier" else "house limit" if kind == "house" else ""


def pressure_line(plan: Plan, writer: Writer) -> Markup:
    """The estimate for the whole, else for each layer that has one and why there is no total."""
    # A shell spreads what lies over it and holds off what swells under it: the formula knows nothing of either.
    shell = " Not valid under the splint." if any(p.layer.layer == "splint" for p in plan.layers) else ""
    if plan.pressure is not None:
        return Markup("<strong>Pressure, estimate, not measured:</strong> {}.{}").format(
            _pair("under all layers", plan.pressure, writer), shell
        )
    alone = [_pair(f"{p.layer.layer} alone", p.pressure, writer) for p in plan.layers if p.pressure is not None]
    because = _because(plan.pressure_because, writer)
    if not alone:
        return Markup("<strong>Pressure not estimated:</strong> {}.").format(because)
    return Markup("<strong>Pressure, estimate, not measured:</strong> {}. No total: {}.{}").format(
        Markup("; ").join(alone), because, shell
    )


def _pair(what: str, pair: tuple[Figure, Figure], writer: Writer) -> Markup:
    low, high = pair
    return Markup("{} {} at the toes, {} at the top").format(
        what, hand.figure(writer, low, 0), hand.figure(writer, high, 0)
    )


def _because(code: str | None, writer: Writer) -> Markup:
    name, _, rest = (code or "").partition(":")
    known = {
        "no-limb": "the formula does not fit this shape",
        "limb-estimated": "nobody measured the limb",
        "": "no layer presses",
    }
    if name == "tension-unknown":
        return Markup("unmeasured pull of {}").format(writer.authored(rest.strip(), None, "material"))
    return escape(known[name]) if name in known else writer.authored(name, None, "because")
