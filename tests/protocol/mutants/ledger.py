"""The reasons why a mutant may live.

Takes  `survivors.yaml`.
Gives  `ledger`, its lines; `reasons`, the lines for each survivor; `unused`, the lines that no survivor needs.
Knows  how a line matches: by how, what, kind and detail, each a pattern or a list of patterns.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path

import yaml

from tests.protocol.mutants.mutant import Mutant

FIELDS = ("how", "what", "kind", "detail")


@dataclass(frozen=True)
class Line:
    """patterns: by field, any of which must match; a field that is left out matches all."""

    patterns: tuple[tuple[str, tuple[str, ...]], ...]
    because: str

    def matches(self, mutant: Mutant) -> bool:
        return all(
            any(fnmatchcase(getattr(mutant, field), pattern) for pattern in patterns)
            for field, patterns in self.patterns
        )

    def __str__(self) -> str:
        return "; ".join(f"{field}: {' | '.join(patterns)}" for field, patterns in self.patterns)


@cache
def ledger() -> tuple[Line, ...]:
    rows = yaml.safe_load((Path(__file__).parent / "survivors.yaml").read_text(encoding="utf-8"))
    lines = []
    for row in rows:
        assert set(row) <= {*FIELDS, "because"}, row
        given = tuple(
            (field, tuple(row[field]) if isinstance(row[field], list) else (row[field],))
            for field in FIELDS
            if field in row
        )
        lines.append(Line(given, row["because"]))
    return tuple(lines)


def reasons(survivors: Iterable[Mutant]) -> dict[Mutant, list[Line]]:
    return {mutant: [line for line in ledger() if line.matches(mutant)] for mutant in survivors}


def unused(found: dict[Mutant, list[Line]], every: Iterable[Mutant]) -> list[Line]:
    """Lines that say why something lives that no longer does.

    A line about a key or a kind that no shipped file has is not idle: it waits for the file, as the vocabulary does.
    """
    needed = {line for lines in found.values() for line in lines}
    mutants = tuple(every)
    return [line for line in ledger() if line not in needed and any(map(line.matches, mutants))]
