"""The watch table of a chapter: a clock that starts when the bandage goes on.

Takes  limits, kinds and sites of a bandage, a `Writer`.
Gives  `watch_of`: the columns to tick, what is right in each, and a row for each look and visit.
Knows  which limit makes which row and what is done when it is missed; clock times are written in by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup, escape

from generator.compose.card_limits import unbroken
from generator.compose.looks import AT_BLEEDING, EVERYWHERE, first_look
from generator.compose.writer import Writer
from generator.protocol.kinds import SITE_GROUPS
from generator.protocol.model import Limits

# More looks than this stand as "then every".
MOST_LOOKS = 12
_STAFF_HERE, _STAFF_THERE = "technician", "staff, at the clinic"
# In fewer words than the table of limits has room for.
_LATE = {
    "first_check": "look now, write down why", "check_every": "look now, write down why", "recheck_every": "recheck today, write down why",
    "change_every": "open it now, call the clinician", "release": "release now, call the clinician", "remove_by": "off now, call the clinician",
    "remove_when": "in doubt ask the clinician",
}  # fmt: skip
_VISITS = (("first_check", "first check"), ("recheck_every", "recheck"), ("change_every", "change"))


@dataclass(frozen=True, slots=True)
class _Row:
    """When, counted from the start; what is done; by whom; the limit that it comes from."""

    when: Markup
    what: str
    who: str
    key: str
    bold: bool = False


def watch_of(limits: Limits, kinds: Iterable[str], sites: Iterable[str], w: Writer) -> dict[str, Any] | None:
    """The table; None where the protocol sets no limit."""
    rows = list(_minutes(limits, w) if limits.release is not None else _rows(limits, w))
    if not rows:
        return None
    # That it goes on is a row only where something follows.
    start = _Row(Markup("{} from the start").format(_zero(limits, w)), "it goes on", "technician", "")
    firsts = dict.fromkeys(first_look(tuple(kinds), group) for group, of in SITE_GROUPS.items() if set(sites) & set(of))
    looks = (*firsts, *(AT_BLEEDING if limits.release is not None else EVERYWHERE))
    looks = tuple(dict.fromkeys(looks))
    return {
        "columns": [name for name, _ in looks],
        "right": "; ".join(f"{name.lower()}: {words}" for name, words in looks),
        "goes_on": any("then every" in row.when for row in rows),
        "rows": [
            {"when": row.when, "what": row.what, "who": row.who, "late": _LATE.get(row.key, ""), "bold": row.bold}
            for row in (start, *rows)
        ],
    }


def _zero(limits: Limits, w: Writer) -> Markup:
    return w.number("watch", 0, "0\N{NO-BREAK SPACE}min" if limits.release is not None else "0\N{NO-BREAK SPACE}h")


def _shown(value: object, w: Writer) -> Markup:
    return w.number("watch", str(value), unbroken(str(value)))


def _rows(limits: Limits, w: Writer) -> Iterator[_Row]:
    staff = _STAFF_THERE if limits.go_home else _STAFF_HERE
    every = limits.check_every
    if every is not None:
        shown = _shown(every.interval, w)
        who = f"{every.who}, at home" if limits.go_home and every.who == "owner" else every.who
        yield _Row(Markup("by {}, then every {}").format(shown, shown), "look", who, "check_every")
    for key, what in _VISITS:
        window = getattr(limits, key)
        if window is not None:
            again = Markup(" after each visit") if key == "recheck_every" else Markup(" after each bandage") if key == "change_every" else Markup()  # fmt: skip
            by = Markup("by {}{}") if window.lower is None else Markup("{}{}")
            yield _Row(by.format(_shown(window, w), again), what, staff, key)
    end = limits.remove_by
    if end is not None:
        ends = (
            [_shown(end.plain, w)]
            if end.plain
            else [Markup("{} ({})").format(_shown(one, w), reason) for reason, one in end.by_reason.items()]
        )
        yield _Row(
            Markup("by {} after the first bandage").format(Markup(", ").join(ends)), "OFF", staff, "remove_by", True
        )
    if limits.remove_when is not None:
        span = limits.spans.get("remove_when")
        yield _Row(Markup("when {}").format(w.authored(limits.remove_when, span, "end")), "OFF", staff, "remove_when", True)  # fmt: skip


def _minutes(limits: Limits, w: Writer) -> Iterator[_Row]:
    """Each look of a pressure bandage by itself, the release and the end among them; they count from the first application."""
    every, end = limits.check_every, limits.remove_by
    who = every.who if every is not None else "technician"
    marks: dict[int, tuple[str, str]] = {}
    last = end.plain.shortest.seconds if end is not None and end.plain is not None else 0
    if every is not None:
        step = every.interval.shortest.seconds
        if last <= MOST_LOOKS * step:
            marks = dict.fromkeys(range(step, last, step), ("look", "check_every"))
        else:
            shown = _shown(every.interval, w)
            yield _Row(Markup("by {}, then every {}").format(shown, shown), "look", who, "check_every")
    if limits.release is not None:
        marks[limits.release.shortest.seconds] = ("look, RELEASE", "release")
    if last:
        marks[last] = ("OFF", "remove_by")
    for at, (what, key) in sorted(marks.items()):
        minutes = w.number("watch", at // 60, f"{at // 60}\N{NO-BREAK SPACE}min")
        yield _Row(minutes, what, who, key, key != "check_every")


def alike(limits: Limits, kinds: Iterable[str], sites: Iterable[str]) -> object:
    """What two stages must share to share a table."""
    keys = (
        "first_check",
        "check_every",
        "change_every",
        "recheck_every",
        "release",
        "remove_by",
        "remove_when",
        "go_home",
    )
    firsts = {first_look(tuple(kinds), group) for group, of in SITE_GROUPS.items() if set(sites) & set(of)}
    return tuple(str(escape(_plain(getattr(limits, key)))) for key in keys), frozenset(firsts)


def _plain(value: object) -> str:
    interval = getattr(value, "interval", None)
    return str(value) if interval is None else f"{interval} {getattr(value, 'who', '')}"
