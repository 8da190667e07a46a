"""R48: the owner's sheet forbids handling the bandage, and speaks of all that is done at home.

What it looks for: lines on handling, toes, warmth, smell, rest, wet, medicine, and on what to do when it comes off.
Why it matters: whatever the sheet does not forbid is done by somebody who means well.
Stops: a `never` list without a word on loosening, cutting or taping.
Write instead: the line that the message gives.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from generator.protocol.model import Book, OwnerText, Protocol
from generator.protocol.quantity import limit
from generator.protocol.rules.amounts import seconds
from generator.protocol.rules.reach import on_limb, parts_of
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import any_speaks_of
from generator.source.problem import Problem

HANDLING = r"\b(loosen|tighten|re-?wrap|re-?tape|tape|trim|open|handle)\b|\bleave\b[^.]*\balone\b"
_DENIED = re.compile(r"\b(not|never|no)\b[^.;:]*", re.IGNORECASE)
_COVER_ON, _COVER_OFF = (
    r"\b(put|use|wear)\b[^.]*\bcover\b",
    r"\bcover off\b|\b(take|pull) off\b[^.]*\bcover\b|\bremove\b[^.]*\bcover\b",
)


@dataclass(frozen=True, slots=True)
class _Line:
    """said: what is missing. pattern: what it is known by, in any of the lists. line: one to write. key: the list it belongs to."""

    said: str
    pattern: str
    key: str
    line: str
    concerns: Callable[[Protocol], bool]


def _is_sling(protocol: Protocol) -> bool:
    return protocol.purpose == "sling"


def _is_covered(protocol: Protocol) -> bool:
    return protocol.owner is not None and any_speaks_of(_all(protocol.owner), _COVER_ON)


# American College of Veterinary Surgeons, owner page (published 40): toes, warmth, cover off indoors. Activity: published 3.
# Breathing: published 9. Medicines: from memory. The others: common practice.
_LINES = (
    _Line("looking at the toes", r"\b(look|check|see|compare|count)\w*\b[^.]*\b(toes?|nails?)\b", "every_day", "Look at the toes once for each box.", on_limb),
    _Line("how the toes feel", r"\bwarm\b|\bcold\b", "every_day", "Feel the toes. Warm and soft is right.", lambda p: on_limb(p) and p.kind != "sling.velpeau"),
    _Line("smell", r"\bsmell|\bsniff", "every_day", "Smell the bandage at both ends.", lambda p: not _is_sling(p)),
    _Line("sore skin at the edges", r"\bsore\b|\bedges?\b", "every_day", "Look at the edges for sore skin.", _is_sling),
    _Line("stairs", r"\bstairs?\b", "every_day", "Carry {pet} up and down stairs.", _is_sling),
    _Line("breathing", r"\bbreath|\bchest\b", "every_day", "Watch the chest rise with ease.", lambda p: p.kind in ("sling.velpeau", "cover.head", "cover.trunk")),
    _Line("jumping and running", r"\bjump|\brun\b|\bplay", "never", "Do not let {pet} jump or run.", on_limb),
    _Line("what to do when it comes off", r"\b(comes?|slips?|falls?) (off|out)\b|\bput (it|the \w+) back\b", "never", "Came off? Do not put it back. Ring us.", lambda p: True),
    _Line("medicine for people", r"\bmedicines?\b|\bdrugs?\b|\bpills?\b|\bpainkillers?\b", "never", "Do not give human medicine. It can kill.", lambda p: True),
    _Line("what keeps it dry outside", _COVER_ON + r"|\brain\b|\bwater\b", "keep_dry", "Put a cover over the foot to go out.", lambda p: True),
    _Line("taking the cover off indoors", _COVER_OFF, "keep_dry", "Take the cover off once indoors.", _is_covered),
    _Line("how the cover is not tied", r"\brubber bands?\b|\bstring\b|\btie\b", "never", "Do not tie the cover with rubber bands.", _is_covered),
)  # fmt: skip
_OFTEN = (
    (r"\bmorning and (evening|night)\b|\btwice (a|each|per) day\b|\btwice daily\b|\btwo times\b", 2),
    (r"\bthree times\b|\bthrice\b", 3),
    (r"\bfour times\b", 4),
    (r"\bonce (a|each|per) day\b|\bonce daily\b|\b(each|every) (morning|evening|night)\b", 1),
)
DAY = limit("24 h")


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    """A stored blend's own lines stand for those of all its parts, and must say what each part asks for."""
    if protocol.kind != "blend":
        yield from _judged(protocol)
        return
    if protocol.owner is None:
        return
    said = set()
    for part in parts_of(protocol, book):
        for problem in _judged(replace(part, owner=protocol.owner)):
            if (problem.name, problem.what) not in said:
                said.add((problem.name, problem.what))
                yield problem


def _judged(protocol: Protocol) -> Iterator[Problem]:
    # What never goes home has no sheet; that one that does has no words at all is `go_home_needs`'s to tell.
    if not protocol.limits.go_home or protocol.owner is None or protocol.purpose == "haemorrhage":
        return
    owner = protocol.owner
    denied = [found[0] for line in (*owner.never, *owner.every_day) for found in _DENIED.finditer(str(line))]
    if not any_speaks_of([*denied, *(line for line in owner.never if "alone" in str(line))], HANDLING):
        yield Problem(
            "handling-not-forbidden",
            owner.spans["never"],
            "no line forbids to loosen, tighten or tape the bandage",
            "somebody who means well opens or tapes it, and it presses or slips",
            "add a line `- Do not cut, loosen, tighten or tape it.` to `never`",
        )
    for row in _LINES:
        # A sheet without `keep_dry` is told so once, below.
        if row.key == "keep_dry" and not owner.keep_dry:
            continue
        if row.concerns(protocol) and not any_speaks_of(_all(owner), row.pattern):
            yield Problem(
                "owner-line-missing",
                owner.spans.get(row.key) or owner.spans["every_day"],
                f"no line for the owner speaks of {row.said}",
                "what the sheet does not name is not looked for, or is done by somebody who means well",
                f"add a line `- {row.line}` to `{row.key}`",
                severity="warning",
            )
    if not owner.keep_dry:
        yield _lacking(
            owner,
            "how it stays dry",
            "add a key `keep_dry` with a line such as `- Put a cover over the foot to go out.`",
        )
    if owner.exercise is None and on_limb(protocol):
        yield _lacking(
            owner, "what rest means, in walks a day", "add `exercise: {walks: 4 a day, minutes_each: 5 min, lead: 2 m}`"
        )
    yield from _counted(protocol, owner)


def _lacking(owner: OwnerText, said: str, fix: str) -> Problem:
    return Problem(
        "owner-line-missing",
        owner.spans["every_day"],
        f"nothing for the owner says {said}",
        "rest that is not counted is not kept, and a wet bandage softens skin and shrinks",
        fix,
        severity="warning",
    )


def _counted(protocol: Protocol, owner: OwnerText) -> Iterator[Problem]:
    watched = protocol.limits.check_every
    if watched is None:
        return
    for line in owner.every_day:
        # One line that counts the checks; a cone that is worn at night counts nothing.
        times = next(
            (number for pattern, number in _OFTEN if any_speaks_of([line], pattern, r"\b(look|check|feel|toes?)\b")),
            None,
        )
        if times is not None and times * seconds(watched.interval) != seconds(DAY):
            yield Problem(
                "checks-counted-otherwise",
                owner.spans["every_day"],
                f"“{line}” is {times} a day; `check_every` is {watched.interval}",
                "the boxes printed beside it are another number, and some animals are looked at more often still",
                "write `- Look at the toes once for each box.`; the boxes are counted from `check_every`",
                severity="warning",
                also=((watched.spans["interval"], "the interval is set here"),),
            )


def _all(owner: OwnerText) -> tuple[str, ...]:
    return (*owner.every_day, *owner.keep_dry, *owner.never)


RULE = Rule(
    id="R48",
    name="handling-not-forbidden",
    looks_for="The owner's sheet forbids to loosen, tighten, cut or tape the bandage, and speaks of toes, smell, rest, wet, medicine, "
    "and of what to do when it comes off; it counts the checks as `check_every` does.",
    why="Whatever the sheet does not forbid is done by somebody who means well.",
    source="published 3, 9, 40; common practice; medicines from memory",
    broken="kind: support.soft\n"
    "owner:\n"
    "  what_it_does: It limits swelling and gives support.\n"
    "  every_day:\n"
    "    - Look at the toes once for each box.\n"
    "    - Feel the toes. Warm and soft is right.\n"
    "    - Smell the bandage at both ends.\n"
    "    - Keep {pet} in a crate when alone.\n"
    "    - Give only the medicine we gave you.\n"
    "  keep_dry:\n"
    "    - Put a cover over the foot to go out.\n"
    "    - Take the cover off once indoors.\n"
    "  exercise: {walks: 4 a day, minutes_each: 5 min, lead: 2 m}\n"
    "  never:\n"
    "    - Do not tie the cover with rubber bands.\n"
    "    - Do not let {pet} jump or use stairs.\n"
    "    - Came off? Do not put it back. Ring us.\n"
    "    - Do not give human medicine. It can kill.\n",
    mended="kind: support.soft\n"
    "owner:\n"
    "  what_it_does: It limits swelling and gives support.\n"
    "  every_day:\n"
    "    - Look at the toes once for each box.\n"
    "    - Feel the toes. Warm and soft is right.\n"
    "    - Smell the bandage at both ends.\n"
    "    - Keep {pet} in a crate when alone.\n"
    "    - Give only the medicine we gave you.\n"
    "  keep_dry:\n"
    "    - Put a cover over the foot to go out.\n"
    "    - Take the cover off once indoors.\n"
    "  exercise: {walks: 4 a day, minutes_each: 5 min, lead: 2 m}\n"
    "  never:\n"
    "    - Do not tie the cover with rubber bands.\n"
    "    - Do not let {pet} jump or use stairs.\n"
    "    - Do not cut, loosen, tighten or tape it.\n"
    "    - Came off? Do not put it back. Ring us.\n"
    "    - Do not give human medicine. It can kill.\n",
    check=check,
    blends=True,
    also=("owner-line-missing", "checks-counted-otherwise"),
)
