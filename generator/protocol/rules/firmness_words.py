"""R26: firmness is said in a word that everybody knows, and fits the bandage.

What it looks for: the first word of `firmness` of conforming gauze and outer wrap.
Why it matters: the wrong word makes a tight band where only cover was wanted.
Stops: `firmness: nice`; a firm outer wrap on a wound; a snug wrap round a chest.
Write instead: light, snug, moderate, firm or tight.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import FIRMNESS, KINDS
from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import one
from generator.protocol.shapes import nearest
from generator.source.problem import Problem

COVERING = ("wound", "cover")
HARD = ("firm", "tight")
# Gauze compresses in these two: published 6, 9; pressure bandages common practice.
COMPRESSES = ("support.heavy", "haemorrhage.pressure")
_SAID_BELOW = ("sling.velpeau",)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    def judge(layer: Layer) -> Iterator[Problem]:
        if layer.layer not in ("conforming", "outer"):
            return
        if layer.firmness is None:
            yield Problem(
                "firmness-missing",
                layer.spans["layer"],
                f"the {layer.layer} layer does not say how firmly it is laid",
                "each pair of hands would lay it differently",
                f"add `firmness: light`, or another of {', '.join(FIRMNESS)}",
                severity="warning",
            )
            return
        word = (layer.tightness or "").lower().rstrip(".;:")
        if word not in FIRMNESS:
            close = nearest(word, list(FIRMNESS))
            yield Problem(
                "firmness-unknown",
                layer.spans["firmness"],
                f"`firmness` of the {layer.layer} layer starts with `{layer.tightness}`",
                "the first word is what the card prints large",
                (f"the nearest is `{close}`; " if close else "") + f"start with one of {', '.join(FIRMNESS)}",
            )
        elif layer.layer == "conforming" and word in HARD and protocol.kind not in COMPRESSES:
            yield Problem(
                "gauze-too-firm",
                layer.spans["firmness"],
                f"the gauze is laid {word}, and {one(KINDS[protocol.kind].words)} does not compress",
                "gauze pulled over thin padding stops the blood; too tight a wrap is a printed cause of dead skin",
                "write `firmness: snug`, or `light` over a wound",
            )
        elif (
            layer.layer == "outer"
            and word in HARD
            and protocol.kind not in ("haemorrhage.pressure", *_SAID_BELOW)
            and (protocol.purpose not in COVERING)
        ):
            yield Problem(
                "outer-too-firm",
                layer.spans["firmness"],
                f"the outer wrap is laid {word}",
                "the outer wrap holds and protects; what compresses, if anything, is the gauze below it",
                "write `firmness: light`, or `snug` over a splint",
            )
        elif layer.layer == "outer" and protocol.purpose in COVERING and word in HARD:
            yield Problem(
                "outer-too-firm",
                layer.spans["firmness"],
                f"the outer wrap over a wound is laid {word}",
                "a wound bandage never adds compression: the wound swells and the foot below it too",
                "write `firmness: light`",
            )
        elif layer.layer == "outer" and protocol.kind == "sling.velpeau" and word != "light":
            yield Problem(
                "outer-too-firm",
                layer.spans["firmness"],
                f"the outer wrap round the chest is laid {word}",
                "the chest must be free to move, asleep and awake",
                "write `firmness: light`",
            )

    yield from each(protocol.layers, judge)


RULE = Rule(
    id="R26",
    name="firmness-unknown",
    looks_for="Firmness of gauze and outer wrap starts with light, snug, moderate, firm or tight; never firm but where compression is the purpose, and light round a chest.",
    why="A wound bandage never adds compression, and the chest must be free to move.",
    source="published 6, 9, 12, 13, 31; the words are a house rule",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: nicely}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: light}\n"
    "  - ...\n",
    check=check,
    also=("firmness-missing", "outer-too-firm", "gauze-too-firm"),
)
