"""What every test may lean on: reading a book from a folder, without the shelf."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from generator.protocol.book import Reviewed, read_book
from generator.source.text import read_tree

ROOT = Path(__file__).parent.parent


def review(folder: Path) -> Reviewed:
    """Read every YAML file below a folder as one book, but for the approved revisions that are kept there."""
    files = [p for p in sorted(folder.rglob("*.yaml")) if p.parent.name != "approved"]
    texts = {str(p.relative_to(folder)): p.read_text(encoding="utf-8") for p in files}
    return review_texts(texts, str(folder))


def review_texts(texts: Mapping[str, str], folder: str = "protocols") -> Reviewed:
    """Read the texts of YAML files, by name, as one book."""
    readings = {name: read_tree(text.encode(), name) for name, text in texts.items()}
    reviewed = read_book({name: r.tree for name, r in readings.items() if r.tree is not None}, folder)
    problems = (*(p for r in readings.values() for p in r.problems), *reviewed.problems)
    return Reviewed(reviewed.book, tuple(problems))


@pytest.fixture(scope="session")
def shipped() -> Reviewed:
    """The book that comes with the tool."""
    return review(ROOT / "protocols")
