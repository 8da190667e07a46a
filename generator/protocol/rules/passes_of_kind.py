"""R52: each layer has as many passes as serve its kind, and gauze ends short of the padding.

What it looks for: `passes` and `inset` beside the trade's ranges.
Why it matters: too little padding and too many turns of elastic are the printed causes of dead skin.
Stops: one pass of padding in a soft padded bandage; four passes of cohesive wrap; gauze that reaches past the padding.
Write instead: a number from the range, and `inset: 2 cm`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import one
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

# Padding: soft 2 to 4, heavy bulk, the others thin (published 3, 4, 6, 9, 76; wounds published 31). Gauze 1 to 2, outer 1 to 2: common
# practice. Wider by one where a book may have its reasons, so that only what stands far off is doubted.
_PADDING = {
    "support.soft": (2, 4), "support.heavy": (3, 6), "support.splint": (2, 3), "support.cast": (2, 3),
    "wound.inflammatory": (2, 4), "wound.proliferative": (1, 3), "wound.maturation": (1, 2), "wound.foot": (1, 3),
    "haemorrhage.pressure": (1, 2), "cover.wound": (1, 3),
}  # fmt: skip
_OTHERS = {"padding": (1, 4), "conforming": (1, 3), "outer": (1, 2)}
# About 2 cm of padding left showing (Hazewinkel, published 62); a foot has less room.
# Heavy bandages were described with a wall of 5 cm (published 9), splints with thin padding (published 4): the line between is a house rule.
WALL = Fraction(2)
RIGID = ("support.splint", "support.cast")
_INSET = (Fraction(1, 2), Fraction(4))


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    def judge(layer: Layer) -> Iterator[Problem]:
        if layer.passes is None or layer.layer not in _OTHERS or protocol.kind not in KINDS:
            return
        least, most = (
            _PADDING.get(protocol.kind, _OTHERS["padding"]) if layer.layer == "padding" else _OTHERS[layer.layer]
        )
        if not least <= layer.passes <= most:
            few = layer.passes < least
            yield Problem(
                "passes-unusual",
                layer.spans["passes"],
                f"{layer.passes} {'pass' if layer.passes == 1 else 'passes'} of {layer.layer} in {one(KINDS[protocol.kind].words)}; usual are {least} to {most}",
                "padding is what makes the pull of the layers above survivable"
                if few
                else "each pass of an elastic layer presses as much again"
                if layer.layer != "padding"
                else "bulk lets a splint move, and pulls a light bandage down",
                f"write a number from {least} to {most}",
                severity="warning",
            )
        # Gauze is laid in a pressure bandage within seconds, and is off within minutes.
        held = layer.layer == "conforming" and protocol.layer("padding") is not None
        if held and protocol.purpose != "haemorrhage" and not _INSET[0] <= layer.inset <= _INSET[1]:
            yield Problem(
                "padding-not-showing",
                layer.spans.get("inset") or layer.spans["layer"],
                "the gauze reaches to the end of the padding"
                if layer.inset < _INSET[0]
                else f"the gauze ends {float(layer.inset):g} cm short of the padding",
                "a gauze edge that touches skin cuts in, and padding that nothing holds slides out",
                "write `inset: 2 cm`, or 1 cm on a foot",
                severity="warning",
            )

    yield from each(protocol.layers, judge)
    yield from each(protocol.layers, lambda layer: _bulk(protocol, layer, book))


def _bulk(protocol: Protocol, layer: Layer, book: Book) -> Iterator[Problem]:
    """The wall that the padding makes: bulk where gauze is pulled tight over it, thin where a splint must not move."""
    material = book.stock.get(layer.material) if layer.material is not None else None
    if protocol.kind not in ("support.heavy", *RIGID) or layer.layer != "padding":
        return
    if layer.passes is None or layer.overlap is None:
        return
    if material is None or is_unsound(material) or material.layer != "padding":
        return
    wall = layer.passes * material.thickness / (1 - layer.overlap)
    thin, thick = protocol.kind == "support.heavy" and wall < WALL, protocol.kind in RIGID and wall > WALL
    if thin or thick:
        yield Problem(
            "padding-of-another-bulk",
            layer.spans["material"],
            f"{layer.passes} passes of `{layer.material}` make a wall of {float(wall):.1f} cm",
            "tight gauze over so thin a wall stops the blood" if thin else "so much bulk lets the splint move",
            "write a bulky padding from stock.yaml, such as roll cotton, or more passes"
            if thin
            else "write a thin padding from stock.yaml, such as cast padding, or fewer passes",
            severity="warning",
        )


RULE = Rule(
    id="R52",
    name="passes-unusual",
    looks_for="Padding, gauze and outer wrap have as many passes as serve their kind, and gauze leaves about 2 cm of padding showing.",
    why="Too little padding and too many turns are the printed causes of dead skin, and a gauze edge on skin cuts in.",
    source="published 3, 4, 6, 9, 12, 13, 31, 62, 76; common practice",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: cast padding, passes: 1, overlap: 50 %, firmness: even}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - ...\n",
    check=check,
    also=("padding-not-showing", "padding-of-another-bulk"),
)
