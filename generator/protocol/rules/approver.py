"""R37: a protocol is approved by a clinician of the clinic, not by whoever wrote it.

What it looks for: `approved_by` beside `prepared_by` and the clinicians in clinic.yaml; likewise who settled a blend.
Why it matters: nobody finds their own slips.
Stops: the same name twice; a name that signs for nothing.
Write instead: a second person. A clinic that has one clinician alone says so (`one_clinician: yes` under `signs_for`): then the
same name may stand twice.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol, Settled
from generator.protocol.rules.rule import Rule, each
from generator.protocol.shapes import nearest
from generator.source.problem import Problem
from generator.source.span import Span


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    approved, prepared = protocol.approved_by, protocol.prepared_by
    names = book.clinic.clinicians
    if approved is None:
        pass  # it awaits approval
    elif _same(approved.name, prepared.name):
        is_alone = len(names) == 1 and _same(names[0], approved.name)
        if not (is_alone and book.clinic.one_clinician):
            others = [name for name in names if not _same(name, approved.name)]
            yield Problem(
                "approved-by-its-author",
                approved.spans["name"],
                f"{approved.name} prepared the protocol and approved it",
                "nobody finds their own slips, and these reach an animal",
                "write the name of a second person; "
                + (f"clinic.yaml lists: {', '.join(others)}" if others else "clinic.yaml lists nobody else")
                + (
                    "; if there is no second clinician, write `one_clinician: yes` under `signs_for` in clinic.yaml"
                    if is_alone
                    else ""
                ),
                also=((prepared.spans["name"], "it was prepared here"),),
            )
    elif not any(_same(approved.name, name) for name in names):
        yield _unknown(approved.name, approved.spans["name"], names, "approved the protocol")

    def judge(settled: Settled) -> Iterator[Problem]:
        if not any(_same(settled.decided_by, name) for name in names):
            yield _unknown(settled.decided_by, settled.spans["decided_by"], names, "decided this")

    yield from each(protocol.settles, judge)


def _same(one: str, other: str) -> bool:
    return one.casefold() == other.casefold()


def _unknown(name: str, at: Span, names: tuple[str, ...], did: str) -> Problem:
    close = nearest(name, list(names))
    return Problem(
        "approver-unknown",
        at,
        f"{name} {did}, and is not among the clinicians of clinic.yaml",
        "an approval counts only from somebody who answers for the case",
        (f"write `{close}`, or " if close else "") + f"add `{name}` to `clinicians` under `signs_for` in clinic.yaml",
    )


RULE = Rule(
    id="R37",
    name="approved-by-its-author",
    looks_for="A protocol is approved by a clinician named in clinic.yaml, other than the one who prepared it, unless the clinic says that it has one clinician.",
    why="Nobody finds their own slips.",
    source="ISO 9001:2015 7.5; ISO/IEC 17025:2017 8.3",
    broken="kind: support.soft\n"
    "prepared_by: {name: R. Osei-Lund, role: head technician, date: 2026-10-12}\n"
    "approved_by: {name: R. Osei-Lund, role: head technician, date: 2026-10-22}\n",
    mended="kind: support.soft\n"
    "prepared_by: {name: R. Osei-Lund, role: head technician, date: 2026-10-12}\n"
    "approved_by: {name: Dr M. Tamsin, role: clinician, date: 2026-10-22}\n",
    check=check,
    also=("approver-unknown",),
    blends=True,
)
