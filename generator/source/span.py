"""Where something stands in a file.

Takes  a name, a line and a column, both counted from 1.
Gives  `Span`, which prints as `file:line:column`.
Knows  nothing of what is written there.
"""

from __future__ import annotations

from dataclasses import dataclass


# Not frozen, for the sake of speed alone: every value of every file has one, and a frozen one takes thrice the time to make.
# Nobody changes one.
@dataclass(slots=True, order=True, unsafe_hash=True)
class Span:
    """A stretch of one line: `file` as the user would type it, `line` and `column` from 1, `length` in characters."""

    file: str
    line: int = 0
    column: int = 0
    length: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file
