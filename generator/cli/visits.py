"""`gauzeleaf visits`: the visits as a calendar file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from generator import flow, shelf
from generator.cli.common import output_option, plan_options, prepare


@click.command(
    "visits",
    epilog="Example: gauzeleaf visits --protocol padded-limb-support --patient protocols/patients/maple.yaml --now 2027-03-13T10:40",
)
@plan_options
@output_option
def command(output: Path, **typed: Any) -> None:
    """Write the visits as an iCalendar file (RFC 5545) that any calendar reads."""
    opened, plan = prepare(typed, on_trial=False)
    place = output / f"{flow.name_of(plan, 'visits')}.ics"
    shelf.write_whole({place: flow.visits(opened, plan)})
    click.echo(place.as_posix())
