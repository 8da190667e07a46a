"""Frozen values as the standard library makes them, ready five times as soon.

Takes  a class with annotated fields, written as for `dataclass(frozen=True, slots=True)`.
Gives  `record`, to be used in its place: the same fields, equality, hash, `repr`, `replace`, copies and refusal to change.
Knows  dataclasses: theirs are the fields and the slots. What takes them long is compiling seven functions for each class,
       which every command waits for, a hundred classes long. Here only `__init__` is compiled, for it must be quick when
       called; the rest is the same few functions for every class.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, fields
from operator import attrgetter
from typing import TYPE_CHECKING, Any

__all__ = ["record"]


def _record(*, frozen: bool, slots: bool, kw_only: bool = False) -> Callable[[type], type]:
    """As `dataclass`, for frozen classes with slots only; the words are written out so that the class still says so."""
    assert frozen, "a class that may change is a plain dataclass"
    assert slots, "a class without slots is a plain dataclass"

    def make(given: type) -> type:
        made: Any = dataclass(init=False, repr=False, eq=False, slots=True, kw_only=kw_only)(given)
        names = [one.name for one in fields(made)]
        values: Callable[[Any], Any] = attrgetter(*names) if names else lambda self: ()

        def equal(self: Any, other: Any) -> bool:
            return bool(values(self) == values(other)) if other.__class__ is self.__class__ else NotImplemented

        def written(self: Any) -> str:
            inside = ", ".join(f"{name}={getattr(self, name)!r}" for name in names)
            return f"{self.__class__.__qualname__}({inside})"

        def code(self: Any) -> int:
            return hash(values(self))

        def state(self: Any) -> dict[str, Any]:
            return {name: getattr(self, name) for name in names}

        def restore(self: Any, kept: dict[str, Any]) -> None:
            for name, value in kept.items():
                object.__setattr__(self, name, value)

        made.__init__ = _init(made)
        made.__eq__ = equal
        made.__hash__ = code
        made.__setattr__ = made.__delattr__ = _refuse
        # Copying and pickling set the fields of a new one, which only this may.
        made.__getstate__ = state
        made.__setstate__ = restore
        if "__repr__" not in given.__dict__:
            made.__repr__ = written
        return made  # type: ignore[no-any-return]

    return make


def _init(made: Any) -> Any:
    """The one function made for each class, as text, just as dataclasses do it."""
    by_place = [one for one in fields(made) if not one.kw_only]
    by_name = [one for one in fields(made) if one.kw_only]
    known: dict[str, Any] = {"put": object.__setattr__, "MISSING": MISSING}
    takes = ["self", *(_parameter(one, known) for one in by_place)]
    takes += ["*", *(_parameter(one, known) for one in by_name)] if by_name else []
    lines = [f"put(self, {one.name!r}, {_value(one)})" for one in (*by_place, *by_name)]
    lines += ["self.__post_init__()"] if hasattr(made, "__post_init__") else []
    exec(f"def __init__({', '.join(takes)}):\n " + "\n ".join(lines or ["pass"]), known)
    known["__init__"].__qualname__ = f"{made.__qualname__}.__init__"
    return known["__init__"]


def _parameter(one: Field[Any], known: dict[str, Any]) -> str:
    if one.default is not MISSING:
        known[f"default_{one.name}"] = one.default
        return f"{one.name}=default_{one.name}"
    if one.default_factory is not MISSING:
        known[f"make_{one.name}"] = one.default_factory
        return f"{one.name}=MISSING"
    return one.name


def _value(one: Field[Any]) -> str:
    made = one.default_factory is not MISSING
    return f"make_{one.name}() if {one.name} is MISSING else {one.name}" if made else one.name


def _refuse(self: Any, name: str, value: object = None) -> None:
    raise FrozenInstanceError(f"cannot change field {name!r}")


if TYPE_CHECKING:
    # For whoever reads or checks the program a record is a dataclass.
    from dataclasses import dataclass as record
else:
    record = _record
