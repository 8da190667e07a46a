"""A clinic's own template can print, and nothing else."""

from __future__ import annotations

import pytest
from jinja2.exceptions import SecurityError, UndefinedError

from generator.compose.render import render


def test_values_are_escaped():
    assert render({"a": "{{ name }}"}, "a", {"name": "<script>"}) == "&lt;script&gt;"


def test_an_unknown_name_is_an_error_not_a_gap():
    with pytest.raises(UndefinedError):
        render({"a": "{{ nothing }}"}, "a", {})


@pytest.mark.parametrize(
    "template",
    [
        "{{ ''.__class__.__mro__ }}",
        "{{ name.__init__.__globals__ }}",
        "{{ 9 ** 9 ** 9 }}",
        "{{ 'x' * 999999999 }}",
        "{{ [0] * 999999999 }}",
        "{{ items.append(1) }}",
    ],
)
def test_a_template_cannot_reach_out_or_fill_the_memory(template):
    with pytest.raises((SecurityError, UndefinedError)):
        render({"a": template}, "a", {"name": "Maple", "items": []})


def test_a_template_has_no_functions_of_its_own():
    with pytest.raises(UndefinedError):
        render({"a": "{% for i in range(10) %}x{% endfor %}"}, "a", {})


def test_templates_include_each_other_by_name():
    assert (
        render(
            {"a": "{% import 'b' as b %}{{ b.twice('y') }}", "b": "{% macro twice(x) %}{{ x }}{{ x }}{% endmacro %}"},
            "a",
            {},
        )
        == "yy"
    )
