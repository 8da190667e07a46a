"""R40: a protocol that is named instead is in the book.

What it looks for: `instead` in `do_not_use_when`.
Why it matters: the reader is sent to a page that is not in the binder.
Stops: `instead: splinted-lim`.
Write instead: the name of a protocol of this book, or leave `instead` out.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Protocol, Refrain
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import files_of
from generator.protocol.shapes import nearest
from generator.source.problem import Problem


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    def judge(refrain: Refrain) -> Iterator[Problem]:
        if refrain.instead is None:
            return
        if refrain.instead not in files_of(book) or refrain.instead == protocol.protocol:
            itself = refrain.instead == protocol.protocol
            close = (
                None
                if itself
                else nearest(refrain.instead, [name for name in book.protocols if name != protocol.protocol])
            )
            yield Problem(
                "instead-unknown",
                refrain.spans["instead"],
                "the protocol sends the reader to itself"
                if itself
                else f"there is no protocol `{refrain.instead}` in this book",
                "the reader is sent to a page that does not help",
                (f"write `instead: {close}`, or " if close else "")
                + "delete `instead` and say in `because` what is done",
                severity="warning",
            )

    yield from each(protocol.do_not_use_when, judge)


RULE = Rule(
    id="R40",
    name="instead-unknown",
    looks_for="A protocol that is named instead is in the book.",
    why="The reader would be sent to a page that is not there.",
    source="house rule",
    broken="kind: support.soft\n"
    "do_not_use_when:\n"
    "  - {case: an unstable fracture, because: a soft bandage does not immobilise, instead: splinted-lim}\n"
    "  - ...\n",
    mended="kind: support.soft\n"
    "do_not_use_when:\n"
    "  - {case: an unstable fracture, because: a soft bandage does not immobilise, instead: splinted-limb}\n"
    "  - ...\n",
    check=check,
)
