"""The locked words of a language: one English term, one word of its own; and its words for not, left and right.

Takes  the text of `glossary.yaml`, which stands beside the catalogue.
Gives  a `Glossary` of patterns; whatever could not be read, as problems with their places.
Knows  single words only; a match is a reason to look, never a proof of sense. A star stands for any ending or beginning.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from generator.source.problem import Problem
from generator.source.span import Span
from generator.source.text import read_tree
from generator.source.tree import Entries, Items, Node, Scalar
from generator.words.languages import scripts

SIGNALS = ("not", "left", "right")
# What every language locks, with a word for whoever has to find its own: an owner who meets two words looks for two things.
LOCKED: Mapping[str, str] = MappingProxyType({
    "bandage": "what is wrapped round the leg, the head or the body",
    "sling": "what holds a leg up or against the body",
    "splint": "the stiff part inside a bandage",
    "cone": "the plastic collar round the neck that keeps the animal from licking",
    "toes": "of the paw",
    "toe": "one of the toes",
    "nails": "the claws at the end of the toes",
    "leg": "any of the four",
    "legs": "more than one leg",
    "paw": "the lowest part of the leg",
    "foot": "the same as paw, for an owner",
    "lead": "the strap that the animal is walked on",
    "cover": "a bag or boot over the foot, against wet",
    "crate": "the cage in which the animal rests",
    "wound": "open flesh",
    "skin": "of the animal",
    "wet": "not dry, whatever the reason",
    "at once": "without any delay",
    "now": "at this moment, not later",
    "never": "at no time",
    "ring": "to telephone the clinic",
    "check": "a visit or a look at the bandage",
    "medicine": "what is given against pain or illness",
})  # fmt: skip
_OF_SIGNALS: Mapping[str, str] = MappingProxyType({
    "not": "every word that turns a sentence round: not, never, no, nothing, without",
    "left": "the side of the body",
    "right": "the side of the body, never “correct”",
})  # fmt: skip
# Written without spaces between words: a form counts wherever it stands.
_UNSPACED = frozenset({"CJK", "THAI", "LAO", "KHMER", "MYANMAR"})


@dataclass(frozen=True, slots=True)
class Glossary:
    """What stands for what. terms: English term to the forms that may say it. signals: `not`, `left`, `right` to forms.

    spans: where each term and signal stands. named: every term that is written in it, with a word or still without.
    """

    language: str
    terms: Mapping[str, Sequence[str]] = field(default_factory=dict)
    signals: Mapping[str, Sequence[str]] = field(default_factory=dict)
    spans: Mapping[str, Span] = field(default_factory=dict)
    named: frozenset[str] = frozenset()

    def says(self, term: str, text: str) -> bool:
        """Whether the text says a locked term by one of its forms."""
        return _pattern(self.terms[term], self.language).search(text) is not None

    def count(self, signal: str, text: str) -> int:
        """How often a text says `not`, `left` or `right`."""
        return len(_pattern(self.signals[signal], self.language).findall(text))


# English `right` and `left` are sides only before a part of the body: "right" is also "correct", "left" also "gone".
_SIDE = r"(?=(?:\s+\w+){0,2}\s+(?:legs?|limbs?|foot|feet|paws?|ears?|eyes?|sides?|shoulders?|hips?|elbows?)\b)"
_ENGLISH: Mapping[str, re.Pattern[str]] = {
    "not": re.compile(
        r"\b(?:not|never|no|cannot|nor|neither|none|nothing|nobody|without|\w+n['\u2019]t)\b", re.IGNORECASE
    ),
    "left": re.compile(rf"\bleft{_SIDE}", re.IGNORECASE),
    "right": re.compile(rf"\bright{_SIDE}", re.IGNORECASE),
}


def english_count(signal: str, text: str) -> int:
    """How often an English sentence says `not`, `left` or `right`."""
    return len(_ENGLISH[signal].findall(text))


def english_says(term: str, text: str) -> bool:
    """Whether an English sentence holds a term as whole words."""
    return re.search(rf"\b{re.escape(term)}\b", text, re.IGNORECASE) is not None


def read_glossary(text: str, file: str, language: str) -> tuple[Glossary, tuple[Problem, ...]]:
    """Read a glossary; what is wrong in it becomes a problem, the rest holds."""
    reading = read_tree(text.encode("utf-8"), file)
    if reading.tree is None:
        return Glossary(language), reading.problems
    problems = [*reading.problems]
    rows: dict[str, dict[str, tuple[str, ...]]] = {"terms": {}, "signals": {}}
    spans: dict[str, Span] = {}
    named: set[str] = set()
    parts = reading.tree.entries if isinstance(reading.tree, Entries) else ()
    if not parts and not problems:
        problems.append(
            _unsound(
                Span(file, 1, 1), "the glossary has no parts", "write `terms:` and `signals:`, as in another language"
            )
        )
    for key, body in parts:
        if key.text not in rows or not isinstance(body, Entries):
            problems.append(
                _unsound(
                    key.span, f"`{key.text}` is no part of a glossary", "write `terms:` or `signals:`, with words below"
                )
            )
            continue
        for name, node in body.entries:
            forms = tuple(_forms(node))
            named |= {name.text} if key.text == "terms" else set()
            if not forms:
                problems.append(_unsound(name.span, f"`{name.text}` has no word", "write it as `toes: [dedos, dedo]`"))
            elif key.text == "signals" and name.text not in SIGNALS:
                problems.append(
                    _unsound(name.span, f"`{name.text}` is no signal", "the signals are `not`, `left` and `right`")
                )
            else:
                rows[key.text][name.text] = forms
                spans[name.text] = name.span
    if parts:
        for signal in SIGNALS:
            # An empty one is named where it stands.
            if signal not in rows["signals"] and not any(f"`{signal}` has no word" in p.what for p in problems):
                problems.append(
                    _unsound(
                        Span(file, 1, 1),
                        f"the words for `{signal}` are not given",
                        f"write `{signal}: […]` under `signals:`",
                    )
                )
    return Glossary(language, rows["terms"], rows["signals"], spans, frozenset(named)), tuple(problems)


def empty_glossary(name: str) -> str:
    """The text of a glossary in which every word is still to be found. name: of the language, in English."""
    rows = [
        f"# Locked words of {name}. One English term, one word of ours; its other forms after it.",
        "# A star stands for any ending or beginning: `bandag*`. Each list that is empty is named by `gauzeleaf words check`.",
    ]
    for part, words in (("terms", LOCKED), ("signals", _OF_SIGNALS)):
        width = max(map(len, words)) + len(": []")
        rows.append(f"{part}:")
        # YAML reads a bare `not` as a word like any other.
        rows += [f"  {f'{term}: []'.ljust(width)}  # {meant}" for term, meant in words.items()]
    return "\n".join(rows) + "\n"


def lacking(glossary: Glossary, file: str) -> tuple[Problem, ...]:
    """A problem for each term that every language locks and this glossary does not name at all."""
    return tuple(
        Problem(
            "glossary-term-missing",
            Span(file, 1, 1),
            f"the locked term `{term}` ({meant}) is not in the glossary",
            "this language could say it by two words, and an owner would look for two things",
            f"add `{term}: […]` under `terms:`, the one word first, then its other forms",
        )
        for term, meant in LOCKED.items()
        if term not in glossary.named
    )


def _forms(node: Node) -> Iterator[str]:
    for item in node.items if isinstance(node, Items) else (node,):
        if isinstance(item, Scalar) and item.text.strip("* "):
            yield item.text.strip()


def _pattern(forms: Iterable[str], language: str) -> re.Pattern[str]:
    """Any of these forms: as whole words, or anywhere in a script without spaces."""
    spaced = not _UNSPACED & set(scripts(language))
    parts = []
    # The longest first, so that one place is counted once.
    for form in sorted(forms, key=len, reverse=True):
        core = r"\s+".join(re.escape(word) for word in form.strip("*").split())
        if spaced:
            # Marks are letters too: a Hindi vowel sign is no `\w`, and a word does not end before it.
            before, after = (
                ("" if form.startswith("*") else r"(?<![\w\u0300-\u036f\u0900-\u0963\u0966-\u0dff])"),
                ("" if form.endswith("*") else r"(?![\w\u0300-\u036f\u064b-\u0652\u0900-\u0963\u0966-\u0dff])"),
            )
            core = before + core + after
        parts.append(core)
    return re.compile("|".join(parts), re.IGNORECASE)


def _unsound(span: Span, what: str, fix: str) -> Problem:
    return Problem("glossary-unsound", span, what, "a wrong word could pass unseen", fix)
