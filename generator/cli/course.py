"""`gauzeleaf course`: all bandages of one animal, and when bandaging ends."""

from __future__ import annotations

from typing import Any

import click

from generator import flow
from generator.cli.common import plan_options, prepare


@click.command(
    "course",
    epilog="Example: gauzeleaf course --protocol velpeau-sling --patient protocols/patients/rowan.yaml --now 2027-03-11T11:10",
)
@plan_options
def command(**typed: Any) -> None:
    """Show the bandages of one animal in order: those that came off, this one, and the end, which never moves.

    Tell the earlier ones in the patient file under `earlier:`. A course that is over is refused, with what is to be decided.
    """
    _, plan = prepare(typed)
    click.echo(flow.course_text(plan))
