"""C06: the signs hold both kinds of alarm, and no two read alike.

What it looks for: signs of urgency `emergency` and `urgent`; owner words that two signs share.
Why it matters: the boxes "go now" and "ring now" stand on every owner's sheet; one line in both cannot be obeyed.
Stops: a signs.yaml with no `urgent` sign; two signs with the same words.
Write instead: the sign that is missing, or words that tell the two apart.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.protocol.model import Book, Sign
from generator.protocol.rules.rule import ClinicRule, each
from generator.protocol.shapes import is_unsound
from generator.source.problem import Problem

_USUAL = {
    "emergency": ("to go in for at once", "toes-cold-or-discoloured"),
    "urgent": ("to ring for at once", "nails-apart"),
}


def check(book: Book) -> Iterator[Problem]:
    signs = tuple(sign for sign in book.signs.values() if not is_unsound(sign))
    yield from each(_USUAL, lambda urgency: _missing(book, signs, urgency))
    seen: dict[str, Sign] = {}

    def judge(sign: Sign) -> Iterator[Problem]:
        words = " ".join(sign.owner.casefold().split()).rstrip(".")
        first = seen.setdefault(words, sign)
        if first is not sign:
            yield Problem(
                "sign-words-twice",
                sign.spans["owner"],
                f"`{sign.id}` reads to the owner as `{first.id}` does",
                "one line cannot ask for two things",
                "write words that tell the two apart, or delete one of the signs",
                also=((first.spans["owner"], "the same words are here"),),
            )

    yield from each(signs, judge)


def _missing(book: Book, signs: tuple[Sign, ...], urgency: str) -> Iterator[Problem]:
    # A sign that could not be read may be the one.
    if not signs or len(signs) < len(book.signs) or any(sign.urgency == urgency for sign in signs):
        return
    said, usual = _USUAL[urgency]
    yield Problem(
        f"no-{urgency}-sign",
        signs[0].spans["urgency"],
        f"no sign has `urgency: {urgency}`",
        f"no owner's sheet could say what {said}",
        f"add a sign such as `{usual}` with `urgency: {urgency}`",
    )


RULE = ClinicRule(
    id="C06",
    name="no-emergency-sign",
    looks_for="There are signs to go in for at once and signs to ring for at once, and no two read alike to an owner.",
    why="Both boxes stand on every owner's sheet, and one line cannot ask for two things.",
    source="house rule",
    file="signs.yaml",
    broken="toes-cold-or-discoloured:\n  urgency: same day\n  staff: Toes cold.\n  owner: The toes are cold.\n"
    "toes-no-flinch: {urgency: same day, staff: No flinch., owner: The toes do not move.}\n"
    "bleeding-through: {urgency: same day, staff: Blood drips., owner: Blood drips.}\n"
    "collapse: {urgency: same day, staff: Collapse., owner: The animal falls.}\n"
    "hard-breathing: {urgency: same day, staff: Hard breathing., owner: Breathing is hard.}\n",
    check=check,
    also=("no-urgent-sign", "sign-words-twice"),
)
