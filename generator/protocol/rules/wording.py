"""Find a matter in authored sentences.

Takes  sentences and patterns.
Gives  whether any sentence speaks of the matter, and which of them asks for it rather than warning of it.
Knows  the English words of the trade for it; a rule that rests on words says in its fix which words it looks for.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from generator.protocol.model import Book, Modifier, Protocol
from generator.protocol.shapes import is_unsound

_NOT = re.compile(r"\b(not|never|no|without|except|other than|rather than|unless|nor)\b", re.IGNORECASE)


def speaks_of(sentence: str, *patterns: str) -> bool:
    """Whether every pattern is found in the sentence, letters of either size."""
    return all(re.search(pattern, sentence, re.IGNORECASE) for pattern in patterns)


def any_speaks_of(sentences: Iterable[str], *patterns: str) -> bool:
    return any(speaks_of(sentence, *patterns) for sentence in sentences)


def asks_for(sentence: str, pattern: str) -> bool:
    """Whether the sentence speaks of the matter with no word of denial before it."""
    found = re.search(pattern, sentence, re.IGNORECASE)
    return found is not None and not _NOT.search(sentence[: found.start()])


def sentences_of_steps(protocol: Protocol) -> Iterator[str]:
    """Every sentence that stands in the steps."""
    for step in protocol.steps:
        yield from (text for text in (step.caution, step.do, step.check, step.if_not) if text is not None)


def refrains(protocol: Protocol) -> tuple[str, ...]:
    """The cases in which the protocol is not to be used."""
    return tuple(refrain.case for refrain in protocol.do_not_use_when)


def warnings_of(book: Book, *, ages: bool = False, species: str | None = None) -> Iterator[str]:
    """What the derived modifiers warn staff of: those of an age, or of a species."""
    for modifier in book.modifiers.values():
        if not is_unsound(modifier) and _is_for(modifier, ages, species):
            yield modifier.warns or ""


def _is_for(modifier: Modifier, ages: bool, species: str | None) -> bool:
    return bool(ages and modifier.ages) or (species is not None and species in modifier.species)
