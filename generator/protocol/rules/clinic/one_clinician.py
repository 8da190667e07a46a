"""C10: a clinic that says it has one clinician names one.

What it looks for: `one_clinician: yes` beside the list of clinicians.
Why it matters: it lets the same person prepare and approve, which is borne with only where there is no second one.
Stops: `one_clinician: yes` beside two names.
Write instead: `one_clinician: no`, or the one name.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book
from generator.protocol.rules.rule import ClinicRule
from generator.source.problem import Problem


def check(book: Book) -> Iterator[Problem]:
    clinic = book.clinic
    if clinic.one_clinician and len(clinic.clinicians) > 1:
        yield Problem(
            "one-clinician-of-several",
            clinic.spans["one_clinician"],
            f"the clinic says that it has one clinician, and names {len(clinic.clinicians)}: {', '.join(clinic.clinicians)}",
            "nobody finds their own slips: whoever has a second clinician has the second read it",
            "write `one_clinician: no`, or leave only the one name under `clinicians`",
        )


RULE = ClinicRule(
    id="C10",
    name="one-clinician-of-several",
    looks_for="A clinic that says it has one clinician names one.",
    why="Only where there is no second one may the same person prepare and approve.",
    source="ISO 9001:2015 7.5; house rule",
    file="clinic.yaml",
    broken="signs_for: {head technician: R. Osei-Lund, clinicians: [Dr M. Tamsin, Dr J. Ferrow], one_clinician: yes}\n",
    mended="signs_for: {head technician: R. Osei-Lund, clinicians: [Dr M. Tamsin, Dr J. Ferrow], one_clinician: no}\n",
    check=check,
)
