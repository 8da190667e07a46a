"""`gauzeleaf new`: start a book of one's own."""

from __future__ import annotations

from pathlib import Path

import click

from generator import flow, shelf
from generator.source.problem import Problem, Refusal
from generator.source.span import Span


@click.command("new", epilog="Example: gauzeleaf new our-book")
@click.argument("folder", type=click.Path(path_type=Path))
def command(folder: Path) -> None:
    """Start a book in FOLDER: the demo clinic's files, to be overwritten with your own.

    Every file is a copy that `gauzeleaf check` passes. Change the clinic first, then the stock, then each protocol.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise Refusal(
            [
                Problem(
                    "folder-in-use",
                    Span(str(folder)),
                    "something lies in this folder already",
                    "a new book could overwrite an old one",
                    "name a folder that does not exist yet",
                )
            ]
        )
    files = flow.new_book(folder)
    shelf.write_whole(files)
    for room in shelf.folders_to_make(folder):
        room.mkdir(parents=True, exist_ok=True)
    click.echo(
        f"{folder.as_posix()}: {len(files)} files. Change protocols/clinic.yaml first, then run: gauzeleaf check {folder.as_posix()}"
    )
