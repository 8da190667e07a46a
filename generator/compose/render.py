"""Fill a template.

Takes  the templates' text by name, the name of one, and its values.
Gives  the text of a document.
Knows  Jinja (the only importer of it). A clinic may bring its own templates: all run in the sandbox, without any
       function of their own, and can neither multiply texts nor raise powers until the memory is full.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any


def render(templates: Mapping[str, str], name: str, values: Mapping[str, Any]) -> str:
    """Fill one template; every value that is not markup is escaped, and an unknown name is an error.

    Raises:
        jinja2.TemplateError: the template is broken, names something unknown, or reaches for what it may not touch.
    """
    from jinja2 import DictLoader, StrictUndefined

    environment = _sandbox()(
        loader=DictLoader(dict(templates)), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
        # Kept for one document only: a clinic's template must never be taken for ours of the same name.
        cache_size=20,
    )  # fmt: skip
    environment.globals.clear()
    return str(environment.get_template(name).render(dict(values)))


@cache
def _sandbox() -> Any:
    from jinja2.exceptions import SecurityError
    from jinja2.sandbox import ImmutableSandboxedEnvironment

    class Sandbox(ImmutableSandboxedEnvironment):
        """No powers, and products of small numbers only."""

        intercepted_binops = frozenset({"*", "**"})

        def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
            if operator == "**" or not all(
                isinstance(value, int | float) and abs(value) < 1e6 for value in (left, right)
            ):
                raise SecurityError(f"a template may not use {operator!r} on these values")
            return left * right

    return Sandbox
