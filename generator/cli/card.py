"""`gauzeleaf card`: the technician's floor card."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from generator import flow, shelf
from generator.cli.common import output_option, plan_options, prepare, then_option


@click.command(
    "card",
    epilog="Example: gauzeleaf card --protocol pressure-bandage --patient protocols/patients/kestrel.yaml --then open-wound@inflammatory --now 2027-03-14T01:51",
)
@plan_options
@then_option
@output_option
def command(output: Path, **typed: Any) -> None:
    """Print the floor card: what to fetch, the steps, the limits, the watch log with its clock times.

    Where the bandage is to be changed, the card of that change comes with it: what to ask, how the wound is read.

    With --then: a pressure bandage and the bandage after it on one card, with both clocks on its first side.
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
