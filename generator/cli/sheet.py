"""`gauzeleaf sheet`: the owner's sheet."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from generator import flow, shelf
from generator.cli.common import output_option, plan_options, prepare, trial_option


@click.command(
    "sheet",
    epilog="Example: gauzeleaf sheet --protocol padded-limb-support --patient protocols/patients/maple.yaml --now 2027-03-13T10:40",
)
@plan_options
@click.option("--language", "language", metavar="TAG", help="print in this language instead of the owner's")
@click.option(
    "--languages", "several", metavar="TAG,TAG", help="print a sheet in each of these languages, all of one plan"
)
@click.option(
    "--clinic-copy", is_flag=True, help="also print the clinic's copy, with teach-back questions and signatures"
)
@click.option(
    "--also-html",
    is_flag=True,
    help="also write the owner's sheet as a page for a phone, which can read it aloud, translate it and ring from it",
)
@trial_option
@output_option
def command(
    language: str | None,
    several: str | None,
    clinic_copy: bool,
    also_html: bool,
    trial: bool,
    output: Path,
    **typed: Any,
) -> None:
    """Print the sheet that the owner takes home.

    A bandage that never goes home is refused, with the reason; so is a protocol that no clinician has approved as it stands.
    """
    if language and several:
        raise click.UsageError("Give --language or --languages, not both.")
    wanted: list[str | None] = [*dict.fromkeys(tag.strip() for tag in (several or "").split(",") if tag.strip())]
    if several is not None and not wanted:
        raise click.UsageError("--languages names no language; write it as --languages es,ar.")
    opened, plan = prepare(typed, on_trial=trial)
    files = {}
    for document, copy in flow.sheets(opened, plan, wanted or [language], clinic_copy=clinic_copy, trial=trial):
        name = flow.name_of(plan, "clinic-copy" if copy else "sheet", document)
        files[output / f"{name}.pdf"] = flow.press(document)
        # The clinic's copy is signed by hand: it is paper only.
        if also_html and not copy:
            files[output / f"{name}.html"] = flow.browser(document)
    shelf.write_whole(files)
    for place in files:
        click.echo(place.as_posix())
