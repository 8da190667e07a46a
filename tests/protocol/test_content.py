"""The digest of what a protocol says: the same whoever reads the file, and blind to nothing but layout."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Any

import pytest
import yaml

from generator.protocol.changes import Changed, changed_in, differences, is_control, where
from generator.protocol.content import content_digest, leaves
from generator.source.text import read_tree
from generator.source.tree import Node
from tests.conftest import ROOT

FILES = sorted((ROOT / "protocols").glob("*.yaml"))


def tree(text: str) -> Node:
    found = read_tree(text.encode(), "x.yaml").tree
    assert found is not None
    return found


def said(data: Any, path: tuple[str, ...] = ()) -> Iterator[str]:
    """As PyYAML itself reads a file, every scalar a text."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from said(value, (*path, key))
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from said(value, (*path, f"\x1d{index}"))
    else:
        yield "\x1f".join((*path, " ".join(data.split())))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_another_reader_comes_to_the_same_digest(file: Any) -> None:
    # The reference reader is PyYAML's BaseLoader; the digest that of FIPS 180-4 as the standard library has it.
    rows = sorted(said(yaml.load(file.read_bytes(), Loader=yaml.BaseLoader)))
    found = read_tree(file.read_bytes(), file.name).tree
    assert found is not None
    assert content_digest(found) == hashlib.sha256("\x1e".join(rows).encode()).hexdigest()


BOOK = "title: Wrap\nlimits: {first_check: 12 h to 24 h, go_home: yes}\nsteps:\n  - {do: Dry it.}\n  - {do: Wrap it.}\n"


@pytest.mark.parametrize(
    "same",
    [
        "# a comment\n" + BOOK,
        BOOK.replace("title: Wrap", 'title:   "Wrap"   # why'),
        "limits:\n  go_home: yes\n  first_check: 12 h to 24 h\ntitle: Wrap\nsteps: [{do: Dry it.}, {do: Wrap it.}]\n",
        BOOK.replace("\n", "\r\n"),
    ],
)
def test_comments_layout_and_the_order_of_keys_say_nothing(same: str) -> None:
    assert content_digest(tree(same)) == content_digest(tree(BOOK))
    assert differences(tree(BOOK), tree(same)) == ()


@pytest.mark.parametrize(
    "other",
    [
        BOOK.replace("24 h", "25 h"),
        BOOK.replace("Dry it.", "Dry it"),
        BOOK.replace("  - {do: Wrap it.}\n", ""),
        BOOK.replace("  - {do: Dry it.}\n  - {do: Wrap it.}", "  - {do: Wrap it.}\n  - {do: Dry it.}"),
        BOOK.replace("title", "titel"),
        BOOK.replace("{do: Dry it.}", "[{do: Dry it.}]"),
    ],
)
def test_every_word_figure_and_order_of_rows_counts(other: str) -> None:
    assert content_digest(tree(other)) != content_digest(tree(BOOK))
    assert differences(tree(BOOK), tree(other))


@pytest.mark.parametrize(
    "file", [f for f in FILES if "steps:" in f.read_text(encoding="utf-8")], ids=lambda file: file.stem
)
def test_a_difference_stands_at_the_value_that_changed_and_nowhere_else(file: Any) -> None:
    """Each single value of a protocol is spoilt in turn."""
    before = read_tree(file.read_bytes(), file.name)
    assert before.tree is not None
    for path, leaf in list(leaves(before.tree))[::7]:
        lines = list(before.lines)
        at = leaf.span.line - 1
        start = leaf.span.column - 1
        if leaf.quoted or leaf.text not in lines[at][start:]:
            continue
        lines[at] = lines[at][:start] + lines[at][start:].replace(leaf.text, "spoilt", 1)
        after = read_tree("\n".join(lines).encode(), file.name).tree
        assert after is not None
        found = differences(before.tree, after)
        assert {one.at.line for one in found} <= {leaf.span.line, leaf.span.line - 1}, path
        assert any(one.now.endswith("spoilt") or "spoilt" in one.now for one in found), path


def test_a_row_put_in_moves_the_others_and_changes_none() -> None:
    longer = BOOK.replace("  - {do: Wrap it.}", "  - {do: Look at the toes.}\n  - {do: Wrap it.}")
    (one,) = differences(tree(BOOK), tree(longer))
    assert (one.path, one.before, one.now, where(one.path)) == (("steps", 1), None, "do: Look at the toes.", "steps 2")
    assert changed_in([one]).lines == {5}


def test_what_was_taken_out_is_told_where_it_stood() -> None:
    shorter = BOOK.replace("  - {do: Wrap it.}\n", "")
    (one,) = differences(tree(BOOK), tree(shorter))
    assert (one.was, one.after, one.at.line) == ("do: Wrap it.", None, 4)


def test_a_row_reworded_is_one_change_not_two() -> None:
    (one,) = differences(tree(BOOK), tree(BOOK.replace("Wrap it.", "Wrap it well.")))
    assert (where(one.path), one.was, one.now) == ("steps 2, do", "Wrap it.", "Wrap it well.")


def test_control_data_is_no_change_of_what_is_done() -> None:
    found = differences(tree("revision: 1\ntitle: a\n"), tree("revision: 2\ntitle: a\n"))
    assert [is_control(one) for one in found] == [True]
    assert changed_in(found) == Changed()
