"""What a trade rule is.

Takes  one protocol (a stage of its own, where it has stages) and the book it stands in; or the book alone.
Gives  `Rule` and `ClinicRule`: the words a head technician reads, and the check itself; `each` to judge one by one, `found_in` to find them.
Knows  nothing of any one rule; each has a file of its own beside this one.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from importlib import import_module
from typing import Any, TypeVar

from generator.protocol.model import Book, Protocol
from generator.protocol.shapes import UnsoundValue
from generator.source.problem import Problem
from generator.source.span import Span

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the trade or of the house.

    id: `R01`. name: what is wrong, kebab-case; the problem carries it. looks_for, why: whole sentences for the binder.
    source: the published source, `common practice`, `house rule` or `from memory`. broken: the lines of a protocol that the
    rule stops, as YAML; mended: the same lines made right, as good practice has them; in both, `...` in a list stands for the
    other entries of a sound protocol. beside: lines of other files that both are judged with, by file; none at all takes the
    file out. check: yields problems; it may touch any value, for one that could not be read ends the check.
    also: names of what else the rule may find. blends: whether it judges stored blends, and then nothing but what they hold.
    """

    id: str
    name: str
    looks_for: str
    why: str
    source: str
    broken: str
    mended: str
    check: Callable[[Protocol, Book], Iterator[Problem]]
    also: tuple[str, ...] = ()
    blends: bool = False
    beside: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ClinicRule:
    """One rule for the settings of a clinic, judged once a book; as `Rule`. file: the one that `broken` and `mended` stand in."""

    id: str
    name: str
    looks_for: str
    why: str
    source: str
    file: str
    broken: str
    mended: str
    check: Callable[[Book], Iterator[Problem]]
    also: tuple[str, ...] = ()
    beside: tuple[tuple[str, str], ...] = ()


def found_in(package: str, folder: Iterable[str]) -> tuple[Any, ...]:
    """The rule of every file of a package that has one, in the order of their ids."""
    modules = (import_module(f"{package}.{found.name}") for found in pkgutil.iter_modules(folder))
    return tuple(sorted((module.RULE for module in modules if hasattr(module, "RULE")), key=lambda rule: rule.id))


def each(items: Iterable[Item], judge: Callable[[Item], Iterator[Problem]]) -> Iterator[Problem]:
    """Judge items one by one: one with a value that could not be read does not hide the others."""
    for item in items:
        try:
            yield from judge(item)
        except UnsoundValue:
            continue


def where(protocol: Protocol, *keys: str) -> Span:
    """The place of the first of these keys that stands in the file; a limit's own key counts before a protocol's."""
    for key in keys:
        for spans in (protocol.limits.spans, protocol.spans):
            if key in spans and key:
                return spans[key]
    return protocol.spans[""]
