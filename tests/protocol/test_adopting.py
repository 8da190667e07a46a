"""What changes in a protocol that another clinic takes over, in cases that no file of the shipped book holds."""

from __future__ import annotations

from datetime import date

from generator.protocol.adopting import Terms, changes, head, needs
from generator.source.editing import edited
from generator.source.text import read_tree
from generator.source.tree import Entries

TERMS = Terms(
    "the shipped library", "the shipped book", date(2027, 1, 4), frozenset({"part-a"}), {"part-a": "7", "part-b": "1"}
)


def tree_of(text: str) -> Entries:
    reading = read_tree(text.encode(), "x.yaml")
    assert isinstance(reading.tree, Entries), reading.problems
    return reading.tree


def adopted(text: str) -> str:
    tree = tree_of(text)
    return edited(text.split("\n"), tree, tuple(changes(tree, TERMS)))


def test_a_dressing_that_the_wound_chooses_needs_every_one_that_may_be_taken() -> None:
    text = """
stages:
  maturation:
    layers:
      - {layer: contact, material: by the wound, prefer: [silicone net, foam sheet]}
      - {layer: outer, material: cohesive wrap}
    signs: [wet]
layers:
  - {layer: outer, material: cohesive wrap}
  - {layer: contact, needed_if: wound}
signs: [slipped, wet]
"""
    assert needs(tree_of(text)) == (("cohesive wrap", "silicone net", "foam sheet"), ("slipped", "wet"))


def test_rolls_by_weight_from_memory_are_marked_on_each_layer_that_has_them() -> None:
    text = """layers:
  - {layer: padding, rolls: {1 kg to 10 kg: 1}}   # ours
  - layer: outer
    rolls: {1 kg to 10 kg: 2}
  - {layer: conforming, passes: 1}
sources: {rolls: from memory}
"""
    mark = "  # to decide: rolls, from memory in the shipped book; confirm or change"
    assert adopted(text) == text.replace("# ours", f"# ours{mark}").replace("kg: 2}", f"kg: 2}}{mark}")


def test_limits_in_one_line_are_named_in_their_marks() -> None:
    text = "limits: {change_every: 3 d, remove_by: 9 d, go_home: no}\nsources: {change_every: clinic's own, remove_by: {published: [3]}}\n"
    assert adopted(text) == text.replace(
        "no}\n", "no}  # to decide: change_every, own figure of the shipped book; confirm or change\n"
    )


def test_a_source_of_what_stands_nowhere_is_marked_where_it_is() -> None:
    text = "limits:\n  change_every: 3 d\nsources:\n  change_every: common practice\n  toe wool: house rule\n"
    assert adopted(text) == text.replace(
        "toe wool: house rule",
        "toe wool: house rule  # to decide: toe wool, house rule of the shipped book; confirm or change",
    )


def test_what_a_blend_was_reviewed_against_is_written_anew() -> None:
    text = "blend: [part-a, part-b@maturation, part-c]\nreviewed_against: {part-a: 2}  # read in spring\n"
    assert adopted(text) == text.replace("{part-a: 2}", "{part-a: 7, part-b: 1, part-c: to decide}")


def test_a_number_that_could_end_a_text_is_not_carried_over() -> None:
    for number in ("A, B", "to decide", "{x: 1}", "A # B"):
        tree = tree_of(f'id: "{number}"\nrevision: 3\n' if number[0] != "{" else f"id: {number}\nrevision: 3\n")
        assert "from the shipped library. Nobody" in head(tree, TERMS)
    assert "from the shipped library (LB-1 revision 3). Nobody" in head(tree_of("id: LB-1\nrevision: 3\n"), TERMS)
