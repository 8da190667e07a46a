"""Open a clinic's book: read its files, judge them, and know which book need not be judged again.

Takes  the folder as it was typed, or files that are about to be written.
Gives  `OpenBook` from `open_book`, `open_to_plan` and `judged`.
Knows  what a judgement hangs on; nothing of plans or papers.
"""

from __future__ import annotations

import contextlib
import gc
import hashlib
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import tzinfo
from functools import cached_property
from pathlib import Path

from generator import shelf
from generator.protocol.approval import Record, read_record
from generator.protocol.book import SETTINGS, Reviewed, read_book, sound_book
from generator.protocol.model import Book
from generator.protocol.shapes import UnsoundValue, is_unsound
from generator.source.on_demand import OnDemand
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.source.text import READ_BY, Reading, read_tree
from generator.source.tree import Node


@dataclass(frozen=True)
class OpenBook:
    """A book read from disk: its files, what they hold, what is wrong with them."""

    folder: Path
    readings: Mapping[str, Reading]
    reviewed: Reviewed
    problems: tuple[Problem, ...]
    digest: str

    def line(self, span: Span) -> str | None:
        """The line a span stands in, for showing."""
        reading = self.readings.get(span.file)
        if reading is None or not 0 < span.line <= len(reading.lines):
            return None
        return reading.lines[span.line - 1]

    @cached_property
    def book(self) -> Book:
        """The book.

        Raises:
            Refusal: the settings that every plan needs could not be read.
        """
        book = self.reviewed.book
        needed = {file for file in self.readings if Path(file).stem in SETTINGS}
        if book is None or is_unsound(book.clinic) or is_unsound(book.stock) or is_unsound(book.signs):
            raise Refusal(
                [p for p in self.problems if p.severity == "error" and (p.span.file in needed or not p.span.line)]
                or list(self.problems)
            )
        return book

    @cached_property
    def record(self) -> Record:
        """What of this book has been approved; nothing, where it keeps no record.

        Raises:
            Refusal: the record is damaged.
        """
        file = shelf.record_file(self.folder)
        if not file.is_file():
            return Record(file=file.as_posix())
        try:
            text = shelf.read_file(file, "record of approvals").decode("utf-8")
        except UnicodeDecodeError:
            text = ""
        record, problems = read_record(text, file.as_posix())
        if problems:
            raise Refusal(problems)
        return record

    @cached_property
    def zone(self) -> tzinfo:
        """The clinic's time zone."""
        clinic = self.book.clinic
        return shelf.zone(clinic.time_zone, clinic.spans.get("time_zone", Span("clinic.yaml")))


def open_book(typed: str | None, *, patients: bool = False) -> OpenBook:
    """Read and judge a book.

    Args:
        typed: its folder as the user gave it, or None.
        patients: also judge the patient files that lie with it.
    """
    folder = shelf.book_folder(typed)
    return judged(folder, shelf.yaml_files(folder, patients=patients))


def open_to_plan(typed: str | None) -> OpenBook:
    """Open a book that a plan is made from: judged now, unless these very files were found sound by these very rules before.

    Sound is a book without any problem, a warning counted too. Its files are then read only as the plan needs them; what is
    read and said is the same.
    """
    folder = shelf.book_folder(typed)
    files = shelf.yaml_files(folder, patients=False)
    digests = _digests(files)
    key = _judged_from(digests)
    known = (_SOUND.read("books") or b"").split() if key else []
    if key in known:
        return _as_judged(folder, files, digests)
    opened = judged(folder, files)
    if key and not opened.problems and _is_plain(opened):
        _SOUND.write("books", b"\n".join([*known[1 - _MOST_SOUND :], key]))
    return opened


# The books found sound last, each a digest of all that the judgement hangs on. A forged or broken one could make the rules be
# passed over, as a forged rule could: it lies with their compiled code, where only who may change the program may write.
_SOUND = shelf.Kept(Path(__file__).parent / "protocol" / "rules", ".sound")
_MOST_SOUND = 16


def _judged_from(digests: Mapping[str, str]) -> bytes | None:
    """A digest of all that a judgement hangs on but the time zones, which are looked up each time; None where that cannot be told.

    Rules see a book alone: no clock, no folder, no other file.
    """
    program = shelf.program_digest("source", "protocol")
    if program is None:
        return None
    made_of = [
        program,
        READ_BY,
        sys.version,
        *(f"{name}:{digest}" for name, digest in digests.items()),
    ]
    return hashlib.sha256("\n".join(made_of).encode()).hexdigest().encode()


def _is_plain(opened: OpenBook) -> bool:
    """Whether each file is either one of the settings or one protocol, told apart by names alone."""
    stems = sorted(Path(name).stem for name in opened.readings)
    protocols = opened.reviewed.book.protocols if opened.reviewed.book else {}
    return stems == sorted({*protocols, *(stem for stem in stems if stem in SETTINGS)})


def _as_judged(folder: Path, files: Mapping[str, bytes], digests: Mapping[str, str]) -> OpenBook:
    """A book that was found sound. What is read of it now is still read with open eyes.

    Raises:
        Refusal: now or when a file is asked for: it cannot be read as it was.
    """

    def reading_of(name: str) -> Reading:
        reading = read_tree(files[name], name)
        if reading.problems:
            raise Refusal(reading.problems)
        return reading

    def tree_of(name: str) -> Node:
        tree = readings[name].tree
        assert tree is not None, "a file without a problem has a tree"
        return tree

    readings = OnDemand(files, reading_of)
    opened = OpenBook(
        folder, readings, Reviewed(sound_book(OnDemand(files, tree_of), digests), ()), (), _whole(digests)
    )
    return replace(opened, problems=in_order(_zone_problem(opened)))


def judged(folder: Path, files: Mapping[str, bytes]) -> OpenBook:
    """Read and judge a book whose files are at hand, or are about to be written."""
    with _no_collector():
        return _read_and_judge(folder, files)


@contextlib.contextmanager
def _no_collector() -> Iterator[None]:
    """A large book makes many values, all of which stay: looking through them for rubbish costs half the time again."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _read_and_judge(folder: Path, files: Mapping[str, bytes]) -> OpenBook:
    readings = {name: read_tree(data, name) for name, data in files.items()}
    digests = _digests(files)
    trees = {name: reading.tree for name, reading in readings.items() if reading.tree is not None}
    reviewed = read_book(trees, folder.as_posix(), digests)
    # A file that could not be parsed is already named; that the book lacks it is the same problem once more.
    broken = {Path(name).name for name, reading in readings.items() if reading.tree is None}
    own = tuple(p for p in reviewed.problems if not (p.name == "file-missing" and Path(p.span.file).name in broken))
    problems = in_order((*(p for reading in readings.values() for p in reading.problems), *own))
    opened = OpenBook(folder, readings, replace(reviewed, problems=problems), problems, _whole(digests))
    return replace(opened, problems=in_order((*problems, *_zone_problem(opened))))


def _digests(files: Mapping[str, bytes]) -> dict[str, str]:
    # By the files' own names: the same book gives the same sheet number wherever its folder lies.
    return {
        Path(name).name: hashlib.sha256(data).hexdigest() for name, data in files.items() if "/patients/" not in name
    }


def _whole(digests: Mapping[str, str]) -> str:
    return hashlib.sha256(
        "".join(f"{name}:{digest}\n" for name, digest in sorted(digests.items())).encode()
    ).hexdigest()


def _zone_problem(opened: OpenBook) -> list[Problem]:
    try:
        clinic = opened.reviewed.book.clinic if opened.reviewed.book else None
        if clinic is not None:
            shelf.zone(clinic.time_zone, clinic.spans.get("time_zone", Span("clinic.yaml")))
    except Refusal as refusal:
        return list(refusal.problems)
    except (UnsoundValue, TypeError, AttributeError):
        return []
    return []
