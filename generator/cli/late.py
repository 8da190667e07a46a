"""Put off what libraries import in case somebody needs it.

Takes  names of modules.
Gives  `put_off`: each is loaded when something in it is first asked for; until then its name stands for it.
Knows  how Python keeps loaded modules. Nothing is left out or replaced: what is asked for is the module itself. For the
       program's own process only, never for a library's: the standard `importlib.util.LazyLoader` means the same, but
       before Python 3.12 a second `import` of the name already loads it.
"""

from __future__ import annotations

import sys
from importlib.util import find_spec, module_from_spec
from types import ModuleType
from typing import Any


class _Late(ModuleType):
    """A module that is loaded by the first question it cannot answer."""

    def __getattr__(self, name: str) -> Any:
        module: Any = self
        module.__class__ = ModuleType
        try:
            module.__spec__.loader.exec_module(module)
        except BaseException:
            # As if it had not been imported: the next one to ask gets the same error.
            module.__class__ = _Late
            raise
        return getattr(module, name)


def put_off(*names: str) -> None:
    """Have these modules loaded at their first use instead of at their import; those loaded already, or absent, stay as they are."""
    for name in names:
        if name in sys.modules:
            continue
        try:
            spec = find_spec(name)
        except ModuleNotFoundError:
            continue
        # To find a module is to import the package it lies in, and that may already have loaded it.
        if spec is None or spec.loader is None or name in sys.modules:
            continue
        module = module_from_spec(spec)
        module.__class__ = _Late
        sys.modules[name] = module
        package, _, last = name.rpartition(".")
        if package:
            setattr(sys.modules[package], last, module)
