"""Find protocols by number or name, and write people and texts as YAML wants them.

Takes  an open book and words as typed.
Gives  `protocols_named`; `quoted`: a text as it must be typed; `person`: a name with office and day; `today`.
Knows  nothing of any one verb.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from datetime import date, datetime

from generator.opening import OpenBook
from generator.protocol.model import Protocol
from generator.protocol.shapes import TO_DECIDE, UnsoundValue, nearest
from generator.reckon.clock import located
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span

# What YAML reads as the very words that were typed, also between braces.
_PLAIN = re.compile(r"[A-Za-z](?:[A-Za-z0-9 .()/+-]*[A-Za-z0-9.)])?")
_NOT_TEXT = frozenset(("yes", "no", "true", "false", "on", "off", "null", "y", "n"))


def protocols_named(opened: OpenBook, names: Sequence[str], verb: str) -> tuple[Protocol, ...]:
    """Protocols by document number (`LB-SUP-002`) or by name (`padded-limb-support`), each once.

    Raises:
        Refusal: the book has no such protocol.
    """
    book = opened.reviewed.book
    protocols = dict(book.protocols) if book is not None else {}
    by_number = {number.casefold(): slug for slug, one in protocols.items() if (number := number_of(one)) is not None}
    found: dict[str, Protocol] = {}
    problems = []
    for name in names:
        slug = name if name in protocols else by_number.get(name.casefold())
        if slug is not None:
            found[slug] = protocols[slug]
            continue
        known = [*protocols, *(str(number_of(one)) for one in protocols.values() if number_of(one))]
        close = nearest(name, known) or nearest(name.upper(), known)
        problems.append(
            Problem(
                "protocol-unknown",
                Span(f"{verb} {name}"),
                f"the book has no protocol `{name}`",
                "a revision belongs to one document",
                (f"the nearest is `{close}`; " if close else "")
                + "the book has: "
                + ", ".join(f"{number_of(one) or '?'} ({slug})" for slug, one in sorted(protocols.items())),
            )
        )
    if problems:
        raise Refusal(in_order(problems))
    return tuple(found.values())


def number_of(protocol: Protocol) -> str | None:
    """Its document number; None where it could not be read."""
    try:
        return str(protocol.id)
    except UnsoundValue:
        return None


def errors_in(opened: OpenBook, *protocols: Protocol) -> list[Problem]:
    """What is wrong in their files, and in the settings that every protocol needs."""
    files = {protocol.file for protocol in protocols}
    return [p for p in opened.problems if p.severity == "error" and p.span.file in files]


def today(opened: OpenBook, now: datetime) -> date:
    """The day, in the clinic's zone."""
    return located(now, opened.zone).astimezone(opened.zone).date()


def as_laid_out(before: bytes, text: str) -> bytes:
    """A text as a file's bytes: with the line ends and the mark of its encoding that the file had."""
    mark = b"\xef\xbb\xbf" if before.startswith(b"\xef\xbb\xbf") else b""
    newline = b"\r\n" if b"\r\n" in before else b"\n"
    return mark + text.encode().replace(b"\n", newline)


def quoted(text: str) -> str:
    """A text as it must be typed between braces."""
    said = " ".join(text.split())
    if said == TO_DECIDE or (_PLAIN.fullmatch(said) and said.casefold() not in _NOT_TEXT):
        return said
    return json.dumps(said, ensure_ascii=False)


def person(name: str, role: str, day: date) -> str:
    """Who did something, and when, as it stands in a protocol."""
    return f"{{name: {quoted(name)}, role: {quoted(role)}, date: {day}}}"
