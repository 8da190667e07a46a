"""Fill a template.

Takes  the templates' text by name, the name of one, and its values.
Gives  the text of a document; `Templates`, texts whose compiled code may be kept from one command to the next.
Knows  Jinja (the only importer of it). A clinic may bring its own templates: all run in the sandbox, without any
       function of their own, and can neither multiply texts nor raise powers until the memory is full.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from functools import cache
from typing import Any, ClassVar, Protocol

# How the text is read and turned into code: with these the same text gives the same code.
_MOST_MADE = 200  # templates of which one process remembers the code; a book of one clinic has some twenty
_READING: Mapping[str, bool] = {"autoescape": True, "trim_blocks": True, "lstrip_blocks": True}


class Store(Protocol):
    """Where compiled code lies, by the template's name."""

    def read(self, name: str) -> bytes | None: ...

    def write(self, name: str, code: bytes) -> None: ...


class Templates(dict[str, str]):
    """Texts by name. Turning ours into code takes longer than filling them in, so the code of `ours` is kept in `store`."""

    def __init__(self, texts: Mapping[str, str], ours: frozenset[str], store: Store) -> None:
        super().__init__(texts)
        self.ours = ours
        self.store = store


def render(templates: Mapping[str, str], name: str, values: Mapping[str, Any]) -> str:
    """Fill one template; every value that is not markup is escaped, and an unknown name is an error.

    Raises:
        jinja2.TemplateError: the template is broken, names something unknown, or reaches for what it may not touch.
    """
    from jinja2 import DictLoader, StrictUndefined

    environment = _sandbox()(
        loader=DictLoader(dict(templates)), undefined=StrictUndefined, **_READING,
        bytecode_cache=_keeper()(templates if isinstance(templates, Templates) else None),
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


@cache
def _keeper() -> Any:
    import jinja2

    class Keeper(jinja2.BytecodeCache):
        """Gives Jinja the code it made before of the same text: in this process, and for templates that are ours from the store.

        Of others the store neither lends nor keeps code.
        """

        # By checksum, not by name alone. Each process makes its own: nobody else can put anything here.
        made: ClassVar[dict[tuple[str, str], Any]] = {}

        def __init__(self, templates: Templates | None) -> None:
            self._store = templates.store if templates is not None else None
            self._ours = templates.ours if templates is not None else frozenset()

        def get_cache_key(self, name: str, filename: str | None = None) -> str:
            return name

        def get_source_checksum(self, source: str) -> str:
            # Another text, another Jinja or another way of reading gives other code. Jinja itself sees to Python's release.
            made_of = (source, jinja2.__version__, sorted(_READING.items()), sorted(_sandbox().intercepted_binops))
            return hashlib.sha256(repr(made_of).encode()).hexdigest()

        def load_bytecode(self, bucket: Any) -> None:
            bucket.code = self.made.get((bucket.key, bucket.checksum))
            if bucket.code is None and self._store is not None and bucket.key in self._ours:
                code = self._store.read(bucket.key)
                if code is not None:
                    bucket.bytecode_from_string(code)
                    self._remember(bucket)

        def dump_bytecode(self, bucket: Any) -> None:
            self._remember(bucket)
            if self._store is not None and bucket.key in self._ours:
                self._store.write(bucket.key, bucket.bytecode_to_string())

        def _remember(self, bucket: Any) -> None:
            if len(self.made) >= _MOST_MADE:
                self.made.clear()
            if bucket.code is not None:
                self.made[bucket.key, bucket.checksum] = bucket.code

    return Keeper
