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
    """Print the floor card: what to fetch, the steps, the limits, the watch log with its clock times.

    Where the bandage is to be changed, the card of that change comes with it: what to ask, how the wound is read.
    """
    opened, plan = prepare(typed)
    document = flow.card(opened, plan)
    files = {output / f"{flow.name_of(plan, 'card', document)}.pdf": flow.press(document)}
    change = flow.change_card(opened, plan)
    if change is not None:
        files[output / f"{flow.name_of(plan, 'change-card')}.pdf"] = flow.press(change)
    shelf.write_whole(files)
    for place in files:
        click.echo(place.as_posix())
