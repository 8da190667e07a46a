"""Find a matter in authored sentences.

Takes  sentences and patterns.
Gives  whether any sentence speaks of the matter, and which of them asks for it rather than warning of it.
Knows  that words of denial come first in English, and that a sentence which could not be read ends the search:
       `str` raises `UnsoundValue` on it, where a pattern would only stumble.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import PurePath

from generator.protocol.model import Book, Modifier, Protocol
from generator.protocol.shapes import UnsoundValue, is_unsound

_NOT = re.compile(r"\b(not|never|no|without|except|other than|rather than|unless|nor)\b", re.IGNORECASE)


def one(words: str) -> str:
    """The words with their article: `a cast`, `an Ehmer sling`."""
    return f"{'an' if words[0] in 'aeiouAEIOU' else 'a'} {words}"


def speaks_of(sentence: str, *patterns: str) -> bool:
    """Whether every pattern is found in the sentence, letters of either size."""
    return all(_found(str(sentence), pattern) is not None for pattern in patterns)


@lru_cache(65536)
def _found(sentence: str, pattern: str) -> re.Match[str] | None:
    """Many rules ask one sentence the same, and a book says the same sentence in many protocols."""
    return re.search(pattern, sentence, re.IGNORECASE)


def any_speaks_of(sentences: Iterable[str], *patterns: str) -> bool:
    return any(speaks_of(sentence, *patterns) for sentence in sentences)


def asks_for(sentence: str, pattern: str) -> bool:
    """Whether the sentence speaks of the matter with no word of denial before it."""
    found = _found(str(sentence), pattern)
    return found is not None and not _NOT.search(sentence[: found.start()])


def sentences_of_steps(protocol: Protocol) -> Iterator[str]:
    """Every sentence that stands in the steps."""
    for step in protocol.steps:
        yield from (text for text in (step.caution, step.do, step.check, step.if_not) if text is not None)


def refrains(protocol: Protocol) -> tuple[str, ...]:
    """The cases in which the protocol is not to be used."""
    return tuple(refrain.case for refrain in protocol.do_not_use_when)


def files_of(book: Book) -> frozenset[str]:
    """The names of the protocols and settings that the book has, also of those that could not be read."""
    return frozenset({*book.protocols, *_stems(frozenset(book.digests))})


@lru_cache(maxsize=8)
def _stems(names: frozenset[str]) -> tuple[str, ...]:
    """Names of files without folder and ending; rules ask for them once a sentence."""
    return tuple(PurePath(name).stem for name in names)


def warnings_of(book: Book, *, ages: bool = False, species: str | None = None) -> Iterator[str]:
    """What the derived modifiers warn staff of: those of an age, or of a species.

    Raises:
        UnsoundValue: modifiers.yaml is there and could not be read, so that nobody knows what it warns of.
    """
    if not book.modifiers and "modifiers" in files_of(book):
        raise UnsoundValue
    for modifier in book.modifiers.values():
        if not is_unsound(modifier) and _is_for(modifier, ages, species):
            yield modifier.warns or ""


def _is_for(modifier: Modifier, ages: bool, species: str | None) -> bool:
    # One that forgot to say from what it is derived has its own problem (`modifiers_sound`).
    return (ages and (bool(modifier.ages) or modifier.name == "growing")) or (
        species is not None and species in (*modifier.species, modifier.name)
    )
