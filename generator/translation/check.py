"""Judge what a room has of a language by all that a machine can see.

Takes  a `Room`, a language.
Gives  every problem, each at its place in catalogue, glossary, ledger or back-translation.
Knows  which checks there are; each is made where its words are known.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.proof import letters_in_catalogue
from generator.source.problem import Problem, in_order
from generator.source.span import Span
from generator.translation.room import BACK, Held, Room, shipped_languages, wanted
from generator.words.back_translation import check_back_translations
from generator.words.check import check_catalogue
from generator.words.glossary import lacking
from generator.words.po import Catalogue


def check_language(room: Room, held: Held) -> tuple[Problem, ...]:
    """Every problem of one language.

    Fields, figures, locked terms, negations and sides, coverage, plurals, length, script: `words/check.py`. Signatures:
    `words/signoff.py`. Back-translations: `words/back_translation.py`. That the figures of a finished sheet are those of
    the plan is kept where it is composed (`compose/audit.py`).
    """
    ledger, language = held.ledger, held.language
    return in_order(
        (
            *held.problems,
            *check_catalogue(held.catalogue, language, held.wanted, ledger, held.glossary),
            *_glossary(room, held),
            *letters_in_catalogue(held.file, language),
            *_back(room, held),
        )
    )


def without_catalogue(room: Room) -> Iterator[Problem]:
    """A warning for each language that is shipped, and in which a clinic's own sentences have no words."""
    for language in shipped_languages(room):
        if language in room.languages:
            continue
        nothing = Catalogue("", {}, Span(""), (), ())
        if lack := wanted(room, language, nothing):
            yield Problem(
                "translation-missing",
                lack[0].places[0].span,
                f"`{lack[0].source}` has no words in `{language}`"
                + (f", and {more} sentences more" if (more := len(lack) - 1) else ""),
                "the owner reads these lines in English",
                f"start your own catalogue with `gauzeleaf words merge --language {language}`, and translate them there",
                "warning",
            )


def _glossary(room: Room, held: Held) -> Iterator[Problem]:
    if held.glossary_file is None:
        yield Problem(
            "glossary-missing",
            Span(held.file.as_posix(), 1, 1),
            "no glossary.yaml stands beside the catalogue",
            "nobody would notice a lost `not`, a wrong side, or two words for one thing",
            f"start one with `gauzeleaf words merge --language {held.language}`, and fill it in",
        )
    elif held.glossary is not None:
        yield from lacking(held.glossary, held.glossary_file.as_posix())


def _back(room: Room, held: Held) -> Iterator[Problem]:
    problems = tuple(
        check_back_translations(held.back, held.stops, held.by_key, held.ledger, held.signed_for, room.said)
    )
    missing = [p for p in problems if p.name == "back-translation-missing"]
    if held.back or len(missing) < 2:
        yield from problems
        return
    # Nobody has begun: one line says so.
    first = missing[0]
    yield Problem(
        first.name,
        first.span,
        f"none of the {len(missing)} STOP lines has been translated back into English; this is the first",
        first.why,
        f"have somebody who has not seen the English say in English what each means, and write a row for each in {held.file.with_name(BACK).as_posix()}",
        "warning",
    )
