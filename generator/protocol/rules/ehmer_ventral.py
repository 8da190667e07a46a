"""R06: a ventral hip luxation gets hobbles, not an Ehmer sling.

What it looks for: `ventral` in `use_when` of an Ehmer sling.
Why it matters: hobbles held about half of the ventral luxations put back, the Ehmer sling about one in seven.
Stops: `use_when: [a caudoventral hip luxation]`.
Write instead: that case in a protocol of kind `sling.hobbles`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import asks_for
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind == "sling.ehmer" and any(asks_for(line, "ventral") for line in protocol.use_when):
        yield Problem(
            "ehmer-for-ventral-luxation",
            protocol.span("use_when"),
            "`use_when` allows an Ehmer sling for a ventral hip luxation",
            "closed reduction held with hobbles in 48.8 % of treatments, with an Ehmer sling in 15.2 % (published 18)",
            "take the case out here and write it in a protocol of `kind: sling.hobbles`",
        )


RULE = Rule(
    id="R06",
    name="ehmer-for-ventral-luxation",
    looks_for="A ventral or caudoventral hip luxation is treated with hobbles, not with an Ehmer sling.",
    why="Closed reduction held with hobbles in 48.8 % of treatments, with an Ehmer sling in 15.2 %.",
    source="published 18, 20",
    broken="kind: sling.ehmer\nuse_when:\n  - a caudoventral hip luxation\n",
    mended="kind: sling.ehmer\n"
    "use_when:\n"
    "  - a craniodorsal hip luxation put back without surgery within seven days of the injury\n",
    check=check,
)
