"""What is looked at on a bandage, and what is right.

Takes  the kinds of a bandage and the group of sites it is on.
Gives  `first_look`: the column that a watch log begins with, and what is right in it; `EVERYWHERE`: the columns after it.
Knows  that card and binder name the same things.
"""

from __future__ import annotations

from collections.abc import Iterable

EVERYWHERE = (
    ("Place", "where it was put, no turn slipped"),
    ("Dry", "no wet, no stain"),
    ("Smell", "none that is new"),
)
AT_BLEEDING = (("Breath", "easy and quiet"), ("Blood", "none comes through"))


def first_look(kinds: Iterable[str], group: str) -> tuple[str, str]:
    """A limb is judged by its toes, a tail by what shows of it, anything that goes round head or trunk by the breath."""
    if "wound.tieover" in kinds:
        return "Loops", "pink skin, none torn or loose"
    if group in ("fore", "hind"):
        return "Toes", "warm, together, flinch"
    return ("Tail", "warm, not swollen, moves") if group == "tail" else ("Breath", "easy and quiet")
