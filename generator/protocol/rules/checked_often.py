"""R45: somebody looks at least every twelve hours, and in the clinic that is staff.

What it looks for: `check_every`.
Why it matters: harm that is seen late costs the limb; an owner who is at home sees nothing of a patient that stays.
Stops: `interval: 24 h`; `who: owner` beside `go_home: no`.
Write instead: `check_every: {interval: 12 h, who: owner}`, or `who: technician`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.quantity import limit
from generator.protocol.rules.amounts import seconds
from generator.protocol.rules.rule import Rule, each
from generator.source.problem import Problem

# Twice daily: American College of Veterinary Surgeons, owner page (published 40); for catheters published 64.
SELDOM = limit("12 h")


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    # A pressure bandage is looked at every few minutes: `limit_ceilings` and `pressure_bandage`.
    if protocol.purpose != "haemorrhage":
        yield from each((_often, _staff), lambda judge: judge(protocol))


def _often(protocol: Protocol) -> Iterator[Problem]:
    watched = protocol.limits.check_every
    if watched is not None and seconds(watched.interval) > seconds(SELDOM):
        yield Problem(
            "checked-too-seldom",
            watched.spans["interval"],
            f"the bandage is looked at every {watched.interval}; at least every {SELDOM} is asked for",
            "toes are looked at morning and evening at the least: harm that is seen late costs the limb",
            f"write `{SELDOM}` instead of `{watched.interval}`, or less",
        )


def _staff(protocol: Protocol) -> Iterator[Problem]:
    limits = protocol.limits
    if limits.go_home is False and limits.check_every is not None and limits.check_every.who == "owner":
        yield Problem(
            "owner-checks-inpatient",
            limits.check_every.spans["who"],
            "the owner is to look at a bandage that does not go home",
            "the owner is not there; nobody looks",
            "write `who: technician`, or `go_home: yes` with all that a bandage at home needs",
            severity="warning",
            also=((limits.spans["go_home"], "it stays in the clinic"),),
        )


RULE = Rule(
    id="R45",
    name="checked-too-seldom",
    looks_for="Somebody looks at every bandage at least every twelve hours; where it stays in the clinic that is staff.",
    why="Harm that is seen late costs the limb, and an owner at home sees nothing of a patient that stays.",
    source="published 40, 64; who looks is a house rule",
    broken="kind: support.soft\nlimits:\n  check_every: {interval: 24 h, who: owner}\n",
    mended="kind: support.soft\nlimits:\n  check_every: {interval: 12 h, who: owner}\n",
    check=check,
    also=("owner-checks-inpatient",),
)
