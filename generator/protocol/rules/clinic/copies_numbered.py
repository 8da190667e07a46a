"""C05: every copy of the binder has a number of its own.

What it looks for: `number` under `copies`.
Why it matters: an old copy cannot be called in by its number if two bear it.
Stops: two copies numbered 2.
Write instead: 1, 2, 3 and so on.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book
from generator.protocol.rules.rule import ClinicRule
from generator.source.problem import Problem


def check(book: Book) -> Iterator[Problem]:
    seen: set[int] = set()
    for copy in book.clinic.copies:
        if copy.number in seen:
            yield Problem(
                "copy-number-twice",
                book.clinic.spans["copies"],
                f"two copies bear the number {copy.number}",
                "an old copy cannot be called in by its number if two bear it",
                f"write `number: {max(c.number for c in book.clinic.copies) + 1}` for the copy at {copy.place}",
            )
        seen.add(copy.number)


RULE = ClinicRule(
    id="C05",
    name="copy-number-twice",
    looks_for="Every copy of the binder has a number of its own.",
    why="An old copy could not be called in by its number.",
    source="ISO/IEC 17025:2017 8.3",
    file="clinic.yaml",
    broken="copies:\n  - {number: 1, place: prep room, holder: head technician}\n  - {number: 1, place: ward, holder: charge technician}\n",
    mended="copies:\n"
    "  - {number: 1, place: prep room, holder: head technician}\n"
    "  - {number: 2, place: ward, holder: charge technician}\n",
    check=check,
)
