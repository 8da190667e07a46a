"""What differs from one stage of a procedure to the next: kit, layers, steps, limits, signs, the owner's lines.

Takes  a protocol at its stage, or what a blend comes to; the book; a `Writer`.
Gives  `section_of`, `blend_section_of`.
Knows  how a layer, a step and a sign are written for staff; nothing of the chapter round them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.layer_cut import layer_number
from generator.compose.not_stocked import missing_widths, not_stocked_clause
from generator.compose.sop_drawing import drawing_of
from generator.compose.sop_limits import limit_rows_of, source_words
from generator.compose.sop_materials import alike, materials_of
from generator.compose.sop_stages import bare
from generator.compose.sop_watch import alike as watched_alike
from generator.compose.sop_watch import watch_of
from generator.compose.writer import Writer
from generator.protocol.joining import Joined
from generator.protocol.model import Book, Layer, OwnerText, Protocol, Step
from generator.reckon.by_band import BandPlan, by_band
from generator.reckon.layers import whose_rolls
from generator.source.span import Span
from generator.words.fields import plain

# Fields of the owner's lines as they stand in the binder, where no animal has a name.
_FIELDS = {"pet": "[name]"}
# What may differ from one stage to the next.
SECTIONS = ("kit", "review", "layers", "materials", "steps", "limits", "watch", "signs", "owner")
_URGENCY = {
    "emergency": "LIFE OR LIMB AT RISK: now",
    "urgent": "SKIN AT RISK: open it, call the clinician",
    "same day": "SKIN AT RISK: call the clinician the same day",
    "next visit": "COMFORT: next visit",
}


def section_of(protocol: Protocol, book: Book, w: Writer) -> dict[str, Any]:
    """What differs from stage to stage: layers, materials, steps, limits, signs, what the owner is told."""
    sizes = by_band(protocol.layers, protocol.sites, book, whose_rolls(protocol.layers, (protocol,)))
    return {
        "stage": w.authored(protocol.stage, protocol.span("stages"), "stage") if protocol.stage else None,
        "function": w.authored(protocol.function, protocol.span("function"), "function") if protocol.stage else None,
        "use_when": [w.authored(case, protocol.span("use_when"), "use_when") for case in protocol.use_when],
        "kit": [*_kit(protocol.layers, book, w), *(w.authored(text, protocol.spans.get("supplies"), "supplies") for text in protocol.supplies)],
        "review": [w.authored(text, protocol.spans.get("review"), "review") for text in protocol.review], "layers": _layers(protocol.layers, sizes, w),
        "materials": materials_of(sizes, book, w), "steps": list(_steps(protocol.steps, w)),
        "limits": list(limit_rows_of(protocol.limits, protocol.sources, w)),
        "watch": watch_of(protocol.limits, (protocol.kind,), protocol.sites, w), "signs": list(_signs(protocol.signs, book, w)),
        "owner": _owner(tuple(text for text in (protocol.owner,) if text is not None), w),
        # What it is made from, so that stages which share a part print it once.
        "written": {
            "kit": ({(layer.material, missing_widths(protocol.layers, book.stock.get(layer.material or ""))) for layer in protocol.layers}, protocol.supplies), "review": protocol.review,
            "layers": bare(protocol.layers), "materials": alike(sizes), "steps": bare(protocol.steps),
            "limits": (bare(protocol.limits), bare(protocol.sources)), "watch": watched_alike(protocol.limits, (protocol.kind,), protocol.sites), "signs": set(protocol.signs), "owner": bare(protocol.owner),
        },
    }  # fmt: skip


def blend_section_of(protocol: Protocol, joined: Joined, book: Book, w: Writer) -> dict[str, Any]:
    """The same for the one bandage that a blend makes of its parts."""
    sites = [site for site in joined.parts[0].sites if all(site in part.sites for part in joined.parts)]
    sizes = by_band(joined.layers, sites, book, whose_rolls(joined.layers, joined.parts))
    sources = {key: source for part in (*joined.parts, protocol) for key, source in part.sources.items()}
    by_key = {decision.key: decision.by for decision in joined.decisions}
    for part in joined.parts:
        sources |= {key: part.sources[key] for key, name in by_key.items() if name == part.name and key in part.sources}
    return {
        "stage": None, "function": None,
        "kit": [*_kit(joined.layers, book, w), *(w.authored(text, span, "supplies") for text, span in joined.supplies)],
        "review": [w.authored(text, span, "review") for text, span in joined.review], "layers": _layers(joined.layers, sizes, w),
        "materials": materials_of(sizes, book, w), "steps": list(_steps(joined.steps, w)), "limits": list(limit_rows_of(joined.limits, sources, w)),
        "watch": watch_of(joined.limits, [part.kind for part in joined.parts], sites, w), "signs": list(_signs(joined.signs, book, w)),
        "owner": _owner(joined.owner, w) if joined.limits.go_home or protocol.owner is not None else None, "written": dict.fromkeys(SECTIONS),
    }  # fmt: skip


def _layers(layers: tuple[Layer, ...], sizes: tuple[BandPlan, ...], w: Writer) -> dict[str, Any]:
    """The table of layers and the drawing beside it."""
    is_tabled = bool(sizes) and all(row.layers for row in sizes)
    return {"rows": [_layer(layer, is_tabled, w) for layer in layers], "cut": drawing_of(sizes, w)}


def _kit(layers: tuple[Layer, ...], book: Book, w: Writer) -> list[Markup]:
    """Materials by name, each once, with the widths on the shelf."""
    rows = []
    for name in dict.fromkeys(layer.material for layer in layers if layer.material):
        material = book.stock.get(name)
        span = material.spans.get("") if material else None
        line = w.authored(name, span, "material")
        if material is not None and material.widths:
            # The unit once, after the last: the widths of a drawer are read as a row.
            shown = [hand.number(width) for width in material.widths[:-1]] + [hand.measure(material.widths[-1], "cm")]
            widths = zip(material.widths, shown, strict=True)
            line += Markup(": {}").format(
                Markup(", ").join(w.number("kit-width", width, said) for width, said in widths)
            ) + not_stocked_clause(layers, material, w)
        elif material is not None and material.sizes:
            line += Markup(": {}").format(w.authored(", ".join(material.sizes), span, "sizes"))
        rows.append(line)
    return rows


def _layer(layer: Layer, is_tabled: bool, w: Writer) -> dict[str, Any]:
    """One layer; what goes by weight is left to the table of materials, where that has it."""

    def text(value: str | None, key: str) -> Markup:
        return w.authored(value, layer.spans.get(key), f"layer.{key}") if value else Markup()

    how: list[Markup] = []
    if layer.count is not None:
        how.append(
            w.number(
                "count", layer.count, f"{layer.count} piece{'s' if layer.count != 1 else ''}", layer.spans.get("count")
            )
        )
    if layer.passes is not None:
        how.append(
            w.number(
                "passes",
                layer.passes,
                f"{layer.passes} pass{'es' if layer.passes != 1 else ''}",
                layer.spans.get("passes"),
            )
        )
    if layer.overlap is not None:
        how.append(
            Markup("{} overlap").format(
                w.number("overlap", layer.overlap, hand.measure(layer.overlap * 100, "%"), layer.spans.get("overlap"))
            )
        )
    by_weight = [name for name, value in (("width", layer.width), ("rolls", layer.rolls)) if isinstance(value, tuple)]
    if by_weight and is_tabled:
        how.append(escape(f"{' and '.join(by_weight)} as tabled below"))
    if layer.width is not None and not (is_tabled and isinstance(layer.width, tuple)):
        how.append(_width(layer, w))
    if layer.inset:
        how.append(
            Markup("{} short at each end").format(
                w.number("inset", layer.inset, hand.measure(layer.inset, "cm"), layer.spans.get("inset"))
            )
        )
    if layer.size:
        how.append(text(layer.size, "size"))
    if layer.length is not None:
        how.append(
            Markup("{} long").format(
                w.number("length", layer.length, hand.measure(layer.length, "cm"), layer.spans.get("length"))
            )
        )
    if layer.rolls is not None and not is_tabled:
        how.append(
            Markup("rolls by weight: {}").format(
                Markup(", ").join(
                    _band(band.lower, band.upper, "kg", w)
                    + Markup(": ")
                    + w.number("rolls", n, str(n), layer.spans.get("rolls"))
                    for band, n in layer.rolls
                )
            )
        )
    if layer.firmness:
        how.append(text(layer.firmness, "firmness"))
    if layer.on_skin_at_most is not None:
        how.append(
            Markup("on skin at most {}").format(
                w.number(
                    "on-skin",
                    str(layer.on_skin_at_most),
                    str(layer.on_skin_at_most),
                    layer.spans.get("on_skin_at_most"),
                )
            )
        )
    if layer.prefer:
        how.append(Markup("in this order, if it fits: {}").format(text(", ".join(layer.prefer), "prefer")))
    if layer.needed_if:
        how.append(Markup("only if {}").format(layer.needed_if))
    return {"id": w.block_id("layer", layer.spans.get("")), "number": layer_number(layer.layer), "layer": layer.layer, "material": text(layer.material, "material") or "as the clinician orders",
            "how": Markup("; ").join(how), "because": text(layer.because, "because")}  # fmt: skip


def _width(layer: Layer, w: Writer) -> Markup:
    if not isinstance(layer.width, tuple):
        assert layer.width is not None
        return Markup("{} wide").format(w.number("width", layer.width, hand.measure(layer.width, "cm")))
    bands = (
        _band(band.lower, band.upper, "kg" if band.dimension == "mass" else "cm", w)
        + Markup(": ")
        + w.number("width", width, hand.measure(width, "cm"))
        for band, width in layer.width
    )
    return Markup("width: {}").format(Markup(", ").join(bands))


def _band(lower: Any, upper: Any, unit: str, w: Writer) -> Markup:
    if upper is None:
        return Markup("{} and over").format(w.number("band", lower, hand.measure(lower, unit)))
    return Markup("{} to under {}").format(
        w.number("band", lower, hand.measure(lower, unit)), w.number("band", upper, hand.measure(upper, unit))
    )


def _steps(steps: tuple[Step, ...], w: Writer) -> Iterator[dict[str, Any]]:
    for step in steps:

        def text(value: str | None, key: str, spans: Any = step.spans) -> Markup | None:
            return w.authored(value, spans.get(key), f"step.{key}") if value else None

        yield {
            "caution": text(step.caution, "caution"), "because": text(step.because, "because"), "do": text(step.do, "do"), "check": text(step.check, "check"),
            "if_not": text(step.if_not, "if_not"), "by": w.number("step-by", str(step.by), str(step.by)) if step.by else None,
        }  # fmt: skip


def _signs(names: tuple[str, ...], book: Book, w: Writer) -> Iterator[dict[str, Any]]:
    """Signs by how fast, the fastest first."""
    for urgency, words in _URGENCY.items():
        found = [book.signs[name] for name in names if name in book.signs and book.signs[name].urgency == urgency]
        rows = [
            {"staff": w.authored(sign.staff, sign.spans.get("staff"), "sign.staff"), "owner": w.authored(plain(sign.owner, _FIELDS), sign.spans.get("owner"), "sign.owner"),
             "source": source_words(sign.source, w) if sign.source else escape("no source given")}
            for sign in found
        ]  # fmt: skip
        if rows:
            yield {"urgency": words, "rows": rows}


def _owner(texts: tuple[OwnerText, ...], w: Writer) -> list[dict[str, Any]] | None:
    """What owners are told, the lines of several protocols together, none twice."""
    if not texts:
        return None
    made = []
    for title, key in (
        ("What it does", "what_it_does"),
        ("Every day", "every_day"),
        ("Keep it dry", "keep_dry"),
        ("Never", "never"),
    ):
        lines: dict[str, Span | None] = {}
        for text in texts:
            value = getattr(text, key)
            for line in (value,) if isinstance(value, str) else value:
                lines.setdefault(line, text.spans.get(key))
        if lines:
            shown = [w.authored(plain(line, _FIELDS), span, f"owner.{key}") for line, span in lines.items()]
            made.append({"title": title, "lines": shown})
    for rest in (text.exercise for text in texts if text.exercise is not None):
        walks = w.number("walks", rest.walks, f"{rest.walks} walk{'s' if rest.walks != 1 else ''}")
        minutes = w.number("minutes", str(rest.minutes_each), str(rest.minutes_each).replace(" ", hand.NO_BREAK))
        lead = w.number("lead", rest.lead, hand.measure(rest.lead / 100, "m"))
        made.append(
            {"title": "Rest", "lines": [Markup("{} a day of {}, on a lead of {}").format(walks, minutes, lead)]}
        )
    return made
