"""`gauzeleaf explain`: why a rule or a problem is there, with an example broken and mended."""

from __future__ import annotations

import json
from typing import Any

import click

from generator import explaining
from generator.explaining import EXAMPLE, Explanation
from generator.protocol.examples import REST
from generator.source.problem import as_data, as_text

_MOST_KEYS = 12


@click.command("explain", epilog="Example: gauzeleaf explain tape-closes-ring")
@click.argument("rule", metavar="RULE")
@click.option("--format", "format_", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(rule: str, format_: str) -> None:
    """Explain RULE, by its id (R19, c05) or by any name that `gauzeleaf check` prints (not-a-date).

    What is looked for, why it matters on an animal, whose word it is; an example that is stopped, with the very message, and
    the same lines mended.
    """
    show(rule, format_)


def show(rule: str, format_: str) -> None:
    """Write an explanation on standard output.

    Raises:
        click.UsageError: there is nothing of this name; the nearest is named.
    """
    found = explaining.explained(rule)
    if found is None:
        close = explaining.nearest_name(rule)
        raise click.UsageError(
            f"There is no rule or problem '{rule}'. "
            + (f"The nearest is '{close}'. " if close else "")
            + "`gauzeleaf rules` lists the rules by id and name."
        )
    click.echo(json.dumps(_data(found), ensure_ascii=False, indent=2) if format_ == "json" else _text(found))


def _data(found: Explanation) -> dict[str, Any]:
    return {
        "name": found.asked, "rule": found.of or None, "also": list(found.also), "comes_from": found.comes_from,
        "looks_for": found.looks_for, "why": found.why, "source": found.source or None, "citations": list(found.citations),
        "file": found.file, "broken": found.broken or None, "says": [as_data(problem) for problem in found.says],
        "mended": found.mended or None, "keys": list(found.keys), "fix": found.fix or None,
    }  # fmt: skip


def _text(found: Explanation) -> str:
    rows = [
        f"{found.of}  {found.asked}" if found.of else found.asked,
        f"    {found.looks_for}",
        f"    why: {found.why}",
    ]
    if found.source:
        rows.append(f"    source: {found.source}")
        rows += [f"        {citation}" for citation in found.citations]
    rows.append(f"    found by: {found.comes_from}")
    others = [name for name in (found.name, *found.also) if name != found.asked]
    if others:
        rows.append(f"    its problems are also named: {', '.join(others)}")
    if found.keys:
        more = len(found.keys) - _MOST_KEYS
        listed = [*found.keys[:_MOST_KEYS], *([f"and {more} more"] if more > 0 else [])]
        rows += ["    keys written in this form, with an example:", *(f"        {line}" for line in listed)]
    if found.fix:
        rows.append(f"    fix: {found.fix}")
    return "\n".join([*rows, *(_example(found) if found.broken else ())])


def _example(found: Explanation) -> list[str]:
    """The broken lines by number, what is said of them, and the mended ones, the changed among them marked."""
    broken, mended = found.broken.rstrip("\n").split("\n"), found.mended.rstrip("\n").split("\n")
    rows = ["", f"Stopped, as lines of {found.file}:"]
    rows += [f"{number:4d} | {_visible(line)}" for number, line in enumerate(broken, 1)]
    if any(line.strip(" -") == REST or f", {REST}]" in line for line in broken):
        rows.append(f"    (`{REST}` stands for the other entries of that file)")
    for name, lines in found.beside:
        said = f"holds {' '.join(lines.split())}" if lines else "is not there"
        rows.append(f"    ({name} {said})")
    named = found.asked in {problem.name for problem in found.says}
    rows += ["", "The message:" if named else f"The message, here `{found.name}` of the same rule:"]
    rows += [as_text(p, lambda span: broken[span.line - 1] if span.file == EXAMPLE else None) for p in found.says]
    rows += ["", "Mended, the changed lines marked:"]
    return [*rows, *(f"   {' ' if line in broken else '>'} | {line}" for line in mended)]


def _visible(line: str) -> str:
    """A character that cannot be seen, as its number: the example would look sound."""
    return "".join(
        c if c.isprintable() else f"<U+{ord(c):04X}>" for c in line.replace("\N{NO-BREAK SPACE}", "<U+00A0>")
    )
