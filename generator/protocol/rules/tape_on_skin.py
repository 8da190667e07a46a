"""R29: no tape stays on skin longer than seven days.

What it looks for: `on_skin_at_most` of the stirrups, beside the time to a change or to the end.
Why it matters: under tape left longer the skin breaks.
Stops: `on_skin_at_most: 10 d`, or none; tape for 3 d under a bandage that is changed after 7 d.
Write instead: a time that ends with the bandage it is under.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.quantity import Limit, limit
from generator.protocol.rules.amounts import is_over_ceiling, latest, seconds
from generator.protocol.rules.rule import Rule, each
from generator.source.problem import Problem
from generator.source.span import Span

# Gleason 2023 (published 3); lesions after ten days on clipped skin: Etchépareborde 2013 (published 11).
LONGEST = limit("7 d")
WHY = "skin under tape that stays longer breaks, most of all where it was clipped"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    def judge(layer: Layer) -> Iterator[Problem]:
        if layer.layer != "stirrups":
            return
        own = layer.on_skin_at_most
        kind = KINDS.get(protocol.kind)
        # Where stirrups are forbidden that is their one fault, and `layers_needed` names it.
        if own is None and kind is not None and kind.layers["stirrups"] != "forbidden":
            yield Problem(
                "tape-time-missing",
                layer.spans["layer"],
                "nothing says how long the tape may stay on skin",
                WHY,
                f"add `on_skin_at_most: {LONGEST}`, or less",
                # Seven days hold whether or not they are written.
                severity="warning",
            )
        at = layer.spans.get("on_skin_at_most") or layer.spans["layer"]
        if own is not None and seconds(own) > seconds(LONGEST):
            yield Problem(
                "tape-too-long-on-skin",
                at,
                f"tape is to stay on skin for {own}; the longest is {LONGEST}",
                WHY,
                f"write `on_skin_at_most: {LONGEST}`, or less",
            )
        else:
            yield from _outlasted(protocol, own or LONGEST, at)

    yield from each(protocol.layers, judge)


def _outlasted(protocol: Protocol, tape: Limit, at: Span) -> Iterator[Problem]:
    key = "change_every" if protocol.limits.change_every is not None else "remove_by"
    opened = latest(protocol.limits, key)
    if opened is None or is_over_ceiling(protocol, key) or seconds(opened) <= seconds(tape):
        return
    fix = (
        f"write `on_skin_at_most: {opened}`, or shorten `change_every` to {tape}"
        if key == "change_every" and seconds(opened) <= seconds(LONGEST)
        else f"shorten `change_every` to {tape}"
        if key == "change_every"
        else f"add a line `change_every: {tape}` to `limits`"
    )
    said = "the bandage is opened" if key == "change_every" else "nothing opens the bandage"
    yield Problem(
        "tape-outlasted",
        at,
        f"tape may stay on skin for {tape}, and {said} {'only after' if key == 'change_every' else 'before'} {opened}",
        WHY,
        fix,
        also=((protocol.limits.spans[key], "the bandage's own time is set here"),),
    )


RULE = Rule(
    id="R29",
    name="tape-outlasted",
    looks_for="Tape stays on skin for seven days at most, and the bandage over it is opened by then.",
    why="Skin under tape that stays longer breaks.",
    source="published 3, 11",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 3 d}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: stirrups, material: porous tape, width: 2.5 cm, count: 2, on_skin_at_most: 7 d}\n"
    "  - ...\n",
    check=check,
    also=("tape-too-long-on-skin", "tape-time-missing"),
)
