"""`gauzeleaf words`: the owner's words in other languages, for whoever keeps or translates them."""

from __future__ import annotations

import click

from generator.cli.lazily import Commands

COMMANDS = {
    "status": "Show how far each language has come.",
    "extract": "List every sentence an owner may read.",
    "merge": "Bring catalogues up to date, or start a new one.",
    "check": "Find everything wrong in the catalogues.",
    "export": "Write a language as a table for a translator.",
    "import": "Take a translator's table back.",
    "proof": "Print every owner's sheet of a language, for its reviser.",
    "sign": "Record that two people have approved words.",
}


@click.group(
    cls=Commands,
    name="words",
    table=COMMANDS,
    module="generator.cli.words_{}",
    epilog="Example: gauzeleaf words status --book our-book",
)
def command() -> None:
    """Keep the owner's words in other languages.

    Every translation prints as a marked draft, the clinic's own language beneath it, until two qualified people have
    signed it. The catalogues lie in the folder `locales` beside the book's `protocols`.
    """
