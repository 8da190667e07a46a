"""`gauzeleaf card`: the technician's floor card."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from generator import flow, shelf
from generator.cli.common import output_option, plan_options, prepare


@click.command(
    "card",
    epilog="Example: gauzeleaf card --protocol pressure-bandage --patient protocols/patients/kestrel.yaml --now 2027-05-04T14:10",
)
@plan_options
@output_option
def command(output: Path, **typed: Any) -> None:
    """Print the floor card: what to fetch, the steps, the limits, the watch log with its clock times."""
    opened, plan = prepare(typed)
    document = flow.card(opened, plan)
    place = output / f"{flow.name_of(plan, 'card', document)}.pdf"
    shelf.write_whole({place: flow.press(document)})
    click.echo(place.as_posix())
