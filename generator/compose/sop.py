"""One protocol as a procedure: its numbered sections, ready for the binder's template.

Takes  a `Protocol`, its book, a `Writer`, the day of issue.
Gives  `sop_of`: every section, "not applicable" where a protocol says nothing.
Knows  which key belongs to which section; that each limit names its source; nothing of pages.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.card_steps import stop_rule
from generator.compose.not_known import protocol_unknowns, unknown_lines
from generator.compose.sop_limits import LIMIT_NAMES, cited
from generator.compose.sop_sections import SECTIONS, blend_section_of, section_of
from generator.compose.sop_stages import by_stage
from generator.compose.sop_status import status_of
from generator.compose.writer import Writer
from generator.protocol.approval import Standing
from generator.protocol.content import SHOWN
from generator.protocol.joining import Joined, blend
from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Protocol
from generator.source.problem import Refusal

# The sections of every chapter, in their order: what a link or an index points at.
PLACES = (
    "function", "scope", "who", "kit", "layers", "materials", "steps", "limits", "watch", "owner", "deviations", "records", "references", "history",
)  # fmt: skip


def sop_of(
    protocol: Protocol,
    book: Book,
    writer: Writer,
    today: date,
    standing: Standing | None = None,
    gone: date | None = None,
) -> dict[str, Any]:
    """Everything a chapter prints. Stages and a blend's parts are sub-chapters of their own.

    Args:
        standing: how it stands in the record of approvals; None where nobody asked.
        gone: the day from which this revision no longer counts, if there is one.
    """
    w, spans = writer, protocol.spans

    def text(value: str, key: str) -> Markup:
        return w.authored(value, spans.get(key), key)

    key = w.id(f"sop.{protocol.protocol}")
    parts = _parts(protocol, book)
    joined = _blended(protocol, parts)
    # What a part sends to this very blend is no reason against it.
    refrains = [
        r for r in (joined.do_not_use_when if joined else protocol.do_not_use_when) if r.instead != protocol.protocol
    ]
    staged = tuple(protocol.stages.values()) or (protocol,)
    sections = [blend_section_of(protocol, joined, book, w)] if joined else [section_of(one, book, w) for one in staged]
    unknowns = protocol_unknowns(parts or staged, [joined.limits] if joined else [one.limits for one in staged], book)
    names = joined.signs if joined else tuple(dict.fromkeys(name for one in staged for name in one.signs))
    return {
        "id": key, "places": _places(key, protocol, w),
        "title": lambda: text(protocol.title, "title"), "number": lambda: text(protocol.id, "id"),
        "revision": lambda: w.number("revision", protocol.revision, str(protocol.revision)), "digest": lambda: w.number("digest", protocol.content[:SHOWN], protocol.content[:SHOWN]),
        "effective": lambda: _day(protocol.effective, "effective", w),
        "review_by": lambda: _day(protocol.review_by, "review", w),
        **status_of(protocol, today, standing, gone, w),
        # The trade names one sling by its angles: the words lead back to the line that chose them, figures and all.
        "kind": text(_kind_words(protocol), "kind"),
        "people": [
            {"what": what, "name": w.authored(p.name, spans.get(k), k), "role": w.authored(p.role, spans.get(k), k), "date": w.day(p.date, hand.iso_day(p.date), k)}
            for what, k, p in (("Prepared", "prepared_by", protocol.prepared_by), ("Approved", "approved_by", protocol.approved_by)) if p is not None
        ],
        "function": text(protocol.function, "function"),
        "species": ", ".join(protocol.species) or _joined(parts, "species"), "sites": ", ".join(protocol.sites) or _joined(parts, "sites"),
        "rigid": None if protocol.immobilises is None else "It makes the limb rigid" if protocol.immobilises else "It does not make the limb rigid",
        "bones": ", ".join(protocol.bone), "only_for": protocol.only_for,
        "covers": _covers(protocol, w),
        "use_when": [text(case, "use_when") for case in protocol.use_when] or ([escape("all its parts are called for at once")] if parts else []),
        "do_not": [
            {"case": w.authored(r.case, r.spans.get("case"), "case"), "because": w.authored(r.because, r.spans.get("because"), "because"),
             "instead": w.authored(_named(r.instead, book), r.spans.get("instead"), "instead") if r.instead else None}
            for r in refrains
        ],
        "who": _who(protocol, parts),
        "parts": [{"name": w.authored(p.name, p.span("protocol"), "part"), "number": w.authored(p.id, p.span("id"), "part-id"), "title": w.authored(p.title, p.span("title"), "part-title"), "read": _read_at(protocol, p, w)} for p in parts],
        "wins": _wins(joined, w),
        "settles": [
            {"key": s.key, "part": w.authored(s.part, s.spans.get("part"), "part"), "by": w.authored(s.decided_by, s.spans.get("decided_by"), "decided"),
             "why": w.authored(s.why, s.spans.get("why"), "why")}
            for s in protocol.settles
        ],
        # In the card's own words: two stop rules would be one too many.
        "stop": stop_rule([book.signs[name] for name in names if name in book.signs], w)["now"],
        # What the stages share was said once for all of them.
        "stages": [
            {"stage": one["stage"], "function": one["function"], "use_when": one["use_when"] if stage.use_when != protocol.use_when else []}
            for one, stage in zip(sections, staged, strict=True) if one["stage"]
        ],
        **{part: by_stage(sections, part) for part in SECTIONS},
        "references": [
            {"cite": w.authored(r.cite, r.spans.get("cite"), "cite"), "for": w.authored(LIMIT_NAMES[r.for_].lower() if r.for_ in LIMIT_NAMES else r.for_, r.spans.get("for"), "for") if r.for_ else None}
            for r in protocol.references
        ],
        "not_known": unknown_lines(unknowns, w),
        "sources": cited((protocol, *protocol.stages.values(), *parts), book, w, {n for one in unknowns for n in one.published}),
        "history": [
            {"revision": w.number("history", r.revision, str(r.revision)), "date": w.day(r.date, hand.iso_day(r.date), "history"),
             "change": w.authored(r.change, r.spans.get("change"), "change"), "why": w.authored(r.why, r.spans.get("why"), "why"),
             "by": w.authored(r.by, r.spans.get("by"), "by")}
            for r in protocol.history
        ],
    }  # fmt: skip


# The key that a section is made from: where something was taken out of it, a bar stands beside its heading.
_MADE_FROM = {
    "scope": "covers", "kit": "supplies", "layers": "layers", "steps": "steps", "limits": "limits", "watch": "signs", "owner": "owner",
}  # fmt: skip


def _named(slug: str, book: Book) -> str:
    """Another procedure as its page names it: number and title; its name in commands where the book has it not."""
    other = book.protocols.get(slug)
    return slug if other is None else f"{other.id} {other.title}"


def _places(key: str, protocol: Protocol, w: Writer) -> dict[str, str]:
    """The id of each section's heading."""
    found = {place: w.id(f"{key}.{place}") for place in PLACES}
    for place, made_from in _MADE_FROM.items():
        span = protocol.spans.get(f"{made_from}:")
        if span is not None:
            w.sources[found[place]] = span
    return found


def _day(day: date | None, name: str, w: Writer) -> Markup:
    return Markup("open, awaits approval") if day is None else w.day(day, hand.iso_day(day), name)


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


def _read_at(protocol: Protocol, part: Protocol, w: Writer) -> Markup | None:
    """The revision of a part that the blend's people read."""
    revision = protocol.reviewed_against.get(part.protocol)
    return None if revision is None else w.number("read", revision, str(revision))


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
    line = Markup("From {} to {}").format(
        w.authored(covers.from_, covers.spans.get("from"), "from"), w.authored(covers.to, covers.spans.get("to"), "to")
    )
    if covers.joints:
        line += Markup("; holds still: {}").format(", ".join(covers.joints))
    if covers.leave_showing:
        line += Markup("; left showing: {}").format(
            w.authored(covers.leave_showing, covers.spans.get("leave_showing"), "showing")
        )
    return line


def _who(protocol: Protocol, parts: tuple[Protocol, ...]) -> str:
    kinds = {protocol.kind, *(part.kind for part in parts)}
    if any(kind.startswith(("haemorrhage", "support.cast", "support.splint", "sling")) for kind in kinds):
        return "A trained technician, once the clinician in charge has seen the animal and named this protocol; the clinician is in the building."
    return "A trained technician, once the clinician in charge has named this protocol."
