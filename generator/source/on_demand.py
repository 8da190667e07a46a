"""A mapping whose values are worked out when somebody asks for one, and kept.

Takes  the keys, and what makes the value of a key.
Gives  `OnDemand`.
Knows  nothing of what it holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TypeVar

V = TypeVar("V")


class OnDemand(Mapping[str, V]):
    """Which keys there are is known from the first; each value is made once at most."""

    def __init__(self, keys: Iterable[str], make: Callable[[str], V]) -> None:
        self._keys = dict.fromkeys(keys)
        self._make = make
        self._made: dict[str, V] = {}

    def __getitem__(self, key: str) -> V:
        if key not in self._made:
            if key not in self._keys:
                raise KeyError(key)
            try:
                self._made[key] = self._make(key)
            except KeyError as error:
                # Or `get` would take a fault in the making for a key that is not there.
                raise RuntimeError(f"{key} could not be made: no {error}") from error
        return self._made[key]

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)
