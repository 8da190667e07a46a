"""`gauzeleaf rules`: the rules in force, with their sources."""

from __future__ import annotations

import json

import click

from generator.protocol.rules import CLINIC_RULES, RULES
from generator.protocol.rules.rule import ClinicRule, Rule


@click.command("rules", epilog="Example: gauzeleaf rules R16")
@click.argument("rule", required=False)
@click.option("--format", "format_", type=click.Choice(["text", "json"]), default="text", show_default=True)
def command(rule: str | None, format_: str) -> None:
    """Show the rules that every book is held to; of one RULE all that `gauzeleaf explain` knows."""
    if rule is not None:
        from generator.cli.explain import show

        show(rule, format_)
        return
    every: tuple[Rule | ClinicRule, ...] = (*RULES, *CLINIC_RULES)
    if format_ == "json":
        keys = ("id", "name", "looks_for", "why", "source", "broken", "mended")
        click.echo(
            json.dumps({"rules": [{key: getattr(r, key) for key in keys} for r in every]}, ensure_ascii=False, indent=2)
        )
        return
    for r in every:
        click.echo(f"{r.id}  {r.name}\n    {r.looks_for}\n    why: {r.why}\n    source: {r.source}")
