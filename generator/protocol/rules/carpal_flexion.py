"""R11: a carpal flexion sling is not for a carpus that hurts when bent, and its end is planned.

What it looks for: pain in `do_not_use_when`; extension or stretching in the steps or in `remove_when`.
Why it matters: the joint can stay bent for good.
Stops: a carpal sling that is silent on painful bending.
Write instead: the line that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule, where
from generator.protocol.rules.wording import any_speaks_of, refrains, sentences_of_steps
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "sling.carpal":
        return
    if not any_speaks_of(refrains(protocol), r"pain|hurt|sore"):
        yield Problem(
            "painful-flexion-not-excluded",
            where(protocol, "do_not_use_when"),
            "`do_not_use_when` does not name a carpus that hurts when bent",
            "pain says that this joint must not be held so; it can stay bent for good",
            "add a line `- {case: bending the carpus hurts, because: pain says that this joint must not be held so}`",
        )
    end = (*sentences_of_steps(protocol), protocol.limits.remove_when or "")
    if not any_speaks_of(end, r"exten[ds]|stretch|straighten"):
        yield Problem(
            "extension-not-planned",
            protocol.span("steps:"),
            "no step plans how the carpus is brought back to extension",
            "limited extension has to begin within 2 to 4 weeks of surgery, or the joint can stay bent for good",
            'add a line `- {do: "Ask the clinician to write the plan of extension, starting within 2 to 4 weeks of surgery."}`',
            severity="warning",
        )


RULE = Rule(
    id="R11",
    name="painful-flexion-not-excluded",
    looks_for="A carpal flexion sling is not used where bending hurts, and limited extension is planned within 2 to 4 weeks of surgery.",
    why="The joint can stay bent for good.",
    source="published 5, 9",
    broken="kind: sling.carpal\ndo_not_use_when:\n  - {case: an injury of the carpus itself, because: it needs rigidity}\n",
    mended="kind: sling.carpal\n"
    "do_not_use_when:\n"
    "  - {case: an injury of the carpus itself, because: it needs rigidity}\n"
    "  - {case: bending the carpus hurts, because: pain says that this joint must not be held so}\n",
    check=check,
    also=("extension-not-planned",),
)
