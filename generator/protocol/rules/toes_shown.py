"""R53: a bandage that stays in the clinic, and a sling, leave the toes in sight too.

What it looks for: `leave_showing` in `covers` of whatever goes round a limb. What goes home is `go_home_needs`'s to tell.
Why it matters: toes are the only window on the blood supply below a limb bandage.
Stops: a heavy padded bandage, a pressure bandage or a sling with nothing left showing.
Write instead: `leave_showing: tips of the two middle toes`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.go_home_needs import ON_LIMB
from generator.protocol.rules.reach import on_limb
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import speaks_of
from generator.source.problem import Problem

FACE = r"\beyes?\b|\bnose\b|\bmouth\b|\bface\b"
FOOT = r"\btoes?\b|\bfoot\b|\bpaw\b|\bdigits?\b|\bnails?\b"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    covers = protocol.covers
    if covers is not None and protocol.kind == "cover.head" and not speaks_of(covers.leave_showing or "", FACE):
        yield Problem(
            "face-hidden",
            covers.spans.get("leave_showing") or protocol.span("covers"),
            "neither eyes nor nose are left showing",
            "a wrap that slides over them stops sight and breath",
            "write `leave_showing: both eyes, nose and mouth` in `covers`",
        )
    if covers is None or not on_limb(protocol):
        return
    asked_at_home = protocol.purpose == "support" or protocol.kind in ON_LIMB or protocol.stage is not None
    if covers.leave_showing is None and protocol.limits.go_home and asked_at_home:
        return
    if covers.leave_showing is None or not speaks_of(covers.leave_showing, FOOT):
        yield Problem(
            "toes-hidden",
            covers.spans.get("leave_showing") or protocol.span("covers"),
            "nothing of the foot is left showing",
            "toes are the only window on the blood supply below a limb bandage",
            "write `leave_showing: tips of the two middle toes` in `covers`",
            # A splint may run past the toes; whether it should is disputed (Stark 2025).
            severity="warning" if protocol.kind in ("support.splint", "support.cast") else "error",
        )


RULE = Rule(
    id="R53",
    name="toes-hidden",
    looks_for="Whatever goes round a limb leaves the toes in sight, in the clinic and in a sling too; a head bandage leaves eyes and nose free.",
    why="Toes are the only window on the blood supply below a limb bandage.",
    source="published 6, 9, 13, 27; head bandages common practice",
    broken="kind: support.heavy\ncovers: {from: toes, to: below the stifle}\n",
    mended="kind: support.heavy\n"
    "covers: {from: toes, to: below the stifle, leave_showing: tips of the two middle toes}\n",
    check=check,
    also=("face-hidden",),
)
