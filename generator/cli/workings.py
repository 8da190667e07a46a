"""`gauzeleaf workings`: how every figure came about, and who decided what."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from generator import flow, shelf
from generator.cli.common import output_option, plan_options, prepare, then_option


@click.command(
    "workings",
    epilog="Example: gauzeleaf workings --protocol padded-limb-support --patient protocols/patients/maple.yaml --now 2027-03-13T10:40",
)
@plan_options
@then_option
@output_option
def command(output: Path, **typed: Any) -> None:
    """Print the workings, for staff: every figure to be done again by hand, every limit with who decided it."""
    opened, plan = prepare(typed)
    document = flow.workings(opened, plan)
    place = output / f"{flow.name_of(plan, 'workings', document)}.pdf"
    shelf.write_whole({place: flow.press(document)})
    click.echo(place.as_posix())
