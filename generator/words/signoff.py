"""Who has approved which translation: a ledger of digests.

Takes  a language, a message with its translation, and the text of a ledger.
Gives  whether exactly these words are signed, and by whom; a ledger with one more signature.
Knows  that two people sign (ISO 17100:2015, revision by a second person), and that any change un-signs just that message.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Any

from generator.source.problem import Problem
from generator.source.span import Span
from generator.words.po import Entry

_PARTS = ("translator", "reviser", "qualification", "date")


@dataclass(frozen=True, slots=True)
class Signature:
    """One approval. translator and reviser are two people; qualification is the reviser's; day is when it was signed.

    Raises:
        ValueError: a part is empty, or one person stands in both places.
    """

    translator: str
    reviser: str
    qualification: str
    day: date

    def __post_init__(self) -> None:
        if not all(part.strip() for part in (self.translator, self.reviser, self.qualification)):
            raise ValueError("translator, reviser and qualification must all be named")
        if is_one_person(self.translator, self.reviser):
            raise ValueError("translator and reviser must be two people")


Ledger = Mapping[str, Signature]
NOBODY: Ledger = MappingProxyType({})


def digest(language: str, entry: Entry) -> str:
    """A name for exactly these words: changes with any letter of source, context or translation. 64 hex digits."""
    import hashlib

    words = [language, entry.context, entry.source, entry.plural, list(entry.translations)]
    return hashlib.sha256(json.dumps(words, ensure_ascii=True).encode("ascii")).hexdigest()


def sign(ledger: Ledger, language: str, entry: Entry, signature: Signature) -> Ledger:
    """The ledger with this message signed as it stands now."""
    return MappingProxyType({**ledger, digest(language, entry): signature})


def signature_of(ledger: Ledger, language: str, entry: Entry) -> Signature | None:
    """Who signed these very words, or None: then they are a draft."""
    return ledger.get(digest(language, entry)) if ledger else None


def read_ledger(text: str, file: str, today: date | None = None) -> tuple[Ledger, tuple[Problem, ...]]:
    """Read `signed.json`: `{digest: {translator, reviser, qualification, date}}`.

    A row that is not sound signs nothing: its message stays a draft.
    """
    try:
        rows = json.loads(text)
    except json.JSONDecodeError as error:
        return NOBODY, (_unsound(file, f"the ledger cannot be read: {error.msg}", error.lineno, error.colno),)
    if not isinstance(rows, dict):
        return NOBODY, (_unsound(file, "the ledger is not a table of digests", 1, 1),)
    lines = text.split("\n")
    return sound(
        rows, file, today, lambda key: next((number for number, words in enumerate(lines, 1) if key in words), 1)
    )


def sound(
    rows: Mapping[str, Any], file: str, today: date | None = None, line_of: Callable[[str], int] = lambda _: 1
) -> tuple[Ledger, tuple[Problem, ...]]:
    """The rows of a ledger that sign anything, and a problem for each of the others."""
    signed: dict[str, Signature] = {}
    problems: list[Problem] = []
    for key, row in rows.items():
        fault = None if isinstance(row, Signature) else _fault(key, row, today)
        if fault:
            problems.append(_unsound(file, f"the signature under `{key[:12]}` {fault}", line_of(key), 1))
        else:
            signed[key] = row if isinstance(row, Signature) else _signature(row)
    return MappingProxyType(signed), tuple(problems)


def write_ledger(ledger: Ledger) -> str:
    """The text of a ledger, sorted, so that one signature changes one place."""
    rows = {
        key: {
            "translator": s.translator,
            "reviser": s.reviser,
            "qualification": s.qualification,
            "date": s.day.isoformat(),
        }
        for key, s in sorted(ledger.items())
    }
    return json.dumps(rows, ensure_ascii=False, indent=2) + "\n"


def _signature(row: Mapping[str, str]) -> Signature:
    return Signature(row["translator"], row["reviser"], row["qualification"], date.fromisoformat(row["date"]))


def _fault(key: str, row: Any, today: date | None) -> str | None:
    if len(key) != 64 or set(key) - set("0123456789abcdef"):
        return "has no digest of 64 hex digits"
    if not isinstance(row, dict) or set(row) != set(_PARTS) or not all(isinstance(part, str) for part in row.values()):
        return "does not have exactly: " + ", ".join(_PARTS)
    try:
        signature = _signature(row)
    except ValueError as error:
        return f"is not sound: {error}"
    if today is not None and signature.day > today:
        return f"is dated {signature.day}, which has not come yet"
    return None


def _unsound(file: str, what: str, line: int, column: int) -> Problem:
    return Problem(
        "signature-unsound",
        Span(file, line, column),
        what,
        "words that nobody has approved would be printed as approved",
        "take the row out and sign the message again, with two people named and a date such as 2027-03-14",
    )


def is_one_person(one: str, other: str) -> bool:
    """Whether two names are one, however it is written: `J. Roe`, `j roe`, `Roe, J.`, `José` and `Jose`."""
    return _letters(one) == _letters(other) or sorted(_words(one)) == sorted(_words(other))


def _letters(name: str) -> str:
    return "".join(_words(name))


def _words(name: str) -> list[str]:
    plain = "".join(c for c in unicodedata.normalize("NFKD", name).casefold() if not unicodedata.combining(c))
    return "".join(letter if letter.isalnum() else " " for letter in plain).split()
