"""How problems reach the reader.

Takes  problems, and the lines of the files they stand in.
Gives  text on standard error, or data on standard output.
Knows  nothing of what went wrong.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from pathlib import Path

import click

from generator.source.problem import Problem, Refusal, as_data, as_text
from generator.source.span import Span

Lines = Callable[[Span], str | None]


def line_on_disk(span: Span) -> str | None:
    """The line a span stands in, read again from its file."""
    try:
        lines = Path(span.file).read_text(encoding="utf-8-sig", errors="replace").split("\n")
    except (OSError, ValueError):
        return None
    return lines[span.line - 1] if 0 < span.line <= len(lines) else None


def show(problems: Sequence[Problem], lines: Lines = line_on_disk) -> None:
    """Write problems as text on standard error."""
    for problem in problems:
        click.echo(as_text(problem, lines) + "\n", err=True)


def counted(problems: Sequence[Problem]) -> str:
    """`2 errors, 1 warning`."""
    parts = []
    for severity in ("error", "warning"):
        number = sum(problem.severity == severity for problem in problems)
        if number:
            parts.append(f"{number} {severity}" + ("s" if number > 1 else ""))
    return ", ".join(parts) or "no problems"


def show_data(problems: Sequence[Problem], **more: object) -> None:
    """Write problems as JSON on standard output."""
    click.echo(
        json.dumps({"problems": [as_data(problem) for problem in problems]} | more, ensure_ascii=False, indent=2)
    )


class Command(click.Command):
    """A command that gives data on demand: what it refuses, it refuses in the form that was asked for."""

    def invoke(self, ctx: click.Context) -> object:
        try:
            return super().invoke(ctx)
        except Refusal as refusal:
            if ctx.params.get("format_") != "json":
                raise
            show_data(refusal.problems)
            ctx.exit(_status(refusal))


def refused(refusal: Refusal, lines: Lines = line_on_disk) -> int:
    """Show why nothing was done; give the exit status."""
    show(refusal.problems, lines)
    click.echo(f"{counted(refusal.problems)}. Nothing was written.", err=True)
    return _status(refusal)


def _status(refusal: Refusal) -> int:
    """Wrong usage, if nothing but options is at fault; else a problem."""
    return 2 if refusal.problems and all(problem.span.file.startswith("--") for problem in refusal.problems) else 1
