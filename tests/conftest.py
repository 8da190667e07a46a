"""What every test may lean on: reading a book from a folder, without the shelf."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.protocol.book import Reviewed, read_book
from generator.source.text import read_tree

ROOT = Path(__file__).parent.parent


def review(folder: Path) -> Reviewed:
    """Read every YAML file below a folder as one book."""
    readings = {
        str(p.relative_to(folder)): read_tree(p.read_bytes(), str(p.relative_to(folder)))
        for p in sorted(folder.rglob("*.yaml"))
    }
    reviewed = read_book({name: r.tree for name, r in readings.items() if r.tree is not None}, str(folder))
    problems = (*(p for r in readings.values() for p in r.problems), *reviewed.problems)
    return Reviewed(reviewed.book, tuple(problems))


@pytest.fixture(scope="session")
def shipped() -> Reviewed:
    """The book that comes with the tool."""
    return review(ROOT / "protocols")
