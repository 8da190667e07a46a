"""R16: a pressure bandage is watched, released and taken off within minutes, and never goes home.

What it looks for: `supervised`, `go_home`, `release`, `remove_by`, who checks, and the steps that release and remove.
Why it matters: loss of blood supply under pressure is silent.
Stops: any of them missing, or a step timed later than its limit.
Write instead: the line that the message gives. The ceilings themselves are `limit_ceilings`.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Limits, Protocol, Step
from generator.protocol.quantity import Limit
from generator.protocol.rules.amounts import is_over_ceiling, latest, seconds
from generator.protocol.rules.rule import Rule, each, where
from generator.protocol.rules.wording import speaks_of
from generator.source.problem import Problem
from generator.source.span import Span

WHY = "loss of blood supply is silent: this bandage is counted in minutes"
RELEASE, REMOVE = r"releas|loosen|let go|open", r"\b(off|remov\w*)\b"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "haemorrhage.pressure":
        return
    judges = (_never_alone, _ends, _watcher, _steps, _untimed, _timed)
    yield from each(judges, lambda judge: judge(protocol))


def _never_alone(protocol: Protocol) -> Iterator[Problem]:
    limits: Limits = protocol.limits
    if not limits.supervised:
        yield _problem(
            "pressure-bandage-unwatched",
            where(protocol, "supervised"),
            "a pressure bandage is not watched all the time",
            "write `supervised: yes`",
        )
    if limits.go_home:
        yield _problem(
            "pressure-bandage-goes-home",
            where(protocol, "go_home"),
            "a pressure bandage may go home",
            "write `go_home: no`",
        )


def _ends(protocol: Protocol) -> Iterator[Problem]:
    limits = protocol.limits
    if limits.release is None:
        yield _problem(
            "pressure-release-missing",
            protocol.span("limits:"),
            "no time is set at which the pressure is released",
            "add a line `release: 15 min` to `limits`",
        )
    if limits.remove_by is None:
        yield _problem(
            "pressure-removal-missing",
            protocol.span("limits:"),
            "no time is set by which the bandage is off",
            "add a line `remove_by: 20 min` to `limits`",
        )
    end = latest(limits, "remove_by")
    over = is_over_ceiling(protocol, "release") or is_over_ceiling(protocol, "remove_by")
    if limits.release and end and not over and seconds(limits.release) > seconds(end):
        yield Problem(
            "release-after-removal",
            where(protocol, "release"),
            f"the release, at {limits.release}, comes after the removal, at {end}",
            "the card would tell the technician to release a bandage that must already be off",
            f"write a time of {end} or less",
            also=((where(protocol, "remove_by"), "the removal is set here"),),
        )


def _watcher(protocol: Protocol) -> Iterator[Problem]:
    watched = protocol.limits.check_every
    if watched is None:
        yield _problem(
            "pressure-watcher-missing",
            protocol.span("limits:"),
            "nobody is named who checks the toes",
            "add a line `check_every: {interval: 5 min, who: technician}` to `limits`",
        )
    elif watched.who == "owner":
        yield _problem(
            "pressure-watcher-untrained",
            watched.spans["who"],
            "the owner is to watch a pressure bandage",
            "write `who: technician`",
        )


def _steps(protocol: Protocol) -> Iterator[Problem]:
    at = protocol.span("steps:")
    acts = [step.do for step in protocol.steps if step.do is not None]
    if not any(step.check is not None for step in protocol.steps):
        yield _problem(
            "pressure-check-missing",
            at,
            "no step checks the limb",
            'add a line `- {check: "Every 5 minutes: toes warm, pinch felt, no blood through.", if_not: release the wrap and call the clinician}`',
        )
    if not any(speaks_of(act, RELEASE) for act in acts):
        yield _problem(
            "pressure-release-step-missing",
            at,
            "no step releases the pressure",
            "add a line `- {do: Release the wrap., by: 15 min}`",
        )
    if not any(speaks_of(act, REMOVE) for act in acts):
        yield _problem(
            "pressure-removal-step-missing",
            at,
            "no step takes the bandage off",
            "add a line `- {do: Take the whole bandage off., by: 20 min}`",
        )


def _untimed(protocol: Protocol) -> Iterator[Problem]:
    """The steps that release and remove say by when, or the card has no minute to print beside them."""
    for pattern, limit, name in (
        (RELEASE, protocol.limits.release, "release"),
        (REMOVE, latest(protocol.limits, "remove_by"), "remove_by"),
    ):
        acts = [step for step in protocol.steps if step.do is not None and speaks_of(step.do, pattern)]
        if acts and limit is not None and all(step.by is None for step in acts):
            yield _problem(
                "pressure-step-untimed",
                acts[-1].spans["do"],
                f"the step that carries out `{name}` does not say by when",
                f"add `by: {limit}` to the step",
            )


def _timed(protocol: Protocol) -> Iterator[Problem]:
    """No step may be timed later than the limit it carries out."""
    end = latest(protocol.limits, "remove_by")

    def judge(step: Step) -> Iterator[Problem]:
        if step.by is None or step.do is None:
            return
        is_release = speaks_of(step.do, RELEASE) and not speaks_of(step.do, REMOVE)
        limit: Limit | None = protocol.limits.release if is_release and protocol.limits.release else end
        if limit is not None and seconds(step.by) > seconds(limit):
            yield Problem(
                "step-after-limit",
                step.spans["by"],
                f"the step is timed at {step.by}, its limit is {limit}",
                "the card would give the technician two different times",
                f"write `by: {limit}`",
                also=(
                    (
                        where(protocol, "release" if limit is protocol.limits.release else "remove_by"),
                        "the limit is set here",
                    ),
                ),
            )

    yield from each(protocol.steps, judge)


def _problem(name: str, at: Span, what: str, fix: str) -> Problem:
    return Problem(name, at, what, WHY, fix)


RULE = Rule(
    id="R16",
    name="pressure-bandage-unwatched",
    looks_for="A pressure bandage is watched throughout by somebody trained, released by 15 min, off by 20 min, and never goes home; "
    "its steps check the limb, release the pressure and take the bandage off.",
    why="Loss of blood supply under pressure is silent.",
    source="common practice; no printed time was found for a veterinary pressure bandage",
    broken="kind: haemorrhage.pressure\n"
    "limits:\n"
    "  first_check: 5 min\n"
    "  check_every: {interval: 5 min, who: technician}\n"
    "  release: 15 min\n"
    "  remove_by: 20 min\n"
    "  supervised: no\n"
    "  go_home: no\n",
    mended="kind: haemorrhage.pressure\n"
    "limits:\n"
    "  first_check: 5 min\n"
    "  check_every: {interval: 5 min, who: technician}\n"
    "  release: 15 min\n"
    "  remove_by: 20 min\n"
    "  supervised: yes\n"
    "  go_home: no\n",
    check=check,
    also=(
        "pressure-bandage-goes-home", "pressure-release-missing", "pressure-removal-missing", "release-after-removal",
        "pressure-watcher-missing", "pressure-watcher-untrained", "pressure-check-missing", "pressure-release-step-missing",
        "pressure-removal-step-missing", "pressure-step-untimed", "step-after-limit",
    ),
)  # fmt: skip
