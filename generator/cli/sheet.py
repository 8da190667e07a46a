"""`gauzeleaf sheet`: the owner's sheet."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from generator import flow, shelf
from generator.cli.common import output_option, plan_options, prepare


@click.command(
    "sheet",
    epilog="Example: gauzeleaf sheet --protocol padded-limb-support --patient protocols/patients/maple.yaml --now 2027-03-13T10:40",
)
@plan_options
@click.option("--language", "language", metavar="TAG", help="print in this language instead of the owner's")
@click.option(
    "--clinic-copy", is_flag=True, help="also print the clinic's copy, with teach-back questions and signatures"
)
@click.option(
    "--also-html",
    is_flag=True,
    help="also write the owner's sheet as a page for a phone, which can read it aloud, translate it and ring from it",
)
@output_option
def command(language: str | None, clinic_copy: bool, also_html: bool, output: Path, **typed: Any) -> None:
    """Print the sheet that the owner takes home.

    A bandage that never goes home is refused, with the reason.
    """
    opened, plan = prepare(typed)
    files = {}
    for copy in (False, True) if clinic_copy else (False,):
        document = flow.sheet(opened, plan, language, clinic_copy=copy)
        name = flow.name_of(plan, "clinic-copy" if copy else "sheet", document)
        files[output / f"{name}.pdf"] = flow.press(document)
        # The clinic's copy is signed by hand: it is paper only.
        if also_html and not copy:
            files[output / f"{name}.html"] = flow.browser(document)
    shelf.write_whole(files)
    for place in files:
        click.echo(place.as_posix())
