"""What a file says, apart from how it is laid out: the content that a clinician approves, and its digest.

Takes  the located tree of a file.
Gives  `leaves`: each single value by its path; `content_digest`: 64 hex digits that change with any of them.
Knows  that comments, quotes, spaces and the order of keys say nothing, and that the order of a list does.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator

from generator.source.tree import Entries, Node, Scalar

Path = tuple[str | int, ...]

# As many of the digits as are printed: two contents of one clinic's book agree in them once in four thousand million.
SHOWN = 8


def leaves(node: Node, path: Path = ()) -> Iterator[tuple[Path, Scalar]]:
    """Each single value with the keys and places (from 0) that lead to it, in the order of the file."""
    if isinstance(node, Scalar):
        yield path, node
    elif isinstance(node, Entries):
        for key, child in node.entries:
            yield from leaves(child, (*path, key.text))
    else:
        for index, child in enumerate(node.items):
            yield from leaves(child, (*path, index))


def content_digest(node: Node) -> str:
    """The digest of a file's content (FIPS 180-4, SHA-256)."""
    # Control characters are refused when a file is read: none of these can stand in what somebody wrote.
    said = ["\x1f".join([*map(_step, path), " ".join(leaf.text.split())]) for path, leaf in leaves(node)]
    return hashlib.sha256("\x1e".join(sorted(said)).encode("utf-8", "surrogatepass")).hexdigest()


def _step(step: str | int) -> str:
    return step if isinstance(step, str) else f"\x1d{step}"
