"""R26: firmness is said in a word that everybody knows, and fits the bandage.

What it looks for: the first word of `firmness` of conforming gauze and outer wrap.
Why it matters: the wrong word makes a tight band where only cover was wanted.
Stops: `firmness: nice`; a firm outer wrap on a wound; a snug wrap round a chest.
Write instead: light, snug, moderate, firm or tight.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.kinds import FIRMNESS
from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import nearest
from generator.source.problem import Problem

COVERING = ("wound", "cover")
HARD = ("firm", "tight")


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
    looks_for="Firmness of gauze and outer wrap starts with light, snug, moderate, firm or tight; never firm over a wound, and light round a chest.",
    why="A wound bandage never adds compression, and the chest must be free to move.",
    source="published 9, 31; the words are a house rule",
    broken="kind: support.soft\nlayers:\n  - {layer: outer, material: cohesive wrap, passes: 1, overlap: 50 %, firmness: nicely}\n",
    check=check,
    also=("firmness-missing", "outer-too-firm"),
)
