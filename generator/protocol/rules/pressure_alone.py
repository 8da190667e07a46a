"""R17: a pressure bandage is never part of a blend and has no words for an owner.

What it looks for: `owner` in a pressure bandage; a pressure bandage among the parts of a stored blend.
Why it matters: it runs on a clock of its own, in minutes, in the clinic.
Stops: both.
Write instead: the pressure bandage alone, and the next bandage after it.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind == "haemorrhage.pressure" and protocol.owner is not None:
        yield Problem(
            "pressure-bandage-has-owner-text",
            protocol.span("owner:"),
            "a pressure bandage has words for an owner",
            "it never goes home, and a sheet that exists is one day handed out",
            "delete the key `owner` and what stands below it",
        )
    if protocol.kind != "blend":
        return
    for part in protocol.blend:
        other = book.protocols.get(part.partition("@")[0])
        if other is not None and not is_unsound(other) and other.purpose == "haemorrhage":
            yield Problem(
                "pressure-bandage-blended",
                protocol.span("blend"),
                f"`{part}` is a pressure bandage",
                "bleeding comes first, alone and on its own clock; the next bandage follows it",
                f"take `{part}` out; use the two protocols one after the other",
                also=((other.span("kind"), "its kind is set here"),),
            )


RULE = Rule(
    id="R17",
    name="pressure-bandage-blended",
    looks_for="A pressure bandage is never blended with another protocol and has no owner's sheet.",
    why="It runs on a clock of its own, in minutes, in the clinic.",
    source="house rule",
    broken="blend: [pressure-bandage, splinted-limb]\n",
    mended="blend: [splinted-limb, open-wound@inflammatory]\n",
    check=check,
    also=("pressure-bandage-has-owner-text",),
    blends=True,
)
