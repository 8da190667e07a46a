"""`gauzeleaf schema`: the JSON Schema of a file of the book, made from the vocabulary."""

from __future__ import annotations

import json

import click


@click.command("schema", epilog="Example: gauzeleaf schema protocol > protocol.schema.json")
@click.argument(
    "file",
    type=click.Choice(["protocol", "clinic", "stock", "signs", "modifiers", "pictures", "patient"]),
    default="protocol",
)
def command(file: str) -> None:
    """Write the JSON Schema of a FILE of the book, for editors that complete and check while you type."""
    from generator.protocol.schema import schema_of

    click.echo(json.dumps(schema_of(file), ensure_ascii=False, indent=2))
