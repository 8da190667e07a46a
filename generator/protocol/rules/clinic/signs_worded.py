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
    broken="toes-cold-or-discoloured:\n"
    "  urgency: urgent\n"
    "  staff: Toes cold, blue, grey or white. Take the bandage off at once.\n"
    "  owner: The toes are cold, blue, grey or white.\n"
    "toes-no-flinch: {urgency: urgent, staff: No flinch to a firm toe pinch., owner: The toes do not move when touched.}\n"
    "bleeding-through: {urgency: urgent, staff: Blood drips or soaks through fast., owner: Blood drips out fast.}\n"
    "collapse: {urgency: urgent, staff: Collapse or very dull., owner: Your pet collapses or is weak.}\n"
    'nails-apart: {urgency: urgent, staff: "Middle nails spread, toes puffy.", owner: The nails spread apart.}\n',
    mended="toes-cold-or-discoloured:\n"
    "  urgency: emergency\n"
    "  staff: Toes cold, blue, grey or white. Take the bandage off at once.\n"
    "  owner: The toes are cold, blue, grey or white.\n"
    "toes-no-flinch: {urgency: emergency, staff: No flinch to a firm toe pinch., owner: The toes do not move when touched.}\n"
    "bleeding-through: {urgency: emergency, staff: Blood drips or soaks through fast., owner: Blood drips out fast.}\n"
    "collapse: {urgency: emergency, staff: Collapse or very dull., owner: Your pet collapses or is weak.}\n"
    'nails-apart: {urgency: urgent, staff: "Middle nails spread, toes puffy.", owner: The nails spread apart.}\n',
    check=check,
    also=("no-urgent-sign", "sign-words-twice"),
)
