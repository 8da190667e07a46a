"""A language out to a translator's spreadsheet, and back.

Takes  a `Held`; the bytes of a table that came back.
Gives  the table; the catalogue with the words that changed, and what a person should know of it.
Knows  that one error keeps the whole table out: a catalogue is never half one translator's.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from generator.protocol.shapes import nearest
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.translation.room import Held, Room, held
from generator.words import po, signoff
from generator.words.catalogue import plural_rule
from generator.words.check import check_entry
from generator.words.exchange import Cell, Line, Table, lines, read_table, spoilt, tidy, write_table
from generator.words.languages import own_name


@dataclass(frozen=True, slots=True)
class Imported:
    """What a table changed. changed: messages with new words. unsigned: those among them that were signed. warnings: to look at."""

    held: Held
    catalogue: po.Catalogue
    rows: int
    changed: tuple[po.Entry, ...]
    unsigned: int
    warnings: tuple[Problem, ...]

    @property
    def files(self) -> Mapping[Path, bytes]:
        """The catalogue as it is to be written; nothing if it stays as it is."""
        return {self.held.file: po.write(self.catalogue).encode("utf-8")} if self.changed else {}


def export(one: Held) -> bytes:
    """The catalogue as a table.

    Raises:
        Refusal: it cannot be read in full.
    """
    return write_table(table_lines(one), own_name(one.language))


def read_back(data: bytes, file: str, room: Room, language: str | None) -> Imported:
    """What comes of a table.

    Args:
        file: the table's name as it was typed. language: a tag; None: the heading of the second column says it.
    Raises:
        Refusal: with everything wrong in the table, each at its row and column.
    """
    table = read_table(data, file)
    if table.problems:
        raise Refusal(table.problems)
    one = held(room, _language(table, room, language))
    rows = {tidy(line.english): line for line in table_lines(one)}
    rule = plural_rule(one.catalogue.header.get("Plural-Forms", ""))
    problems: list[Problem] = []
    new: dict[tuple[str | None, str], po.Entry] = {}
    placed: dict[str, Cell] = {}
    for cell in table.cells:
        line = rows.get(cell.english)
        if line is None:
            problems.append(_unknown(cell, table, list(rows)))
            continue
        if cell.english in placed:
            problems.append(_twice(cell, placed[cell.english], table))
            continue
        placed[cell.english] = cell
        before = line.entry.translations[line.form]
        if cell.translation == tidy(before):
            continue
        if not cell.translation:
            problems.append(_emptied(cell, table))
            continue
        problems += spoilt(cell, table)
        entry = new.get(line.entry.key, line.entry)
        forms = (*entry.translations[: line.form], cell.translation, *entry.translations[line.form + 1 :])
        # New words are nobody's guess any more.
        flags = tuple(flag for flag in entry.flags if flag != "fuzzy")
        new[line.entry.key] = replace(entry, translations=forms, flags=flags, span=Span(file, cell.row, 2))
    for entry in new.values():
        problems += check_entry(entry, one.language, rule[0] if rule else None, one.glossary)
    if any(problem.severity == "error" for problem in problems):
        raise Refusal(in_order(problems))
    changed = tuple(new.values())
    unsigned = sum(
        signoff.signature_of(one.ledger, one.signed_for, one.by_key[entry.key]) is not None for entry in changed
    )
    entries = tuple(
        replace(new[entry.key], span=entry.span) if entry.key in new else entry for entry in one.catalogue.entries
    )
    return Imported(
        one, replace(one.catalogue, entries=entries), len(table.cells), changed, unsigned, in_order(problems)
    )


def table_lines(one: Held) -> tuple[Line, ...]:
    broken = [p for p in (*one.catalogue.problems, *one.problems) if p.span.file == one.file.as_posix()]
    rule = plural_rule(one.catalogue.header.get("Plural-Forms", ""))
    if broken or rule is None:
        raise Refusal(broken or [_no_rule(one)])
    return lines(one.catalogue.entries, rule[1])


def _no_rule(one: Held) -> Problem:
    return Problem(
        "plural-rule",
        one.catalogue.header_span,
        "the catalogue does not say how its language counts",
        "nobody could tell how many forms a message needs",
        f"run `gauzeleaf words check --language {one.language}`, which says what to write",
    )


def _language(table: Table, room: Room, language: str | None) -> str:
    # Two languages can have one name: the Spanish of Guatemala calls itself Español too.
    heading = table.heading.casefold()
    found = [tag for tag in room.languages if heading in (own_name(tag).casefold(), tag.casefold())]
    if language is None and len(found) == 1:
        return found[0]
    if language is not None and (not found or language in found):
        return language
    span = Span(table.file, 1, 2)
    if language is None:
        raise Refusal(
            [
                Problem(
                    "language-not-told",
                    span,
                    f"`{table.heading}` is the name of {'no language' if not found else 'several languages'} with a catalogue in {room.folder.as_posix()}",
                    "the words could land in the catalogue of another language",
                    f"name it behind the file: one of {', '.join(found or room.languages) or 'none yet'}",
                )
            ]
        )
    raise Refusal(
        [
            Problem(
                "language-differs",
                span,
                f"the second column is headed `{table.heading}`, which is `{found[0]}`, and the command says `{language}`",
                "owners would get a sheet in another language",
                f"name `{found[0]}`, or mend the heading to `{own_name(language)}`",
            )
        ]
    )


def _unknown(cell: Cell, table: Table, known: list[str]) -> Problem:
    close = nearest(cell.english, known)
    return Problem(
        "english-unknown",
        Span(table.file, cell.row, 1),
        f"the catalogue has no sentence `{cell.english}`" if cell.english else "the row has no English",
        "the translation would belong to nothing",
        (f"the nearest is `{close}`; " if close else "")
        + "leave the first column as it was exported, and translate in the second",
    )


def _twice(cell: Cell, first: Cell, table: Table) -> Problem:
    return Problem(
        "english-twice",
        Span(table.file, cell.row, 1),
        f"`{cell.english}` stands in two rows",
        "which of the two is meant could not be told",
        "delete one of the two rows",
        also=((Span(table.file, first.row, 1), "the first one is here"),),
    )


def _emptied(cell: Cell, table: Table) -> Problem:
    return Problem(
        "cell-empty",
        Span(table.file, cell.row, 2),
        f"`{cell.english}` has words in the catalogue and none in the table",
        "the old words stay; if they are wrong, they are still wrong",
        "write the better words in this cell, or empty the message in the catalogue",
        "warning",
    )
