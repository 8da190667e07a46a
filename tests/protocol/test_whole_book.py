"""A slip in a protocol of the shipped book brings one problem in all, the trade's rules included, and never a crash."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from generator.protocol.model import Book
from generator.protocol.rules import problems_of
from generator.protocol.shapes import is_unsound
from generator.protocol.vocabulary import read_protocol
from generator.source.problem import Problem
from generator.source.text import read_tree
from tests.conftest import ROOT, review
from tests.protocol.samples import READERS, Site, keys_in, samples
from tests.protocol.test_every_key import wrong_form
from tests.protocol.writing import Raw, changed, renamed, without, write

SHIPPED = [
    name
    for name, (kind, _) in samples().items()
    if kind in ("protocol", "staged", "blend") and not name.startswith("extra/")
]


@cache
def book() -> Book:
    found = review(ROOT / "protocols").book
    assert found is not None
    return found


def errors_in(name: str, data: Any) -> list[Problem]:
    """Every error of one file, read and judged within the book."""
    reading = read_tree(write(data).text.encode(), name)
    assert reading.tree is not None
    protocol, problems = read_protocol(reading.tree, name)
    if protocol is not None:
        slug = name.rsplit("/", 1)[-1].removesuffix(".yaml")
        problems += problems_of(protocol, replace(book(), protocols={**book().protocols, slug: protocol}))
    return [p for p in (*reading.problems, *problems) if p.severity == "error"]


def places(name: str) -> list[Site]:
    """One place for each key of the file."""
    kind, data = samples()[name]
    found: dict[tuple[str, str], Site] = {}
    for record, key, path in keys_in(READERS[kind].table, data, ()):
        found.setdefault((record.what, key.name), Site(name, kind, record, key, path))
    return list(found.values())


def slips(site: Site) -> dict[str, Any]:
    data = samples()[site.sample][1]
    made = {
        "empty": changed(data, site.path, Raw("")),
        "of another form": changed(data, site.path, wrong_form(site)),
        "to be decided": changed(data, site.path, "to decide"),
        "misspelt": renamed(data, site.path, site.key.name + site.key.name[-1]),
    }
    return made | ({"left out": without(data, site.path)} if site.key.required else {})


@pytest.mark.parametrize("name", SHIPPED)
def test_the_sound_file_has_no_error(name: str) -> None:
    assert errors_in(name, samples()[name][1]) == []


@pytest.mark.parametrize("name", SHIPPED)
def test_each_slip_brings_one_error(name: str) -> None:
    told = {}
    for site in places(name):
        for slip, data in slips(site).items():
            if slip == "to be decided" and site.key.awaits:
                continue  # an approval writes it: a warning, see `test_every_key`
            errors = errors_in(name, data)
            if len(errors) != 1:
                told[site.name, slip] = [(p.name, p.what) for p in errors]
    assert told == {}


@pytest.mark.parametrize("name", SHIPPED)
def test_a_file_cut_off_after_any_line_never_crashes_the_rules(name: str) -> None:
    lines = (ROOT / name).read_text(encoding="utf-8").split("\n")
    for end in range(1, len(lines), 2):
        reading = read_tree("\n".join(lines[:end]).encode(), name)
        if reading.tree is not None:
            protocol, problems = read_protocol(reading.tree, name)
            if protocol is not None and not is_unsound(protocol):
                problems_of(protocol, book())
            assert problems or end > len(lines) - 7
