"""Fields in braces: nothing else in a text is read as anything but text."""

from __future__ import annotations

from collections import Counter

import pytest

from generator.words.fields import Field, fill, has_words, names, parse, plain, stray_braces


def test_a_text_is_split_at_its_fields_and_nowhere_else() -> None:
    assert parse("Let {pet} out.") == ("Let ", Field("pet"), " out.")
    assert parse("{pet}{pet}") == (Field("pet"), Field("pet"))
    assert parse("") == ()


@pytest.mark.parametrize("text", ["{0}", "{pet.name}", "{pet!r}", "{pet:>9}", "{ pet }", "{Pet}", "{}", "{pet", "pet}"])
def test_what_a_format_string_would_obey_stays_literal(text: str) -> None:
    assert parse(text) == (text,)
    assert fill(text, {"pet": "Maple"}) == (text,)
    assert stray_braces(text) != ""


def test_a_value_is_never_read_as_text_again() -> None:
    assert plain("Ring {place}.", {"place": "{pet} & {0}", "pet": "Maple"}) == "Ring {pet} & {0}."


def test_values_of_any_kind_pass_through_as_they_are() -> None:
    mark = object()
    assert fill("by {moment}, {place}", {"moment": mark, "place": "x"}) == ("by ", mark, ", ", "x")


def test_a_field_without_a_value_is_an_error_and_no_hole() -> None:
    with pytest.raises(KeyError, match="pet"):
        fill("Let {pet} out.", {})


def test_fields_are_counted_with_repeats() -> None:
    assert names("{a} {b} {a}") == Counter({"a": 2, "b": 1})


def test_only_letters_outside_fields_need_a_translator() -> None:
    assert not has_words("{moment}, {place}")
    assert has_words("by {moment}")
