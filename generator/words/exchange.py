"""A catalogue as a table for a translator without tools: English beside the translation, one row a line.

Takes  messages; the bytes of a table as a spreadsheet saved it.
Gives  a CSV file (RFC 4180); its cells again, each with the row and column a person sees, and what cannot be read.
Knows  what spreadsheets do to text; nothing of what a good translation is.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.source.problem import Problem
from generator.source.span import Span
from generator.words.plurals import COUNTS
from generator.words.po import Entry

ENGLISH = "English"
_SEPARATORS = (",", ";", "\t")
# What makes a spreadsheet take a cell for a formula (CWE-1236), full-width forms included.
_FORMULA = re.compile("'*[=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
# Values that a spreadsheet shows in place of what it could not work out (ECMA-376, part 1, 18.17.3 "Error values").
_ERROR = re.compile(r"#(NULL!|DIV/0!|VALUE!|REF!|NAME\?|NUM!|N/A|#+\Z)")


@dataclass(frozen=True, slots=True)
class Line:
    """One row: a message, or one plural form of it. english: unlike that of any other row."""

    english: str
    entry: Entry
    form: int


@dataclass(frozen=True, slots=True)
class Cell:
    """A row of a table that came back. row: as counted in a spreadsheet, the heading is row 1."""

    english: str
    translation: str
    row: int


@dataclass(frozen=True, slots=True)
class Table:
    """A table that came back. heading: of the second column, the language as it calls itself."""

    file: str
    heading: str
    cells: tuple[Cell, ...]
    problems: tuple[Problem, ...] = ()


def lines(entries: Iterable[Entry], form_of: Callable[[int], int]) -> tuple[Line, ...]:
    """The rows of a catalogue, in its order.

    Args:
        form_of: which plural form a count takes; a row of such a form says for which counts it is.
    """
    found = []
    for entry in entries:
        context = f" [{entry.context}]" if entry.context else ""
        for form in range(len(entry.translations)):
            english, counts = entry.source, ""
            if entry.plural is not None:
                taken = [count for count in COUNTS if form_of(count) == form][:3]
                english = entry.source if taken == [1] else entry.plural
                counts = f" [for {', '.join(map(str, taken))}]"
            found.append(Line(english + context + counts, entry, form))
    return tuple(found)


def write_table(rows: Sequence[Line], name: str) -> bytes:
    """The table as CSV: UTF-8 with a byte order mark, which spreadsheets need, and CRLF.

    Args:
        name: of the language, as it calls itself: heads the column to fill in.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([ENGLISH, name, "Line", "Note"])
    for number, line in enumerate(rows, 1):
        cells = (line.english, line.entry.translations[line.form], mark(number), " / ".join(line.entry.notes))
        writer.writerow([protected(cell) for cell in cells])
    return out.getvalue().encode("utf-8-sig")


def mark(number: int) -> str:
    """Letters for a line, 1 is AA: it stands in the table, and behind the line on the sheets that show its place.

    No figure, since a sheet has figures of its own.
    """
    first, second = divmod(number - 1, 26)
    return (mark(first - 25) if first > 25 else chr(65 + first)) + chr(65 + second)


def protected(text: str) -> str:
    """A text that no spreadsheet takes for a formula: one apostrophe before it, where it could be."""
    return f"'{text}" if _FORMULA.match(text) else text


def unprotected(text: str) -> str:
    """The text that was protected; an apostrophe that belongs to the words stays."""
    return text[1:] if text.startswith("'") and _FORMULA.match(text) else text


def read_table(data: bytes, file: str) -> Table:
    """Read a table: comma, semicolon or tab between cells, any ends of lines, columns after the second not looked at."""
    text, problem = _decoded(data, file)
    if problem is not None:
        return Table(file, "", (), (problem,))
    for separator in _SEPARATORS:
        rows, problem = _rows(text, separator, file)
        first = next(iter(rows), [])
        if len(first) > 1 and first[0].strip().casefold() == ENGLISH.casefold():
            if problem is not None:
                return Table(file, first[1].strip(), (), (problem,))
            cells = tuple(
                Cell(tidy(unprotected(row[0])), tidy(unprotected(row[1] if len(row) > 1 else "")), number)
                for number, row in enumerate(rows[1:], 2)
                if any(cell.strip() for cell in row[:2])
            )
            return Table(file, first[1].strip(), cells)
    return Table(
        file,
        "",
        (),
        (
            Problem(
                "heading-missing",
                Span(file, 1, 1),
                f"the first row does not begin with a cell `{ENGLISH}` and a second cell",
                "nobody could tell the English from the translation",
                f"put back the first row as it was exported: {ENGLISH}, then the name of the language",
            ),
        ),
    )


def spoilt(cell: Cell, table: Table) -> Iterator[Problem]:
    """What a spreadsheet or a wrong encoding has made of the words of one row."""
    text = cell.translation
    what = None
    if _ERROR.match(text):
        what = f"the cell shows `{text}`, an error of the spreadsheet"
    elif "\ufffd" in text:
        what = "a letter has been lost: U+FFFD stands in its place"
    elif (repaired := _misread(text)) is not None:
        what = f"letters have come out as others: `{text}` was `{repaired}`"
    elif "?" not in cell.english and re.search(r"\?{2,}|\w\?\w", text):
        what = "question marks stand in the place of letters"
    if what is not None:
        yield Problem(
            "cell-spoilt",
            Span(table.file, cell.row, 2),
            what,
            "the owner would read signs that mean nothing",
            "type the words again, and save the sheet as CSV in UTF-8",
        )


def _misread(text: str) -> str | None:
    """What a text was before its UTF-8 was read as Windows-1252, or None."""
    if text.isascii():
        return None
    try:
        return text.encode("cp1252").decode("utf-8")
    except UnicodeError:
        return None


def _decoded(data: bytes, file: str) -> tuple[str, Problem | None]:
    # "Unicode text" of some spreadsheets: the mark at its start leaves no doubt.
    code = "utf-16" if data.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    try:
        return data.decode(code), None
    except UnicodeDecodeError as error:
        row = len(re.findall(rb"\r\n|\r|\n", data[: error.start])) + 1
        return "", Problem(
            "not-utf-8",
            Span(file, row, 2),
            "the table is not saved in UTF-8",
            "its letters would print wrong",
            "save it once more, and choose CSV in UTF-8",
        )


def _rows(text: str, separator: str, file: str) -> tuple[list[list[str]], Problem | None]:
    rows: list[list[str]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for row in reader:
            rows.append(row)
    except csv.Error:
        return rows, Problem(
            "table-unreadable",
            Span(file, len(rows) + 1, 1),
            "a quotation mark is open or stands in the middle of a cell in this row",
            "everything after it would be read as part of one cell",
            "open the table in a spreadsheet and save it as CSV from there",
        )
    return rows, None


def tidy(text: str) -> str:
    """A cell's words in Unicode form NFC. Blanks as a catalogue keeps them; a no-break space is part of the words."""
    return re.sub("[ \t\r\n]+", " ", unicodedata.normalize("NFC", text)).strip(" ")
