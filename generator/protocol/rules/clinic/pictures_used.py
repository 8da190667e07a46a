"""C08: every picture stands beside a line that some protocol says, and forbids only where the line does.

What it looks for: lines of pictures.yaml that no protocol has; a crossed-out picture beside a line that forbids nothing.
Why it matters: a line reworded in its protocol loses its picture without a word; a picture that says the opposite of its line is believed.
Stops: `cone: Keep the cone on.` where the protocols say `Keep the cone on, also at night.`
Write instead: the line as the protocol has it, letter by letter.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.protocol.model import Book
from generator.protocol.rules.owner_lines_safe import FORBIDS
from generator.protocol.rules.rule import ClinicRule
from generator.protocol.shapes import is_unsound, nearest
from generator.source.problem import Problem

# To carry an animal on stairs is to keep it from them, and to take a cover off is not to leave it on: either wording will do.
_KEPT_FROM = re.compile(rf"{FORBIDS}|\bcarry\b|\boff\b", re.IGNORECASE)


def check(book: Book) -> Iterator[Problem]:
    if is_unsound(book.pictures) or not book.pictures:
        return
    said: set[str] = set()
    for protocol in book.protocols.values():
        for text in (protocol.owner, *(stage.owner for stage in protocol.stages.values())):
            if text is not None:
                said |= {str(line) for line in (*text.every_day, *text.keep_dry, *text.never)}
    for line, pictured in book.pictures.items():
        if pictured.picture.startswith("no ") and not _KEPT_FROM.search(line):
            yield Problem(
                "picture-forbids",
                pictured.span,
                f"`{pictured.picture}` is crossed out, and “{line}” forbids nothing",
                "who cannot read the words believes the picture",
                "give the line another picture, or none",
            )
        if said and line not in said:
            near = nearest(line, sorted(said))
            yield Problem(
                "picture-without-line",
                pictured.span,
                f"no protocol says “{line}”",
                "a line that was reworded stands without its picture, and who cannot read misses it",
                f"write the line as its protocol has it{f': `{near}`' if near else ''}, or delete it here",
                severity="warning",
            )


RULE = ClinicRule(
    id="C08",
    name="picture-without-line",
    looks_for="Every line of pictures.yaml is said by some protocol, and a crossed-out picture stands only beside a line that forbids.",
    why="A reworded line loses its picture in silence; a picture that says the opposite of its line is believed.",
    source="house rule",
    file="pictures.yaml",
    broken="cone: Keep the cone on.\n",
    mended="cone: Keep the cone on, also at night.\n",
    check=check,
    also=("picture-forbids",),
)
