"""One protocol as a procedure: its numbered sections, ready for the binder's template.

Takes  a `Protocol`, its book, a `Writer`, the day of issue.
Gives  `sop_of`: every section, "not applicable" where a protocol says nothing.
Knows  which key belongs to which section; that each limit names its source; nothing of pages.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.card_limits import limit_words
from generator.compose.card_parts import layer_number
from generator.compose.writer import Writer
from generator.protocol.citations import CITATIONS
from generator.protocol.joining import Joined, blend
from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Layer, Limits, OwnerText, Protocol, Source, Step
from generator.source.problem import Refusal
from generator.source.span import Span

LIMIT_NAMES = {
    "first_check": "First check after it goes on", "check_every": "Looked at", "change_every": "Changed", "recheck_every": "Rechecked by staff",
    "release": "Released", "remove_by": "Off for good", "remove_when": "Off for good when", "supervised": "Watched all the time", "go_home": "May go home",
}  # fmt: skip
# What to do outside a limit: each limit says it, so that nobody has to think it up at the table.
_OUTSIDE = {
    "first_check": "too late: look at once, write down why; too early: look again inside the window",
    "check_every": "missed: look at once, write down why",
    "change_every": "past the later end: open it now, call the clinician",
    "recheck_every": "missed: recheck today, write down why",
    "release": "past it: release now, call the clinician",
    "remove_by": "past it: take it off now, call the clinician",
    "remove_when": "in doubt: ask the clinician",
    "supervised": "nobody free: do not apply it",
    "go_home": "owner insists: call the clinician",
}
_URGENCY = {"emergency": "LIMB AT RISK: now", "urgent": "SKIN AT RISK: open it, call the clinician", "same day": "same day", "next visit": "COMFORT: next visit"}


def sop_of(protocol: Protocol, book: Book, writer: Writer, today: date, digest: str) -> dict[str, Any]:
    """Everything a chapter prints. Stages and a blend's parts are sub-chapters of their own."""
    w, spans = writer, protocol.spans

    def text(value: str, key: str) -> Markup:
        return w.authored(value, spans.get(key), key)

    key = w.id(f"sop.{protocol.protocol}")
    parts = _parts(protocol, book)
    joined = _blended(protocol, parts)
    # What a part sends to this very blend is no reason against it.
    refrains = [r for r in (joined.do_not_use_when if joined else protocol.do_not_use_when) if r.instead != protocol.protocol]
    return {
        "id": key,
        "title": lambda: text(protocol.title, "title"), "number": lambda: text(protocol.id, "id"),
        "revision": lambda: w.number("revision", protocol.revision, str(protocol.revision)), "digest": lambda: w.number("digest", digest, digest),
        "effective": lambda: w.day(protocol.effective, hand.day(protocol.effective), "effective"),
        "review_by": lambda: w.day(protocol.review_by, hand.day(protocol.review_by), "review"),
        "not_yet": protocol.effective > today, "overdue": protocol.review_by < today,
        "status": "not yet in force" if protocol.effective > today else "review overdue" if protocol.review_by < today else "in force",
        "kind": _kind_words(protocol),
        "people": [
            {"what": what, "name": w.authored(p.name, spans.get(k), k), "role": w.authored(p.role, spans.get(k), k), "date": w.day(p.date, hand.day(p.date), k)}
            for what, k, p in (("Prepared by", "prepared_by", protocol.prepared_by), ("Approved by", "approved_by", protocol.approved_by))
        ],
        "function": text(protocol.function, "function"),
        "species": ", ".join(protocol.species) or _joined(parts, "species"), "sites": ", ".join(protocol.sites) or _joined(parts, "sites"),
        "covers": _covers(protocol, w),
        "use_when": [text(case, "use_when") for case in protocol.use_when] or ([escape("all its parts are called for at once")] if parts else []),
        "do_not": [
            {"case": w.authored(r.case, r.spans.get("case"), "case"), "because": w.authored(r.because, r.spans.get("because"), "because"),
             "instead": w.authored(r.instead, r.spans.get("instead"), "instead") if r.instead else None}
            for r in refrains
        ],
        "who": _who(protocol, parts),
        "parts": [{"name": w.authored(p.name, p.span("protocol"), "part"), "number": w.authored(p.id, p.span("id"), "part-id"), "title": w.authored(p.title, p.span("title"), "part-title")} for p in parts],
        "wins": _wins(joined, w),
        "settles": [
            {"key": s.key, "part": w.authored(s.part, s.spans.get("part"), "part"), "by": w.authored(s.decided_by, s.spans.get("decided_by"), "decided"),
             "why": w.authored(s.why, s.spans.get("why"), "why")}
            for s in protocol.settles
        ],
        "sections": [_blend_section(protocol, joined, book, w)] if joined else [_section(one, book, w) for one in (tuple(protocol.stages.values()) or (protocol,))],
        "has_stages": bool(protocol.stages),
        "references": [
            {"cite": w.authored(r.cite, r.spans.get("cite"), "cite"), "for": w.authored(r.for_, r.spans.get("for"), "for") if r.for_ else None}
            for r in protocol.references
        ],
        "sources": _cited((protocol, *protocol.stages.values(), *parts), book, w),
        "history": [
            {"revision": w.number("history", r.revision, str(r.revision)), "date": w.day(r.date, hand.day(r.date), "history"),
             "change": w.authored(r.change, r.spans.get("change"), "change"), "why": w.authored(r.why, r.spans.get("why"), "why"),
             "by": w.authored(r.by, r.spans.get("by"), "by")}
            for r in protocol.history
        ],
    }  # fmt: skip


def _kind_words(protocol: Protocol) -> str:
    if protocol.kind in KINDS:
        return KINDS[protocol.kind].words
    return "open wound, by stages" if protocol.stages else "blend"


def _parts(protocol: Protocol, book: Book) -> tuple[Protocol, ...]:
    """The protocols a stored blend is made of."""
    found = []
    for name in protocol.blend:
        slug, _, stage = name.partition("@")
        part = book.protocols.get(slug)
        if part is not None:
            found.append(part.stages.get(stage, part))
    return tuple(found)


def _joined(parts: tuple[Protocol, ...], key: str) -> str:
    """What all parts allow."""
    sets = [set(getattr(part, key)) for part in parts]
    return ", ".join(sorted(set.intersection(*sets))) if sets else "not applicable"


def _blended(protocol: Protocol, parts: tuple[Protocol, ...]) -> Joined | None:
    """What a stored blend comes to; None for a protocol that stands alone."""
    try:
        return blend(parts, protocol) if parts else None
    except Refusal:
        return None


def _wins(joined: Joined | None, w: Writer) -> list[dict[str, Any]]:
    """Which part decides each layer and limit of a blend, and what the others say."""
    return [
        {
            "key": decision.key.replace("_", " "), "value": w.authored(decision.value, decision.span, "decided"), "by": w.authored(decision.by, decision.span, "decider"),
            "others": Markup("; ").join(Markup("{}: {}").format(w.authored(name, decision.span, "other"), w.authored(value, decision.span, "other")) for name, value in decision.was),
        }
        for decision in (joined.decisions if joined else ())
    ]  # fmt: skip


def _covers(protocol: Protocol, w: Writer) -> Markup | None:
    covers = protocol.covers
    if covers is None:
        return None
    line = Markup("From {} to {}").format(w.authored(covers.from_, covers.spans.get("from"), "from"), w.authored(covers.to, covers.spans.get("to"), "to"))
    if covers.joints:
        line += Markup("; holds still: {}").format(", ".join(covers.joints))
    if covers.leave_showing:
        line += Markup("; left showing: {}").format(w.authored(covers.leave_showing, covers.spans.get("leave_showing"), "showing"))
    return line


def _who(protocol: Protocol, parts: tuple[Protocol, ...]) -> str:
    kinds = {protocol.kind, *(part.kind for part in parts)}
    if any(kind.startswith(("haemorrhage", "support.cast", "support.splint", "sling")) for kind in kinds):
        return "A trained technician, once the clinician in charge has seen the animal and named this protocol; the clinician is in the building."
    return "A trained technician, once the clinician in charge has named this protocol."


def _section(protocol: Protocol, book: Book, w: Writer) -> dict[str, Any]:
    """What differs from stage to stage: layers, steps, limits, signs, what the owner is told."""
    return {
        "stage": w.authored(protocol.stage, protocol.span("stages"), "stage") if protocol.stage else None,
        "function": w.authored(protocol.function, protocol.span("function"), "function") if protocol.stage else None,
        "kit": _kit(protocol.layers, book, w), "layers": [_layer(layer, w) for layer in protocol.layers], "steps": list(_steps(protocol.steps, w)),
        "limits": list(_limits(protocol.limits, protocol.sources, w)), "signs": list(_signs(protocol.signs, book, w)),
        "owner": _owner(tuple(text for text in (protocol.owner,) if text is not None), w),
    }  # fmt: skip


def _blend_section(protocol: Protocol, joined: Joined, book: Book, w: Writer) -> dict[str, Any]:
    """The same for the one bandage that a blend makes of its parts."""
    sources = {key: source for part in (*joined.parts, protocol) for key, source in part.sources.items()}
    by_key = {decision.key: decision.by for decision in joined.decisions}
    for part in joined.parts:
        sources |= {key: part.sources[key] for key, name in by_key.items() if name == part.name and key in part.sources}
    return {
        "stage": None, "function": None, "kit": _kit(joined.layers, book, w), "layers": [_layer(layer, w) for layer in joined.layers],
        "steps": list(_steps(joined.steps, w)), "limits": list(_limits(joined.limits, sources, w)), "signs": list(_signs(joined.signs, book, w)),
        "owner": _owner(joined.owner, w) if joined.limits.go_home else None,
    }  # fmt: skip


def _kit(layers: tuple[Layer, ...], book: Book, w: Writer) -> list[Markup]:
    """Materials by name, each once, with the widths on the shelf."""
    rows = []
    for name in dict.fromkeys(layer.material for layer in layers if layer.material):
        material = book.stock.get(name)
        span = material.spans.get("") if material else None
        line = w.authored(name, span, "material")
        if material is not None and material.widths:
            line += Markup(": {}").format(Markup(", ").join(w.number("kit-width", width, hand.measure(width, "cm")) for width in material.widths))
        elif material is not None and material.sizes:
            line += Markup(": {}").format(w.authored(", ".join(material.sizes), span, "sizes"))
        rows.append(line)
    return rows


def _layer(layer: Layer, w: Writer) -> dict[str, Any]:
    def text(value: str | None, key: str) -> Markup:
        return w.authored(value, layer.spans.get(key), f"layer.{key}") if value else Markup()

    how: list[Markup] = []
    if layer.count is not None:
        how.append(w.number("count", layer.count, f"{layer.count} piece{'s' if layer.count != 1 else ''}"))
    if layer.passes is not None:
        how.append(w.number("passes", layer.passes, f"{layer.passes} pass{'es' if layer.passes != 1 else ''}"))
    if layer.overlap is not None:
        how.append(Markup("{} overlap").format(w.number("overlap", layer.overlap, hand.measure(layer.overlap * 100, "%"))))
    if isinstance(layer.width, tuple) or layer.width is not None:
        how.append(_width(layer, w))
    if layer.inset:
        how.append(Markup("{} short at each end").format(w.number("inset", layer.inset, hand.measure(layer.inset, "cm"))))
    if layer.length is not None:
        how.append(Markup("{} long").format(w.number("length", layer.length, hand.measure(layer.length, "cm"))))
    if layer.rolls is not None:
        how.append(Markup("rolls by weight: {}").format(Markup(", ").join(_band(band.lower, band.upper, "kg", w) + Markup(": ") + w.number("rolls", n, str(n)) for band, n in layer.rolls)))
    if layer.firmness:
        how.append(text(layer.firmness, "firmness"))
    if layer.on_skin_at_most is not None:
        how.append(Markup("on skin at most {}").format(w.number("on-skin", str(layer.on_skin_at_most), str(layer.on_skin_at_most))))
    if layer.needed_if:
        how.append(Markup("only if {}").format(layer.needed_if))
    return {"number": layer_number(layer.layer), "layer": layer.layer, "material": text(layer.material, "material") or "as the clinician orders",
            "how": Markup(", ").join(how), "because": text(layer.because, "because")}  # fmt: skip


def _width(layer: Layer, w: Writer) -> Markup:
    if not isinstance(layer.width, tuple):
        assert layer.width is not None
        return Markup("{} wide").format(w.number("width", layer.width, hand.measure(layer.width, "cm")))
    bands = (
        _band(band.lower, band.upper, "kg" if band.dimension == "mass" else "cm", w) + Markup(": ") + w.number("width", width, hand.measure(width, "cm")) for band, width in layer.width
    )
    return Markup("width: {}").format(Markup(", ").join(bands))


def _band(lower: Any, upper: Any, unit: str, w: Writer) -> Markup:
    if upper is None:
        return Markup("{} and over").format(w.number("band", lower, hand.measure(lower, unit)))
    return Markup("{} to under {}").format(w.number("band", lower, hand.measure(lower, unit)), w.number("band", upper, hand.measure(upper, unit)))


def _steps(steps: tuple[Step, ...], w: Writer) -> Iterator[dict[str, Any]]:
    for step in steps:

        def text(value: str | None, key: str, spans: Any = step.spans) -> Markup | None:
            return w.authored(value, spans.get(key), f"step.{key}") if value else None

        yield {
            "caution": text(step.caution, "caution"), "because": text(step.because, "because"), "do": text(step.do, "do"), "check": text(step.check, "check"),
            "if_not": text(step.if_not, "if_not"), "by": w.number("step-by", str(step.by), str(step.by)) if step.by else None,
        }  # fmt: skip


def _limits(limits: Limits, sources: Mapping[str, Source], w: Writer) -> Iterator[dict[str, Any]]:
    for key, name in LIMIT_NAMES.items():
        value = getattr(limits, key)
        if value is None:
            continue
        shown = limit_words(key, value)
        source = sources.get(key)
        is_plain = key == "remove_when"
        yield {
            "name": name, "value": w.authored(shown, limits.spans.get(key), "limit") if is_plain else w.number(f"limit.{key}", shown, shown),
            "outside": _OUTSIDE[key], "source": source_words(source, w) if source else escape("clinic's own rule"),
        }  # fmt: skip


def limit_cells(limits: Limits, w: Writer) -> list[Markup]:
    """Each limit of a set as `changed 3 d to 4 d`."""
    cells = []
    for key, name in LIMIT_NAMES.items():
        value = getattr(limits, key)
        if value is not None:
            shown = limit_words(key, value)
            cells.append(Markup("{} {}").format(name.lower(), w.number(f"limit.{key}", shown, shown)))
    return cells


def source_words(source: Source, w: Writer) -> Markup:
    """`published [3]`, each number that of the list of sources; or the house's word."""
    if not source.published:
        return escape(source.word)
    return Markup("published {}").format(Markup(", ").join(w.number("source", n, f"[{n}]") for n in source.published))


def _cited(every: tuple[Protocol, ...], book: Book, w: Writer) -> list[dict[str, Any]]:
    """The published sources that limits and signs name, by their number; nothing dangling, nothing twice."""
    named = [source for one in every for source in one.sources.values()]
    named += [sign.source for one in every for key in one.signs if (sign := book.signs.get(key)) is not None and sign.source is not None]
    numbers = sorted({n for source in named for n in source.published})
    return [
        {"number": w.number("cited", n, f"[{n}]"), "text": w.authored(CITATIONS[n].text if n in CITATIONS else "not in the table of sources", None, "citation"),
         "seen": CITATIONS[n].seen if n in CITATIONS else ""}
        for n in numbers
    ]  # fmt: skip


def _signs(names: tuple[str, ...], book: Book, w: Writer) -> Iterator[dict[str, Any]]:
    for urgency, words in _URGENCY.items():
        found = [book.signs[name] for name in names if name in book.signs and book.signs[name].urgency == urgency]
        for sign in found:
            yield {"urgency": words, "staff": w.authored(sign.staff, sign.spans.get("staff"), "sign.staff"), "owner": w.authored(sign.owner, sign.spans.get("owner"), "sign.owner"),
                   "source": source_words(sign.source, w) if sign.source else escape("common practice")}  # fmt: skip


def _owner(texts: tuple[OwnerText, ...], w: Writer) -> list[dict[str, Any]] | None:
    """What owners are told, the lines of several protocols together, none twice."""
    if not texts:
        return None
    made = []
    for title, key in (("What it does", "what_it_does"), ("Every day", "every_day"), ("Keep it dry", "keep_dry"), ("Never", "never")):
        lines: dict[str, Span | None] = {}
        for text in texts:
            value = getattr(text, key)
            for line in (value,) if isinstance(value, str) else value:
                lines.setdefault(line, text.spans.get(key))
        if lines:
            made.append({"title": title, "lines": [w.authored(line, span, f"owner.{key}") for line, span in lines.items()]})
    for rest in (text.exercise for text in texts if text.exercise is not None):
        made.append({"title": "Rest", "lines": [
            Markup("walks a day {}, minutes each {}, lead {}").format(w.number("walks", rest.walks, str(rest.walks)),
                w.number("minutes", str(rest.minutes_each), str(rest.minutes_each)), w.number("lead", rest.lead, hand.measure(rest.lead / 100, "m")))]})  # fmt: skip
    return made
