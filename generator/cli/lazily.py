"""A group of commands, each in a file that is read only when the command is used.

Takes  the names of the commands, and where their files lie.
Gives  `Commands`, a group for click.
Knows  nothing of any command.
"""

from __future__ import annotations

import importlib
from collections.abc import Mapping
from typing import Any

import click


class Commands(click.Group):
    """Loads a command's file only when the command is used: the start stays short."""

    def __init__(self, *args: Any, table: Mapping[str, str], module: str, **more: Any) -> None:
        """table: one line of help by name. module: where the file of a command lies, `{}` for its name."""
        super().__init__(*args, **more)
        self.table = table
        self._module = module

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self.table)

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        if name not in self.table:
            return None
        command = importlib.import_module(self._module.format(name)).command
        assert isinstance(command, click.Command)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(self.table.items()))

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            from generator.protocol.shapes import nearest

            close = nearest(args[0], list(self.table)) if args else None
            if not close:
                raise
            raise click.UsageError(f"{error.message} The nearest is '{close}'.", ctx) from None
