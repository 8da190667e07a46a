"""R47: no owner is told to handle the bandage, to warm or cool it, or to give medicine of their own.

What it looks for: every owner line that asks for it, with no word of denial before it in the same sentence.
Why it matters: a bandage loosened or taped at home presses or slips; some household medicine kills.
Stops: "If it looks tight, loosen the wrap."
Write instead: "If it looks tight, ring us."
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from generator.protocol.model import Book, Protocol
from generator.protocol.rules.rule import Rule, each
from generator.protocol.rules.wording import asks_for
from generator.source.problem import Problem
from generator.source.span import Span

_IT = r"(bandage|wrap|wraps|wrapping|sling|cast|splint|dressing|layers?|padding|gauze|hobbles|stirrups?|edge|end|top)"
_ONE = rf"(it|them|(the |a |its |new |old |top |outer |frayed |loose )*{_IT})\b"
HANDLES = re.compile(
    r"\b(loosen|tighten|re-?wrap|re-?tape|re-?bandage|re-?dress|unwrap|un-?do|untape|shorten)\b"
    rf"|\b(cut|open|snip|slit|trim|tape|strap|peel|pull|replace|change|renew|remove|reposition|redo|tuck) {_ONE}"
    rf"|\b(cut|tape)\b[^.;:]*\b{_IT}"
    rf"|\b(take|pull|peel|slide|put|slip|get) {_ONE} (off|down|back|up)\b"
    rf"|\b(take|pull|peel|put) (off|back|on) {_ONE}"
    r"|\badd\b[^.;:]*\b(tape|padding|gauze|wrap|layer)\b"
    r"|\b(use|take|with) (a |some |the )?(scissors|knife|blade)\b",
    re.IGNORECASE,
)
HARMS = re.compile(
    r"\b(hair ?-?dryer|heater|heat pad|hot water|ice|ice pack|cream|ointment|powder|talc|lotion|bathe|bath|shower|swim)\b"
    r"|\b(rub|smear|spray)\b[^.;:]*\b(under|on|into)\b"
    r"|\b(rubber bands?|string)\b",
    re.IGNORECASE,
)
DOSES = re.compile(
    r"\b(aspirin|ibuprofen|paracetamol|acetaminophen|naproxen|painkillers?|human (medicine|drugs?)|your own (medicine|tablets?))\b",
    re.IGNORECASE,
)  # fmt: skip
LOOSE = re.compile(
    r"\b(let|allow|make|encourage)\b[^.;:]*\b(jump|run|play|swim|stairs?|off the lead)\b|\boff the lead\b",
    re.IGNORECASE,
)
FORBIDS = r"\b(not|never|no|don.t|without|leave|keep off|stay off)\b|\bonly (the|what) "
_ASKS = (
    (HANDLES, "handle the bandage", "loosened, taped or cut at home it presses or slips, and nobody sees it"),
    (HARMS, "put heat, cold, water, salves or string to it", "what lies under it burns, softens or goes bad unseen"),
    (LOOSE, "let the animal run or jump", "a bandage shifts, and what it holds still moves"),
    (DOSES, "give medicine of their own", "paracetamol can kill a cat, and ibuprofen harms dogs and cats"),
)


def check(protocol: Protocol, book: Book) -> Iterator[Problem]:
    owner = protocol.owner
    if owner is None:
        return
    lists = {
        "what_it_does": (owner.what_it_does,),
        "every_day": owner.every_day,
        "keep_dry": owner.keep_dry,
        "never": owner.never,
    }
    for line in owner.never:
        if not re.search(FORBIDS, str(line), re.IGNORECASE):
            yield Problem(
                "never-line-permits",
                owner.spans["never"],
                f"“{line}” stands under `never` and forbids nothing",
                "read as it stands, it asks for what must not be done",
                "start the line with `Do not`, or move it to `every_day`",
            )
    yield from each([key for key in lists if key in owner.spans], lambda key: _lines(owner.spans[key], lists[key]))


def _lines(at: Span, lines: tuple[str, ...]) -> Iterator[Problem]:
    for line in lines:
        for pattern, act, why in _ASKS:
            if any(asks_for(clause, pattern.pattern) for clause in re.split(r"[.;:!]", str(line))):
                yield Problem(
                    "owner-told-to-treat",
                    at,
                    f"the owner is told to {act}: “{line}”",
                    why,
                    "write what the owner looks for, and `Ring us.`; what must not be done starts with `Do not`",
                )
                break


RULE = Rule(
    id="R47",
    name="owner-told-to-treat",
    looks_for="Every line under `never` forbids something, and no owner line asks to open, loosen, cut, tape or change the bandage, to warm, cool or bathe it, or to give medicine of their own.",
    why="A bandage handled at home presses or slips, and some household medicine kills.",
    source="published 40; common practice; medicines from memory",
    broken="kind: support.soft\n"
    "owner:\n"
    "  what_it_does: It limits swelling and gives support.\n"
    "  every_day:\n"
    "    - If it looks tight, loosen the wrap.\n"
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
    mended="kind: support.soft\n"
    "owner:\n"
    "  what_it_does: It limits swelling and gives support.\n"
    "  every_day:\n"
    "    - If it looks tight, ring us.\n"
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
    also=("never-line-permits",),
)
