"""C03: a house limit, and what a modifier tightens, has an effect.

What it looks for: limits under `house_limits` and `tightens` beside those of the protocols they are for.
Why it matters: somebody relies on a limit that changes nothing, because every protocol is stricter already.
Stops: `sling: {remove_by: 14 d}` where every sling is off by day ten.
Write instead: a stricter time, or nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.joins import LIMIT_KEYS
from generator.protocol.kinds import STAGES
from generator.protocol.model import Book, Limits, Protocol
from generator.protocol.rules.amounts import is_tighter
from generator.protocol.rules.rule import ClinicRule, each
from generator.protocol.shapes import UnsoundValue, is_unsound
from generator.source.problem import Problem


def check(book: Book) -> Iterator[Problem]:
    protocols = tuple(_protocols(book))
    yield from each(
        ({"": 0} if is_unsound(book.clinic) else {"house": 1}),
        lambda which: _house(book, protocols) if which else iter(()),
    )
    if not is_unsound(book.modifiers):
        yield from each(book.modifiers, lambda name: _modifier(book, name, protocols))


def _house(book: Book, protocols: tuple[Protocol, ...]) -> Iterator[Problem]:
    house = book.clinic.house_limits
    yield from each(
        house, lambda target: _idle(target, house[target], protocols, "house-limit-idle", "the house limit")
    )


def _modifier(book: Book, name: str, protocols: tuple[Protocol, ...]) -> Iterator[Problem]:
    tightens = book.modifiers[name].tightens
    yield from each(
        tightens, lambda target: _idle(target, tightens[target], protocols, "modifier-idle", f"the modifier `{name}`")
    )


def _idle(target: str, limits: Limits, protocols: tuple[Protocol, ...], name: str, who: str) -> Iterator[Problem]:
    concerned = [protocol for protocol in protocols if is_for(target, protocol)]
    for key in LIMIT_KEYS if concerned else ():
        if key in limits.spans and not any(_acts(key, limits, protocol) for protocol in concerned):
            yield Problem(
                name,
                limits.spans[key],
                f"{who} sets `{key}` for {'every bandage' if target == 'all' else f'`{target}`'}, and every protocol it is for is as strict already",
                "whoever wrote it believes that it changes something",
                "write a stricter value, or delete the line",
                severity="warning",
            )


def is_for(target: str, protocol: Protocol) -> bool:
    """Whether a purpose, a kind or `all` means this protocol, or this stage of one."""
    return target in (protocol.kind, "all", protocol.purpose) or (target == "wound.open" and protocol.stage in STAGES)


def _acts(key: str, limits: Limits, protocol: Protocol) -> bool:
    try:
        return is_tighter(key, getattr(limits, key), getattr(protocol.limits, key))
    except UnsoundValue:
        # What could not be read may yet be looser.
        return True


def _protocols(book: Book) -> Iterator[Protocol]:
    for protocol in book.protocols.values():
        if is_unsound(protocol.kind) or protocol.kind == "blend" or is_unsound(protocol.stages):
            continue
        yield from (one for one in (tuple(protocol.stages.values()) or (protocol,)) if not is_unsound(one))


RULE = ClinicRule(
    id="C03",
    name="house-limit-idle",
    looks_for="Every house limit, and all that a modifier tightens, is stricter than at least one protocol it is for.",
    why="Somebody relies on a limit that changes nothing.",
    source="house rule",
    file="clinic.yaml",
    broken="house_limits:\n  sling: {remove_by: 20 d}\n",
    mended="house_limits:\n  sling: {remove_by: 10 d}\n",
    check=check,
    also=("modifier-idle",),
)
