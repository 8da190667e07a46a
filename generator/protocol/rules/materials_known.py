"""R34: every material is on the shelf, and of the layer it is used for.

What it looks for: `material`, `size` and `width` of each layer against stock.yaml.
Why it matters: rolls cannot be reckoned, nor fetched, from a name that is not there.
Stops: a misspelt material; cast padding as outer wrap; a size that is not stocked.
Write instead: the name as it stands in stock.yaml.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from generator.protocol.kinds import BY_THE_WOUND, KINDS, SAME_WIDTH
from generator.protocol.model import Book, Layer, Material, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import is_unsound, nearest
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    stock = dict(book.stock)
    kind = KINDS.get(protocol.kind)

    def judge(layer: Layer) -> Iterator[Problem]:
        if layer.material is None:
            # A contact layer that is not always needed may leave the choice to the clinician.
            if layer.layer != "contact" or (
                kind is not None and kind.layers["contact"] == "required" and layer.needed_if is None
            ):
                yield Problem(
                    "material-missing",
                    layer.spans["layer"],
                    f"the {layer.layer} layer names no material",
                    "nobody could tell what to fetch",
                    f"add `material:` with one of: {', '.join(_of(stock, layer.layer)) or 'those in stock.yaml'}",
                )
            return
        if layer.material == BY_THE_WOUND:
            # Where it may stand, and what it must have beside it: `by_the_wound`.
            yield from each(layer.prefer, lambda name: _preferred(layer, name, stock))
            return
        at = layer.spans["material"]
        if layer.material not in stock:
            close = nearest(layer.material, list(_of(stock, layer.layer))) or nearest(layer.material, list(stock))
            yield Problem(
                "material-unknown",
                at,
                f"`{layer.material}` is not in stock.yaml",
                "rolls cannot be reckoned from a name that is not there",
                (f"write `{close}`, or " if close else "") + f"add `{layer.material}` to stock.yaml",
            )
            return
        material = stock[layer.material]
        if is_unsound(material):
            return
        if material.layer != layer.layer:
            yield Problem(
                "material-of-another-layer",
                at,
                f"`{layer.material}` is a {material.layer} material, used here as {layer.layer} layer",
                "a material that is laid in another place does another thing",
                f"write one of: {', '.join(_of(stock, layer.layer)) or 'those added to stock.yaml'}",
                also=((material.spans["layer"], "its layer is set here"),),
            )
            return
        if layer.size is not None and layer.size not in material.sizes:
            yield Problem(
                "size-unknown",
                layer.spans["size"],
                f"`{layer.material}` is not stocked as {layer.size}",
                "a piece that is not on the shelf cannot be fetched",
                f"write one of: {', '.join(material.sizes)}"
                if material.sizes
                else "delete `size`: this material comes on rolls",
            )
        for width in _widths(layer) if material.widths else ():
            if not any(abs(width - stocked) <= SAME_WIDTH * stocked for stocked in material.widths):
                yield Problem(
                    "width-not-stocked",
                    layer.spans["width"],
                    f"`{layer.material}` is not stocked {float(width):g} cm wide",
                    "the nearest width would be taken instead",
                    "write one of: " + ", ".join(f"{float(stocked):g} cm" for stocked in material.widths),
                    severity="warning",
                )

    yield from each(protocol.layers, judge)


def _preferred(layer: Layer, name: str, stock: dict[str, Material]) -> Iterator[Problem]:
    material = stock.get(name)
    if material is None:
        close = nearest(name, list(_of(stock, "contact")))
        yield Problem(
            "material-unknown",
            layer.spans["prefer"],
            f"`{name}` in `prefer` is not in stock.yaml",
            "a dressing that is not on the shelf cannot be taken",
            (f"write `{close}`, or " if close else "") + f"add `{name}` to stock.yaml",
        )
    elif not is_unsound(material) and material.layer != "contact":
        yield Problem(
            "material-of-another-layer",
            layer.spans["prefer"],
            f"`{name}` in `prefer` is a {material.layer} material",
            "a material that is laid in another place does another thing",
            f"write one or more of: {', '.join(_of(stock, 'contact')) or 'those added to stock.yaml'}",
            also=((material.spans["layer"], "its layer is set here"),),
        )


def _widths(layer: Layer) -> tuple[Fraction, ...]:
    if layer.width is None:
        return ()
    return tuple(width for _, width in layer.width) if isinstance(layer.width, tuple) else (layer.width,)


def _of(stock: dict[str, Material], layer: str) -> tuple[str, ...]:
    return tuple(
        name
        for name, material in stock.items()
        if not is_unsound(material) and not is_unsound(material.layer) and material.layer == layer
    )


RULE = Rule(
    id="R34",
    name="material-unknown",
    looks_for="Every material stands in stock.yaml, for the layer it is used in, in the width or size asked for.",
    why="Rolls cannot be reckoned, nor fetched, from a name that is not there.",
    source="house rule",
    broken="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: cast pading, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "layers:\n"
    "  - {layer: padding, material: cast padding, passes: 3, overlap: 50 %, firmness: even}\n"
    "  - ...\n",
    check=check,
    also=("material-missing", "material-of-another-layer", "size-unknown", "width-not-stocked"),
)
