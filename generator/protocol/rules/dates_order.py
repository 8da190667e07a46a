"""R35: a protocol is prepared, approved, in force and reviewed in that order.

What it looks for: prepared ≤ approved ≤ effective < review_by.
Why it matters: a paper in force before it was approved has no standing.
Stops: `effective: 2026-08-01` with an approval of 2026-08-28.
Write instead: the date as it was.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.source.problem import Problem
from generator.source.span import Span

# In the order in which they must follow one another.
_SAYS = {
    "prepared": "the day of preparation",
    "approved": "the day of approval",
    "effective": "the day of coming into force",
    "review_by": "the day of review",
}


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    dated = [name for name in _SAYS if not _awaits(protocol, name)]
    yield from each(pairwise(dated), lambda pair: _judge(_dated(protocol, pair[0]), _dated(protocol, pair[1])))


Dated = tuple[str, date | None, Span]


def _awaits(protocol: Protocol, name: str) -> bool:
    """Whether an approval will write this date."""
    awaited = {"approved": "approved_by", "effective": "effective", "review_by": "review_by"}
    return name in awaited and getattr(protocol, awaited[name]) is None


def _dated(protocol: Protocol, name: str) -> Dated:
    if name in ("prepared", "approved"):
        person = protocol.prepared_by if name == "prepared" else protocol.approved_by
        assert person is not None, "what awaits approval is not judged"
        return name, person.date, person.spans["date"]
    return name, protocol.effective if name == "effective" else protocol.review_by, protocol.span(name)


def _judge(first: Dated, second: Dated) -> Iterator[Problem]:
    (one, early, place), (other, late, at) = first, second
    assert early is not None, "what awaits approval is not judged"
    assert late is not None, "what awaits approval is not judged"
    if early > late or (early == late and other == "review_by"):
        yield Problem(
            "dates-out-of-order",
            at,
            f"{_SAYS[other]} {late} {'is not after' if early == late else 'is before'} {_SAYS[one]} {early}",
            "an inspector reads from these dates whether the paper had any standing",
            f"write the date as it was, {'after' if other == 'review_by' else 'not before'} {early}; the order is prepared, approved, `effective`, `review_by`",
            also=((place, f"{_SAYS[one]} is here"),),
        )


RULE = Rule(
    id="R35",
    name="dates-out-of-order",
    looks_for="A protocol is prepared, then approved, then in force, then reviewed.",
    why="A paper in force before it was approved has no standing.",
    source="ISO 9001:2015 7.5; ISO/IEC 17025:2017 8.3",
    broken="kind: support.soft\n"
    "prepared_by: {name: R. Osei-Lund, role: head technician, date: 2026-10-12}\n"
    "approved_by: {name: Dr M. Tamsin, role: clinician, date: 2026-10-22}\n"
    "effective: 2026-10-15\n"
    "review_by: 2028-01-31\n",
    mended="kind: support.soft\n"
    "prepared_by: {name: R. Osei-Lund, role: head technician, date: 2026-10-12}\n"
    "approved_by: {name: Dr M. Tamsin, role: clinician, date: 2026-10-22}\n"
    "effective: 2026-11-02\n"
    "review_by: 2028-01-31\n",
    check=check,
    blends=True,
)
