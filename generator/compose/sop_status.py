"""Whether a procedure may be used on this day, and what is written across its pages if not.

Takes  a protocol, the day, how it stands in the record, the day from which its revision no longer counts.
Gives  `status_of`: one word for the index, and the strips for the top of every page.
Knows  the four strips: WITHDRAWN, TRIAL, NOT YET IN FORCE, REVIEW OVERDUE.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from markupsafe import Markup

from generator.compose import hand
from generator.compose.writer import Writer
from generator.protocol.approval import Standing
from generator.protocol.model import Protocol


def status_of(
    protocol: Protocol, today: date, standing: Standing | None, gone: date | None, w: Writer
) -> dict[str, Any]:
    """`status` in words, `is_alarm` whether it keeps the procedure from being used as usual, `bands` across each page."""

    def day(moment: date, name: str) -> Markup:
        return w.day(moment, hand.iso_day(moment), name)

    if gone is not None and gone <= today:
        band = Markup("WITHDRAWN {}: out of use, kept for the record").format(day(gone, "withdrawn"))
        return {"status": "withdrawn", "is_alarm": True, "bands": [band]}
    words, bands = [], []
    if standing is not None and not standing.is_approved:
        words.append("on trial")
        bands.append(Markup("TRIAL: not approved as it stands. For drills and proofreading, not for an animal."))
    if protocol.effective is not None and protocol.effective > today:
        words.append("not yet in force")
        bands.append(Markup("NOT YET IN FORCE: do not use before {}").format(day(protocol.effective, "effective")))
    if protocol.review_by is not None and protocol.review_by < today:
        words.append("review overdue")
        bands.append(
            Markup("REVIEW OVERDUE since {}: ask the head technician before use").format(
                day(protocol.review_by, "review")
            )
        )
    return {"status": words[0] if words else "in force", "is_alarm": bool(words), "bands": bands}
