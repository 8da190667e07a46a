"""Code of templates is kept for the shipped ones only, and never in place of another text."""

from __future__ import annotations

import jinja2
import pytest

from generator.compose.render import Templates, _keeper, render


class Drawer:
    """A store that tells what was asked of it."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}
        self.given: list[str] = []

    def read(self, name: str) -> bytes | None:
        if name in self.kept:
            self.given.append(name)
        return self.kept.get(name)

    def write(self, name: str, code: bytes) -> None:
        self.kept[name] = code


def filled(drawer: Drawer, text: str = "Dear {{ name }}", ours: frozenset[str] = frozenset({"a"})) -> str:
    """As a process does that has just begun."""
    _keeper().made.clear()
    return again(drawer, text, ours)


def again(drawer: Drawer, text: str = "Dear {{ name }}", ours: frozenset[str] = frozenset({"a"})) -> str:
    return render(Templates({"a": text}, ours, drawer), "a", {"name": "Maple & <Juniper>"})


def test_kept_code_fills_in_the_same_and_still_escapes():
    drawer = Drawer()
    assert filled(drawer) == "Dear Maple &amp; &lt;Juniper&gt;"
    assert list(drawer.kept) == ["a"]
    assert filled(drawer) == "Dear Maple &amp; &lt;Juniper&gt;"
    assert drawer.given == ["a"]


def test_code_of_a_text_that_has_changed_is_made_anew():
    drawer = Drawer()
    filled(drawer)
    before = drawer.kept["a"]
    assert filled(drawer, "Goodbye {{ name }}").startswith("Goodbye ")
    assert drawer.kept["a"] != before


def test_a_template_of_the_clinics_own_neither_takes_kept_code_nor_leaves_any():
    drawer = Drawer()
    filled(drawer)
    drawer.given.clear()
    shipped = drawer.kept["a"]
    assert filled(drawer, ours=frozenset()) == "Dear Maple &amp; &lt;Juniper&gt;"
    assert drawer.given == []
    assert drawer.kept["a"] == shipped


@pytest.mark.parametrize("broken", [b"", b"j2", b"no code at all"])
def test_code_that_cannot_be_read_is_made_anew(broken):
    drawer = Drawer()
    drawer.kept["a"] = broken
    assert filled(drawer) == "Dear Maple &amp; &lt;Juniper&gt;"
    assert drawer.kept["a"] != broken


def test_kept_code_of_another_release_of_jinja_is_not_run(monkeypatch):
    drawer = Drawer()
    filled(drawer)
    before = drawer.kept["a"]
    monkeypatch.setattr("jinja2.__version__", "99.0")
    filled(drawer)
    assert drawer.kept["a"] != before


def test_kept_code_runs_in_the_same_sandbox():
    drawer = Drawer()
    for _ in range(2):
        with pytest.raises(Exception, match="unsafe"):
            render(Templates({"a": "{{ name.__class__ }}"}, frozenset({"a"}), drawer), "a", {"name": "Maple"})


class Nowhere(Drawer):
    """A store that cannot be written to."""

    def write(self, name: str, code: bytes) -> None:
        return


@pytest.fixture
def compiled(monkeypatch):
    """The names of templates that were turned into code."""
    names: list[str] = []
    compile_ = jinja2.Environment.compile

    def counted(self, source, name=None, *args, **named):
        names.append(name)
        return compile_(self, source, name, *args, **named)

    monkeypatch.setattr(jinja2.Environment, "compile", counted)
    return names


def test_where_nothing_can_be_kept_one_process_still_compiles_a_text_only_once(compiled):
    for _ in range(3):
        assert (again if compiled else filled)(Nowhere()) == "Dear Maple &amp; &lt;Juniper&gt;"
    assert compiled == ["a"]


@pytest.mark.parametrize("ours", [frozenset(), frozenset({"a"})])
def test_another_text_of_the_same_name_gets_code_of_its_own_in_the_same_process(ours, compiled):
    filled(Nowhere(), ours=ours)
    assert again(Nowhere(), "Goodbye {{ name }}", ours) == "Goodbye Maple &amp; &lt;Juniper&gt;"
    assert again(Nowhere(), ours=ours) == "Dear Maple &amp; &lt;Juniper&gt;"
    assert compiled == ["a", "a"]


def test_code_of_a_clinics_own_template_is_never_lent_to_the_store():
    drawer = Drawer()
    filled(drawer, ours=frozenset())
    again(drawer, ours=frozenset())
    assert drawer.kept == {}


def test_a_process_that_sees_no_end_of_templates_does_not_keep_them_all():
    for number in range(450):
        again(Nowhere(), f"{number} {{{{ name }}}}")
    assert len(_keeper().made) <= 200
