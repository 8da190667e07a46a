"""C09: everybody of the staff stands once in the list.

What it looks for: `name` and the days under `staff` in clinic.yaml.
Why it matters: of two rows of one name nobody can tell whose training is meant.
Stops: a name twice; somebody who left before they came.
Write instead: one row each; two people of one name by a letter or a word more.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Staff
from generator.protocol.rules.rule import ClinicRule, each
from generator.source.problem import Problem


def check(book: Book) -> Iterator[Problem]:
    seen: dict[str, Staff] = {}

    def judge(one: Staff) -> Iterator[Problem]:
        first = seen.setdefault(one.name.casefold(), one)
        if first is not one:
            yield Problem(
                "staff-twice",
                one.spans["name"],
                f"{one.name} is in the list twice",
                "the record of training goes by the name: nobody could tell whose it is",
                "delete one of the rows; if they are two people, write the first name of each in full",
                also=((first.spans["name"], "the name stands here too"),),
            )
        if one.since is not None and one.until is not None and one.until < one.since:
            yield Problem(
                "staff-days",
                one.spans["until"],
                f"{one.name} left on {one.until}, before they came on {one.since}",
                "they would never be asked to read a protocol",
                "look at the two days; leave `until` out for whoever still works here",
            )

    yield from each(book.clinic.staff, judge)


RULE = ClinicRule(
    id="C09",
    name="staff-twice",
    looks_for="Everybody of the staff stands once in the list, with their days in order.",
    why="The record of training goes by the name.",
    source="house rule",
    file="clinic.yaml",
    broken="staff:\n  - {name: J. Adeyemi, role: technician}\n  - {name: j. adeyemi, role: night technician}\n",
    mended="staff:\n  - {name: Joy Adeyemi, role: technician}\n  - {name: John Adeyemi, role: night technician}\n",
    check=check,
    also=("staff-days",),
)
