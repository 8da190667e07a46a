"""Compiled templates lie where Python keeps compiled modules, and nowhere when it keeps none."""

from __future__ import annotations

import sys
from importlib.util import cache_from_source
from pathlib import Path

import pytest

from generator.shelf import Kept

NAME = "owner-sheet.xhtml.j2"


@pytest.fixture
def writing(monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", None)


def test_code_lies_beside_the_templates_in_the_folder_python_uses(tmp_path, writing):
    Kept(tmp_path, ".jinja").write(NAME, b"code")
    assert Kept(tmp_path, ".jinja").read(NAME) == b"code"
    [kept] = tmp_path.rglob("*.*")
    assert kept.parent == tmp_path / "__pycache__" == Path(cache_from_source(str(tmp_path / "a.py"))).parent


def test_code_follows_python_to_another_folder(tmp_path, writing, monkeypatch):
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "elsewhere"))
    Kept(tmp_path / "templates", ".jinja").write(NAME, b"code")
    assert Kept(tmp_path / "templates", ".jinja").read(NAME) == b"code"
    assert not (tmp_path / "templates").exists()


def test_nothing_is_kept_where_python_keeps_nothing(tmp_path, writing, monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    Kept(tmp_path, ".jinja").write(NAME, b"code")
    assert list(tmp_path.iterdir()) == []
    assert Kept(tmp_path, ".jinja").read(NAME) is None


def test_a_folder_that_cannot_be_written_to_stops_nothing(tmp_path, writing):
    (tmp_path / "__pycache__").write_text("a file in the folder's place")
    Kept(tmp_path, ".jinja").write(NAME, b"code")
    assert Kept(tmp_path, ".jinja").read(NAME) is None


def test_newer_code_takes_the_place_of_older_and_leaves_nothing_else(tmp_path, writing):
    for code in (b"older", b"newer"):
        Kept(tmp_path, ".jinja").write(NAME, code)
    assert Kept(tmp_path, ".jinja").read(NAME) == b"newer"
    assert len(list((tmp_path / "__pycache__").iterdir())) == 1
