"""What the clinic's copy keeps beside the owner's words: who answered for what, and what was weighed.

Takes  a `Plan` and a `Writer`.
Gives  `record_rows`: a name and its text for each thing that a later reader will ask about.
Knows  that the whole working stands in `plan.json` and on the workings page; here stands what must not need looking up.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.card_limits import limit_words, unbroken
from generator.compose.card_wound import dressing_line, other_dressings
from generator.compose.data import decider
from generator.compose.writer import Writer
from generator.protocol.book import OF_PLANS
from generator.protocol.joins import LIMIT_KEYS
from generator.reckon.plan import Plan

# So much of a file's sha256 is printed: enough to tell two versions of a file apart.
_DIGEST = 12
_LIMITS = {
    "first_check": "first check",
    "check_every": "look every",
    "change_every": "change",
    "recheck_every": "recheck",
    "release": "release",
    "remove_by": "off by",
    "remove_when": "off when",
    "supervised": "watched all the time",
    "go_home": "goes home",
}


def record_rows(plan: Plan, writer: Writer) -> list[tuple[Markup, Markup]]:
    """Name and text, in the order in which they are asked for."""
    return [(escape(name), text) for name, text in _rows(plan, writer)]


def _rows(plan: Plan, writer: Writer) -> Iterator[tuple[str, Markup]]:
    patient = plan.patient
    issued = writer.authored(patient.issued_by, patient.spans.get("issued_by"), "issued-by")
    explained = (
        writer.authored(patient.explained_by, patient.spans.get("explained_by"), "explained-by")
        if patient.explained_by
        else issued
    )
    yield "Issued, explained", Markup("Issued by {}; explained by {}.").format(issued, explained)
    yield "Who set each limit", Markup("; ").join(_limits(plan, writer)) + "."
    if plan.choice is not None:
        yield "Dressing", dressing_line(plan, writer) or Markup()
        others = other_dressings(plan, writer)
        if others:
            yield "Would serve too", Markup("; ").join(others) + "."
        ruled_out = _ruled_out(plan, writer)
        if ruled_out:
            yield "Not taken", Markup("; ").join(ruled_out) + "."
    if plan.modifiers:
        yield "Conditions", Markup("; ").join(_applied(plan, writer)) + "."
    if plan.considered:
        names = (writer.authored(one.modifier.name, one.modifier.spans.get(""), "modifier") for one in plan.considered)
        yield "Conditions not met", Markup(", ").join(names) + "."
    if plan.earlier:
        yield "Earlier bandages", Markup("; ").join(_earlier(plan, writer)) + "."
    if plan.warnings:
        told = (writer.authored(f"{one.span}: {one.what}", one.span, "warning") for one in plan.warnings)
        yield "Shown on the screen", Markup("; ").join(told) + "."
    files = sorted(_files(plan))
    shown = (
        Markup("{} {}").format(writer.authored(name, None, "file"), writer.number("digest", code, code))
        for name, code in files
    )
    yield (
        "Made from",
        Markup("{}. Time zone rules {}.").format(
            Markup(", ").join(shown), writer.number("zone-release", plan.zone_release, plan.zone_release)
        ),
    )
    yield (
        "Whose decision",
        Markup(
            "Everything here is the clinic's protocol reckoned for this animal. It promises nothing; the attending veterinarian decides, within local law."
        ),
    )


def _limits(plan: Plan, writer: Writer) -> Iterator[Markup]:
    """By whoever decided: each limit, and what it would have been by the others."""
    by_whom: dict[str, list[Markup]] = {}
    for key in LIMIT_KEYS:
        value = getattr(plan.limits, key)
        decision = next((one for one in reversed(plan.decisions) if one.key == key), None)
        if value is None or decision is None or (key, value) == ("supervised", False):
            continue
        shown = limit_words(key, value, plan.patient.reason)
        was = (
            Markup("{} by {}").format(
                writer.number(f"was.{key}", text, unbroken(text)), writer.authored(by, decision.span, "by")
            )
            for by, text in decision.was
        )
        instead = Markup(", ").join(was)
        by_whom.setdefault(decider(decision, plan), []).append(
            Markup("{} {}{}").format(
                _LIMITS[key],
                writer.number(f"limit.{key}", shown, unbroken(shown)),
                Markup(" (else {})").format(instead) if instead else Markup(),
            )
        )
    for who, limits in by_whom.items():
        kind, _, name = who.partition(":")
        yield Markup("{}{}: {}").format(
            "" if kind == "part" else f"{kind} ", writer.authored(name, None, "by"), Markup(", ").join(limits)
        )


def _ruled_out(plan: Plan, writer: Writer) -> list[Markup]:
    """What lies on the shelf and was not to be laid, with every reason; families that are not stocked stand on the workings page."""
    assert plan.choice is not None
    at = plan.patient.wound.spans["exudate"] if plan.patient.wound is not None else None
    return [
        Markup("{}: {}").format(
            writer.authored(one.material, at, "dressing"), writer.authored(", ".join(one.against), at, "against")
        )
        for one in plan.choice.offers
        if one.material is not None and one.against
    ]


def _applied(plan: Plan, writer: Writer) -> Iterator[Markup]:
    for used in plan.modifiers:
        name = writer.authored(used.modifier.name, used.modifier.spans.get(""), "modifier")
        changed = (
            Markup("{} {}, else {}").format(
                _LIMITS[key],
                writer.number(f"now.{key}", after, unbroken(after)),
                writer.number(f"was.{key}", before, unbroken(before)),
            )
            for key, before, after in used.changed
        )
        yield Markup("{} ({})").format(name, Markup(", ").join(changed) or "a warning only")


def _earlier(plan: Plan, writer: Writer) -> Iterator[Markup]:
    for one in plan.earlier:
        on, off = (writer.moment(at, hand.moment(at, year=False), "earlier") for at in (one.on, one.off))
        yield Markup("{}, {} to {}").format(writer.authored(one.title, None, "earlier"), on, off)


def _files(plan: Plan) -> Iterator[tuple[str, str]]:
    """The protocols' own files and the settings: name and the beginning of its digest."""
    used = {
        f"{part.protocol}.yaml"
        for part in (*plan.bandage.parts, *((plan.bandage.stored,) if plan.bandage.stored else ()))
    }
    settings = {f"{stem}.yaml" for stem in OF_PLANS}
    for name, digest in plan.book.digests.items():
        if name in used | settings:
            yield name, digest[:_DIGEST]
