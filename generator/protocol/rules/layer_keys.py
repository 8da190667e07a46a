"""R25: each layer has the keys that can be reckoned with, and no others.

What it looks for: passes and overlap, or rolls, of padding, gauze and outer wrap; strips of stirrups; keys of another layer.
Why it matters: rolls are fetched by these figures, and a key that nothing reads gives false comfort.
Stops: `passes` without `overlap`; `rolls` beside `passes`; `count` on padding.
Write instead: the key that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Layer, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.source.problem import Problem

RECKONED = ("padding", "conforming", "outer")
_WRAP = ("passes", "overlap", "inset", "width", "rolls")
_OWN: dict[str, tuple[str, ...]] = {
    "stirrups": ("count", "length", "width", "on_skin_at_most"),
    "contact": ("count", "size", "needed_if", "width", "length", "prefer"),
    "padding": _WRAP,
    "conforming": _WRAP,
    # A splint is a piece; cast tape is rolled on like any other strip.
    "splint": ("count", "size", "length", *_WRAP),
    "outer": _WRAP,
}
_EVERY = ("layer", "material", "because", "firmness")
UNREAD = "nothing on paper comes of it, and whoever wrote it believes that something does"
RECKON = "the rolls to fetch are reckoned from it"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    yield from each(protocol.layers, _foreign)
    yield from each(protocol.layers, _measured)
    yield from each(protocol.layers, _stirrups)


def _foreign(layer: Layer) -> Iterator[Problem]:
    own = _OWN[layer.layer]
    for key in (key for key in layer.spans if key and not key.endswith(":")):
        if key not in own and key not in _EVERY:
            yield Problem(
                "key-of-another-layer",
                layer.spans[key + ":"],
                f"a {layer.layer} layer has no `{key}`",
                UNREAD,
                f"delete `{key}`; a {layer.layer} layer may hold: {', '.join((*_EVERY[:2], *own, *_EVERY[2:]))}",
            )


def _measured(layer: Layer) -> Iterator[Problem]:
    rolled_splint = layer.layer == "splint" and (layer.passes is not None or layer.overlap is not None)
    if layer.layer not in RECKONED and not rolled_splint:
        return
    passes, overlap, rolls = (value is not None for value in (layer.passes, layer.overlap, layer.rolls))
    if rolls and (passes or overlap):
        yield Problem(
            "passes-and-rolls",
            layer.spans["rolls:"],
            f"the {layer.layer} layer has both `rolls` and `{'passes' if passes else 'overlap'}`",
            "one says how much is laid on a limb, the other how much a shape takes that is no limb; they can differ",
            "keep `passes` and `overlap` on a limb; keep `rolls` alone elsewhere",
        )
    elif rolls:
        if "inset" in layer.spans:
            yield Problem(
                "key-of-another-layer",
                layer.spans["inset:"],
                f"the {layer.layer} layer has `inset` beside `rolls`",
                UNREAD,
                "delete `inset`; it shortens a length that is reckoned on a limb",
            )
    elif not passes and not overlap:
        yield Problem(
            "passes-missing",
            layer.spans["layer"],
            f"the {layer.layer} layer has neither `passes` and `overlap` nor `rolls`",
            RECKON,
            "on a limb add `passes: 1, overlap: 50 %`; elsewhere `rolls: {2 kg to 10 kg: 1, 10 kg and over: 2}`",
        )
    elif not overlap:
        yield Problem(
            "passes-missing",
            layer.spans["passes"],
            f"the {layer.layer} layer has `passes` but no `overlap`",
            RECKON,
            "add `overlap: 50 %`",
        )
    elif not passes:
        yield Problem(
            "passes-missing",
            layer.spans["overlap"],
            f"the {layer.layer} layer has `overlap` but no `passes`",
            RECKON,
            "add `passes: 1`",
        )


def _stirrups(layer: Layer) -> Iterator[Problem]:
    if layer.layer != "stirrups":
        return
    if layer.count is None:
        yield Problem(
            "stirrup-count",
            layer.spans["layer"],
            "the stirrups have no `count`",
            RECKON,
            "add `count: 2`, one strip for each side of the limb",
        )
    elif layer.count < 2:
        yield Problem(
            "stirrup-count",
            layer.spans["count"],
            "there is a single stirrup",
            "one strip pulls the bandage round to its side",
            "write `count: 2`, one strip for each side of the limb",
        )


RULE = Rule(
    id="R25",
    name="passes-missing",
    looks_for="Padding, gauze and outer wrap have passes and overlap, or rolls, never both; stirrups are two or more; no layer has a key of another.",
    why="The rolls to fetch are reckoned from them, and a key that nothing reads gives false comfort.",
    source="house rule; two stirrups: published 3, 11",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: cast padding, passes: 3, firmness: even}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - ...\n",
    check=check,
    also=("passes-and-rolls", "key-of-another-layer", "stirrup-count"),
)
