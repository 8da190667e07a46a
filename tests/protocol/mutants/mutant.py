"""One slip made by a program in one shipped file.

Takes  the plain data of a file.
Gives  `Mutant`, and `stage_kind`, the kind of bandage that a place in the file speaks of.
Knows  nothing of any rule: a mutant is made without asking whether it does harm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from tests.protocol.writing import Path


@dataclass(frozen=True)
class Mutant:
    """how: the class of slip. what: the record and key it hit. kind: of the bandage. detail: the value."""

    file: str
    how: str
    what: str
    kind: str
    detail: str

    def __str__(self) -> str:
        return f"{self.how} | {self.what} | {self.kind} | {self.detail} | {self.file.rsplit('/', 1)[-1]}"


# How, what, kind, detail and the changed data: `book.py` adds the file.
Made = tuple[str, str, str, str, Any]
Maker = Callable[[Any], Iterator[Made]]


def stage_kind(data: Any, path: Path) -> str:
    """`wound.proliferative` inside that stage, else the file's own kind; a stored blend is `blend`."""
    if len(path) > 1 and path[0] == "stages":
        return f"wound.{path[1]}"
    return str(data.get("kind", "blend"))


def bodies(data: Any) -> Iterator[tuple[Path, str, Any]]:
    """Path, kind and data of each part of a file that has layers and steps of its own: the file, or each of its stages."""
    if "stages" in data:
        for name, stage in data["stages"].items():
            yield ("stages", name), f"wound.{name}", stage
    else:
        yield (), str(data.get("kind", "blend")), data
