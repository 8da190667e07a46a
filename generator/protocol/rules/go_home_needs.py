"""R27: a bandage that goes home has all that the owner needs.

What it looks for: owner text, signs to go now and to ring now, a first check, regular checks, an end, toes left showing.
Why it matters: at home nobody but the owner looks, and only at what the sheet names.
Stops: `go_home: yes` with one of them missing, or with `supervised: yes`.
Write instead: the line that the message gives, or `go_home: no`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule, each, where
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

OR_STAY = "or write `go_home: no`"
_SAYS = {
    "emergency": ("to go in for at once", "toes-cold-or-discoloured"),
    "urgent": ("to ring for at once", "nails-apart"),
}


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    # A pressure bandage that goes home has one fault, and `pressure_bandage` names it.
    if protocol.purpose == "haemorrhage" or not protocol.limits.go_home:
        return
    judges = (_watched, _owner, _first_check, _check_every, _end, _showing)
    yield from each(judges, lambda judge: judge(protocol))
    yield from each(_SAYS, lambda urgency: _sign(protocol, book, urgency))


def _watched(protocol: Protocol) -> Iterator[Problem]:
    if protocol.limits.supervised:
        yield Problem(
            "supervised-goes-home",
            where(protocol, "go_home"),
            "the bandage may go home, and must be in sight of staff all the time",
            "no owner can do both",
            "write `go_home: no`",
            also=((where(protocol, "supervised"), "`supervised` is set here"),),
        )


def _owner(protocol: Protocol) -> Iterator[Problem]:
    if protocol.owner is None:
        yield Problem(
            "owner-text-missing",
            protocol.span("stages:") if protocol.stage else where(protocol, "go_home"),
            "the bandage may go home, and there are no words for the owner",
            "the owner's sheet would have nothing on it to do, to look for or to leave alone",
            f"add a key `owner` with `what_it_does`, `every_day` and `never`, {OR_STAY}",
        )


def _first_check(protocol: Protocol) -> Iterator[Problem]:
    if protocol.limits.first_check is None:
        yield Problem(
            "first-check-missing",
            protocol.span("limits:"),
            "the bandage may go home, and no first check is set",
            "most serious harm shows within one or two days",
            f"add a line `first_check: 12 h to 24 h` to `limits`, {OR_STAY}",
        )


def _check_every(protocol: Protocol) -> Iterator[Problem]:
    if protocol.limits.check_every is None:
        yield Problem(
            "check-every-missing",
            protocol.span("limits:"),
            "the bandage may go home, and nobody is told how often to look at it",
            "harm that is seen late costs the limb",
            f"add a line `check_every: {{interval: 12 h, who: owner}}` to `limits`, {OR_STAY}",
        )


def _end(protocol: Protocol) -> Iterator[Problem]:
    # A sling or heavy bandage without an end is `removal_needed`'s to tell.
    if protocol.limits.change_every is None and protocol.limits.remove_by is None and protocol.kind not in MUST_END:
        yield Problem(
            "deadline-missing",
            protocol.span("limits:"),
            "the bandage may go home, and neither a change nor an end is set",
            "the owner's sheet would have no date by which to come back",
            f"add a line `change_every: 3 d to 7 d` or `remove_by: 14 d` to `limits`, {OR_STAY}",
        )


def _showing(protocol: Protocol) -> Iterator[Problem]:
    on_limb = protocol.purpose == "support" or protocol.kind in ON_LIMB or protocol.stage is not None
    if on_limb and protocol.covers is not None and protocol.covers.leave_showing is None:
        yield Problem(
            "toes-not-showing",
            protocol.span("covers"),
            "nothing of the foot is left showing",
            "toes are the only window on the blood supply below a limb bandage",
            "add `leave_showing: tips of the two middle toes` to `covers`",
            # A splint may run past the toes; whether it should is disputed (Stark 2025).
            severity="warning" if protocol.kind in ("support.splint", "support.cast") else "error",
        )


def _sign(protocol: Protocol, book: Book, urgency: str) -> Iterator[Problem]:
    signs = [book.signs.get(name) for name in protocol.signs]
    # A name that is not in signs.yaml may be the very sign that is asked for.
    if any(sign is None or is_unsound(sign) for sign in signs) or any(
        sign is not None and sign.urgency == urgency for sign in signs
    ):
        return
    said, usual = _SAYS[urgency]
    known = [name for name, sign in book.signs.items() if not is_unsound(sign) and sign.urgency == urgency]
    name = usual if usual in known else known[0] if known else usual
    yield Problem(
        f"{urgency.replace(' ', '-')}-sign-missing",
        protocol.span("signs"),
        f"the bandage may go home, and no sign is named {said}",
        "the owner would wait with what cannot wait",
        f"add `{name}` to `signs`, {OR_STAY}",
    )


MUST_END = (
    "support.heavy",
    "sling.velpeau",
    "sling.ehmer",
    "sling.flexion9090",
    "sling.carpal",
    "sling.robinson",
    "sling.hobbles",
)
ON_LIMB = ("wound.foot", "cover.wound")

RULE = Rule(
    id="R27",
    name="owner-text-missing",
    looks_for="A bandage that goes home has words for the owner, signs of both `emergency` and `urgent`, a first check, "
    "regular checks, a change or an end, and toes left showing on a limb.",
    why="At home nobody but the owner looks, and only at what the sheet names.",
    source="published 6, 13, 40; common practice",
    broken="kind: support.heavy\nlimits:\n  go_home: yes\n",
    mended="kind: support.heavy\nlimits:\n  go_home: no\n",
    check=check,
    also=("supervised-goes-home", "first-check-missing", "check-every-missing", "deadline-missing", "toes-not-showing",
          "emergency-sign-missing", "urgent-sign-missing"),
)  # fmt: skip
