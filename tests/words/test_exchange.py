"""A table goes out and comes back: whatever a spreadsheet does to it is undone or named."""

from __future__ import annotations

import csv
import io
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.source.span import Span
from generator.words.catalogue import plural_rule
from generator.words.exchange import Cell, Table, lines, protected, read_table, spoilt, unprotected, write_table
from generator.words.po import Entry

SPAN = Span("es.po", 3)
RULE = plural_rule("nplurals=2; plural=(n != 1);")
assert RULE is not None
ENTRIES = (
    Entry("Take care", ("Tenga cuidado",), SPAN, notes=("Take care: a heading", 'Not "farewell".')),
    Entry("Ring us, now", ("=1+1",), SPAN),
    Entry("Evening", ("'s Avonds",), SPAN),
    Entry("Good", ("",), SPAN, context="toes"),
    Entry("{n} walk", ("{n} paseo", "{n} paseos"), SPAN, plural="{n} walks"),
)


def table() -> bytes:
    return write_table(lines(ENTRIES, RULE[1]), "Español")  # type: ignore[index]


def test_the_table_is_what_the_standard_says() -> None:
    data = table()
    # Byte order mark U+FEFF in UTF-8; RFC 4180, section 2: lines end in CRLF, a quotation mark in a cell is doubled.
    assert data.startswith(b"\xef\xbb\xbfEnglish,Espa\xc3\xb1ol,Line,Note\r\n")
    assert data.count(b"\n") == data.count(b"\r\n") == 7
    assert b'"Take care: a heading / Not ""farewell""."' in data
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert [row[0] for row in rows] == ["English", "Take care", "Ring us, now", "Evening", "Good [toes]", "{n} walk [for 1]", "{n} walks [for 0, 2, 3]"]  # fmt: skip
    assert [row[2] for row in rows[1:]] == ["AA", "AB", "AC", "AD", "AE", "AF"]


def test_no_cell_is_a_formula() -> None:
    # CWE-1236, "Improper Neutralization of Formula Elements in a CSV File": cells that start with = + - @, tab or return.
    for row in csv.reader(io.StringIO(table().decode("utf-8-sig"), newline="")):
        assert not [cell for cell in row if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]


@given(st.text(alphabet="'=+-@\t\r\uff1dab ", max_size=6) | st.text(max_size=20))
def test_protection_is_undone_exactly(text: str) -> None:
    assert unprotected(protected(text)) == text
    assert not protected(text).startswith(("=", "+", "-", "@", "\t", "\r", "\uff1d"))


@pytest.mark.parametrize("typed", ["'s avonds", "-no", "a=b"])
def test_what_a_translator_types_is_taken_as_typed(typed: str) -> None:
    assert unprotected(typed) == typed


def again(separator: str, end: str, bom: bytes, code: str) -> bytes:
    """The table as another spreadsheet saves it, with a column of its own at the end."""
    rows = list(csv.reader(io.StringIO(table().decode("utf-8-sig"), newline="")))
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator, lineterminator=end, quoting=csv.QUOTE_ALL).writerows(
        [*row, "mine"] for row in rows
    )
    return bom + out.getvalue().encode(code)


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\r\n", "\n", "\r"])
@pytest.mark.parametrize(
    ("bom", "code"),
    [(b"", "utf-8"), (b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")],
)
def test_the_same_words_come_back_from_any_spreadsheet(separator: str, end: str, bom: bytes, code: str) -> None:
    found = read_table(again(separator, end, bom, code), "t.csv")
    assert found.problems == ()
    assert found.heading == "Español"
    assert [cell.translation for cell in found.cells] == [text for entry in ENTRIES for text in entry.translations]
    assert [cell.row for cell in found.cells] == [2, 3, 4, 5, 6, 7]


def test_rows_are_counted_as_a_person_sees_them() -> None:
    data = b'English,X\r\n\r\n"Take\r\ncare","line one\r\nline two"\r\nDog,Perro\r\n,\r\n'
    found = read_table(data, "t.csv")
    assert found.cells == (Cell("Take care", "line one line two", 3), Cell("Dog", "Perro", 4))


def test_a_no_break_space_is_part_of_the_words_and_accents_are_put_together() -> None:
    found = read_table("English,X\nDog,Pen\u0303a\u00a0!  x \n".encode(), "t.csv")
    assert found.cells[0].translation == "Pe\u00f1a\u00a0! x"


@pytest.mark.parametrize(
    ("data", "name", "row"),
    [
        (b"", "heading-missing", 1),
        (b"Englisch,X\nDog,Perro\n", "heading-missing", 1),
        (b"English\nDog\n", "heading-missing", 1),
        ("English,X\nDog,Perro\nCat,Peña\n".encode("latin-1"), "not-utf-8", 3),
        (b'English,X\nDog,"Perro\nCat,Gato\n', "table-unreadable", 2),
        (b'English,X\nDog,"Per"ro\n', "table-unreadable", 2),
    ],
)
def test_a_table_that_cannot_be_read_says_where(data: bytes, name: str, row: int) -> None:
    found = read_table(data, "t.csv")
    assert found.cells == ()
    assert [(p.name, p.span.file, p.span.line) for p in found.problems] == [(name, "t.csv", row)]


@pytest.mark.parametrize(
    "text", ["#NAME?", "#REF!", "########", "Pe\ufffda", "Peña".encode().decode("cp1252"), "Ma?ana", "???? ??"]
)
def test_a_cell_gone_bad_is_named(text: str) -> None:
    (problem,) = spoilt(Cell("Dog", text, 4), Table("t.csv", "X", ()))
    assert (problem.name, str(problem.span)) == ("cell-spoilt", "t.csv:4:2")


@pytest.mark.parametrize(
    "text", ["¿No puede venir?", "Peña", "Не можете?", "不能来?", string.ascii_letters, "Élan à 9"]
)
def test_sound_words_are_not_taken_for_spoilt(text: str) -> None:
    assert list(spoilt(Cell("Cannot come?", text, 4), Table("t.csv", "X", ()))) == []
    assert list(spoilt(Cell("Come", text, 4), Table("t.csv", "X", ()))) == []
