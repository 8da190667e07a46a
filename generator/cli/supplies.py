"""`gauzeleaf supplies`: what several plans take from the shelf, added up."""

from __future__ import annotations

import json
from pathlib import Path

import click

from generator import flow
from generator.cli import report


@click.command("supplies", cls=report.Command, epilog="Example: gauzeleaf supplies output --changes")
@click.argument("plans", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="PLAN...")
@click.option("--changes", is_flag=True, help="also count each planned change as one more bandage of the same kind")
@click.option("--format", "format_", type=click.Choice(["text", "csv", "json"]), default="text", show_default=True)
def command(plans: tuple[Path, ...], changes: bool, format_: str) -> None:
    """Add up the rolls and pieces of every PLAN: a plan.json file, or a folder with such files below it.

    Nothing is printed unless every plan can be read.
    """
    order, warnings = flow.supplies(plans, changes)
    report.show(warnings)
    if format_ == "csv":
        # As bytes: a spreadsheet is promised UTF-8, whatever this screen's own letters are.
        click.echo(flow.order_csv(order), nl=False)
    elif format_ == "json":
        click.echo(json.dumps(flow.order_data(order), ensure_ascii=False, indent=2))
    else:
        click.echo(flow.order_text(order))
