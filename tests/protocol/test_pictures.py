"""pictures.yaml: the same words always have the same picture, and every picture it may name can be drawn."""

from __future__ import annotations

from typing import Any

import pytest

from generator.page.pictograms import PICTOGRAMS
from generator.protocol.kinds import PICTURES as NAMES
from generator.protocol.pictures import PICTURES
from generator.source.problem import Problem
from generator.source.text import read_tree


def read(text: str) -> tuple[Any, list[Problem]]:
    reading = read_tree(text.encode(), "pictures.yaml")
    assert reading.tree is not None, reading.problems
    problems: list[Problem] = []
    return PICTURES.read(reading.tree, problems), problems


def test_every_picture_that_may_be_named_is_drawn_and_every_drawn_one_but_the_arrow_to_the_clinic_may_be_named() -> (
    None
):
    assert {name.replace(" ", "-") for name in NAMES} == set(PICTOGRAMS) - {"go-now"}


def test_a_line_finds_its_picture_whether_it_stands_alone_or_in_a_list() -> None:
    found, problems = read("cone: Keep the cone on.\nkeep dry:\n  - Keep {pet} dry.\n  - Wipe {pet} dry.\n")
    assert problems == []
    assert {line: pictured.picture for line, pictured in found.items()} == {
        "Keep the cone on.": "cone",
        "Keep {pet} dry.": "keep dry",
        "Wipe {pet} dry.": "keep dry",
    }
    assert (found["Wipe {pet} dry."].span.line, found["Wipe {pet} dry."].span.column) == (4, 5)


@pytest.mark.parametrize(
    ("text", "name", "place", "says"),
    [
        ("cones: Keep it on.\n", "unknown-picture", (1, 1), "write `cone`"),
        ("no cone: Take it off.\n", "unknown-picture", (1, 1), "cone"),
        ("cone: Keep it on.\ncrate: Keep it on.\n", "two-pictures", (2, 8), "already has the picture `cone`"),
        ("cone: Keep it on for 3 days.\n", "digits-in-owner-text", (1, 7), ""),
        ("cone: Keep {owner} on.\n", "unknown-field", (1, 7), ""),
        ("cone:\n", "value-missing", (1, 6), ""),
    ],
)
def test_what_is_wrong_is_told_at_its_place(text: str, name: str, place: tuple[int, int], says: str) -> None:
    _, problems = read(text)
    assert [(p.name, (p.span.line, p.span.column)) for p in problems] == [(name, place)]
    assert says in f"{problems[0].what} {problems[0].fix}"


def test_one_wrong_picture_does_not_hide_what_is_wrong_with_the_others() -> None:
    found, problems = read("cones: Keep it on.\ncrate: Keep it shut for 3 days.\nsmell: [Smell it.]\ncone: Smell it.\n")
    assert [(p.name, p.span.line) for p in problems] == [
        ("unknown-picture", 1),
        ("digits-in-owner-text", 2),
        ("two-pictures", 4),
    ]
    assert list(found) == ["Smell it."]
