"""Record that two qualified people have approved a language's words, sentence by sentence.

Takes  a `Held`, who translated and who revised, the day, the sentences.
Gives  the ledger with their signatures, and what could not be signed, with the reason.
Knows  what may be signed at all: sound words, STOP lines translated back, in a clinic's own room. Who signs is not its to know.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from generator.flow import LEDGER
from generator.protocol.shapes import nearest
from generator.source.problem import Problem, Refusal, in_order
from generator.source.span import Span
from generator.translation.check import check_language
from generator.translation.room import BACK, Held, Room
from generator.words import signoff
from generator.words.back_translation import about
from generator.words.po import Entry
from generator.words.signoff import Ledger, Signature


@dataclass(frozen=True, slots=True)
class Signed:
    """What was signed. left: why others were not, a problem each. before: signed already. stale: rows taken out, of words that are gone."""

    held: Held
    ledger: Ledger
    signed: tuple[Entry, ...]
    left: tuple[Problem, ...]
    drafts: int
    before: int
    stale: int

    @property
    def file(self) -> Path:
        """The ledger's place."""
        return self.held.file.with_name(LEDGER)

    @property
    def files(self) -> Mapping[Path, bytes]:
        """The ledger as it is to be written; nothing if nobody signed anything."""
        return {self.file: signoff.write_ledger(self.ledger).encode("utf-8")} if self.signed else {}


def signature(translator: str, reviser: str, qualification: str, day: str, today: date) -> Signature:
    """Who signs, as typed behind the options.

    Raises:
        Refusal: a part is empty, one person stands in both places, or the day is none or has not come yet.
    """
    problems = []
    for option, text in (("--translator", translator), ("--reviser", reviser), ("--qualification", qualification)):
        if not text.strip():
            problems.append(
                _refused(
                    "signature-empty",
                    option,
                    "nobody is named",
                    "words that nobody answers for would be printed as approved",
                    "write the name, or what qualifies the reviser",
                )
            )
    if not problems and signoff.is_one_person(translator, reviser):
        problems.append(
            _refused(
                "signed-by-one-person",
                f"--reviser {reviser}",
                "the translator and the reviser are one person",
                "nobody sees his own mistakes: ISO 17100 asks for a second person",
                "have another qualified person revise the words, and name that one",
            )
        )
    try:
        on = date.fromisoformat(day)
    except ValueError:
        on = today
        problems.append(
            _refused(
                "date-unreadable",
                f"--date {day}",
                f"`{day}` is not a date",
                "nobody could tell how old the approval is",
                "write it as 2027-03-14",
            )
        )
    if on > today:
        problems.append(
            _refused(
                "date-to-come",
                f"--date {day}",
                f"{on.isoformat()} has not come yet",
                "words would count as approved before anybody has read them",
                "write the day on which the revision was finished",
            )
        )
    if problems:
        raise Refusal(problems)
    return Signature(translator.strip(), reviser.strip(), qualification.strip(), on)


def sign(room: Room, one: Held, by: Signature, sentences: Sequence[str] | None) -> Signed:
    """Sign sentences of a catalogue as they stand now.

    Args:
        sentences: English sentences; None for all that are not signed yet: then what cannot be signed is left.
    Raises:
        Refusal: this is the shipped room, the catalogue as a whole is wrong, or one of `sentences` cannot be signed.
    """
    if room.is_shipped:
        raise Refusal([_shipped(room, one)])
    general, by_entry = _errors(room, one)
    if general:
        raise Refusal(general)
    stops = {message.key for message in one.stops}
    entries, problems = _named(one, sentences) if sentences is not None else (_unsigned(one), [])
    signed: list[Entry] = []
    ledger, stale = _present(one)
    before = len(ledger)
    for entry in entries:
        reasons = [*_missing(entry), *by_entry.get(entry.span.line, ())]
        if entry.key in stops and entry.is_translated and not about(one.back, entry):
            reasons.append(_not_back(entry, one))
        problems += reasons
        if not reasons:
            signed.append(entry)
            ledger = signoff.sign(ledger, one.signed_for, entry, by)
    if problems and (sentences is not None or not signed):
        raise Refusal(in_order(problems))
    wanted = {message.key for message in one.wanted}
    drafts = sum(
        entry.is_translated and signoff.signature_of(ledger, one.signed_for, entry) is None
        for entry in one.catalogue.entries
        if entry.key in wanted
    )
    return Signed(one, ledger, tuple(signed), in_order(problems), drafts, before, stale)


def _errors(room: Room, one: Held) -> tuple[list[Problem], dict[int, list[Problem]]]:
    """Errors of the catalogue as a whole, and those of single messages by the line of the message."""
    starts = sorted(entry.span.line for entry in one.catalogue.entries)
    catalogue = one.file.as_posix()
    general: list[Problem] = []
    by_entry: dict[int, list[Problem]] = {}
    for problem in check_language(room, one):
        if problem.severity != "error":
            continue
        # A back-translation stands in another file, and names the message beside it.
        lines = [span.line for span in (problem.span, *(span for span, _ in problem.also)) if span.file == catalogue]
        start = max((start for start in starts if lines and start <= lines[0]), default=None)
        if start is None:
            general.append(problem)
        else:
            by_entry.setdefault(start, []).append(problem)
    return general, by_entry


def _named(one: Held, sentences: Sequence[str]) -> tuple[list[Entry], list[Problem]]:
    by_source: dict[str, list[Entry]] = {}
    for entry in one.catalogue.entries:
        by_source.setdefault(entry.source, []).append(entry)
    problems = [
        _refused(
            "sentence-unknown",
            f'--message "{sentence}"',
            f"the catalogue of `{one.language}` has no such sentence",
            "a signature would approve nothing",
            (f'the nearest is "{close}"' if (close := nearest(sentence, list(by_source))) else "write the English sentence exactly as the catalogue has it"),
        )
        for sentence in sentences
        if sentence not in by_source
    ]  # fmt: skip
    return [entry for sentence in dict.fromkeys(sentences) for entry in by_source.get(sentence, ())], problems


def _unsigned(one: Held) -> list[Entry]:
    return [entry for entry in one.catalogue.entries if signoff.signature_of(one.ledger, one.signed_for, entry) is None]


def _present(one: Held) -> tuple[Ledger, int]:
    """The signatures of words that still stand, and how many others there were."""
    present = {signoff.digest(one.signed_for, entry) for entry in one.catalogue.entries}
    kept = {key: row for key, row in one.ledger.items() if key in present}
    return kept, len(one.ledger) - len(kept)


def _missing(entry: Entry) -> Iterator[Problem]:
    if not entry.is_translated:
        yield Problem(
            "translation-missing",
            entry.span,
            f"`{entry.source}` has no translation",
            "there are no words to approve",
            "translate it, all forms of it",
        )


def _not_back(entry: Entry, one: Held) -> Problem:
    return Problem(
        "back-translation-missing",
        entry.span,
        f"the STOP line `{entry.source}` has not been translated back as it stands now",
        "a line whose meaning has turned round reads as smoothly as any other, and signed it prints alone",
        f"have somebody who has not seen the English say in English what it means, and write a row in {one.file.with_name(BACK).as_posix()}",
    )


def _shipped(room: Room, one: Held) -> Problem:
    return Problem(
        "room-of-the-tool",
        Span(room.folder.as_posix()),
        "these are the words that come with the tool, and nobody signs them for a clinic",
        "whoever hands a sheet to an owner answers for every word on it",
        f"take the words into your own book with `gauzeleaf words merge --book our-book --language {one.language} --all`, have them revised, and sign them there",
    )


def _refused(name: str, option: str, what: str, why: str, fix: str) -> Problem:
    return Problem(name, Span(option), what, why, fix)
