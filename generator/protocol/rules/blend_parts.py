"""R38: a stored blend is made of protocols that are there, and only tightens them.

What it looks for: each part and its stage; `limits` beside the stricter of the parts; the part that `settles` names.
Why it matters: a part that is not found is missing from the animal.
Stops: `blend: [splinted-limb, open-wound]` without a stage; a limit longer than a part's.
Write instead: `open-wound@inflammatory`; the part's own limit, or a shorter one.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce

from generator.protocol.joins import LIMIT_KEYS, join_limits
from generator.protocol.model import Book, CheckEvery, Limits, Protocol, Settled
from generator.protocol.rules.amounts import is_looser
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import files_of
from generator.protocol.shapes import is_unsound, nearest
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "blend":
        return
    yield from each(protocol.blend, lambda part: _part(protocol, book, part))
    slugs = tuple(part.partition("@")[0] for part in protocol.blend)

    def settled(row: Settled) -> Iterator[Problem]:
        if row.part not in slugs:
            yield Problem(
                "settled-by-stranger",
                row.spans["part"],
                f"`{row.part}` is no part of this blend",
                "what nobody lays cannot decide what is laid",
                f"write one of: {', '.join(slugs)}",
                also=((protocol.span("blend"), "the parts are here"),),
            )

    yield from each(protocol.settles, settled)
    yield from _limits(protocol, book)


def _part(protocol: Protocol, book: Book, part: str) -> Iterator[Problem]:
    name, _, stage = part.partition("@")
    at = protocol.span("blend")
    other = book.protocols.get(name)
    if other is None and name in files_of(book):
        return  # It is there and could not be read.
    if other is None:
        close = nearest(name, [known for known in book.protocols if known != protocol.protocol])
        yield Problem(
            "part-unknown",
            at,
            f"there is no protocol `{name}`",
            "a part that is not found is missing from the animal",
            f"write `{close}`, or add the file `{name}.yaml`" if close else f"add the file `{name}.yaml`",
        )
    elif other.kind == "blend":
        yield Problem(
            "part-is-blend",
            at,
            f"`{name}` is a blend itself",
            "whose limit decides could not be told any more",
            f"take `{name}` out" if name == protocol.protocol else f"write its parts instead: {', '.join(other.blend)}",
        )
    elif is_unsound(other.stages):
        return
    elif other.stages and not stage:
        yield Problem(
            "part-without-stage",
            at,
            f"`{name}` has stages, and none is named",
            "the stage decides what may touch the wound",
            "write " + " or ".join(f"`{name}@{known}`" for known in other.stages),
        )
    elif stage and stage not in other.stages:
        yield Problem(
            "part-unknown",
            at,
            f"`{name}` has no stage `{stage}`",
            "a part that is not found is missing from the animal",
            "write " + " or ".join(f"`{name}@{known}`" for known in other.stages)
            if other.stages
            else f"write `{name}`",
        )


def _limits(protocol: Protocol, book: Book) -> Iterator[Problem]:
    parts = [_limits_of(book, part) for part in protocol.blend]
    if any(part is None for part in parts):
        return

    def judge(key: str) -> Iterator[Problem]:
        own = getattr(protocol.limits, key)
        if own is None:
            return
        single = [Limits(**{key: getattr(part, key)}, spans=part.spans) for part in parts if part is not None]
        joined = getattr(reduce(join_limits, single), key)
        if is_looser(key, own, joined):
            place = next(
                (
                    part.spans[key]
                    for part in single
                    if getattr(part, key) is not None and is_looser(key, own, getattr(part, key))
                ),
                None,
            )
            yield Problem(
                "blend-looser-than-part",
                protocol.limits.spans[key],
                f"`{key}` of the blend allows more than one of its parts",
                "a blend only ever tightens; whatever this line says, the part's limit counts",
                f"write {_shown(joined)} or stricter, or delete the line",
                also=((place, "the part's limit is here"),) if place else (),
            )

    yield from each(LIMIT_KEYS, judge)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return f"`{'yes' if value else 'no'}`"
    if isinstance(value, CheckEvery):
        return f"`{{interval: {value.interval}, who: {value.who}}}`"
    return f"`{value}`"


def _limits_of(book: Book, part: str) -> Limits | None:
    name, _, stage = part.partition("@")
    other = book.protocols.get(name)
    # A pressure bandage is no part of any blend: `pressure_alone` says so.
    if other is None or other.kind == "blend" or other.purpose == "haemorrhage" or is_unsound(other.stages):
        return None
    if bool(stage) != bool(other.stages) or (stage and stage not in other.stages):
        return None
    found = other.stages[stage] if stage else other
    return None if is_unsound(found) or is_unsound(found.limits) else found.limits


RULE = Rule(
    id="R38",
    name="part-unknown",
    looks_for="A stored blend is made of protocols that are there, each with its stage if it has stages, and its limits only tighten theirs.",
    why="A part that is not found is missing from the animal; a limit that loosens would count for nothing.",
    source="house rule",
    broken="blend: [splinted-limb, opne-wound@inflammatory]\n",
    mended="blend: [splinted-limb, open-wound@inflammatory]\n",
    check=check,
    also=("part-is-blend", "part-without-stage", "settled-by-stranger", "blend-looser-than-part"),
    blends=True,
)
