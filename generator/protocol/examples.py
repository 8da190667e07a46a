"""Lay the few lines of an example over a sound file, as if a head technician had typed them there.

Takes  the tree of an example and the trees of a sound book.
Gives  `laid_over`: the sound file with the example's lines in place of its own; `sample_for`: the file an example belongs to.
Knows  which groups of keys an example names only in part, and what `...` stands for; nothing of any rule.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath

from generator.source.tree import Entries, Items, Node, Scalar

# In the list of an example: the other entries of the sound file, as they stand there.
REST = "..."
# Groups that an example names in part: the keys it leaves out are the sound file's own. Limits with `supervised` are whole.
_IN_PART = ("limits", "stages", "materials", "owner")
_WHOLE = "supervised"


def laid_over(sample: Node, example: Node) -> Node:
    """The sample with the example's keys in place of the same keys of its own; every value keeps its place in its own text."""
    if not (isinstance(sample, Entries) and isinstance(example, Entries)):
        return example
    return _merged(sample, example, within="")


def _merged(sample: Entries, example: Entries, within: str) -> Entries:
    own = {name.text: (name, node) for name, node in sample.entries}
    new = {}
    for name, node in example.entries:
        mine = own.get(name.text)
        new[name.text] = (name, node if mine is None else _value(mine[1], node, name.text, within))
    kept = tuple(new.pop(name, pair) for name, pair in own.items())
    return Entries((*kept, *new.values()), example.span)


def _value(sample: Node, example: Node, key: str, within: str) -> Node:
    if isinstance(sample, Entries) and isinstance(example, Entries):
        is_stage = within == "stages"
        if is_stage or (key in _IN_PART and example.get(_WHOLE) is None):
            return _merged(sample, example, within=key)
    if isinstance(sample, Items) and isinstance(example, Items):
        return _listed(sample, example)
    return example


def _listed(sample: Items, example: Items) -> Items:
    """The example's list; where it has `...`, the sample's entries too.

    An entry that names a layer stands in place of the sample's first for that layer that is not taken; any other stands before
    or after the sample's, on its side of `...`. A plain word that the example lists is not listed once more.
    """
    at = next((i for i, item in enumerate(example.items) if isinstance(item, Scalar) and item.text == REST), None)
    if at is None:
        return example
    before, after = list(example.items[:at]), list(example.items[at + 1 :])
    words = {item.text for item in example.items if isinstance(item, Scalar)}
    rest = [item for item in sample.items if not (isinstance(item, Scalar) and item.text in words)]
    taken: set[int] = set()
    for side in (before, after):
        for entry in list(side):
            place = next(
                (i for i, own in enumerate(rest) if i not in taken and _layer(own) == _layer(entry) is not None), None
            )
            if place is not None:
                rest[place] = entry
                taken.add(place)
                side.remove(entry)
    return Items((*before, *rest, *after), example.span)


def _layer(node: Node) -> str | None:
    layer = node.get("layer") if isinstance(node, Entries) else None
    return layer.text if isinstance(layer, Scalar) else None


def sample_for(example: Node, trees: Mapping[str, Node]) -> str:
    """The file that an example's lines belong to: the first protocol of its kind, in the order of names; or the first blend.

    Raises:
        LookupError: the book has no such file.
    """
    for name in sorted(trees):
        tree = trees[name]
        if not isinstance(tree, Entries) or not isinstance(example, Entries) or "patients" in PurePath(name).parts:
            continue
        if example.get("blend") is not None:
            if tree.get("blend") is not None:
                return name
        elif _kind(tree) is not None and _kind(tree) == _kind(example):
            return name
    raise LookupError("no protocol of the kind that the example is of")


def _kind(tree: Entries) -> str | None:
    kind = tree.get("kind")
    return kind.text if isinstance(kind, Scalar) else None
