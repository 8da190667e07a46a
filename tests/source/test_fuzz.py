"""Whatever bytes a file holds, reading ends with values or with problems that have a place; never with a crash."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from generator.source.problem import as_data, as_text
from generator.source.span import Span
from generator.source.text import Reading, read_tree
from tests.conftest import ROOT

FILES = sorted([*(ROOT / "protocols").rglob("*.yaml"), *(ROOT / "tests" / "expected" / "book").rglob("*.yaml")])


@cache
def content(index: int) -> bytes:
    return FILES[index].read_bytes()


def is_sound(reading: Reading) -> None:
    """Every problem stands somewhere in the file, reads as text and as data, and an unread file says why."""
    for problem in reading.problems:
        assert problem.span.line >= 1
        assert problem.span.column >= 1
        if reading.lines:  # bytes that are no text have none
            assert problem.span.line <= len(reading.lines)
            assert problem.span.column <= len(reading.lines[problem.span.line - 1]) + 1
        assert problem.what
        assert problem.why
        assert problem.fix
        assert problem.name != "unreadable", "every phrase of the parser has a sentence of ours"
        as_text(
            problem, lambda span: reading.lines[span.line - 1] if span.line <= len(reading.lines) else None
        ).encode()
        as_data(problem)
    if reading.tree is None:
        assert any(problem.severity == "error" for problem in reading.problems)


@given(st.binary(max_size=400))
@example(b"\xef\xbb\xbf")
@example(b"\xef\xbb\xbf\xef\xbb\xbfa: 1")
@settings(max_examples=300)
def test_no_bytes_crash_the_reader(data: bytes) -> None:
    is_sound(read_tree(data, "x.yaml"))


@given(st.text(max_size=300))
@settings(max_examples=300)
def test_no_text_crashes_the_reader(text: str) -> None:
    is_sound(read_tree(text.encode("utf-8", "surrogatepass"), "x.yaml"))


# Texts of the letters that mean something to YAML find its corners sooner than texts of any letters.
_SIGNS = st.text(alphabet="ab 1:-?,[]{}#&*!|>'\"%@`\n\\~<=.\t\u00a0é", max_size=60)


@given(_SIGNS)
@settings(max_examples=800)
def test_no_arrangement_of_signs_crashes_the_reader(text: str) -> None:
    is_sound(read_tree(text.encode(), "x.yaml"))


@pytest.mark.parametrize("index", range(len(FILES)), ids=[str(f.relative_to(ROOT)) for f in FILES])
def test_a_file_cut_off_anywhere_is_read_or_refused(index: int) -> None:
    # Every 37th byte: a prime, so that the cuts fall on every kind of place over the files.
    data = content(index)
    for end in range(0, len(data), 37):
        is_sound(read_tree(data[:end], "x.yaml"))


@given(
    st.integers(0, len(FILES) - 1),
    st.integers(0, 20_000),
    st.integers(0, 12),
    st.text(alphabet=" :-,[]{}'\"\n#\t", max_size=4),
)
@settings(max_examples=150)
def test_a_file_with_a_few_letters_exchanged_is_read_or_refused(index: int, at: int, gone: int, put: str) -> None:
    data = content(index)
    at %= len(data)
    is_sound(read_tree(data[:at] + put.encode() + data[at + gone :], "x.yaml"))


@pytest.mark.parametrize("index", range(len(FILES)), ids=[str(f.relative_to(ROOT)) for f in FILES])
def test_the_files_of_the_book_read_without_a_word(index: int) -> None:
    reading = read_tree(content(index), "x.yaml")
    assert reading.tree is not None
    # The book of the expected results keeps commas in its braces: read rightly, with a warning.
    assert {p.name for p in reading.problems} <= ({"comma-in-braces"} if "expected" in FILES[index].parts else set())


def test_a_value_knows_the_very_letters_it_was_written_with() -> None:
    for index in range(len(FILES)):
        reading = read_tree(content(index), "x.yaml")
        stack = [reading.tree]
        while stack:
            node = stack.pop()
            if node is None or hasattr(node, "items"):
                stack += getattr(node, "items", ())
            elif hasattr(node, "entries"):
                stack += [part for pair in node.entries for part in pair]
            else:
                span: Span = node.span
                written = reading.lines[span.line - 1][span.column - 1 : span.column - 1 + span.length]
                assert written.strip("'\"").startswith(node.text[:10].rstrip()), span
