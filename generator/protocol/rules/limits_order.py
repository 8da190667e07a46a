"""R28: the limits follow one another in time.

What it looks for: a first check before the first change and the end; a change before the end; `release` only where there is pressure.
Why it matters: the owner's sheet would give a date for a bandage that must already be off.
Stops: `change_every: 14 d` beside `remove_by: 10 d`.
Write instead: the shorter time, or leave the key out.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.amounts import is_over_ceiling, latest, seconds
from generator.protocol.rules.rule import Rule, each
from generator.source.problem import Problem

Pair = tuple[str, str, str, str, str]

# Earlier key, later key, the problem's name, what the two are called.
_BEFORE_CHANGE: Pair = (
    "first_check",
    "change_every",
    "first-check-after-change",
    "the first check",
    "the first change",
)
# An end that is too soon is one slip, however much comes after it: the first of these is told.
_BEFORE_END: tuple[Pair, ...] = (
    ("change_every", "remove_by", "change-after-removal", "the first change", "the removal"),
    ("recheck_every", "remove_by", "recheck-after-removal", "the first recheck", "the removal"),
    ("first_check", "remove_by", "first-check-after-removal", "the first check", "the removal"),
)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    limits = protocol.limits
    yield from each((_BEFORE_CHANGE,), lambda pair: _judge(protocol, pair))
    yield from islice(each(_BEFORE_END, lambda pair: _judge(protocol, pair)), 1)
    if limits.release is not None and protocol.kind != "haemorrhage.pressure":
        yield Problem(
            "release-not-here",
            limits.spans["release:"],
            "`release` is set, and this is no pressure bandage",
            "only a pressure bandage is released and left lying; any other is changed or removed",
            "delete the line `release`",
        )


def _judge(protocol: Protocol, pair: Pair) -> Iterator[Problem]:
    earlier, later, name, first, second = pair
    limits = protocol.limits
    soon, late = latest(limits, earlier), latest(limits, later)
    # What is over its ceiling is told as such, and once.
    if soon is None or late is None or is_over_ceiling(protocol, earlier) or is_over_ceiling(protocol, later):
        return
    if seconds(soon) > seconds(late):
        yield Problem(
            name,
            limits.spans[earlier],
            f"{first}, at {soon}, comes after {second}, at {late}",
            "the owner's sheet would give a date for a bandage that must already be open or off",
            f"shorten `{earlier}` to {late} or less, or delete the line"
            if earlier != "first_check"
            else f"shorten `first_check` to {late} or less",
            also=((limits.spans[later], f"{second} is set here"),),
        )


RULE = Rule(
    id="R28",
    name="change-after-removal",
    looks_for="The first check comes before the first change, and change and recheck before the end; only a pressure bandage is released.",
    why="The owner's sheet would give a date for a bandage that must already be off.",
    source="house rule",
    broken="kind: sling.velpeau\nlimits:\n  change_every: 6 d to 7 d\n  remove_by: 5 d\n",
    mended="kind: sling.velpeau\nlimits:\n  change_every: 3 d to 4 d\n  remove_by: 5 d\n",
    check=check,
    also=("first-check-after-change", "recheck-after-removal", "first-check-after-removal", "release-not-here"),
)
