"""What must change in a protocol when another clinic takes it over, and what it needs that the clinic may lack.

Takes  the located tree of a protocol of the library, and the terms under which it is taken over.
Gives  `changes`: what is to be written, dropped and noted in its text; `needs`: the materials and signs it names.
Knows  which values are a person's word and cannot be inherited: numbers, dates, signatures, another house's rules.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from generator.protocol.kinds import BY_THE_WOUND
from generator.protocol.shapes import TO_DECIDE, is_open
from generator.source.change import After, Change, Drop, Note, Put, Rows
from generator.source.tree import Entries, Items, Node, Scalar

# Whose word a clinic cannot take over unread, and what then stands beside the figure.
UNPROVEN = {"house rule": "house rule of", "clinic's own": "own figure of", "from memory": "from memory in"}
# Another clinic's price list and another hand's measurements are not this clinic's.
NOT_OURS = ("price", "tension")
_SIGNED = ("id", "effective", "review_by", "prepared_by", "approved_by")


@dataclass(frozen=True, slots=True)
class Terms:
    """Under what a protocol is taken over.

    library: where from, in words (`the shipped library`). theirs: whose figures they are (`the shipped book`).
    today: the day, in the clinic's zone. book: the protocols that the clinic's book will then have. revisions: of the
    protocols that it has or will have, as they are to be written.
    """

    library: str
    theirs: str
    today: date
    book: frozenset[str]
    revisions: Mapping[str, str] = field(default_factory=dict)


def head(tree: Entries, terms: Terms) -> str:
    """The comment above the first line: where the file comes from and what is to be done with it."""
    return (
        f"# Adopted on {terms.today} from {terms.library}{_number(tree)}. Nobody of this clinic has signed it: nothing prints from it yet.\n"
        f"# Next: read every line with your clinicians, write a value wherever `{TO_DECIDE}` stands, confirm or change what is marked\n"
        "# so at the end of a line, and run `gauzeleaf check`. Delete these lines when it is signed.\n"
        f"# Every figure is that of {terms.theirs} until your own people have read it; the attending veterinarian and local law come first.\n"
    )


def _number(tree: Entries) -> str:
    number, revision = tree.get("id"), tree.get("revision")
    if not isinstance(number, Scalar) or not isinstance(revision, Scalar) or is_open(number):
        return ""
    said = f"{number.text} revision {revision.text}"
    # It goes between braces: whatever could end a text there stays out.
    return f" ({said})" if re.fullmatch(r"[A-Za-z0-9._/ -]+", said) else ""


def changes(tree: Entries, terms: Terms) -> Iterator[Change]:
    """Everything that is to be different in the clinic's copy."""
    for key, node in tree.entries:
        if key.text in _SIGNED:
            yield Put(key, node, TO_DECIDE)
        elif key.text == "revision":
            yield Put(key, node, "1")
        elif key.text == "history":
            yield from _history(tree, key, node, terms)
        elif key.text == "do_not_use_when":
            yield from _elsewhere(node, terms)
        elif key.text == "reviewed_against":
            yield Put(key, node, _read_revisions(tree, terms))
        elif key.text == "blend" and tree.get("reviewed_against") is None:
            yield After(node, f"reviewed_against: {_read_revisions(tree, terms)}")
        elif key.text == "settles":
            yield from _settled(node)
    for part in (tree, *_stages(tree)):
        yield from _unproven(part, terms)


def _history(tree: Entries, key: Scalar, node: Node, terms: Terms) -> Iterator[Change]:
    row = (
        f"{{revision: 1, date: {terms.today}, change: adopted from {terms.library}{_number(tree)}, "
        f"why: {TO_DECIDE}, by: {TO_DECIDE}}}"
    )
    yield Rows(node, (row,)) if isinstance(node, Items) and node.items else Put(key, node, f"[{row}]")


def _elsewhere(node: Node, terms: Terms) -> Iterator[Change]:
    """A protocol that is named instead and that the clinic's book will not have: the reader would look for it in vain."""
    for case in node.items if isinstance(node, Items) else ():
        instead = case.get("instead") if isinstance(case, Entries) else None
        if isinstance(case, Entries) and isinstance(instead, Scalar) and instead.text not in terms.book:
            yield Drop(
                case, "instead", f"in {terms.library}, `instead: {instead.text}`; write it here once your book has that"
            )


def parts_of(tree: Entries) -> tuple[Scalar, ...]:
    """The parts of a stored blend, as written: `open-wound@inflammatory`."""
    blend = tree.get("blend")
    return tuple(part for part in blend.items if isinstance(part, Scalar)) if isinstance(blend, Items) else ()


def _read_revisions(tree: Entries, terms: Terms) -> str:
    slugs = dict.fromkeys(part.text.partition("@")[0] for part in parts_of(tree))
    return "{" + ", ".join(f"{slug}: {terms.revisions.get(slug, TO_DECIDE)}" for slug in slugs) + "}"


def _settled(node: Node) -> Iterator[Change]:
    for row in node.items if isinstance(node, Items) else ():
        for key, value in row.entries if isinstance(row, Entries) else ():
            if key.text == "decided_by":
                yield Put(key, value, TO_DECIDE)


def _stages(tree: Entries) -> tuple[Entries, ...]:
    stages = tree.get("stages")
    return (
        tuple(stage for _, stage in stages.entries if isinstance(stage, Entries)) if isinstance(stages, Entries) else ()
    )


def _pair(group: Node | None, name: str) -> Iterator[tuple[Scalar, Node]]:
    """A key of a group with its value, if the group has it."""
    for key, node in group.entries if isinstance(group, Entries) else ():
        if key.text == name:
            yield key, node


def _layers(part: Entries) -> Iterator[Entries]:
    layers = part.get("layers")
    yield from (layer for layer in (layers.items if isinstance(layers, Items) else ()) if isinstance(layer, Entries))


def _unproven(part: Entries, terms: Terms) -> Iterator[Change]:
    """A mark beside each figure that rests on nothing printed: where the figure stands, or else beside its source."""
    sources = part.get("sources")
    places: list[tuple[Scalar, Node, str]] = []
    for name, source in sources.entries if isinstance(sources, Entries) else ():
        if not isinstance(source, Scalar) or source.text not in UNPROVEN:
            continue
        found = list(_pair(part.get("limits"), name.text))
        found = found or [pair for layer in _layers(part) for pair in _pair(layer, name.text)] or [(name, source)]
        places += [(key, node, source.text) for key, node in found]
    for key, node, word in places:
        # Two figures may share a line: then each is named.
        alone = sum(other.span.line == key.span.line for other, _, _ in places) == 1 and _begins_its_line(part, key)
        figure = "" if alone else f"{key.text}, "
        yield Note(key, node, f"{TO_DECIDE}: {figure}{UNPROVEN[word]} {terms.theirs}; confirm or change")


def _begins_its_line(part: Entries, key: Scalar) -> bool:
    """Whether no other key of the limits stands on the key's line before or behind it."""
    limits = part.get("limits")
    others = [name for name, _ in limits.entries] if isinstance(limits, Entries) else []
    return key in others and sum(name.span.line == key.span.line for name in others) == 1


def needs(tree: Entries) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The materials and the signs that a protocol names, in the order in which it does."""
    materials: list[str] = []
    signs: list[str] = []
    for part in (tree, *_stages(tree)):
        for layer in _layers(part):
            prefer = layer.get("prefer")
            named = [layer.get("material"), *(prefer.items if isinstance(prefer, Items) else ())]
            materials += [node.text for node in named if isinstance(node, Scalar) and node.text != BY_THE_WOUND]
        listed = part.get("signs")
        signs += [node.text for node in (listed.items if isinstance(listed, Items) else ()) if isinstance(node, Scalar)]
    return tuple(dict.fromkeys(materials)), tuple(dict.fromkeys(signs))


def without_what_is_not_ours(material: Node) -> tuple[Change, ...]:
    """A material of another clinic's stock, less what only that clinic could know."""
    return tuple(Drop(material, key) for key in NOT_OURS) if isinstance(material, Entries) else ()
