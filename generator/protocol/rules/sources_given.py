"""R32: every limit says whose word it is.

What it looks for: a line in `sources` for each limit; published numbers that stand in the list of citations.
Why it matters: a figure without a source cannot be defended to an inspector, nor corrected when print changes.
Stops: a limit without a line; a line for a limit that is not set; `{published: [940]}`.
Write instead: `change_every: {published: [15]}` or `change_every: house rule`.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from generator.protocol.citations import CITATIONS, unknown_numbers
from generator.protocol.joins import LIMIT_KEYS
from generator.protocol.model import Book, Protocol
from generator.protocol.rules import blend_joins, limits_needed, tape_on_skin
from generator.protocol.rules.rule import Rule, each, where
from generator.source.problem import Problem
from generator.source.span import Span

# Decisions, not figures: they need no source.
DECISIONS = ("supervised", "go_home")
NAMES = tuple(key for key in LIMIT_KEYS if key not in DECISIONS)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    given = dict(protocol.sources)
    set_ = [key for key in NAMES if getattr(protocol.limits, key) is not None]
    slips = {name: close for name in given if name not in LIMIT_KEYS and (close := _close(name))}
    at = where(protocol, "sources")
    for key in set_:
        if key not in given and key not in slips.values() and key in protocol.limits.spans:
            yield Problem(
                "source-missing",
                protocol.limits.spans[key],
                f"`sources` has no line for `{key}`",
                "a figure without a source cannot be defended to an inspector",
                f"add a line `{key}: common practice` to `sources`, or `{key}: house rule`, or `{key}: {{published: [3]}}` with its number",
                # The binder prints that none is given; an animal waiting to go home is not kept back by it.
                severity="warning",
                also=((at, "the sources are here"),),
            )
    # Beside `passes` or `overlap` they are one too many, and `layer_keys` says so.
    by_weight = [r for r in protocol.layers if r.rolls is not None and r.passes is None and r.overlap is None]
    counted = next(iter(by_weight), None)
    if counted is not None and "rolls" not in given:
        yield Problem(
            "rolls-source-missing",
            counted.spans["rolls:"],
            "`sources` has no line for `rolls`",
            "rolls by weight are nobody's formula: whoever fetches them should know whose numbers they are",
            "add a line `rolls: clinic's own` to `sources`, or `rolls: common practice`",
            severity="warning",
            also=((at, "the sources are here"),),
        )
    for name in given:
        if name in slips or (name in NAMES and name not in set_ and not _is_asked_for(protocol, book, name)):
            yield Problem(
                "source-of-nothing",
                at,
                f"`sources` has a line for `{name}`, and no such limit is set",
                "a source for a figure that is not there hides one that is missing",
                f"write `{slips[name]}`"
                if name in slips
                else f"delete the line `{name}` from `sources`, or set `{name}` in `limits`",
            )
    yield from each(given, lambda name: _numbers(protocol, name, given[name].published, at))


def _close(name: str) -> str | None:
    """The limit of which a name is a misspelling; a name of its own (`toe wool`) is none."""
    return next(iter(difflib.get_close_matches(name, NAMES, 1, 0.8)), None)


def _is_asked_for(protocol: Protocol, book: Book, key: str) -> bool:
    """Whether another rule tells that this limit is missing: then its source is not at fault."""
    limits = protocol.limits
    others = (
        *tape_on_skin.check(protocol, book),
        *limits_needed.check(protocol, book),
        *blend_joins.check(protocol, book),
    )
    if any(f"`{key}" in problem.fix for problem in others):
        return True
    return (
        protocol.kind == "haemorrhage.pressure"
        or (key == "remove_by" and (protocol.purpose == "sling" or protocol.kind == "support.heavy"))
        or bool(
            limits.go_home
            and (key in ("first_check", "check_every") or (limits.change_every is None and limits.remove_by is None))
        )
    )


def _numbers(protocol: Protocol, name: str, published: tuple[int, ...], at: Span) -> Iterator[Problem]:
    for number in unknown_numbers(published):
        yield Problem(
            "citation-unknown",
            at,
            f"the source of `{name}` is published {number}, and no citation stands under that number",
            "the binder would print a number that leads nowhere",
            f"write a number from 1 to {max(CITATIONS)}, as listed under the binder's references",
        )


RULE = Rule(
    id="R32",
    name="source-missing",
    looks_for="Every limit has a line in `sources`, every line is for something that is there, and every published number has its citation.",
    why="A figure without a source cannot be defended to an inspector, nor corrected when print changes.",
    source="house rule",
    broken="kind: support.soft\n"
    "limits:\n"
    "  change_every: 3 d to 7 d\n"
    "sources:\n"
    "  first_check: common practice\n"
    "  check_every: {published: [40]}\n"
    "  remove_by: common practice\n",
    mended="kind: support.soft\n"
    "limits:\n"
    "  change_every: 3 d to 7 d\n"
    "sources:\n"
    "  first_check: common practice\n"
    "  check_every: {published: [40]}\n"
    "  change_every: {published: [3]}\n"
    "  remove_by: common practice\n",
    check=check,
    blends=True,
    also=("source-of-nothing", "citation-unknown", "rolls-source-missing"),
)
