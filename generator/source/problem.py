"""Something wrong in a file, an option or a request.

Takes  a name for what is wrong, the place, and three sentences: what, why, fix.
Gives  `Problem` values; shells print them, nothing else does.
Knows  how a problem reads as text and as data; nothing of YAML or of the trade.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Literal

from generator.source.span import Span

Severity = Literal["error", "warning"]


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem, one cause.

    name: what is wrong, kebab-case (`number-without-unit`). what: the fact. why: what would go wrong on paper or on
    the animal. fix: a statement with the very text to type. also: other places, each with a word on why it matters.
    """

    name: str
    span: Span
    what: str
    why: str
    fix: str
    severity: Severity = "error"
    also: tuple[tuple[Span, str], ...] = ()


class Refusal(Exception):
    """Work stopped by problems; carries all of them."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(problem.name for problem in self.problems))


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Sort by place, drop exact repeats."""
    return tuple(sorted(dict.fromkeys(problems), key=lambda p: (p.span.file, p.span.line, p.span.column, p.name)))


def as_text(problem: Problem, line_of: Callable[[Span], str | None]) -> str:
    """Write one problem as the reader sees it.

    Args:
        line_of: gives the text of the line a span stands in, or None where there is none (an option).
    """
    rows = [f"{problem.span}: {problem.severity}: {problem.name}: {problem.what}"]
    rows += _excerpt(problem.span, line_of)
    for span, words in problem.also:
        rows.append(f"    also {span}: {words}")
        rows += _excerpt(span, line_of)
    rows.append(f"    why: {problem.why}")
    rows.append(f"    fix: {problem.fix}")
    return "\n".join(rows)


def as_data(problem: Problem) -> dict[str, Any]:
    """The same as plain data, keys stable: for `--format json`."""
    return {
        "file": problem.span.file,
        "line": problem.span.line,
        "column": problem.span.column,
        "length": problem.span.length,
        "severity": problem.severity,
        "name": problem.name,
        "what": problem.what,
        "why": problem.why,
        "fix": problem.fix,
        "also": [
            {"file": span.file, "line": span.line, "column": span.column, "what": words} for span, words in problem.also
        ],
    }


def _excerpt(span: Span, line_of: Callable[[Span], str | None]) -> list[str]:
    line = line_of(span) if span.line else None
    if line is None:
        return []
    rows = [f"{span.line:4d} | {_shown(line)}"]
    before = line[: span.column - 1]
    # A caret under the wrong letter is worse than none: only where each character before it takes one cell.
    if len(before) < 150 and all(32 <= ord(c) < 0x2E80 for c in before):
        rows.append("     | " + " " * len(before) + "^" * max(1, min(span.length, len(line) - span.column + 1)))
    return rows


def _shown(line: str) -> str:
    cut = line if len(line) <= 160 else line[:157] + "..."
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in cut)
