"""Choose the sign that stands beside an owner's line.

Takes  a line as the clinic wrote it, in English, and whether it stands under "Never".
Gives  the name of a pictogram, or None: then the line keeps its plain mark.
Knows  a few words of English. A sign is given only where the words leave no doubt: a wrong sign is worse than none.
"""

from __future__ import annotations

import re

from generator.page.pictograms import Pictogram

# First match wins; every word set must stand in the line. Forbidding signs only under "Never", the others never there.
_DO: tuple[tuple[str, Pictogram], ...] = (
    (r"\btake the cover off\b", "cover-off-indoors"),
    (r"\bput a cover\b|\bcover over\b", "cover-outdoors"),
    (r"\b(look|check)\b.*\btoes?\b", "look-at-toes"),
    (r"\bsmell\b", "smell"),
    (r"\b(cone|collar)\b.*\bon\b", "cone"),
    (r"\blead\b|\bleash\b", "short-lead"),
    (r"\bmedicines?\b", "medicine"),
    (r"\bring us\b", "ring"),
    (r"\bdry\b", "keep-dry"),
)
_NEVER: tuple[tuple[str, Pictogram], ...] = (
    (r"\bjump\b", "no-jumping"),
    (r"\bstairs\b", "no-stairs"),
    (r"\bchew\b|\blick\b", "no-chewing"),
    (r"\bcut\b", "no-cutting"),
)


def sign_for(text: str, never: bool) -> Pictogram | None:
    """The pictogram of a line, or None."""
    lower = text.lower()
    forbids = lower.startswith(("do not", "never", "don't"))
    for pattern, sign in _NEVER if never else _DO:
        if re.search(pattern, lower) and forbids == never:
            return sign
    return None
