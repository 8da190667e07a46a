"""R50: every bandage is checked when it is on: that it is not too tight, and that the toes are alive.

What it looks for: `check` steps, known by their words, after the last layer is laid.
Why it matters: a bandage that is too tight looks like one that is not.
Stops: a bandage without a check; a limb bandage whose toes nobody feels; a check that is made before the wrap goes on.
Write instead: the step that the message gives.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.breathing_check import ROUND_THE_CHEST
from generator.protocol.rules.reach import WRAPS, as_parts, last_laying, on_limb
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import speaks_of
from generator.source.problem import Problem

# A finger under the edge: published 86; the sound of a heavy bandage: published 6; two fingers at neck and chest: common practice.
FIT = r"\bfingers?\b|\bslides?\b|\bloose|\btight|\bsnug|\bflick|\bmelon\b|\bflushing\b|\bturns? a little\b"
TOES = r"\btoes?\b|\bnails?\b|\bfoot\b|\bpaw\b|\bdigits?\b"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    said: set[str] = set()
    for part in as_parts(protocol, book):
        for problem in _judge(part):
            if problem.what not in said:
                said.add(problem.what)
                yield problem


def _judge(protocol: Protocol) -> Iterator[Problem]:
    checks = [(number, step) for number, step in enumerate(protocol.steps) if step.check is not None]
    brief = protocol.purpose == "haemorrhage"
    if not checks:
        # `pressure_bandage` and `breathing_check` ask for theirs.
        if not brief and protocol.kind not in ROUND_THE_CHEST:
            yield Problem(
                "check-missing",
                protocol.span("steps:"),
                "no step checks the finished bandage",
                "a bandage that is too tight looks like one that is not",
                "add a line `- {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}`",
            )
        return
    wanted = [
        ("blood that comes through", r"\bblood\b|\bbleed", "Every 5 minutes: no blood comes through.")
        if brief
        else ("how tight it is", FIT, "The tip of the little finger slides in at both ends.")
    ]
    wanted += [("the toes", TOES, "Both middle toes are warm; once awake they flinch.")] if on_limb(protocol) else []
    on = last_laying(protocol.steps, *WRAPS)
    for what, pattern, write in wanted:
        found = [number for number, step in checks if speaks_of(str(step.check), pattern)]
        if not found:
            yield Problem(
                "check-of-kind-missing",
                protocol.span("steps:"),
                f"no check looks at {what}",
                "a bandage that is too tight looks like one that is not, and only toes tell",
                f'add a line `- {{check: "{write}", if_not: take it off and call the clinician}}`',
                severity="warning",
            )
        elif on is not None and max(found) < on:
            yield Problem(
                "check-before-wrap",
                protocol.steps[max(found)].spans["check"],
                f"the check of {what} comes before the bandage is on",
                "nothing that is laid after it is checked",
                "move the step to the end",
                severity="warning",
                also=((protocol.steps[on].spans["do"], "the last layer is laid here"),),
            )


RULE = Rule(
    id="R50",
    name="check-missing",
    looks_for="The steps end with checks: how tight the bandage is, and on a limb the toes.",
    why="A bandage that is too tight looks like one that is not, and only toes tell.",
    source="published 6, 40, 86; common practice",
    broken="kind: support.soft\n"
    "steps:\n"
    '  - {do: "Dry the limb fully, also between the toes."}\n'
    '  - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side, free ends well past the toes."}\n'
    '  - {layer: contact, do: "If there is an incision, cover it with the low-adherent pad."}\n'
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: "Roll the padding from the toes upward, half over half, three passes."}\n'
    '  - {layer: conforming, do: "Roll conforming gauze the same way, two passes, leaving 2 cm of padding at each end."}\n'
    '  - {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}\n'
    '  - {caution: Do not lay the wrap straight off the roll., because: stretched on the roll it shrinks back on the limb, layer: outer, do: "Lay the re-rolled outer wrap from the toes upward, one light pass."}\n',
    mended="kind: support.soft\n"
    "steps:\n"
    '  - {do: "Dry the limb fully, also between the toes."}\n'
    '  - {caution: Do not close tape in a ring round the limb., because: a ring becomes a tourniquet when the foot swells, layer: stirrups, do: "Lay one stirrup on each side, free ends well past the toes."}\n'
    '  - {layer: contact, do: "If there is an incision, cover it with the low-adherent pad."}\n'
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: "Roll the padding from the toes upward, half over half, three passes."}\n'
    '  - {layer: conforming, do: "Roll conforming gauze the same way, two passes, leaving 2 cm of padding at each end."}\n'
    '  - {do: "Fold each stirrup end, twisted half a turn, up onto the gauze."}\n'
    '  - {caution: Do not lay the wrap straight off the roll., because: stretched on the roll it shrinks back on the limb, layer: outer, do: "Lay the re-rolled outer wrap from the toes upward, one light pass."}\n'
    "  - {check: The tip of the little finger slides in at both ends., if_not: take it off and start again}\n"
    '  - {check: "Both middle toes are warm; once awake they flinch.", if_not: take the bandage off and call the clinician}\n',
    check=check,
    also=("check-of-kind-missing", "check-before-wrap"),
    blends=True,
)
