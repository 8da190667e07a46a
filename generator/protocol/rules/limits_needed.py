"""R44: every time that the trade limits is set, somebody looks, and the bandage has an end.

What it looks for: a limit for each ceiling of the kind; `check_every`; `remove_by` or `remove_when`.
Why it matters: a time that is not written cannot be kept; a ceiling over nothing holds nothing.
Stops: a splint without `change_every`; a bandage that nobody looks at, or that never ends.
Write instead: the line that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.joins import join_limits
from generator.protocol.kinds import KINDS
from generator.protocol.model import Book, Limits, Protocol
from generator.protocol.rules import tape_on_skin
from generator.protocol.rules.amounts import latest, seconds
from generator.protocol.rules.limit_ceilings import SAYS
from generator.protocol.rules.reach import parts_of
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import one
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind == "blend":
        yield from _blend(protocol, book)
        return
    # Of a pressure bandage every limit is asked for by `pressure_bandage`.
    kind = KINDS.get(protocol.kind)
    if kind is None or protocol.purpose == "haemorrhage":
        return
    limits = protocol.limits
    # What a bandage that goes home must have is `go_home_needs`'s to tell, the end of a sling `removal_needed`'s.
    told = {"first_check", "check_every"} if limits.go_home else set()
    told |= {"remove_by"} if protocol.purpose == "sling" or protocol.kind == "support.heavy" else set()
    no_end = limits.change_every is None and limits.remove_by is None

    def judge(key: str) -> Iterator[Problem]:
        if getattr(limits, key) is not None or key in told or (key == "change_every" and no_end and limits.go_home):
            return
        ceiling = kind.ceilings[key]
        end = latest(limits, "remove_by")
        if key != "first_check" and end is not None and seconds(end) <= seconds(ceiling.limit):
            return  # It is off before then.
        if key == "remove_by" and limits.remove_when is not None:
            return
        if key == "change_every" and any(p.name == "tape-outlasted" for p in tape_on_skin.check(protocol, book)):
            return  # The tape asks for it already.
        yield Problem(
            "limit-missing",
            protocol.span("limits:"),
            f"{SAYS[key]} is not set",
            f"for {one(kind.words)} the longest is {ceiling.limit} ({ceiling.source}); what is not written cannot be kept",
            f"add a line `{key}: {ceiling.limit}` to `limits`, or less",
        )

    yield from each(kind.ceilings, judge)
    if limits.check_every is None and "check_every" not in told:
        yield Problem(
            "limit-missing",
            protocol.span("limits:"),
            "nobody is told how often to look at it",
            "harm that is seen late costs the limb",
            "add a line `check_every: {interval: 12 h, who: technician}` to `limits`",
        )
    if (
        limits.remove_by is None
        and limits.remove_when is None
        and "remove_by" not in told | set(kind.ceilings)
        and not no_end
    ):
        yield Problem(
            "end-missing",
            protocol.span("limits:"),
            "neither `remove_by` nor `remove_when` says when bandaging ends",
            "a bandage without an end is changed and changed again",
            "add a line `remove_by: 14 d`, or `remove_when:` with what the clinician must see",
            severity="warning",
        )


def _blend(protocol: Protocol, book: Book) -> Iterator[Problem]:
    """The joint end: each part's own may belong to what comes after it, so the blend names one."""
    joined: Limits = protocol.limits
    for part in parts_of(protocol, book):
        joined = join_limits(joined, part.limits)
    own = protocol.limits
    if own.remove_by is None and own.remove_when is None and joined.remove_by is None:
        yield Problem(
            "end-missing",
            protocol.span("blend"),
            "the stored blend has no end of its own, and its parts end by what the clinician sees, each by another",
            "whichever comes first ends both, and that may leave a wound open or a bone loose",
            "add a line `remove_when:` with what ends the two together to `limits`",
            severity="warning",
        )


RULE = Rule(
    id="R44",
    name="limit-missing",
    looks_for="Every time that the trade limits for a kind of bandage is set, somebody looks at it, and bandaging has an end.",
    why="What is not written cannot be kept.",
    source="house rule; each ceiling names its own source",
    broken="kind: support.splint\n"
    "limits:\n"
    "  first_check: 12 h to 24 h\n"
    "  check_every: {interval: 12 h, who: technician}\n"
    "  recheck_every: 5 d to 7 d\n"
    "  remove_when: union on radiograph\n"
    "  supervised: no\n"
    "  go_home: no\n",
    mended="kind: support.splint\n"
    "limits:\n"
    "  first_check: 12 h to 24 h\n"
    "  check_every: {interval: 12 h, who: technician}\n"
    "  change_every: 5 d to 7 d\n"
    "  recheck_every: 5 d to 7 d\n"
    "  remove_when: union on radiograph\n"
    "  supervised: no\n"
    "  go_home: no\n",
    check=check,
    also=("end-missing",),
    blends=True,
)
