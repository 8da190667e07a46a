"""R31: a caution stands before the act it guards, and a check says what to do if it fails.

What it looks for: each step's keys and their order.
Why it matters: a caution read after the act comes too late.
Stops: `caution` after `do`; a caution at the very end; a caution without `because`; a check without `if_not`; an empty step.
Write instead: `{caution: …, because: …, do: …}` and `{check: …, if_not: …}`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol, Step
from generator.protocol.rules.rule import Rule, each
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    yield from each(protocol.steps, _whole)
    last_act = max((i for i, step in enumerate(protocol.steps) if step.do is not None), default=-1)
    yield from each(protocol.steps[last_act + 1 :], _guards_nothing)


def _whole(step: Step) -> Iterator[Problem]:
    there = step.spans
    if step.do is None and step.caution is None and step.check is None:
        yield Problem(
            "step-empty",
            there[""],
            "the step has neither `do`, nor `caution`, nor `check`",
            "a number without an act prints as a gap",
            "add `do:` with the act, or delete the step",
        )
        return
    if "caution" in there and "do" in there and there["caution:"] > there["do:"]:
        yield Problem(
            "caution-after-act",
            there["caution:"],
            "the caution stands after the act it guards",
            "read after the act, it comes too late",
            "move `caution` and its `because` before `do`",
            also=((there["do:"], "the act is here"),),
        )
    if "caution" in there and step.because is None:
        yield Problem(
            "caution-without-because",
            there["caution:"],
            "the caution gives no reason",
            "a caution without its reason is the first to be skipped",
            "add `because:` with what happens otherwise",
        )
    if "check" in there and step.if_not is None:
        yield Problem(
            "check-without-if-not",
            there["check:"],
            "the check does not say what to do if it fails",
            "whoever finds the fault would have to guess, with the animal on the table",
            "add `if_not: take it off and start again`, or what else is to be done",
        )
    if "if_not" in there and step.check is None:
        yield Problem(
            "if-not-without-check",
            there["if_not:"],
            "`if_not` stands without a `check`",
            "it cannot be told what must have failed",
            "add `check:` with what is looked at, or delete `if_not`",
        )


def _guards_nothing(step: Step) -> Iterator[Problem]:
    if "caution" in step.spans and step.do is None:
        yield Problem(
            "caution-guards-nothing",
            step.spans["caution:"],
            "no act follows this caution",
            "a caution is read before the act; here it comes when all is done",
            "move it into the step that it guards, before `do`",
        )


RULE = Rule(
    id="R31",
    name="caution-after-act",
    looks_for="A caution stands before the act it guards and says why; a check says what to do if it fails; no step is empty.",
    why="A caution read after the act comes too late, and a failed check needs an answer at once.",
    source="common practice; cautions before the step they guard are also usual in technical writing at large",
    broken="kind: support.soft\n"
    "steps:\n"
    '  - {do: "Roll the padding from the toes upward, half over half, three passes.", layer: padding, caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply}\n'
    "  - ...\n",
    mended="kind: support.soft\n"
    "steps:\n"
    '  - {caution: Do not cover the tips of the two middle toes., because: they are the only window on the blood supply, layer: padding, do: "Roll the padding from the toes upward, half over half, three passes."}\n'
    "  - ...\n",
    check=check,
    blends=True,
    also=(
        "step-empty",
        "caution-without-because",
        "check-without-if-not",
        "if-not-without-check",
        "caution-guards-nothing",
    ),
)
