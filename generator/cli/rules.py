"""`gauzeleaf rules`: the rules in force, with source and a broken example each."""

from __future__ import annotations

import json

import click

from generator.protocol.rules import RULES


@click.command("rules", epilog="Example: gauzeleaf rules R16")
@click.argument("rule", required=False)
@click.option("--format", "format_", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(rule: str | None, format_: str) -> None:
    """Show the rules that every protocol is held to, or one RULE by its id or name."""
    chosen = [r for r in RULES if rule is None or rule in (r.id, r.name) or rule.lower() == r.id.lower()]
    if not chosen:
        raise click.UsageError(f"There is no rule '{rule}'. The rules are {', '.join(r.id for r in RULES)}.")
    if format_ == "json":
        rows = [
            {"id": r.id, "name": r.name, "looks_for": r.looks_for, "why": r.why, "source": r.source, "broken": r.broken}
            for r in chosen
        ]
        click.echo(json.dumps({"rules": rows}, ensure_ascii=False, indent=2))
        return
    for r in chosen:
        click.echo(f"{r.id}  {r.name}\n    {r.looks_for}\n    why: {r.why}\n    source: {r.source}")
        if rule is not None:
            click.echo(
                "    stopped, for example:\n" + "".join(f"        {line}\n" for line in r.broken.rstrip().splitlines())
            )
