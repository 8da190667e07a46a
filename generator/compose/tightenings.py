"""Where the clinic is stricter than the trade: its limits beside the trade's ceilings.

Takes  protocols in the binder's order with their chapters' values, the `Book`, a `Writer`.
Gives  `tightening_rows`: a row for each limit that is shorter than the ceiling of its kind.
Knows  that a house limit holds over every protocol that allows more, and that a blend keeps the ceilings of all its parts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from typing import Any

from markupsafe import Markup, escape

from generator.compose.card_limits import unbroken
from generator.compose.finder import Chapter
from generator.compose.sop_limits import LIMIT_NAMES, source_words
from generator.compose.tabs import parts_of
from generator.compose.writer import Writer
from generator.protocol.joining import blend
from generator.protocol.kinds import KINDS, Ceiling
from generator.protocol.model import Book, Limits, Protocol, Source
from generator.protocol.quantity import Limit
from generator.protocol.rules.amounts import ends, latest, seconds
from generator.protocol.rules.clinic.limits_with_effect import is_for
from generator.source.problem import Refusal


def tightening_rows(chapters: Sequence[Chapter], book: Book, w: Writer) -> list[dict[str, Any]]:
    """What the table prints.

    Returns:
        Rows in the binder's order: the chapter's values, the stage, the limit's name, what the trade allows and on whose
        word, what holds here, who set it and on whose word.
    """
    return [row for protocol, sop in chapters for row in _rows(protocol, sop, book, w)]


def _rows(protocol: Protocol, sop: dict[str, Any], book: Book, w: Writer) -> Iterator[dict[str, Any]]:
    parts = parts_of(protocol, book)
    for one in protocol.stages.values() or (protocol,):
        limits, sources = one.limits, one.sources
        if parts:
            with suppress(Refusal):  # parts that cannot be joined: the check has said so
                limits = blend(parts, protocol).limits
            sources = {key: source for part in (*parts, protocol) for key, source in part.sources.items()}
        for key, ceiling in _ceilings(parts or (one,)).items():
            for reason, value, is_house in _held(key, limits, parts or (one,), book):
                if seconds(value) < seconds(ceiling.limit):
                    yield {
                        "sop": sop,
                        "stage": w.authored(one.stage, one.span("stages"), "stage") if one.stage else None,
                        "limit": LIMIT_NAMES[key],
                        "reason": w.authored(reason, limits.spans.get(key), "reason") if reason else None,
                        "trade": _time(ceiling.limit, w),
                        "trade_source": w.authored(ceiling.source, None, "ceiling-source"),
                        "here": _time(value, w),
                        "by": escape("house limit") if is_house else Markup("procedure; {}").format(_word(sources, key, w)),
                    }  # fmt: skip


def _ceilings(parts: Sequence[Protocol]) -> dict[str, Ceiling]:
    """The shortest ceiling that any of these must keep, by limit."""
    found: dict[str, Ceiling] = {}
    for part in parts:
        for key, ceiling in KINDS[part.kind].ceilings.items() if part.kind in KINDS else ():
            if key not in found or seconds(ceiling.limit) < seconds(found[key].limit):
                found[key] = ceiling
    return found


def _held(key: str, limits: Limits, parts: Sequence[Protocol], book: Book) -> Iterator[tuple[str, Limit, bool]]:
    """Every end that holds here: the procedure's own, or that of the house where it is shorter; with its reason."""
    house = [
        end
        for target, tighter in book.clinic.house_limits.items()
        if any(is_for(target, part) for part in parts) and (end := latest(tighter, key)) is not None
    ]
    shortest = min(house, key=seconds, default=None)
    for reason, own in ends(limits, key):
        is_house = shortest is not None and seconds(shortest) < seconds(own)
        yield reason, shortest if is_house and shortest is not None else own, is_house


def _time(limit: Limit, w: Writer) -> Markup:
    return w.number("ceiling", str(limit), unbroken(str(limit)))


def _word(sources: Mapping[str, Source], key: str, w: Writer) -> Markup:
    source = sources.get(key)
    return source_words(source, w) if source is not None else escape("no source given")
