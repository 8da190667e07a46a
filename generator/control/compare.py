"""Compare two revisions of one document, or one with what the book says now.

Takes  an open book, revisions as typed.
Gives  `compare`: a `Comparison`. Writes nothing.
Knows  which pairs make a change sheet.
"""

from __future__ import annotations

from generator.control.kept import approval_named, edition_now, edition_of
from generator.opening import OpenBook
from generator.protocol.comparison import Comparison, compared
from generator.source.problem import Problem, Refusal
from generator.source.span import Span


def compare(opened: OpenBook, one: str, other: str | None = None) -> Comparison:
    """Compare revisions, the earlier first in whichever order they were typed.

    Args:
        one, other: `NUMBER@REVISION`; other None: what the book says now.
    Raises:
        Refusal: a revision is not kept, they are of two documents, or there is nothing to compare.
    """
    first = approval_named(opened, one, "compare")
    if other is None:
        now = edition_now(opened, first.id, "compare")
        if now[0].digest == first.digest:
            raise Refusal([_same(f"the book says what was approved as revision {first.revision}", first.id, opened)])
        if now[0].revision < first.revision:
            raise Refusal([_behind(first.id, first.revision, now[0].revision)])
        return compared(first.id, edition_of(opened, first), now)
    second = approval_named(opened, other, "compare")
    if first.id != second.id:
        raise Refusal(
            [
                Problem(
                    "two-documents",
                    Span(f"compare {one} {other}"),
                    f"{first.id} ({first.title}) and {second.id} ({second.title}) are two documents",
                    "a change sheet tells what changed in one document; two of them differ in nearly every line",
                    f"name two revisions of one: `gauzeleaf compare {first.id}@{first.revision}` compares with what the book says now",
                )
            ]
        )
    if first.revision == second.revision:
        raise Refusal([_same(f"revision {first.revision} is named twice", first.id, opened)])
    low, high = sorted((first, second), key=lambda row: row.revision)
    return compared(first.id, edition_of(opened, low), edition_of(opened, high))


def _same(what: str, number: str, opened: OpenBook) -> Problem:
    kept = ", ".join(f"`{number}@{row.revision}`" for row in opened.record.of(number))
    return Problem(
        "nothing-to-compare",
        Span(f"compare {number}"),
        f"nothing differs: {what}",
        "a change sheet without a change would be signed for nothing",
        f"name two revisions that differ; kept are: {kept}",
    )


def _behind(number: str, approved: int, now: int) -> Problem:
    return Problem(
        "revision-behind",
        Span(f"compare {number}"),
        f"the book holds revision {now} of {number}, older than revision {approved}",
        "a change sheet leads from older words to newer ones",
        f"write the right `revision` into the protocol, or name both: `gauzeleaf compare {number}@{now} {number}@{approved}`",
    )
