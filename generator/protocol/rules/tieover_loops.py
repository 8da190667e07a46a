"""R15: a tie-over bandage hangs on five suture loops or more.

What it looks for: the number of loops in the steps.
Why it matters: with too few loops the bandage slips off the wound.
Stops: a tie-over bandage whose steps name no loops, or fewer than five.
Write instead: the step that the message gives.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule
from generator.protocol.rules.wording import sentences_of_steps
from generator.source.problem import Problem

LEAST = 5
_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_NUMBER = re.compile(
    rf"\b([0-9]{{1,2}}|{'|'.join(_WORDS)})\s+(?:or more\s+)?(?:[a-z-]+\s+){{0,3}}loops?\b", re.IGNORECASE
)
FIX = (
    'add a line `- {do: "Place at least 5 loops of 0 or 2-0 monofilament, 3 to 4 mm from the edge of the wound."}` '
    "before the contact layer is laid"
)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    if protocol.kind != "wound.tieover":
        return
    counts = [_count(found[1]) for text in sentences_of_steps(protocol) for found in _NUMBER.finditer(str(text))]
    if not counts:
        yield Problem(
            "tieover-loops",
            protocol.span("steps:"),
            "no step says how many suture loops are placed",
            "with too few loops the bandage slips off the wound",
            FIX,
        )
    elif max(counts) < LEAST:
        yield Problem(
            "tieover-loops",
            protocol.span("steps:"),
            f"the steps place {max(counts)} suture loops",
            f"with fewer than {LEAST} the bandage slips off the wound",
            f"write at least {LEAST} loops in the step that places them",
        )


def _count(word: str) -> int:
    return int(word) if word.isdigit() else _WORDS.index(word.lower()) + 1


RULE = Rule(
    id="R15",
    name="tieover-loops",
    looks_for="A tie-over bandage hangs on five suture loops or more, 3 to 4 mm from the edge, of 0 or 2-0 monofilament.",
    why="With too few loops it slips.",
    source="published 36",
    broken="kind: wound.tieover\n"
    "steps:\n"
    '  - {do: "Give the pain relief or sedation that the clinician ordered."}\n'
    '  - {caution: Do not pull a stuck pad., because: it tears living tissue away, do: "If a pad sticks, float it off with sterile saline; count the old sponges out."}\n'
    '  - {do: "Rinse the wound with warm sterile saline; have the stage named."}\n'
    '  - {caution: Do not lace to fewer than 4 loops., because: with too few the bandage slips off the wound, do: "The clinician sets 4 suture loops round the wound."}\n'
    '  - {caution: Do not push protruding bone or tissue back in., because: it drags dirt in and injures vessels, layer: contact, do: "Lay the dressing on the wound, cut to its edge."}\n'
    '  - {caution: Do not lay a sponge uncounted., because: one left in the wound goes bad unseen, layer: padding, do: "Lay the sponges over it, counting aloud; write the number on the card."}\n'
    '  - {layer: outer, do: "Lay the drape over the pack, within the ring of loops."}\n'
    '  - {caution: Do not carry the lacing round limb or body., because: a ring becomes a tourniquet and stops the breath, layer: outer, do: "Lace umbilical tape over the drape, from each loop to the one across."}\n'
    '  - {caution: Do not draw a loop until its skin turns white., because: skin without blood dies and the loop tears out, layer: outer, do: "Draw the lacing just until the pack lies still; tie it in a bow."}\n'
    "  - {check: Skin at every loop is pink and the pack does not slide., if_not: loosen or lace it again; call the clinician if a loop is torn}\n"
    '  - {check: "Breathing is quiet, lying and standing, once fully awake.", if_not: undo the bow at once and call the clinician}\n',
    mended="kind: wound.tieover\n"
    "steps:\n"
    '  - {do: "Give the pain relief or sedation that the clinician ordered."}\n'
    '  - {caution: Do not pull a stuck pad., because: it tears living tissue away, do: "If a pad sticks, float it off with sterile saline; count the old sponges out."}\n'
    '  - {do: "Rinse the wound with warm sterile saline; have the stage named."}\n'
    '  - {caution: Do not lace to fewer than 5 loops., because: with too few the bandage slips off the wound, do: "The clinician sets at least 5 loops, 0 or 2-0 monofilament, 3 to 4 mm from the edge."}\n'
    '  - {caution: Do not push protruding bone or tissue back in., because: it drags dirt in and injures vessels, layer: contact, do: "Lay the dressing on the wound, cut to its edge."}\n'
    '  - {caution: Do not lay a sponge uncounted., because: one left in the wound goes bad unseen, layer: padding, do: "Lay the sponges over it, counting aloud; write the number on the card."}\n'
    '  - {layer: outer, do: "Lay the drape over the pack, within the ring of loops."}\n'
    '  - {caution: Do not carry the lacing round limb or body., because: a ring becomes a tourniquet and stops the breath, layer: outer, do: "Lace umbilical tape over the drape, from each loop to the one across."}\n'
    '  - {caution: Do not draw a loop until its skin turns white., because: skin without blood dies and the loop tears out, layer: outer, do: "Draw the lacing just until the pack lies still; tie it in a bow."}\n'
    "  - {check: Skin at every loop is pink and the pack does not slide., if_not: loosen or lace it again; call the clinician if a loop is torn}\n"
    '  - {check: "Breathing is quiet, lying and standing, once fully awake.", if_not: undo the bow at once and call the clinician}\n',
    check=check,
)
