"""Single values of a text are changed, and every other letter stays: whatever layout the author chose."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.source.change import After, Change, Drop, First, Note, Put, Rows
from generator.source.editing import Unchangeable, appended, edited, lines_of
from generator.source.text import read_tree
from generator.source.tree import Entries, Items, Node, Scalar
from tests.conftest import ROOT

FILES = sorted((ROOT / "protocols").glob("*.yaml"))


def tree_of(text: str) -> Entries:
    reading = read_tree(text.encode(), "x.yaml")
    assert isinstance(reading.tree, Entries), reading.problems
    return reading.tree


def pair(group: Entries, name: str) -> tuple[Scalar, Node]:
    return next(found for found in group.entries if found[0].text == name)


def put(text: str, name: str, value: str) -> str:
    tree = tree_of(text)
    return edited(text.split("\n"), tree, (Put(*pair(tree, name), value),))


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a: 1\nb: 2\n", "a: new\nb: 2\n"),
        ("a:   1      # why\nb: 2\n", "a:   new      # why\nb: 2\n"),
        ("a: {x: 1, y: [2, 3]}  # why\nb: 2\n", "a: new  # why\nb: 2\n"),
        ('a: "1 # no comment"  # why\nb: 2\n', "a: new  # why\nb: 2\n"),
        ("a: 'it''s'\nb: 2\n", "a: new\nb: 2\n"),
        ("a: {x: 1,   # inside\n    y: 2}  # why\nb: 2\n", "a: new  # why\nb: 2\n"),
        ("a:   # who\n  x: 1\n  y: 2\n\n# of b\nb: 2\n", "a: new   # who\n\n# of b\nb: 2\n"),
        ("a:\n  - 1\n  - 2\nb: 2\n", "a: new\nb: 2\n"),
        ("a:\n- 1\n- 2\n# end", "a: new\n# end"),
        ("a: a text that goes\n  on here  # why\nb: 2\n", "a: new  # why\nb: 2\n"),
        ("a: >\n  folded\n  text\n\n# of b\nb: 2\n", "a: new\n\n# of b\nb: 2\n"),
        ("a:\nb: 2\n", "a: new\nb: 2\n"),
        ("a:      # to come\nb: 2\n", "a: new      # to come\nb: 2\n"),
        ('"a" : 1\nb: 2\n', '"a" : new\nb: 2\n'),
        ("{a: 1, b: 2}\n", "{a: new, b: 2}\n"),
        ("# ñ first\na: ñandú  # ñ\nb: 2", "# ñ first\na: new  # ñ\nb: 2"),
    ],
)
def test_a_value_is_replaced_where_it_stands(before: str, after: str) -> None:
    assert put(before, "a", "new") == after


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a:\n  - {x: 1}\n  - {x: 2}  # last\nb: 2\n", "a:\n  - one\n  - two  # last\nb: 2\n"),
        ("a:\n- x: 1\n  y: 2\n# of b\nb: 2\n", "a:\n- one\n- two\n# of b\nb: 2\n"),
        ("a: [1, 2]  # why\n", "a: [one, two]  # why\n"),
        ("a: [\n  1,  # first\n  2]\nb: 2\n", "a: [one, two]\nb: 2\n"),
    ],
)
def test_rows_are_replaced_and_the_list_keeps_its_form(before: str, after: str) -> None:
    tree = tree_of(before)
    node = tree.get("a")
    assert isinstance(node, Items)
    assert edited(before.split("\n"), tree, (Rows(node, ("one", "two")),)) == after


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a: {x: 1, y: 2, z: 3}\n", "a: {x: 1, z: 3}\n"),
        ("a: {x: 1, y: 2}\n", "a: {x: 1}\n"),
        ("a: {y: 2, z: 3}\n", "a: {z: 3}\n"),
        ("a: {y: {q: 1, r: 2}}\n", "a: {}\n"),
        ("a: {x: 1,\n    y: 2}  # why\n", "a: {x: 1}  # why\n"),
        ("a:\n  x: 1\n  y: 2  # of y\n  z: 3\n", "a:\n  x: 1\n  z: 3\n"),
        ("a:\n  x: 1\n  y:  # of y\n    q: 1\n    r: 2\n  # of z\n  z: 3\n", "a:\n  x: 1\n  # of z\n  z: 3\n"),
        ("a:\n  x: 1\n  y: 2", "a:\n  x: 1\n"),
        ("a: {x: one, and more, y: 2}\n", "a: {x: one, and more}\n"),
    ],
)
def test_a_key_is_taken_out_of_its_group(before: str, after: str) -> None:
    tree = tree_of(before)
    group = tree.get("a")
    assert isinstance(group, Entries)
    assert edited(before.split("\n"), tree, (Drop(group, "y"),)) == after


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a: {x: 1, y: 2}  # why\n", "a: {x: 1}  # why  # was y\n"),
        ("a:\n  x: 1\n  y: 2\n  z: 3\n", "a:\n  x: 1\n  # was y\n  z: 3\n"),
        ("a:\n  y: 2\n  z: 3\n", "a:\n  # was y\n  z: 3\n"),
    ],
)
def test_in_the_place_of_what_is_taken_out_a_comment_can_stand(before: str, after: str) -> None:
    tree = tree_of(before)
    group = tree.get("a")
    assert isinstance(group, Entries)
    assert edited(before.split("\n"), tree, (Drop(group, "y", "was y"),)) == after


def test_a_key_that_is_not_there_is_not_taken_out() -> None:
    text = "a: {x: 1}\n"
    tree = tree_of(text)
    group = tree.get("a")
    assert isinstance(group, Entries)
    assert edited(text.split("\n"), tree, (Drop(group, "y", "was y"),)) == text


def test_the_first_key_of_a_row_leaves_its_dash() -> None:
    text = "a:\n  - y: 2\n    z: 3\n  - z: 4\n"
    tree = tree_of(text)
    rows = tree.get("a")
    assert isinstance(rows, Items)
    group = rows.items[0]
    assert isinstance(group, Entries)
    new = edited(text.split("\n"), tree, (Drop(group, "y", "was y"),))
    assert new == "a:\n  - # was y\n    z: 3\n  - z: 4\n"
    assert yaml.safe_load(new) == {"a": [{"z": 3}, {"z": 4}]}


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a: 1\nb: 2\n", "a: 1  # note\nb: 2\n"),
        ("a: 1   # why\nb: 2\n", "a: 1   # why  # note\nb: 2\n"),
        ("a: a text that goes\n  on\nb: 2\n", "a: a text that goes\n  on  # note\nb: 2\n"),
        ("a: |\n  as it\n  stands\nb: 2\n", "a: |  # note\n  as it\n  stands\nb: 2\n"),
        ("a: {x: 1,\n  y: 2}\n", "a: {x: 1,\n  y: 2}  # note\n"),
    ],
)
def test_a_comment_is_put_where_it_is_no_text(before: str, after: str) -> None:
    tree = tree_of(before)
    assert edited(before.split("\n"), tree, (Note(*pair(tree, "a"), "note"),)) == after


def test_a_comment_that_would_become_text_is_refused() -> None:
    text = 'a: {x: 1, y: "a text\n  that goes on"}\n'
    tree = tree_of(text)
    group = tree.get("a")
    assert isinstance(group, Entries)
    with pytest.raises(Unchangeable):
        edited(text.split("\n"), tree, (Note(*pair(group, "x"), "note"),))


def test_a_line_after_a_value_goes_below_all_of_it() -> None:
    text = "a:\n  - 1\n  - 2  # last\n\nb: 2\n"
    tree = tree_of(text)
    node = tree.get("a")
    assert node is not None
    assert edited(text.split("\n"), tree, (After(node, "new: 3"),)) == "a:\n  - 1\n  - 2  # last\nnew: 3\n\nb: 2\n"


def test_two_changes_of_one_value_are_refused() -> None:
    text = "a: {x: 1}\nb: 2\n"
    tree = tree_of(text)
    group = tree.get("a")
    assert isinstance(group, Entries)
    with pytest.raises(Unchangeable):
        edited(text.split("\n"), tree, (Put(*pair(tree, "a"), "new"), Drop(group, "x")))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_without_a_change_every_letter_stays(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert edited(text.split("\n"), tree_of(text), ()) == text


def scalars(node: Node) -> list[tuple[Scalar, Scalar]]:
    """Every single value that stands behind a key, with the key."""
    if isinstance(node, Scalar):
        return []
    if isinstance(node, Items):
        return [found for item in node.items for found in scalars(item)]
    own = [(key, value) for key, value in node.entries if isinstance(value, Scalar)]
    return own + [found for _, value in node.entries for found in scalars(value)]


@settings(max_examples=80, deadline=None)
@given(st.data())
def test_any_values_of_any_file_can_be_changed_and_nothing_else_is(data: st.DataObject) -> None:
    file = data.draw(st.sampled_from(FILES))
    text = file.read_text(encoding="utf-8")
    tree = tree_of(text)
    places = scalars(tree)
    chosen = data.draw(st.sets(st.integers(0, len(places) - 1), max_size=5))
    changes: list[Change] = [Put(*places[index], "quite new") for index in chosen]
    new = edited(text.split("\n"), tree, changes)
    # An independent look: PyYAML's own loader sees the same data but for these values.
    assert _differing(yaml.load(text, yaml.BaseLoader), yaml.load(new, yaml.BaseLoader)) == len(
        [index for index in chosen if places[index][1].text != "quite new"]
    )
    assert len(new.split("\n")) == len(text.split("\n"))
    assert [line.partition("#")[2] for line in new.split("\n")] == [line.partition("#")[2] for line in text.split("\n")]


def _differing(one: object, other: object) -> int:
    if isinstance(one, dict) and isinstance(other, dict):
        assert list(one) == list(other)
        return sum(_differing(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        assert len(one) == len(other)
        return sum(map(_differing, one, other))
    if one != other:
        assert other == "quite new"
        return 1
    return 0


def test_the_lines_of_a_key_are_cut_out_whole() -> None:
    text = "m:\n    one: {x: 1}  # of one\n    two:\n        x: 1\n\n        # of y\n        y: 2  # last\n    # of three\n    three: 3\n"
    tree = tree_of(text)
    group = tree.get("m")
    assert isinstance(group, Entries)
    assert lines_of(text.split("\n"), group, "one") == ("one: {x: 1}  # of one",)
    assert lines_of(text.split("\n"), group, "two") == ("two:", "    x: 1", "", "    # of y", "    y: 2  # last")


def test_lines_that_are_shared_are_not_cut_out() -> None:
    text = "m: {one: {x: 1}, two: 2}\n"
    group = tree_of(text).get("m")
    assert isinstance(group, Entries)
    for name in ("one", "two"):
        with pytest.raises(Unchangeable):
            lines_of(text.split("\n"), group, name)


@pytest.mark.parametrize("end", ["", "\n", "\n\n", "  # last\n", "\n# the end", "\n    # deep\n"])
def test_a_block_is_added_below_whatever_ends_a_file(end: str) -> None:
    before = "m:\n   one:\n      x: 1" + end
    after = appended(before.encode(), "x.yaml", {"two": ("two:", "  y: 2")}, "m", "ours").decode()
    assert after.startswith(before)
    assert after.endswith("\n   # ours\n   two:\n     y: 2\n")
    assert yaml.safe_load(after) == {"m": {"one": {"x": 1}, "two": {"y": 2}}}


@pytest.mark.parametrize(
    "before",
    ["m: {one: 1}\n", "m:\n  one: 1\nn: 2\n", "m:\n  one: 1\n...\n", "m: one\n", "m:\n  one: [1\n", "m: [one]\n"],
)
def test_where_there_is_no_room_at_the_end_nothing_is_added(before: str) -> None:
    with pytest.raises(Unchangeable):
        appended(before.encode(), "x.yaml", {"two": ("two:", "  y: 2")}, "m", "ours")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a:\n  - x: 1\n  - x: 2\nb: 2\n", "a:\n  - {x: 0}\n  - x: 1\n  - x: 2\nb: 2\n"),
        ("a:   # newest first\n  - {x: 1}\nb: 2\n", "a:   # newest first\n  - {x: 0}\n  - {x: 1}\nb: 2\n"),
        ("a:\n- x: 1\n  y: 2\n# end", "a:\n- {x: 0}\n- x: 1\n  y: 2\n# end"),
        ("a: [{x: 1}, {x: 2}]  # why\n", "a: [{x: 0}, {x: 1}, {x: 2}]  # why\n"),
        ("a:\n  # of the newest\n  - {x: 1}\n", "a:\n  # of the newest\n  - {x: 0}\n  - {x: 1}\n"),
    ],
)
def test_a_row_comes_first_and_the_others_stay(before: str, after: str) -> None:
    tree = tree_of(before)
    rows = tree.get("a")
    assert isinstance(rows, Items)
    assert edited(before.split("\n"), tree, (First(rows, "{x: 0}"),)) == after
    # Another reader finds the new row on top and every other one after it.
    old, new = yaml.safe_load(before)["a"], yaml.safe_load(after)["a"]
    assert new == [{"x": 0}, *old]


@pytest.mark.parametrize(
    "file", [f for f in FILES if "history:" in f.read_text(encoding="utf-8")], ids=lambda file: file.stem
)
def test_every_shipped_history_takes_a_row(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    tree = tree_of(text)
    rows = tree.get("history")
    assert isinstance(rows, Items)
    new = edited(text.split("\n"), tree, (First(rows, "{revision: 99}"), Put(*pair(tree, "revision"), "99")))
    changed = [line for line in new.split("\n") if line not in text.split("\n")]
    assert changed == ["revision: 99", "  - {revision: 99}"]
