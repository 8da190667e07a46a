"""What the workings are made of: sections of tables, in a form that paper and screen share.

Takes  nothing: plain values, and authored text to be quoted.
Gives  `Section`, `Table`, `Row`, `Cell`; `cell`, `said`, `place`; `as_text` for the screen.
Knows  that both print the same words; nothing of any one section.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from generator.compose import hand
from generator.compose.writer import Writer
from generator.protocol.citations import CITATIONS
from generator.source.span import Span

# Paragraphs, one under the other.
Cell = tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """The first cell names the row. is_heading: one cell across the table, kept with the row after it."""

    cells: tuple[Cell, ...]
    is_heading: bool = False
    is_shaded: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """widths: relative, one a column. caption: a heading above it, if it needs one."""

    columns: tuple[str, ...]
    widths: str
    rows: tuple[Row, ...]
    caption: Markup | None = None


@dataclass(frozen=True, slots=True)
class Section:
    """One numbered section. pairs: a label and what it says; before and after: paragraphs; points: a list; alarm: in a red box."""

    title: str
    pairs: tuple[tuple[str, Cell], ...] = ()
    before: tuple[Markup, ...] = ()
    tables: tuple[Table, ...] = ()
    points: tuple[Markup, ...] = ()
    alarm: tuple[Markup, ...] = ()
    after: tuple[Markup, ...] = ()
    # Labels with a line to write on.
    blanks: tuple[str, ...] = field(default=())


def cell(*paragraphs: Markup | str) -> Cell:
    """A cell of these paragraphs; empty ones are left out."""
    return tuple(escape(one) for one in paragraphs if one)


def said(words: str, writer: Writer, span: Span | None = None, name: str = "said") -> Markup:
    """Words that hold numbers of their own: somebody's, or a sentence of this program."""
    return writer.authored(words, span, name)


def short_place(span: Span | str | None) -> str:
    """`padded-limb-support.yaml:53`: the file and line, without its folder; nothing where there is none."""
    text = str(span) if span else ""
    file, _, rest = text.rpartition("/")[2].partition(":")
    return f"{file}:{rest.split(':')[0]}" if rest else file


def place(span: Span | str | None, writer: Writer) -> Markup:
    """The same as authored text."""
    shown = short_place(span)
    return writer.authored(shown, None, "place") if shown else Markup()


# A published source stands everywhere as its number in brackets.
_SOURCE = re.compile(r"\[(\d+)\]")


def numbers_named(sections: Iterable[Section]) -> set[int]:
    """The numbers of published sources that sections name."""
    cells = [
        *(one for section in sections for part in (section.before, section.points, section.alarm, section.after) for one in part),
        *(one for section in sections for _, paragraphs in section.pairs for one in paragraphs),
        *(one for section in sections for table in section.tables for row in table.rows for paragraphs in row.cells for one in paragraphs),
    ]  # fmt: skip
    found = {int(number) for one in cells for number in _SOURCE.findall(one.striptags())}
    return found & set(CITATIONS)


# ---- on the screen ----------------------------------------------------------------------------------------------


def as_text(title: str, sections: tuple[Section, ...], closing: tuple[Markup, ...]) -> str:
    """The same as plain text: no line ends with a space, the last without a newline."""
    lines = [title]
    for number, section in enumerate(sections, 1):
        lines += ["", f"{number}. {section.title}", *_section(section)]
    lines += ["", *map(_bare, closing)]
    return "\n".join(line.rstrip() for line in lines)


def _section(section: Section) -> Iterator[str]:
    for name, paragraphs in section.pairs:
        yield f"  {name}: {'; '.join(map(_bare, paragraphs))}"
    yield from (f"  {_bare(one)}" for one in section.before)
    for table in section.tables:
        if table.caption is not None:
            yield f"  {_bare(table.caption)}"
        for row in table.rows:
            yield from _row(row, table)
    yield from (f"  - {_bare(one)}" for one in section.points)
    yield from (f"  ! {_bare(one)}" for one in section.alarm)
    yield from (f"  {_bare(one)}" for one in section.after)
    yield from (f"  {one}: ______" for one in section.blanks)


def _row(row: Row, table: Table) -> Iterator[str]:
    first, *rest = row.cells
    yield f"  {'' if row.is_heading else '  '}{'; '.join(map(_bare, first))}"
    for column, paragraphs in zip(table.columns[1:], rest, strict=False):
        if len(paragraphs) > 1:
            yield f"        {column.lower()}:"
            yield from (f"            {_bare(one)}" for one in paragraphs)
        elif paragraphs:
            yield f"        {column.lower()}: {_bare(paragraphs[0])}"


def _bare(one: Markup) -> str:
    return one.striptags().replace(hand.NO_BREAK, " ")
