"""What changed between two states of a file, value by value, each with the line it stands in.

Takes  two located trees: as it was, as it is.
Gives  `differences`; `where` to name a place in words; `changed_in`: what of the new file a bar stands beside.
Knows  that a row put into a list moves the others and changes none of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.protocol.content import Path, content_digest, leaves
from generator.source.span import Span
from generator.source.tree import Entries, Items, Node, Scalar

# What the change itself brings about: it says nothing that the change sheet does not say at its head.
CONTROL = ("revision", "effective", "review_by", "prepared_by", "approved_by", "history")


@dataclass(frozen=True, slots=True)
class Difference:
    """One change. before, after: the value; None where there is none. at: its place in the new file, or where it stood there.

    path: keys, and places in lists from 0, in the new file; of what was taken out, in the old one.
    """

    path: Path
    before: Node | None
    after: Node | None
    at: Span

    @property
    def was(self) -> str:
        """What stood there, on one line."""
        return said(self.before)

    @property
    def now(self) -> str:
        """What stands there, on one line."""
        return said(self.after)


def differences(before: Node, after: Node) -> tuple[Difference, ...]:
    """Everything that is different, in the order of the new file; what was taken out where it stood."""
    return tuple(_between(before, after, (), after.span))


def _between(before: Node, after: Node, path: Path, place: Span) -> Iterator[Difference]:
    if isinstance(before, Entries) and isinstance(after, Entries):
        yield from _in_groups(before, after, path, place)
    elif isinstance(before, Items) and isinstance(after, Items):
        yield from _in_lists(before.items, after.items, path, place)
    elif content_digest(before) != content_digest(after):
        yield Difference(path, before, after, after.span)


def _in_groups(before: Entries, after: Entries, path: Path, place: Span) -> Iterator[Difference]:
    names = [key.text for key, _ in after.entries]
    for key, node in before.entries:
        if key.text not in names:
            yield Difference((*path, key.text), node, None, place)
    for key, node in after.entries:
        old = before.get(key.text)
        if old is None:
            yield Difference((*path, key.text), None, node, node.span)
        else:
            yield from _between(old, node, (*path, key.text), key.span)


def _in_lists(before: Sequence[Node], after: Sequence[Node], path: Path, place: Span) -> Iterator[Difference]:
    import difflib  # only a file that changed needs it

    same = difflib.SequenceMatcher(None, [content_digest(n) for n in before], [content_digest(n) for n in after], False)
    for kind, low, high, start, end in same.get_opcodes():
        if kind == "equal":
            continue
        old, new = before[low:high], after[start:end]
        pairs = _paired(old, new)
        kept = {one for one, _ in pairs}
        at = new[0].span if new else after[start - 1].span if start else place
        for index, node in enumerate(old):
            if index not in kept:
                yield Difference((*path, low + index), node, None, at)
        partner = {other: one for one, other in pairs}
        for index, node in enumerate(new):
            here = (*path, start + index)
            if index in partner:
                yield from _between(old[partner[index]], node, here, node.span)
            else:
                yield Difference(here, None, node, node.span)


# Two rows are one row that changed if at least so much of what they say is the same; below it one went and another came.
_ALIKE = 0.5


def _paired(old: Sequence[Node], new: Sequence[Node]) -> list[tuple[int, int]]:
    """Which rows are the same row changed, in order: the most alike first."""
    import difflib

    scored = sorted(
        (
            (difflib.SequenceMatcher(None, said(one), said(other), False).ratio(), -abs(i - j), i, j)
            for i, one in enumerate(old)
            for j, other in enumerate(new)
            if type(one) is type(other)
        ),
        reverse=True,
    )
    pairs: list[tuple[int, int]] = []
    for score, _, i, j in scored:
        if score >= _ALIKE and all((i < a) == (j < b) and i != a and j != b for a, b in pairs):
            pairs.append((i, j))
    return pairs


def said(node: Node | None) -> str:
    """A value on one line, as it might be typed; empty for none."""
    if node is None:
        return ""
    if isinstance(node, Scalar):
        return " ".join(node.text.split())
    if isinstance(node, Entries):
        return "; ".join(f"{key.text.replace('_', ' ')}: {said(child)}" for key, child in node.entries)
    return ", ".join(said(child) for child in node.items)


def where(path: Path) -> str:
    """A place in words: `steps 3, do`; rows of a list are counted from 1."""
    parts: list[str] = []
    for step in path:
        if isinstance(step, int):
            parts[-1:] = [f"{parts[-1]} {step + 1}" if parts else str(step + 1)]
        else:
            parts.append(step.replace("_", " "))
    return ", ".join(parts)


def is_control(difference: Difference) -> bool:
    """Whether it is of the document's own data, which every revision changes."""
    return bool(difference.path) and difference.path[0] in CONTROL


@dataclass(frozen=True, slots=True)
class Changed:
    """Where a bar stands: the lines of a file whose content changed, and the texts that are new in it.

    Of what was taken out, the line where it stood. A text is looked for by itself too: of a list only the first line is known.
    """

    lines: frozenset[int] = frozenset()
    texts: frozenset[str] = frozenset()


# A shorter text may stand in many places.
_TELLING = 8


def changed_in(found: Sequence[Difference]) -> Changed:
    """What is to be barred of these differences; control data is not."""
    lines: set[int] = set()
    texts: set[str] = set()
    for one in found:
        if is_control(one):
            continue
        if one.after is None:
            lines.add(one.at.line)
            continue
        for _, leaf in leaves(one.after):
            lines.add(leaf.span.line)
            if len(leaf.text) >= _TELLING:
                texts.add(said(leaf))
    return Changed(frozenset(lines), frozenset(texts))
