"""Records behave as the frozen dataclasses of the standard library, which are asked beside them."""

from __future__ import annotations

import copy
import inspect
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, replace

import pytest

from generator.source.record import record


@record(frozen=True, slots=True)
class Ours:
    """One of each kind of field."""

    name: str
    size: float
    tags: tuple[str, ...] = ()
    more: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Theirs:
    """The same by the standard library."""

    name: str
    size: float
    tags: tuple[str, ...] = ()
    more: dict[str, int] = field(default_factory=dict)


@record(frozen=True, slots=True)
class Single:
    """A single field."""

    word: str


@record(frozen=True, slots=True, kw_only=True)
class Named:
    """Named fields, judged when made."""

    wide: int = 3
    high: int

    def __post_init__(self) -> None:
        if self.high > self.wide:
            raise ValueError("too high")


CASES = [(("Maple", 18.4), {}), (("Maple", 1, ("a",)), {"more": {"x": 1}}), ((), {"size": 2, "name": "Juniper"})]


@pytest.mark.parametrize(("placed", "named"), CASES)
def test_fields_defaults_and_repr_are_those_of_a_dataclass(placed, named):
    ours, theirs = Ours(*placed, **named), Theirs(*placed, **named)
    assert [(f.name, getattr(ours, f.name)) for f in fields(ours)] == [
        (f.name, getattr(theirs, f.name)) for f in fields(theirs)
    ]
    assert repr(ours) == repr(theirs).replace("Theirs", "Ours")
    assert Ours.__match_args__ == Theirs.__match_args__
    assert list(inspect.signature(Ours).parameters) == list(inspect.signature(Theirs).parameters)


def test_what_is_missing_or_too_much_is_refused():
    with pytest.raises(TypeError, match="size"):
        Ours("Maple")  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="colour"):
        Ours("Maple", 1, colour="red")  # type: ignore[call-arg]
    with pytest.raises(TypeError):
        Named(3, 2)  # type: ignore[misc]


def test_nothing_can_be_changed_or_added():
    made = Ours("Maple", 18.4)
    with pytest.raises(FrozenInstanceError):
        made.name = "Juniper"  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        made.other = 1  # type: ignore[attr-defined]
    with pytest.raises(FrozenInstanceError):
        del made.name
    assert made.name == "Maple"
    assert not hasattr(made, "__dict__")


def test_equal_values_are_equal_and_hash_alike_within_one_class():
    assert Single("a") == Single("a")
    assert hash(Single("a")) == hash(Single("a"))
    assert Single("a") != Single("b")
    assert Ours("a", 1) != Theirs("a", 1)
    assert Single("a") != "a"
    assert Single("a") != ("a",)
    with pytest.raises(TypeError):
        hash(Ours("a", 1))  # a dict inside: no hash, as with a dataclass
    assert {Named(high=1): "low"}[Named(high=1)] == "low"


def test_each_one_gets_a_dictionary_of_its_own():
    first, second = Ours("a", 1), Ours("a", 1)
    first.more["x"] = 1
    assert second.more == {}


@pytest.mark.parametrize("again", [copy.copy, copy.deepcopy, lambda one: pickle.loads(pickle.dumps(one)), replace])
def test_copies_are_equal_and_frozen_too(again):
    made = again(Ours("Maple", 18.4, ("a", "b"), {"x": 1}))
    assert made == Ours("Maple", 18.4, ("a", "b"), {"x": 1})
    with pytest.raises(FrozenInstanceError):
        made.size = 2  # type: ignore[misc]


def test_a_part_is_replaced_and_judged_anew():
    assert replace(Named(high=2), wide=4) == Named(wide=4, high=2)
    with pytest.raises(ValueError, match="too high"):
        replace(Named(high=3), wide=1)


def test_a_record_matches_by_place():
    match Ours("Maple", 18.4):
        case Ours(name, size):
            assert (name, size) == ("Maple", 18.4)
        case _:
            pytest.fail("no match")
