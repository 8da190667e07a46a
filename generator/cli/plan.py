"""`gauzeleaf plan`: reckon a bandage for one patient, and show the result."""

from __future__ import annotations

import json
from typing import Any

import click

from generator import flow
from generator.cli import report
from generator.cli.common import plan_options, prepare, then_option


@click.command(
    "plan",
    cls=report.Command,
    epilog="Example: gauzeleaf plan --protocol padded-limb-support --patient protocols/patients/maple.yaml --now 2027-03-13T10:40",
)
@plan_options
@then_option
@click.option("--format", "format_", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option("--explain", is_flag=True, help="show the working and the origin of every figure, and who decided what")
def command(format_: str, explain: bool, **typed: Any) -> None:
    """Reckon rolls, pressure, visits and deadline for one patient; write nothing."""
    opened, plan = prepare(typed)
    if format_ == "json":
        data = flow.plan_data(plan)
        if explain:
            data["explain"] = flow.explained(plan)
        click.echo(json.dumps(data, ensure_ascii=False, indent=2))
        return
    click.echo(flow.plan_text(plan))
    if explain:
        click.echo(f"\n{flow.workings_text(opened, plan)}")
