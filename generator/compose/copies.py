"""The numbered copies of the binder, and what each page says of the copy it belongs to.

Takes  a `Clinic`, the copy to be printed or None, a `Writer`.
Gives  `copy_rows` for the list of copies; `copy_words` for the foot of every page.
Knows  that a page without a copy's number is controlled by nobody.
"""

from __future__ import annotations

from typing import Any

from markupsafe import Markup, escape

from generator.compose.writer import Writer
from generator.protocol.model import Clinic, Copy

# The wording that a page outside the list of copies carries (as laboratories under document control do).
UNCONTROLLED = "Uncontrolled when printed: check the revision before use"


def copy_words(copy: Copy | None, clinic: Clinic, w: Writer) -> Markup:
    """`Controlled copy 2 of 4, prep room`; without a copy, that the page is uncontrolled."""
    if copy is None:
        return escape(UNCONTROLLED)
    return Markup("Controlled copy {} of {}, {}").format(
        w.number("copy", copy.number, str(copy.number)),
        w.number("copy-count", len(clinic.copies), str(len(clinic.copies))),
        w.authored(copy.place, clinic.spans.get("copies"), "copy-place"),
    )


def copy_rows(clinic: Clinic, w: Writer) -> list[dict[str, Any]]:
    """Number, place, holder of each copy, in order of number."""
    span = clinic.spans.get("copies")
    return [
        {
            "number": w.number("copy", copy.number, str(copy.number)),
            "place": w.authored(copy.place, span, "copy-place"),
            "holder": w.authored(copy.holder, span, "copy-holder"),
        }
        for copy in sorted(clinic.copies, key=lambda copy: copy.number)
    ]
