"""What the text engine refuses, with the words a person needs to put it right.

Takes  the characters or the library that are missing.
Gives  exceptions raised when a block is made, before anything is on paper.
Knows  the names of our extras.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

CJK_EXTRA = "gauzeleaf[cjk]"


class MissingGlyph(ValueError):
    """No font at hand has a character, so it would vanish from the page.

    missing: each character once, with its Unicode name, in code point order.
    language: BCP 47 tag of the block. extra: what to install, None if no extra of ours has it.
    """

    def __init__(self, characters: Iterable[str], language: str, extra: str | None = None) -> None:
        self.missing = tuple((c, unicodedata.name(c, "unnamed character")) for c in sorted(set(characters)))
        self.language = language
        self.extra = extra
        listed = ", ".join(f"U+{ord(c):04X} {name}" for c, name in self.missing)
        remedy = f"; install {extra}" if extra else ""
        super().__init__(f"{language}: no font has {listed}{remedy}")


class MissingExtra(RuntimeError):
    """A text needs a library that is not installed; `extra` names what to install."""

    def __init__(self, library: str, purpose: str, extra: str) -> None:
        self.library = library
        self.extra = extra
        super().__init__(f"{purpose} needs {library}, which is not installed; install {extra}")


class TooManyLines(ValueError):
    """A block that must stay within `max_lines` needs more at the width it was given.

    Nothing is ever cut off.
    """

    def __init__(self, text: str, needed: int, allowed: int) -> None:
        self.needed = needed
        self.allowed = allowed
        super().__init__(f"{text[:60]!r} needs {needed} lines where {allowed} are allowed")
