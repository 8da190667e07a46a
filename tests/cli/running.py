"""Run a command as a user does, inside the test's own process."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.cli.main import guarded


@dataclass(frozen=True)
class Ran:
    """What a command left: its exit status and what it wrote where."""

    status: int
    out: str
    err: str


def run(arguments: Sequence[str], capsys: pytest.CaptureFixture[str], folder: Path | None = None) -> Ran:
    """Run `gauzeleaf` with these arguments, standing in `folder`."""
    before = Path.cwd()
    capsys.readouterr()
    try:
        if folder is not None:
            os.chdir(folder)
        status = guarded(list(arguments))
    finally:
        os.chdir(before)
    captured = capsys.readouterr()
    assert "Traceback" not in captured.err
    return Ran(status, captured.out, captured.err)


def everything_in(folder: Path) -> dict[str, bytes]:
    """Each file below a folder with its bytes: to see that nothing changed."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }
