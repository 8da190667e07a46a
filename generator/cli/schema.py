"""`gauzeleaf schema`: the JSON Schema of a file of the book, made from the vocabulary."""

from __future__ import annotations

from pathlib import Path

import click

from generator import shelf


@click.command("schema", epilog="Example: gauzeleaf schema --into our-book/protocols/schema")
@click.argument(
    "file",
    type=click.Choice(["protocol", "clinic", "stock", "signs", "modifiers", "pictures", "training", "patient"]),
    default="protocol",
)
@click.option(
    "--into",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="write the schemas of all files into this folder, in place of those of an earlier release",
)
def command(file: str, into: Path | None) -> None:
    """Write the JSON Schema of a FILE of the book, for editors that complete and check while you type.

    The first line of each file of a book leads an editor to `schema` in the book's folder; `--into` writes all of them there.
    """
    from generator.protocol.schema import schema_files, schema_text

    if into is None:
        click.echo(schema_text(file), nl=False)
        return
    files = {into / name: data for name, data in schema_files().items()}
    shelf.write_whole(files)
    click.echo(f"{into.as_posix()}: {len(files)} schemas.")
