"""R18: bone that shows is never pushed back.

What it looks for: a `do` that pushes bone back in; a protocol for open fractures with no caution against it.
Why it matters: it drags dirt in and injures vessels.
Stops: `do: Push the bone back in.`
Write instead: the caution, before the step that covers the wound.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol, Step
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import any_speaks_of, asks_for
from generator.source.problem import Problem

PUSHES = r"\b(push|press|put|tuck|slide|replace|return|ease)\b[^.;]*\bbones?\b[^.;]*\b(back|in|inside|into|under)\b"
OPEN = r"\bopen (fracture|break)|\bbone\b[^.;]*\b(shows|showing|sticks|protrud)|protruding bone"


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    yield from each(protocol.steps, _pushes)
    guarded = [text for step in protocol.steps for text in (step.caution, step.do) if text is not None]
    if any(asks_for(line, OPEN) for line in protocol.use_when) and not any_speaks_of(guarded, r"\bbone\b"):
        yield Problem(
            "bone-not-guarded",
            protocol.span("steps:"),
            "this is for open fractures, and no step says what to do with bone that shows",
            "pushed back in, it drags dirt with it and injures vessels",
            "add a step before the contact layer: `- {caution: Do not push bone back in., because: it drags dirt in and injures vessels, "
            "do: Cover the bone with a sterile pad.}`",
            severity="warning",
        )


def _pushes(step: Step) -> Iterator[Problem]:
    if step.do is not None and asks_for(step.do, PUSHES):
        yield Problem(
            "bone-pushed-back",
            step.spans["do"],
            "the step pushes bone back in",
            "it drags dirt in and injures vessels",
            "write `do: Cover the bone with a sterile pad.`; the support comes after it",
        )


RULE = Rule(
    id="R18",
    name="bone-pushed-back",
    looks_for="Protruding bone is never pushed back: it is covered, then supported.",
    why="Pushing drags dirt in and injures vessels.",
    source="published 32",
    broken="kind: support.splint\nsteps:\n  - {do: Push the bone back in.}\n  - ...\n",
    mended="kind: support.splint\n"
    "steps:\n"
    '  - {caution: Do not push protruding bone back in., because: it drags dirt in and injures vessels, do: "If bone shows, cover it with a sterile pad before anything else."}\n'
    "  - ...\n",
    check=check,
    blends=True,
    also=("bone-not-guarded",),
)
